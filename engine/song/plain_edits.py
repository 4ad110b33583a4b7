"""A file's text changed in places: line ends and the mark at its beginning stay, and what cannot be done is said."""

from collections.abc import Iterable
from typing import NoReturn

from engine.errors import ChartError, Fault

Patch = tuple[int, int, str]
"""Where a piece of a text begins and ends, and what stands there instead."""


def plain(text: str) -> str:
    """Return a file's text as it is read: without the mark at its beginning, lines ending in one sign."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def like(text: str, changed: str) -> str:
    """Return a plain text with the line ends and the mark at the beginning that `text` has."""
    bom = "\ufeff" if text.startswith("\ufeff") else ""
    return bom + (changed.replace("\n", "\r\n") if "\r\n" in text else changed)


def patched(text: str, patches: Iterable[Patch]) -> str:
    """Return a text with pieces of it replaced; they must not overlap."""
    for start, end, words in sorted(patches, reverse=True):
        text = text[:start] + words + text[end:]
    return text


def refuse(found: str, hint: str) -> NoReturn:
    """Say that a file cannot be changed so.

    Raises:
        ChartError: always.
    """
    raise ChartError("", (Fault(1, 1, found, hint),))
