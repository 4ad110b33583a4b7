"""What the set says for the whole evening: who plays along (bass player, guitarist, horns), and its title. Pure."""

from dataclasses import replace
from typing import Any

from engine.song.model import SetList

BAND = ("bass", "guitar", "horns")
"""The values of a set that say who plays along."""

EVENING = (*BAND, "title")
"""The values that a set has of its own and that are changed on the screen."""

Band = tuple[Any, ...]


def band(set_list: SetList) -> Band:
    """Return who plays along, and the title, in the order of `EVENING`."""
    return tuple(getattr(set_list, name) for name in EVENING)


def with_our_band(base: Band, ours: SetList, theirs: SetList) -> SetList:
    """Return `theirs` with what we changed since `base`, the band that both sides knew last."""
    both = zip(EVENING, base, band(ours), strict=True)
    return replace(theirs, **{name: mine for name, old, mine in both if mine != old})
