"""The twelve keys of a song compared, on the command line."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.cli.number_options import REACH, SONG_NUMBER

if TYPE_CHECKING:
    from engine.planning.twelve_keys import KeyRow
    from engine.song.model import Song

_NO_TUNE = (
    "No tune is named, so the range was left out. Write [melody] or a tune in the file, or give --lowest and --highest."
)


@click.command(short_help="the twelve keys of a song compared, or another key for good")
@click.argument("file", metavar="SONG", type=click.Path(path_type=Path))
@click.option(
    "--lowest", metavar="NOTE", help="Lowest note of the tune in the song's key (G3); default: as the file says."
)
@click.option("--highest", metavar="NOTE", help="Highest note of the tune (C5).")
@click.option("--range", "span", metavar="LOW-HIGH", help="The singer's comfortable range: A3-D5.")
@click.option("--horns", metavar="KEYS", help="Horns to write for: Bb,Eb,F.")
@click.option("--song", "number", type=SONG_NUMBER, metavar="N", help="The Nth song of a set.")
@click.option("--bass/--no-bass", default=None, help="A bass player has the low register.")
@click.option("--reach", type=REACH, metavar="MM", help="Thumb to little finger, in millimetres.")
@click.option("--for-good", metavar="KEY", help="Rewrite the song's own file in this key, and show old and new.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def keys(
    file: Path, lowest: str | None, highest: str | None, span: str | None, horns: str | None, number: int | None,
    bass: bool | None, reach: float | None, for_good: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Print the twelve keys of a song compared for hands, singer and horns; * marks the best fit."""
    from dataclasses import replace

    from tui.cli import arguments
    from tui.planning.pool import compare_keys

    set_list = arguments.opened(file, number)
    songs = arguments.songs(set_list, number or 1)
    if not songs:
        raise click.UsageError(f"{file} has no song to compare.")
    if for_good is not None:
        _keep(Path(songs[0].source), for_good, as_json)
        return
    song = _with_melody(songs[0], lowest, highest)
    request = replace(arguments.request(song, set_list, None, bass, reach, "both"), prove=False)
    wanted = _horns(horns) if horns else set_list.horns
    rows = compare_keys(song, request, _range(span), wanted)
    from engine.song.tune import sung_range

    if as_json:
        click.echo(json.dumps({"title": song.title, "key": song.key, "keys": [asdict(row) for row in rows]}))
    else:
        click.echo("\n".join(_lines(song, rows, span is not None and sung_range(song) is not None)))
        if span is not None and sung_range(song) is None:
            click.echo(_NO_TUNE, err=True)


def _keep(path: Path, key: str, as_json: bool) -> None:
    """Put a song's own file into another key: chords, keys, melody and pins; all the rest of it stays."""
    from engine.song.key_comparison import side_by_side
    from engine.song.reader import read_song
    from tui.cli import arguments
    from tui.persistence import song_keys, store

    arguments.check_key(key)
    text = store.read_text(path)
    changed = song_keys.text_in_key(text, key)
    old, new = read_song(text, str(path)), read_song(changed, str(path))
    if changed != text:
        store.save(path, changed)
        song_keys.remember(text, changed)
    if as_json:
        click.echo(json.dumps({"title": new.title, "file": str(path), "old": old.key, "new": new.key}))
    elif changed == text:
        click.echo(f"{path} is in {old.key} already.")
    else:
        click.echo("\n".join(side_by_side(old, new)))
        click.echo(f"\n{path} is in {new.key} now. Back: stillhand keys {path} --for-good {old.key}", err=True)


def _with_melody(song: "Song", lowest: str | None, highest: str | None) -> "Song":
    from dataclasses import replace

    if lowest is None and highest is None:
        return song
    if lowest is None or highest is None:
        raise click.UsageError("give both --lowest and --highest, or neither.")
    return replace(song, melody=_ordered(_note(lowest), _note(highest)))


def _horns(words: str) -> tuple[str, ...]:
    from engine.song.set_list import HORNS

    named = tuple(words.replace(" ", "").split(","))
    for horn in named:
        if horn not in HORNS:
            raise click.UsageError(f"{horn} is no horn's key. Write {', '.join(HORNS)}, with commas between them.")
    return named


def _range(span: str | None) -> tuple[int, int] | None:
    if span is None:
        return None
    low, dash, high = span.partition("-")
    if not dash:
        raise click.UsageError(f"{span} is no range. Write it as A3-D5.")
    return _ordered(_note(low), _note(high))


def _ordered(low: int, high: int) -> tuple[int, int]:
    if low > high:
        raise click.UsageError("the lowest note lies above the highest one.")
    return low, high


def _note(text: str) -> int:
    from engine.theory.pitch import key_number

    try:
        return key_number(text.strip())
    except ValueError:
        raise click.UsageError(f"{text} is no note. Write it as G3 or Eb4, middle C is C4.") from None


def _lines(song: "Song", rows: "tuple[KeyRow, ...]", sung: bool) -> list[str]:
    """Return the table, 80 columns wide with two horns, and in words what the marked keys bring.

    `sung`: the keys were compared for a singer's range.
    """
    horns = "".join(f"{horn:>5}" for horn, _ in rows[0].written)
    head = f"  {'key':<5}{'signs':>5}{'effort':>9}{'widest':>9}{'low':>5}  {'tune':<10}{'out':>4}{horns}"
    table = [_line(row) for row in rows]
    brings = [f"* {row.key:<4} {row.reason}" for row in rows if row.best]
    first = "fits the singer best, then " if sung else ""
    legend = [f"* {first}asks least of the hands; the choice is yours."]
    legend += ["low: chords that sit unclear, out: half steps of the tune outside the range."]
    legend += ["horns: the key they read."] if horns else []
    return [f"{song.title}: twelve keys", "", head, *table, "", *brings, "", *legend]


def _line(row: "KeyRow") -> str:
    from engine.theory.key import spelled_in_key

    signs = f"{abs(row.signature)}{'#' if row.signature > 0 else 'b'}" if row.signature else "0"
    effort = f"{row.effort:.1f}" if row.effort is not None else "-"
    tune = "-".join(spelled_in_key(note, row.signature) for note in row.melody) if row.melody else ""
    horns = "".join(f"{key:>5}" for _, key in row.written)
    mark, out = "*" if row.best else " ", str(row.outside) if row.melody else ""
    start = f"{mark} {row.key:<5}{signs:>5}{effort:>9}{row.widest:6.0f} mm{row.muddy:>5}  "
    return f"{start}{tune:<10}{out:>4}{horns}".rstrip()
