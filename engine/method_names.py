"""What song files, commands and the planner call the voicing methods and the textures that hold them.

`engine/voicing/methods.py` makes the one, `engine/voicing/textures.py` the other.
"""

AUTO = "auto"
"""All methods together: each chord gets what moves the hands least."""

METHOD_NAMES = ("shell", "triad", "spread", "rootless", "close", "drop2")

METHOD_CHOICES = (AUTO, *METHOD_NAMES)
"""What may be asked for, the usual word first."""

TEXTURE_CHOICES = (AUTO, "lean", "even", "full")
"""How full a section may be voiced, the usual word first: lean (shells), even (four or five keys), full (five to
seven); auto holds in each section what moves the hands least."""

HAND_CHOICES = ("both", "left", "right")
