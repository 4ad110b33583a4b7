"""The command that writes a song in another form, chosen by the ending of the file's name."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from engine.errors import NoGrip
from engine.formats.sheets.paper import PAPERS
from tui.cli import output_files
from tui.cli.number_options import SONG_NUMBER

if TYPE_CHECKING:
    from engine.performance.sound_settings import Touch
    from engine.planning.model import Plan
    from engine.song.model import SetList, Song


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be written: the songs of a set with their plans, in order. `count` asks for a count before the
    music, `click` for a click through it.

    `paper`, `horn` and `list_only` are for print: its size, the key of a horn to write for, the set list alone.
    `faults` are songs that no hand could play.
    """

    set_list: "SetList"
    entries: "tuple[tuple[Song, Plan], ...]"
    count: bool = False
    click: bool = False
    paper: str = "a4"
    horn: str = ""
    list_only: bool = False
    faults: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The title of the file: the song's where it is the only one, else the set's."""
        return self.entries[0][0].title if len(self.entries) == 1 else self.set_list.title

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
    from engine.formats.midi_file import set_midi_file

    entries = [(song, plan, touch) for (song, plan), touch in zip(wish.entries, _touches(wish), strict=True)]
    return set_midi_file(wish.title, entries, counted=wish.count)


def _wav(wish: Wish) -> bytes:
    from engine.performance.play_along import Ride
    from tui.audio.wav import song_wav

    song, plan = wish.one(".wav")
    return song_wav(song, plan, Ride(_touches(wish)[0], click=wish.click, counted=wish.count))


def _touches(wish: Wish) -> "list[Touch]":
    """Return how each song sounds in a file, the player's own rhythms known and what is wrong with them said."""
    from engine.performance.sound_settings import NOBODYS, song_touch
    from tui.persistence.own_rhythms import own_rhythms

    rhythms, fault = own_rhythms()
    if fault:
        click.echo(fault, err=True)
    own = replace(NOBODYS, rhythms=rhythms)
    return [song_touch(song, own) for song, _ in wish.entries]


def _musicxml(wish: Wish) -> bytes:
    from engine.formats.musicxml_out.writer import chart_musicxml, set_musicxml

    if wish.horn:
        return chart_musicxml(wish.title, [song for song, _ in wish.entries], wish.horn)
    return set_musicxml(wish.title, wish.entries)


def _mxl(wish: Wish) -> bytes:
    from engine.formats.musicxml_out.container import compressed

    return compressed(_musicxml(wish))


def _abc(wish: Wish) -> bytes:
    from engine.formats.abc.writer import abc_file

    return abc_file(wish.one(".abc")[0])


def _pdf(wish: Wish) -> bytes:
    from engine.formats.sheets import bundle

    _tell_lacking(wish)
    if wish.list_only:
        return bundle.set_list_pdf(wish.set_list, wish.entries, wish.paper, wish.horn)
    if len(wish.entries) == 1:
        return bundle.cue_sheet_pdf(bundle.sheets(wish.set_list, wish.entries, wish.horn)[0], wish.paper)
    return bundle.bundle_pdf(wish.set_list, wish.entries, wish.paper, wish.horn)


def _tell_lacking(wish: Wish) -> None:
    """Say which signs of the titles, cues and notes will be small squares, the typeface having no such letter."""
    from engine.formats.sheets.paper import MISSING, Paper

    paper = Paper()
    about = wish.set_list
    words = [(about.title, " ".join((about.title, about.date, about.place)))] if len(wish.entries) > 1 else []
    for song, _ in wish.entries:
        told = [word for one in song.sections for word in (one.name, one.cue, one.until) if word]
        words.append((song.title, " ".join((song.title, song.note_line, *told))))
    for title, text in words:
        if lacking := "".join(filter(str.isprintable, paper.lacking(text))):
            click.echo(f"{title}: no letters to print for {' '.join(lacking)}, shown as {MISSING}.", err=True)


def _text(wish: Wish) -> bytes:
    from engine.formats import plain_text
    from engine.formats.sheets.bundle import sheets

    found = sheets(wish.set_list, wish.entries, wish.horn)
    if wish.list_only:
        text = plain_text.set_text(wish.set_list, [sheet.song for sheet in found])
    elif len(found) == 1:
        text = plain_text.cue_text(found[0])
    else:
        text = plain_text.bundle_text(wish.set_list, found)
    return text.encode("utf-8")


WRITERS: dict[str, Callable[[Wish], bytes]] = {
    ".mid": _midi,
    ".midi": _midi,
    ".musicxml": _musicxml,
    ".xml": _musicxml,
    ".mxl": _mxl,
    ".wav": _wav,
    ".pdf": _pdf,
    ".txt": _text,
    ".abc": _abc,
}
"""Ending -> what writes it."""

ON_PAPER = (".pdf", ".txt")
FOR_HORNS = (*ON_PAPER, ".musicxml", ".xml", ".mxl")
"""Endings that can be the set list alone, and those that can be written for a horn."""


@click.command(short_help="a MIDI file, sound, notation, printed sheets or plain text")
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.option(
    "--to", "target", required=True, metavar="OUT", type=click.Path(path_type=Path), help="The file to write."
)
@click.option("--song", "number", type=SONG_NUMBER, metavar="N", help="Only the Nth song of a set.")
@click.option("--key", metavar="K", help="Transpose to this key first.")
@click.option("--count/--no-count", default=False, help="With the count-in before the music (.mid .wav).")
@click.option("--click/--no-click", "clicked", default=False, help="With a click through the music (.wav).")
@click.option("--paper", type=click.Choice(tuple(PAPERS)), default="a4", help="Size of the pages (.pdf).")
@click.option(
    "--for",
    "horn",
    type=click.Choice(("Bb", "Eb", "F", "C")),
    help="In this horn's written pitch (C: as it sounds), without hands (.pdf .txt .musicxml).",
)
@click.option("--list", "list_only", is_flag=True, help="Only the set list, in large letters (.pdf .txt).")
@click.option("--force", is_flag=True, help="Replace the file when it exists.")
def export(
    file: Path, target: Path, number: int | None, key: str | None, count: bool, paper: str, horn: str | None,
    list_only: bool, force: bool, clicked: bool,
) -> None:  # fmt: skip
    """Write a song or set as MIDI, sound, notation, printed sheets or plain text, by the ending of OUT.

    .mid (or .midi) is a MIDI file and .musicxml (or .xml; packed: .mxl) a grand staff with fingering, for a horn a
    chart in slashes: of a set all songs, one after the other. .wav is the sound and .abc the chords and tune of one.
    .pdf and .txt are the song's cue sheet or, of a set, the set list and every song's sheet.
    """
    ending = target.suffix.lower()
    writer = WRITERS.get(ending)
    if writer is None:
        raise click.UsageError(
            f"{target.name} is no kind of file that can be written: let its name end in {', '.join(sorted(WRITERS))}."
        )
    for option, asked, endings in (("--for", horn, FOR_HORNS), ("--list", list_only, ON_PAPER)):
        if asked and ending not in endings:
            raise click.UsageError(f"{option} goes with {', '.join(endings)}.")
    output_files.check_free(target, force)
    wish = _wish(file, number, key, planned=not horn and not list_only)
    output_files.write(
        target, writer(replace(wish, count=count, click=clicked, paper=paper, horn=horn or "", list_only=list_only))
    )
    _tell_missing(wish, number)


def _tell_missing(wish: Wish, number: int | None) -> None:
    """Name the songs of a set that did not open or could not be planned, and leave with 1 for them."""
    from tui.cli import arguments
    from tui.session.song_numbers import missing_text

    missing = wish.set_list.missing if number is None else ()
    for name, why in missing:
        click.echo(missing_text(name, why), err=True)
    for fault in wish.faults:
        click.echo(fault, err=True)
    arguments.finish(bool(missing or wish.faults))


def _wish(file: Path, number: int | None, key: str | None, planned: bool) -> Wish:
    """Open and plan what is to be written; a plan that nobody will see is left empty."""
    from tui.cli import arguments

    arguments.check_key(key)
    set_list = arguments.opened(file, number)
    songs = [arguments.as_asked(song, key, None) for song in arguments.songs(set_list, number)]
    if not planned:
        return Wish(set_list, tuple((song, _empty()) for song in songs))
    from tui.planning.pool import plan_all

    jobs = [(song, arguments.request(song, set_list, None, None, None, "both")) for song in songs]
    made = list(zip(songs, plan_all(jobs), strict=True))
    faults = tuple((song.title, found) for song, found in made if isinstance(found, NoGrip))
    if faults and len(made) == 1:
        raise faults[0][1]
    entries = tuple((song, _empty() if isinstance(found, NoGrip) else found) for song, found in made)
    return Wish(set_list, entries, faults=tuple(f"{title}: {found}" for title, found in faults))


def _empty() -> "Plan":
    from engine.planning.model import Plan

    return Plan((), 0.0, 0.0, False)
