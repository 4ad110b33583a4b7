"""`stillhand new SONG`: five questions, and a song file to go on with; with songs after it, a set of them."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from engine.errors import EngineError

T = TypeVar("T")


@click.command(short_help="ask five things and write a new song's file, or a set of songs")
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.argument("songs", nargs=-1, metavar="[SONG]...", type=click.Path(path_type=Path))
def new(file: Path, songs: tuple[Path, ...]) -> None:
    """Ask five things (title, key, meter, tempo, sections) and write the file of a new song.

    With SONGs, the file is a set of them, in their order: stillhand new friday.toml ballad.toml waltz.toml
    """
    from engine.song.reader import read_song
    from tui.cli import output_files

    path = file if file.suffix == ".toml" else file.with_name(file.name + ".toml")
    if path.exists():
        raise click.UsageError(f"{path} exists already. Choose another name, or open it: stillhand {path}")
    if songs:
        output_files.write(path, _set_text(path, songs), f"Open it: stillhand {path}")
        return
    text = _answers(path)
    read_song(text, str(path))
    output_files.write(path, text, f"Put your chords between the bar lines, then: stillhand check {path}")


def _set_text(path: Path, songs: tuple[Path, ...]) -> str:
    """Return the file of a new set; its songs are named as seen from it.

    Raises:
        EngineError: a song that does not open.
    """
    from engine.song.writing import quoted
    from tui.persistence import store

    head = f"title = {quoted(_title_of(path))}\n# under a song go its key, tempo and note for this set\n"
    entries = []
    for song in songs:
        store.open_song(song)
        if not song.name.isprintable():
            raise click.UsageError(f"{song} has a name that a set cannot hold. Give the file another one.")
        entries.append(f"\n[[songs]]\nfile = {quoted(_seen_from(path.parent, song))}\n")
    return head + "".join(entries)


def _seen_from(folder: Path, file: Path) -> str:
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:
        # On another drive of Windows.
        return file.absolute().as_posix()


def _title_of(path: Path) -> str:
    return path.stem.replace("-", " ").replace("_", " ").title()


def _answers(path: Path) -> str:
    from engine.song.new_song import USUAL_ROADMAP, song_text
    from engine.theory.meter import meter as read_meter

    try:
        title = _asked("Title", _title_of(path), _title)
        key = _asked("Key (Eb, Cm, F#m)", "C", _key)
        meter = _asked("Meter", "4/4", read_meter)
        unit = "dotted quarters" if meter.compound else "quarter notes"
        tempo = _asked(f"Tempo, {unit} a minute", "100", _tempo)
        roadmap = _asked("Sections as played", USUAL_ROADMAP, _roadmap)
    except click.Abort:
        click.echo("\nNothing is written.", err=True)
        raise
    return song_text(title, key, meter, tempo, roadmap)


def _asked(question: str, usual: str, read: Callable[[str], T]) -> T:
    """Ask until the answer can be read; an empty answer takes the usual one."""
    while True:
        try:
            return read(str(click.prompt(question, default=usual)).strip())
        except (ValueError, EngineError) as error:
            click.echo(f"  {error}")


def _key(text: str) -> str:
    from engine.theory.key import read_key

    return str(read_key(text[:1].upper() + text[1:]))


def _title(text: str) -> str:
    if not text or not text.isprintable():
        raise ValueError("write a title in one line")
    return text


def _tempo(text: str) -> float:
    from engine.song.section_tempo import FASTEST, SLOWEST

    try:
        tempo = float(text.replace(",", "."))
    except ValueError:
        tempo = 0.0
    if not SLOWEST <= tempo <= FASTEST:
        raise ValueError(f"{text[:20]} is no tempo, write a number from {SLOWEST:g} to {FASTEST:g}")
    return tempo


def _roadmap(text: str) -> tuple[str, tuple[str, ...]]:
    """Return the roadmap and its sections, each once."""
    from engine.song.roadmap import named_in

    names = named_in(text)
    if any("|" in name for name in names):
        raise ValueError(
            "write the names of the sections only, as in Intro, Verse x2, Chorus; the chords go into the file"
        )
    if not names or not text.isprintable():
        raise ValueError("write names with commas between them, as in Intro, Verse x2, Chorus")
    return text, names
