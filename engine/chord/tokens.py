"""What follows the root of a chord symbol, cut into its signs: the spellings of all dialects.

Source: common practice of chart writers; see tests/outside/test_chord_symbols.py.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

_TOKENS = re.compile(
    r"""(?P<skip>[\s,()\[\]]+)
    |(?P<sixnine>6/9|69(?!\d))
    |(?P<major>[Mm]ajor|MAJ|[Mm]aj|MA|[Mm]a(?!d)|M(?!I)|Δ|\^|j(?=7|9))
    |(?P<minor>minor|min|mi|MIN|MI|m)
    |(?P<half>ø|h(?=\d|$|\())
    |(?P<diminished>dim|°|o(?=\d|$|[(/M]|maj))
    |(?P<augmented>aug)
    |(?P<alt>alt)
    |(?P<sus>sus(?:24|42|2sus4|2/4|4/2|2|4)?)
    |(?P<add>add)
    |(?P<omit>no|omit)
    |(?P<power>power)
    |(?P<dominant>dom(?:inant)?(?=\d))
    |(?P<altered>[b#+-](?:13|11|9|7|6(?!/?9)|5|4|3|2))
    |(?P<number>13|11|9|7|6|5|4|3|2)
    |(?P<plus>\+)
    |(?P<minus>-)
    |(?P<slash>/(?=[mM]a?j?))
    """,
    re.VERBOSE,
)


class Unread(Exception):
    """What follows cannot be read: `at` counts characters from 0."""

    def __init__(self, at: int, why: str) -> None:
        super().__init__(why)
        self.at, self.why = at, why


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
            raise Unread(at, f"{text[at:]!r} means nothing here")
        if found.lastgroup != "skip":
            inside = text.count("(", 0, at) > text.count(")", 0, at)
            yield Token(found.lastgroup, found[0], at, inside, alone=found.end() == len(text))
        at = found.end()
