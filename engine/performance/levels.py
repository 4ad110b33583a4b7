"""How loud, as a player says it: ten levels with words, each a value that MIDI carries."""

MOST = 10
USUAL = 8
"""The level of an instrument at power up, volume 100. Source: General MIDI System Level 1."""

LOUD = 9
"""From this level on the player is reminded of headphones (own choice: louder than instruments are at power up)."""

_WORDS = ("silent", "very soft", "very soft", "soft", "soft", "medium", "medium", "nearly usual", "usual", "loud",
          "as loud as it goes")  # fmt: skip


def value_of(level: int) -> int:
    """Return a level (0 to 10) as a MIDI value from 0 to 127; the usual level is 100."""
    return min(round(level * 12.5), 127) if level < MOST else 127


def level_of(value: int | None) -> int:
    """Return the level nearest to a MIDI value; None is an instrument's own, the usual one."""
    return USUAL if value is None else min(range(MOST + 1), key=lambda level: abs(value_of(level) - value))


def louder(value: int | None, levels: int) -> int:
    """Return the MIDI value so many levels up (or down) from another, within what there is."""
    return value_of(max(0, min(level_of(value) + levels, MOST)))


def level_words(value: int | None) -> str:
    """Return a MIDI value in words: `8 of 10, usual`."""
    level = level_of(value)
    return f"{level} of {MOST}, {_WORDS[level]}"


def master_volume(value: int) -> bytes:
    """Return the message for an instrument's whole volume (0 to 127).

    Source: MIDI 1.0 Detailed Specification, universal real time system exclusive, master volume.
    """
    return bytes((0xF0, 0x7F, 0x7F, 0x04, 0x01, value, value, 0xF7))
