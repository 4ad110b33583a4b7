"""What a player may not have meant by a pin: fingers that no hand has in that order, hands that cross, a chord untold.

A pin is the player's own, so these are notes and no faults: the song opens, and the plan says what it makes of it.
"""

from collections.abc import Iterator
from itertools import pairwise

from engine.chord.model import Chord
from engine.song.model import Pin

GUIDES = (("b3", "3", "4"), ("b7", "7", "bb7", "6"))
"""Degrees that say what a chord is: the third or the fourth in its place, the seventh or the sixth. Source: common
practice."""


def pin_remarks(pin: Pin, chord: Chord | None) -> Iterator[tuple[str, str]]:
    """Yield the pin's key that says it, and the remark; `chord` is what is written where the pin stands."""
    for hand, fingers in (("left", pin.left_fingers[::-1]), ("right", pin.right_fingers)):
        if any(low >= high for low, high in pairwise(fingers)):
            order = "5 down to 1" if hand == "left" else "1 up to 5"
            yield "fingers", f"no {hand} hand holds it with these fingers: from low to high they go from {order}"
    if pin.left and pin.right and pin.left[-1] >= pin.right[0]:
        yield "right", "the hands cross: write the keys of the left hand below those of the right"
    if chord is not None and pin.left is not None and pin.right is not None:
        untold = list(_untold(chord, {key % 12 for key in pin.left + pin.right}))
        # One hand by itself says one of the two, as shells of two notes do.
        if len(untold) > (not pin.left or not pin.right):
            yield "right", f"{' and '.join(untold)} of {chord.symbol} {'is' if len(untold) == 1 else 'are'} not in it"


def _untold(chord: Chord, said: set[int]) -> Iterator[str]:
    """Yield the third and the seventh that are missing, as in `the 3 (B)`; an eleventh goes without the third."""
    for degrees in GUIDES:
        tone = chord.tone(*degrees)
        if tone is None or tone.pc in said or (tone.degree == "3" and "11" in chord.degrees):
            continue
        yield f"the {tone.degree} ({tone.name})"
