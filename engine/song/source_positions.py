"""Where each key and value of a TOML text stands, so that a fault can be shown at its line and column.

The text must already be valid TOML 1.0 (https://toml.io/en/v1.0.0); this walk does not check it again.
A path is the keys from the top: ("sections", "Verse", "bars"), with numbers from 0 inside arrays: ("pins", 0, "bar").
"""

import re
from bisect import bisect_right
from dataclasses import dataclass, field

Path = tuple[str | int, ...]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SPACE = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BLANK = re.compile(r"[ \t]*")
_PLAIN = re.compile(r"[^,\]}#\n]+")
_PLAIN_RUN = {'"': re.compile(r'[^"\\]+'), "'": re.compile(r"[^']+")}
_ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


@dataclass(slots=True)
class Places:
    """The places in one text: offsets of keys and values by path, and of each character of a string value."""

    text: str
    keys: dict[Path, int] = field(default_factory=dict)
    values: dict[Path, int] = field(default_factory=dict)
    strings: dict[Path, list[int]] = field(default_factory=dict)
    lines: list[int] = field(default_factory=list)

    def line_column(self, offset: int) -> tuple[int, int]:
        """Return line and column, both from 1, of an offset in the text."""
        line = bisect_right(self.lines, offset)
        return line, offset - self.lines[line - 1] + 1

    def key(self, *path: str | int) -> tuple[int, int]:
        """Return where a key is written; where it is not, the nearest table above it."""
        return self._found(self.keys, path)

    def value(self, *path: str | int) -> tuple[int, int]:
        """Return where a value begins; where there is none, the nearest table above it."""
        return self._found(self.values, path)

    def inside(self, offset: int, *path: str | int) -> tuple[int, int]:
        """Return where the character `offset` of the string at `path` is written."""
        places = self.strings.get(path)
        if not places:
            return self.value(*path)
        return self.line_column(places[min(offset, len(places) - 1)])

    def _found(self, table: dict[Path, int], path: Path) -> tuple[int, int]:
        for length in range(len(path), 0, -1):
            offset = table.get(path[:length], self.keys.get(path[:length]))
            if offset is not None:
                return self.line_column(offset)
        return 1, 1


def places(text: str) -> Places:
    """Find every key and value of a valid TOML text (line ends already `\\n`)."""
    found = Places(text)
    found.lines = [0, *(place.end() for place in re.finditer("\n", text))]
    _Walk(found).document()
    return found


def plain_places(text: str) -> Places:
    """Return places of a text that is one bare string, not TOML: its path is ()."""
    found = Places(text)
    found.lines = [0, *(place.end() for place in re.finditer("\n", text))]
    found.strings[()] = list(range(len(text) + 1))
    return found


class _Walk:
    """One walk through the text; `at` is the offset reached."""

    def __init__(self, found: Places) -> None:
        self.found = found
        self.text = found.text
        self.at = 0
        self.arrays: dict[Path, int] = {}

    def document(self) -> None:
        """Walk from the first key to the last."""
        table: Path = ()
        while self._skip(_SPACE) < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)

    def _skip(self, pattern: re.Pattern[str]) -> int:
        found = pattern.match(self.text, self.at)
        self.at = found.end() if found else self.at
        return self.at

    def _header(self) -> Path:
        start = self.at
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        path: Path = ()
        names = self._names()
        for place, name in enumerate(names):
            path = (*path, name)
            self.found.keys.setdefault(path, start)
            if path in self.arrays and not (many and place == len(names) - 1):
                path = (*path, self.arrays[path])
        if many:
            self.arrays[path] = self.arrays.get(path, -1) + 1
            path = (*path, self.arrays[path])
        self.at += 2 if many else 1
        self.found.keys.setdefault(path, start)
        return path

    def _names(self) -> list[str]:
        names = []
        while True:
            self._skip(_BLANK)
            if self.text[self.at] in "\"'":
                names.append(self._string()[0])
            else:
                found = _BARE.match(self.text, self.at)
                if not found:
                    return names
                names.append(found[0])
                self.at = found.end()
            self._skip(_BLANK)
            if not self.text.startswith(".", self.at):
                return names
            self.at += 1

    def _pair(self, table: Path) -> None:
        start = self.at
        path = table
        for name in self._names():
            path = (*path, name)
            self.found.keys.setdefault(path, start)
        self._skip(_BLANK)
        if not self.text.startswith("=", self.at):
            # Not valid TOML after all: nothing further can be placed.
            self.at = len(self.text)
            return
        self.at += 1
        self._skip(_BLANK)
        self._value(path)

    def _value(self, path: Path) -> None:
        self.found.values[path] = self.at
        sign = self.text[self.at : self.at + 1]
        if sign in ('"', "'"):
            _, self.found.strings[path] = self._string()
        elif sign == "[":
            self._array(path)
        elif sign == "{":
            self._inline(path)
        else:
            before = self.at
            self._skip(_PLAIN)
            self.at = max(self.at, before + 1)

    def _array(self, path: Path) -> None:
        self.at += 1
        number = 0
        while self._skip(_SPACE) < len(self.text) and self.text[self.at] != "]":
            if self.text[self.at] == ",":
                self.at += 1
                continue
            self._value((*path, number))
            number += 1
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        while self._skip(_SPACE) < len(self.text) and self.text[self.at] != "}":
            if self.text[self.at] == ",":
                self.at += 1
                continue
            self._pair(path)
        self.at += 1

    def _string(self) -> tuple[str, list[int]]:
        """Read a string of any of the four kinds: its text and the offset of each character, and of its end."""
        quote = self.text[self.at]
        mark = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        self.at += len(mark)
        if len(mark) == 3 and self.text.startswith("\n", self.at):
            self.at += 1
        characters: list[str] = []
        offsets: list[int] = []
        while self.at < len(self.text) and not self._ends(mark):
            if plain := _PLAIN_RUN[quote].match(self.text, self.at):
                characters.append(plain[0])
                offsets.extend(range(self.at, plain.end()))
                self.at = plain.end()
            elif self.text[self.at] == "\\" and quote == '"':
                self._escape(characters, offsets)
            else:
                characters.append(self.text[self.at])
                offsets.append(self.at)
                self.at += 1
        offsets.append(self.at)
        self.at += len(mark)
        return "".join(characters), offsets

    def _ends(self, mark: str) -> bool:
        """True at the closing quotes: three of four or five quotes close a long string, the last three."""
        if not self.text.startswith(mark, self.at):
            return False
        return len(mark) == 1 or not self.text.startswith(mark[0], self.at + 3)

    def _escape(self, characters: list[str], offsets: list[int]) -> None:
        start = self.at
        sign = self.text[self.at + 1 : self.at + 2]
        if sign in ("u", "U"):
            digits = 4 if sign == "u" else 8
            characters.append(chr(int(self.text[self.at + 2 : self.at + 2 + digits], 16)))
            self.at += 2 + digits
        elif sign in _ESCAPES:
            characters.append(_ESCAPES[sign])
            self.at += 2
        else:
            # A backslash at the end of a line joins it to the next text.
            self.at += 1
            while self.at < len(self.text) and self.text[self.at] in " \t\n":
                self.at += 1
            return
        offsets.append(start)
