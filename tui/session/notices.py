"""Standing complaints in the line of keys: each is told for a while, then a mark says that the help still has it.

What is not saved is told as long as it holds.
"""

from collections.abc import Mapping

FRESH = 10.0
"""Seconds for which a complaint is told in full (own choice: twice reading it, with a glance at the hands between)."""

UNSAVED = "NOT SAVED"
"""How complaints begin that are told as long as they hold."""


class Complaints:
    """Remembers since when each complaint stands."""

    def __init__(self) -> None:
        self._since: dict[str, float] = {}

    def told(self, trouble: Mapping[str, str], seconds: float) -> tuple[str, bool]:
        """Return (what is to be read now, whether there is more in the help); what is not saved comes first.

        `trouble` are the complaints by subject, `seconds` is now.
        """
        standing = all_of(trouble)
        self._since = {words: self._since.get(words, seconds) for words in standing}
        fresh = [words for words in standing if words.startswith(UNSAVED) or seconds - self._since[words] < FRESH]
        return "  ".join(fresh), len(fresh) < len(standing)


def all_of(trouble: Mapping[str, str]) -> tuple[str, ...]:
    """Return all complaints, what is not saved first."""
    return tuple(sorted(trouble.values(), key=lambda words: not words.startswith(UNSAVED)))
