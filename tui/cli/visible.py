"""Text for a terminal: characters that would steer it are shown as escapes, never sent.

Everything a command prints goes through here: titles, symbols and paths come from anybody.
"""

import unicodedata
from typing import Any, TextIO

_STEERING = ("Cc", "Cf", "Cs", "Zl", "Zp")
"""Kinds of characters that steer: controls (C0, C1), format and direction signs, halves of characters, line and
paragraph separators. Source: Unicode Standard Annex 44, table 12."""


def visible(text: str) -> str:
    """Return `text` with what steers a terminal as escapes (\\x1b, \\u202e); line ends and tabs stay."""
    if text.isprintable():
        return text
    return "".join(_shown(char) for char in text)


def _shown(char: str) -> str:
    if char in "\n\t" or unicodedata.category(char) not in _STEERING:
        return char
    return char.encode("unicode_escape").decode("ascii")


class Visible:
    """A stream that writes visible text to another one; for as long as a command runs."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        if not isinstance(text, str):
            raise TypeError("text is wanted")
        return self._stream.write(visible(text))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)
