"""One song as it is written: its head and its sections, changed in its own file."""
