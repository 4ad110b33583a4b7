"""Textures: how many keys each hand holds, and by which method they are found."""

from collections.abc import Iterable
from dataclasses import dataclass

from engine.method_names import AUTO, METHOD_CHOICES, METHOD_NAMES, TEXTURE_CHOICES
from engine.voicing.stacking import Keys

Hands = tuple[Keys, Keys]
"""The keys of the left and the right hand."""


@dataclass(frozen=True, slots=True)
class Texture:
    """What a section holds: `name` lean, even or full, and the `method` that finds the keys."""

    name: str
    method: str


SIZES: dict[str, tuple[int, int]] = {"lean": (3, 3), "even": (4, 5), "full": (5, 7)}
"""Keys of both hands together, least and most. Source: common practice, weighed by us: three keys say a shell, four or
five fill a chord, more is a full sound."""

SIZES_ALONE: dict[str, tuple[int, int]] = {"lean": (2, 3), "even": (3, 4), "full": (4, 5)}
"""Keys of one hand that plays alone (own choice)."""

USUAL: dict[str, tuple[str, ...]] = {
    "shell": ("lean", "even"),
    "triad": ("even", "full"),
    "spread": ("even", "full"),
    "rootless": ("even",),
    "close": ("even",),
    "drop2": ("even",),
}
"""Method -> the textures it is usual in (common practice: shells are lean, a spread fills both hands)."""

NEAR = 1
"""Keys by which a chord may go beyond the size of its texture: a six-nine is never lean (own choice)."""


def textures(name: str, method: str) -> tuple[Texture, ...]:
    """Return the textures that may be held where `name` and `method` are asked for, "auto" standing for any.

    Raises:
        ValueError: no texture or no method of that name.
    """
    if name not in TEXTURE_CHOICES:
        raise ValueError(f"no texture {name!r}: {', '.join(TEXTURE_CHOICES)}")
    if method not in METHOD_CHOICES:
        raise ValueError(f"no voicing method {method!r}: {', '.join(METHOD_CHOICES)}")
    methods = METHOD_NAMES if method == AUTO else (method,)
    if name == AUTO:
        return tuple(Texture(size, one) for one in methods for size in USUAL[one])
    usual = tuple(Texture(name, one) for one in methods if name in USUAL[one])
    return usual or tuple(Texture(name, one) for one in methods)


def sized(found: Iterable[Hands], texture: Texture, hands: str, pattern: bool = False) -> tuple[Hands, ...]:
    """Return the voicings that have the size of a texture, or else those with one key more.

    With both hands both play; a full texture gives each hand two keys at least. Of a left hand that plays a pattern one
    key counts; alone it is as full as the pattern.
    """
    both = hands == "both"
    if pattern and not both:
        return tuple(found)
    low, high = (SIZES if both else SIZES_ALONE)[texture.name]
    least = 2 if texture.name == "full" else 1
    below = 1 if pattern else least
    playing = [one for one in found if not both or (len(one[0]) >= below and len(one[1]) >= least)]
    playing = [one for one in playing if len(one[0] + one[1]) >= low]
    missed = [max(0, len(left + right) - high) for left, right in playing]
    nearest = min(missed, default=0)
    if nearest > NEAR:
        return ()
    return tuple(one for one, by in zip(playing, missed, strict=True) if by == nearest)
