"""The shed: the hardest shifts of the set, practised."""
