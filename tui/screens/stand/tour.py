"""Six things told at the first start, one at each step, where the keys usually stand."""

TOUR = (
    "large: the chord you play; beside it the next, below that the one after",
    "below: each finger's way to the next chord, left 5-1, right 1-5",
    "the keyboard: both hands' fingers now, rings where they will be",
    "space or pedal: on; left: back; j v: the Verse; 2 c: two bars before C",
    "k: tonight's key; t: tempo; n: a note; u: undo; the set keeps it all",
    "s: the set; b: the song in bars; a: hard spots; m: MIDI; ?: all keys",
)
"""Lines of at most 74 columns, so that a terminal of 80 shows them whole with their number."""


def tour_line(told: int) -> str:
    """Return the line after `told` have been told, "" when all have."""
    return f"{told + 1}/{len(TOUR)} {TOUR[told]}" if told < len(TOUR) else ""
