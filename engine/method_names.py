"""What song files, commands and the planner call the voicing methods; `engine/voicing/methods.py` makes them."""

AUTO = "auto"
"""All methods together: each chord gets what moves the hands least."""

METHOD_NAMES = ("shell", "triad", "spread", "rootless", "close", "drop2")

METHOD_CHOICES = (AUTO, *METHOD_NAMES)
"""What may be asked for, the usual word first."""
