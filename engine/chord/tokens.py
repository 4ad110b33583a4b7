"""What follows the root of a chord symbol, cut into its signs: the spellings of all dialects.

Source: common practice of chart writers; see tests/outside/test_chord_symbols.py.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

MAJOR_SEVENTH = r"(?:[Mm]aj(?:or)?|MAJ?|[Mm]a|[Mm]j|M|Δ|\^)\s*\(?(?:7|9|11|13)"
"""What may follow the slash of m/maj7."""

_TOKENS = re.compile(
    rf"""(?P<skip>[\s,()\[\]]+|(?<=\d)(?:rd|th|nd)(?![a-z]))
    |(?P<sixnine>6/9|6[-+]9(?!\d)|69(?!\d))
    |(?P<major>[Mm]ajor|MAJ|[Mm]aj|MA|[Mm]a(?!d)|[Mm][jJ]|M(?![Ii])|Δ|\^|j(?=7|9))
    |(?P<minor>[Mm]inor|[Mm]in|[Mm]i|MIN|MI|m)
    |(?P<half>ø|half-?dim(?:inished)?|hdim|h(?=\d|$|\())
    |(?P<diminished>[Dd]im|DIM|°|o(?=\d|$|[(/M]|maj))
    |(?P<augmented>[Aa]ug|AUG)
    |(?P<alt>[Aa]lt|ALT)
    |(?P<sus>(?:[Ss]us|SUS)(?:24|42|2(?:sus|SUS)4|2/4|4/2|2|4)?)
    |(?P<add>[Aa]dd|ADD)
    |(?P<omit>[Nn]o|NO|[Oo]mit|OMIT)
    |(?P<power>power)
    |(?P<dominant>dom(?:inant)?(?=\d))
    |(?P<altered>[b#+-](?:13|11|9|7|6(?![/+-]?9)|5|4|3|2))
    |(?P<number>13|11|9|7|6|5|4|3|2)
    |(?P<plus>\+)
    |(?P<minus>-)
    |(?P<slash>/(?={MAJOR_SEVENTH}))
    """,
    re.VERBOSE,
)
_SLIPS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile("0"), "a nought says no chord: write dim, dim7 or m7b5"),
    (re.compile("[O○](?=7|$)"), "a diminished chord is written dim or dim7"),
    (re.compile("//"), "one slash stands before a bass note, as in C/E"),
)
"""What is met in place of a sign, where the nearest known symbol would be another chord -> how to write it."""


class Unread(Exception):
    """What follows cannot be read: `at` counts characters from 0; `sure` when `why` already says how to mend it."""

    def __init__(self, at: int, why: str, sure: bool = False) -> None:
        super().__init__(why)
        self.at, self.why, self.sure = at, why, sure


@dataclass(frozen=True, slots=True)
class Token:
    """A sign of the text: `at` counts characters from 0, `inside` brackets or not, `alone` when nothing follows."""

    kind: str
    word: str
    at: int
    inside: bool
    alone: bool


def tokens(text: str) -> Iterator[Token]:
    """Yield the tokens that say something, from left to right."""
    at = 0
    while at < len(text):
        found = _TOKENS.match(text, at)
        if found is None or found.lastgroup is None:
            raise _unknown(text, at)
        if found.lastgroup != "skip":
            inside = text.count("(", 0, at) > text.count(")", 0, at)
            yield Token(found.lastgroup, found[0], at, inside, alone=found.end() == len(text))
        at = found.end()


def _unknown(text: str, at: int) -> Unread:
    """Return what is said of a sign that means nothing."""
    slip = next((why for pattern, why in _SLIPS if pattern.match(text, at)), "")
    return Unread(at, slip or f"{text[at:]!r} means nothing here", sure=bool(slip))
