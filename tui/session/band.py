"""Who plays along, as the set says it for the whole evening: bass player, guitarist, horns. Pure."""

from dataclasses import replace
from typing import Any

from engine.song.model import SetList

BAND = ("bass", "guitar", "horns")
"""The values of a set that say who plays along."""

Band = tuple[Any, ...]


def band(set_list: SetList) -> Band:
    """Return who plays along, in the order of `BAND`."""
    return tuple(getattr(set_list, name) for name in BAND)


def with_our_band(base: Band, ours: SetList, theirs: SetList) -> SetList:
    """Return `theirs` with what we changed since `base`, the band that both sides knew last."""
    both = zip(BAND, base, band(ours), strict=True)
    return replace(theirs, **{name: mine for name, old, mine in both if mine != old})
