"""The built-in sound: `synthesizer` makes it by arithmetic, `device` sends it to the system, `wav` to a file."""

BUILT_IN = "built-in sound"
"""Its name among the ports."""
