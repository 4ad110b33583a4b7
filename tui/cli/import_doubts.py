"""The doubts of an import settled at the terminal: one key flips one for the whole song, Enter saves.

A plain question on the terminal, no screen: it scrolls with what stands above it, and works over any line.
"""

import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from shutil import get_terminal_size
from typing import TYPE_CHECKING

import click

from engine.errors import EngineError

if TYPE_CHECKING:
    from engine.formats.import_choices import Answers, Choice
    from engine.formats.import_result import Imported

SAVE, SHOW = ("\r", "\n"), ("p", "P")
LEAVE = ("q", "Q", "\x1b", "\x03", "\x04")
"""Keys, besides the figures of the doubts: Enter, p, and q, Escape, Ctrl-C or Ctrl-D."""
MOST_CHOICES = 9
"""Doubts that one figure each settles."""
NARROWEST = 30
"""Columns below which nothing is wrapped any more (own choice)."""


@dataclass(frozen=True, slots=True)
class Settled:
    """What the player made of the doubts: the import as it is then, to be saved, or printed only."""

    found: "Imported"
    saved: bool


def settled(found: "Imported", read: "Callable[[Answers], Imported]", target: str) -> Settled:
    """Show form and doubts and flip what is asked until the player saves or prints; `target` is the file's name.

    Raises:
        click.Abort: the player left without either.
    """
    show(found)
    _keys(found, target)
    while True:
        key = _pressed()
        if key in LEAVE:
            click.echo("Nothing is written.", err=True)
            raise click.Abort
        if key in SAVE or key in SHOW:
            return Settled(found, key in SAVE)
        choices = offered(found)
        if key.isdecimal() and 1 <= int(key) <= len(choices):
            found = _flipped(found, choices[int(key) - 1], read)
            _keys(found, target)


def offered(found: "Imported") -> "tuple[Choice, ...]":
    """Return the doubts that have a key, in the order of the list."""
    listed = {choice.doubt: choice for choice in found.choices}
    return tuple(listed[doubt] for doubt in found.doubts if doubt in listed)[:MOST_CHOICES]


def show(found: "Imported") -> None:
    """Print the form and the numbered list of doubts."""
    from engine.song.length import form

    click.echo(f"\n{form(found.song)}", err=True)
    numbers = {choice.doubt: (number, choice) for number, choice in enumerate(offered(found), 1)}
    for doubt in found.doubts:
        number, choice = numbers.get(doubt, (None, None))
        words = f"{doubt} (or: {choice.instead})" if choice else doubt
        lead = f"  {number or '-'}  "
        click.echo(textwrap.fill(words, _width(), initial_indent=lead, subsequent_indent=" " * 5), err=True)


def _flipped(found: "Imported", choice: "Choice", read: "Callable[[Answers], Imported]") -> "Imported":
    """Return the import read anew, or as it was where that gives no song."""
    try:
        found = read(choice.answers)
    except EngineError as error:
        click.echo(f"\nThat gives no song: {error}".splitlines()[1], err=True)
    show(found)
    return found


def _keys(found: "Imported", target: str) -> None:
    count = len(offered(found))
    flips = {0: "", 1: "1 = the other way   "}.get(count, f"1-{count} = the other way   ")
    click.echo(textwrap.fill(f"{flips}Enter = save as {target}   p = print only   q = leave", _width()), err=True)


def _width() -> int:
    return max(NARROWEST, get_terminal_size().columns - 1)


def _pressed() -> str:
    try:
        return click.getchar()
    except (KeyboardInterrupt, EOFError):
        return LEAVE[0]
