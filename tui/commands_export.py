"""The command that writes a song in another form, chosen by the ending of the file's name."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from engine.errors import EngineError

if TYPE_CHECKING:
    from engine.plan.model import Plan
    from engine.song.model import SetList, Song


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be written: the songs of a set with their plans, in order, and whether a count comes first."""

    set_list: "SetList"
    entries: "tuple[tuple[Song, Plan], ...]"
    count: bool = False

    def one(self, ending: str) -> "tuple[Song, Plan]":
        """Return the only song.

        Raises:
            click.UsageError: there are several, and such a file holds one.
        """
        if len(self.entries) != 1:
            raise click.UsageError(
                f"a {ending} file holds one song, and {self.set_list.title} has "
                f"{len(self.entries)}: choose one with --song N."
            )
        return self.entries[0]


def _midi(wish: Wish) -> bytes:
    from engine.exchange.midi_file import midi_file

    return midi_file(*wish.one(".mid"), counted=wish.count)


WRITERS: dict[str, Callable[[Wish], bytes]] = {
    ".mid": _midi,
}
"""Ending -> what writes it."""


@click.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.option(
    "--to", "target", required=True, metavar="OUT", type=click.Path(path_type=Path), help="The file to write."
)
@click.option("--song", "number", type=click.IntRange(1), metavar="N", help="Only the Nth song of a set.")
@click.option("--key", metavar="K", help="Transpose to this key first.")
@click.option("--count/--no-count", default=False, help="With the count-in before the music (.mid).")
@click.option("--force", is_flag=True, help="Replace the file when it exists.")
def export(file: Path, target: Path, number: int | None, key: str | None, count: bool, force: bool) -> None:
    """Write a song or set as a MIDI file or another form, by the ending of OUT."""
    writer = WRITERS.get(target.suffix.lower())
    if writer is None:
        raise click.UsageError(f"{target.name} ends in no form I write: take {', '.join(sorted(WRITERS))}.")
    if target.exists() and not force:
        raise click.UsageError(f"{target} exists already. Choose another name, or replace it with --force.")
    data = writer(_wish(file, number, key, count))
    try:
        target.write_bytes(data)
    except OSError as error:
        raise NotWritten(str(target), error.strerror or "it cannot be written") from None
    click.echo(f"{target}: written")


@dataclass(eq=False)
class NotWritten(EngineError):
    """A file that the system refuses to write."""

    path: str
    why: str

    def __str__(self) -> str:
        return f"{self.path}: {self.why}. Choose another folder or name."


def _wish(file: Path, number: int | None, key: str | None, count: bool) -> Wish:
    from engine.plan.planner import plan
    from engine.song.unfolding import unfold
    from tui import cli

    cli._check_key(key)
    set_list = cli._opened(file, number)
    entries = []
    for song in cli._songs(set_list, number):
        tonight = cli._as_asked(song, key, None)
        request = cli._request(tonight, set_list, None, None, None, "both")
        entries.append((tonight, plan(unfold(tonight), request)))
    return Wish(set_list, tuple(entries), count)
