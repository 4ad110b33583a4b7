"""The normal English spelling of each quality: what a chord's degrees are called."""

QUALITIES: dict[str, str] = {
    "": "1 3 5", "m": "1 b3 5", "dim": "1 b3 b5", "aug": "1 3 #5", "(b5)": "1 3 b5", "5": "1 5", "sus2": "1 5 9",
    "sus4": "1 4 5", "sus2sus4": "1 4 5 9", "6": "1 3 5 6", "m6": "1 b3 5 6", "6/9": "1 3 5 6 9", "m6/9": "1 b3 5 6 9",
    "7": "1 3 5 b7", "maj7": "1 3 5 7", "m7": "1 b3 5 b7", "m(maj7)": "1 b3 5 7", "m7b5": "1 b3 b5 b7",
    "dim7": "1 b3 b5 bb7", "dim(maj7)": "1 b3 b5 7", "7#5": "1 3 #5 b7", "maj7#5": "1 3 #5 7", "7b5": "1 3 b5 b7",
    "maj7b5": "1 3 b5 7", "7sus4": "1 4 5 b7", "7sus2": "1 5 b7 9", "maj7sus4": "1 4 5 7", "9sus4": "1 4 5 b7 9",
    "7b9sus4": "1 4 5 b7 b9", "13sus4": "1 4 5 b7 9 13", "9": "1 3 5 b7 9", "maj9": "1 3 5 7 9", "m9": "1 b3 5 b7 9",
    "m(maj9)": "1 b3 5 7 9", "m#5": "1 b3 #5", "m7#5": "1 b3 #5 b7", "m9b5": "1 b3 b5 b7 9",
    "9#5": "1 3 #5 b7 9", "9b5": "1 3 b5 b7 9", "7b9": "1 3 5 b7 b9",
    "7#9": "1 3 5 b7 #9", "7#5b9": "1 3 #5 b7 b9", "7#5#9": "1 3 #5 b7 #9", "7b5b9": "1 3 b5 b7 b9",
    "7b5#9": "1 3 b5 b7 #9", "7b9#9": "1 3 5 b7 b9 #9", "7#11": "1 3 5 b7 #11", "9#11": "1 3 5 b7 9 #11",
    "maj7#11": "1 3 5 7 #11", "maj9#11": "1 3 5 7 9 #11", "7b13": "1 3 5 b7 b13", "7b9b13": "1 3 5 b7 b9 b13",
    "13": "1 3 5 b7 9 13", "13b9": "1 3 5 b7 b9 13", "13#11": "1 3 5 b7 9 #11 13", "maj13": "1 3 5 7 9 13",
    "m13": "1 b3 5 b7 9 11 13", "11": "1 3 5 b7 9 11", "maj11": "1 3 5 7 9 11", "m11": "1 b3 5 b7 9 11",
    "add9": "1 3 5 9", "m(add9)": "1 b3 5 9", "add11": "1 3 5 11", "7alt": "1 3 b5 #5 b7 b9 #9",
}  # fmt: skip
"""Quality -> degrees. Source: textbook formulas, common practice."""

KNOWN = tuple(QUALITIES)
_NAMES = {frozenset(degrees.split()): quality for quality, degrees in QUALITIES.items()}


def quality_of(degrees: tuple[str, ...]) -> str:
    """Return what follows the root in normal spelling: "m7b5", or a near name with what is added and left out."""
    known = _NAMES.get(frozenset(degrees))
    return known if known is not None else _described(set(degrees))


def _described(degrees: set[str]) -> str:
    """Name a rarer chord from the largest named one that it holds: 7(#9,b13), m7(add11), 7(no3)."""
    full = frozenset(degrees | {"3"})
    if not degrees & {"3", "b3", "4"} and full in _NAMES:
        return f"{_NAMES[full]}(no3)"
    inside = [(len(named), quality, named) for named, quality in _NAMES.items() if named <= degrees]
    if not inside:
        named = min(_NAMES, key=lambda one: (len(one ^ degrees), len(degrees - one), len(one), _NAMES[one]))
        base, extra = _NAMES[named], sorted(degrees - named, key=_number)
        # What is left out comes last: a degree after "no5," would be left out as well.
        left = [f"no{degree.lstrip('b#')}" for degree in sorted(named - degrees, key=_number)]
        return f"{base}({','.join([*_added(base, extra), *left])})"
    _, base, named = max(inside, key=lambda one: (one[0], -len(one[1]), one[1]))
    return f"{base}({','.join(_added(base, sorted(degrees - named, key=_number)))})"


def _added(base: str, extra: list[str]) -> list[str]:
    return [degree if "7" in base or degree[0] in "b#" else f"add{degree}" for degree in extra]


def _number(degree: str) -> tuple[int, str]:
    return int(degree.lstrip("b#")), degree
