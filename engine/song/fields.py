"""Typed values out of a TOML table, each mistake kept as a fault at its place."""

import math
import re
import tomllib
from collections.abc import Collection
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

from engine.errors import ChartError, EngineError, Fault
from engine.song.source_positions import Path, Places, places
from engine.song.toml import read_toml
from engine.theory.key import read_key
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter

Table = dict[str, Any]
MOST_TEXT = 5_000_000
"""Characters beyond which a text is no song: the longest chart is a thousandth of it (own choice)."""

LONGEST_NAME, LONGEST_NOTE = 200, 2_000
"""Characters of a name (title, section, cue) and of a line of a note (own choice): some lines of a sheet, a page."""


@dataclass(slots=True)
class Sheet:
    """One file under the eye: its places, the faults found so far and the notes (line, column, what, remark)."""

    places: Places
    faults: list[Fault] = field(default_factory=list)
    notes: list[tuple[int, int, str, str]] = field(default_factory=list)

    def at_key(self, path: Path, found: str, hint: str) -> None:
        """Note a fault at a key."""
        self.faults.append(Fault(*self.places.key(*path), found, hint))

    def at_value(self, path: Path, found: str, hint: str) -> None:
        """Note a fault at a value."""
        self.faults.append(Fault(*self.places.value(*path), found, hint))

    def at_place(self, place: tuple[int, int], found: str, hint: str) -> None:
        """Note a fault at a line and column."""
        self.faults.append(Fault(*place, found, hint))

    def unknown(self, table: Table, path: Path, known: Collection[str], where: str) -> None:
        """Note keys that mean nothing, with the nearest that does."""
        for key in table:
            if key not in known:
                near = get_close_matches(key.lower(), known, n=1, cutoff=0.5)
                hint = f"did you mean {near[0]}?" if near else f"known are {', '.join(sorted(known))}"
                self.notes.append((*self.places.key(*path, key), key, f"means nothing in {where}: {hint}"))

    def line(self, table: Table, path: Path, needed: str = "", most: int = LONGEST_NAME) -> str:
        """Return a text to be shown on one line: what is no printable sign in it becomes a space."""
        return self._bounded(_printable(self.text(table, path, needed=needed)), path, most)

    def lines(self, table: Table, path: Path) -> str:
        """Return a text of several lines, each as `line` would give it."""
        told = self.text(table, path).splitlines()
        return "\n".join(self._bounded(_printable(line), path, LONGEST_NOTE) for line in told)

    def _bounded(self, line: str, path: Path, most: int) -> str:
        if len(line) > most:
            self.at_value(path, f"{path[-1]} has {len(line)} characters in a line", f"write {most} at most")
        return line[:most]

    def text(self, table: Table, path: Path, default: str = "", needed: str = "") -> str:
        """Return a text as written; `needed` is an example for one that may not be missing."""
        key = path[-1]
        value = table.get(str(key))
        if value is None:
            if needed:
                self.at_key(path, f"there is no {key}", f"write {needed}")
            return default
        if not isinstance(value, str):
            self.at_value(path, f"{key} is {_kind(value)}", f'write it in quotes, as in {key} = "{_plain(value)}"')
            return default
        if needed and not value.strip():
            self.at_value(path, f"{key} is empty", f"write {needed}")
        return value

    def word(self, table: Table, path: Path, choices: tuple[str, ...], default: str = "") -> str:
        """Return one word out of `choices` (the first is the default)."""
        value = self.text(table, path, default or choices[0])
        if value in choices:
            return value
        near = get_close_matches(value.lower(), choices, n=1)
        hint = f"did you mean {near[0]}?" if near else f"choose {', '.join(choices[:-1])} or {choices[-1]}"
        self.at_value(path, f"{path[-1]} is {value!r}", hint)
        return default or choices[0]

    def number(self, table: Table, path: Path, default: float, low: float, high: float) -> float:
        """Return a number from `low` to `high`."""
        value = table.get(str(path[-1]), default)
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            self.at_value(path, f"{path[-1]} is {_kind(value)}", f"write a number from {low:g} to {high:g}")
            return default
        if not low <= value <= high:
            self.at_value(path, f"{path[-1]} is {_short(value)}", f"write a number from {low:g} to {high:g}")
            return default
        return value

    def truth(self, table: Table, path: Path, default: bool = False) -> bool:
        """Return true or false."""
        value = table.get(str(path[-1]), default)
        if not isinstance(value, bool):
            self.at_value(path, f"{path[-1]} is {_kind(value)}", "write true or false")
            return default
        return value

    def table(self, table: Table, path: Path) -> Table:
        """Return a table inside, {} when it is missing or something else (a fault)."""
        value = table.get(str(path[-1]), {})
        if not isinstance(value, dict):
            self.at_value(path, f"{path[-1]} is {_kind(value)}", f"write a table, with its keys under [{path[-1]}]")
            return {}
        return value

    def tables(self, table: Table, path: Path) -> list[Table]:
        """Return a list of tables, [] when it is missing or something else (a fault)."""
        value = table.get(str(path[-1]), [])
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.at_value(path, f"{path[-1]} is {_kind(value)}", f"write each under its own [[{path[-1]}]]")
            return []
        return value

    def beats(self, table: Table, path: Path, default: Fraction) -> Fraction:
        """Return a number of beats: 2, 2.5 or "1/3"."""
        value = table.get(str(path[-1]), default)
        try:
            if isinstance(value, bool) or not isinstance(value, int | float | str | Fraction):
                raise ValueError(value)
            if isinstance(value, str) and not re.fullmatch(r"\d{1,3}(\.\d{1,3}|/\d{1,3})?", value.strip()):
                raise ValueError(value)
            return Fraction(value).limit_denominator(1000)
        except (ValueError, OverflowError, ZeroDivisionError):
            self.at_value(path, f"{path[-1]} is {_kind(value)}", 'write a number of beats, as in 1, 2.5 or "1/3"')
            return default

    def key_name(self, table: Table, path: Path, needed: bool = True) -> str:
        """Return a key such as Eb or F#m, "" for none or one that cannot be read (a fault)."""
        text = self.text(table, path, needed='the key, as in key = "Eb" or key = "Cm"' if needed else "").strip()
        if not text:
            return ""
        try:
            return str(read_key(text))
        except (ValueError, EngineError):
            self.at_value(path, f"{text[:20]} is no key", "write it as Eb, F# or Cm")
            return ""

    def meter(self, table: Table, path: Path, default: Meter) -> Meter:
        """Return a meter."""
        text = self.text(table, path, str(default))
        try:
            return read_meter(text)
        except ValueError:
            self.at_value(path, f"{text[:20]} is no meter", "write it as 4/4, 3/4 or 6/8")
            return default

    def done(self, source: str) -> None:
        """Raise all faults found, in the order of the file.

        Raises:
            ChartError: there are any.
        """
        if self.faults:
            raise ChartError(source, tuple(sorted(dict.fromkeys(self.faults))))


def read_table(text: str, source: str) -> tuple[Table, Sheet]:
    """Read TOML.

    Raises:
        ChartError: not valid TOML, with the line and column where it stops making sense.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    if len(text) > MOST_TEXT:
        raise ChartError(source, (Fault(1, 1, "the file is far too long for a song", "is it the right file?"),))
    try:
        table = read_toml(text)
        return table, Sheet(places(text))
    except tomllib.TOMLDecodeError as error:
        raise ChartError(source, (_syntax_fault(str(error), text),)) from None
    except (RecursionError, ValueError, OverflowError):
        # Values nested without end, or a number of thousands of figures: TOML by the letter, but no song.
        raise ChartError(source, (Fault(1, 1, "the file cannot be read", "is it a song or a set?"),)) from None


_HINTS = (
    ("Expected '=' after a key", 'write key = value; a text of several lines stands between """ and """'),
    ("Invalid value", "write a text in quotes, a number as it is"),
    ("Unterminated string", "close the text with the quotes it opened with"),
    ('Expected \'"""\'', 'close the text of several lines with """'),
    ("Illegal character", 'close the text with the quotes it opened with, or use """ for several lines'),
    ("Cannot overwrite a value", "the same key stands above: keep one"),
    ("Cannot declare", "the same table stands above: keep one"),
    ("Cannot redefine", "the same table stands above: keep one"),
    ("Unescaped '\\'", "write a backslash twice, or the text between single quotes"),
    ("Expected newline or end of document", "put each key on a line of its own, and a text in quotes"),
    ("Expected ']'", "close the bracket ]"),
    ("Unclosed array", "close the list with ]"),
    ("Unclosed inline table", "close the table with }"),
)


def _syntax_fault(message: str, text: str) -> Fault:
    found = re.search(r"\(at line (\d+), column (\d+)\)", message)
    lines = text.split("\n")
    place = (int(found[1]), int(found[2])) if found else (len(lines), len(lines[-1]) + 1)
    what = re.sub(r"\s*\(at .*\)$", "", message)
    hint = next((hint for start, hint in _HINTS if what.startswith(start)), "see the song files of the demo set")
    if not found:
        opening = _unclosed_text(text)
        if opening:
            return Fault(*opening, 'a text opens with """ and never closes', 'close it with """ on a line of its own')
    return Fault(*place, f"not valid TOML ({what[:1].lower()}{what[1:]})", hint)


def _unclosed_text(text: str) -> tuple[int, int] | None:
    """Return where the last long text opens when an odd number of them stands in the file."""
    marks = [(number, line.index('"""') + 1) for number, line in enumerate(text.split("\n"), 1) if '"""' in line]
    return marks[-1] if text.count('"""') % 2 and marks else None


def _kind(value: object) -> str:
    """Say what a value is, in words for a musician."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"' if len(value) <= 40 else "a long text"
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    return _short(value)


def _short(value: object) -> str:
    try:
        text = f"{value:g}" if isinstance(value, float) else str(value)
    except ValueError:
        return "an endless number"
    return text if len(text) <= 40 else "an endless number"


def _plain(value: object) -> str:
    return _short(value) if isinstance(value, int | float) and not isinstance(value, bool) else "..."


def _printable(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)
