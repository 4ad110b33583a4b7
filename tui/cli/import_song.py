"""`stillhand import FILE`: a lead sheet or pasted chart as a song file."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.cli import output_files
from tui.cli.number_options import Count

if TYPE_CHECKING:
    from collections.abc import Callable

    from engine.formats.import_choices import Answers
    from engine.formats.import_result import Imported

LARGEST = 40_000_000
"""Bytes beyond which a file is not even opened (own choice)."""


@click.command("import", short_help="a song file from a lead sheet or pasted text")
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--to", "target", metavar="OUT", type=click.Path(path_type=Path), help="The song file to write (.toml).")
@click.option("--per-bar", type=Count(1, 4), default=1, metavar="N", help="Chords a bar where text has no bar lines.")
@click.option("--reading", multiple=True, metavar="RULE=WORD", help='How a doubtful symbol is meant: two="no third".')
@click.option("--key", metavar="K", help="Transpose to this key.")
@click.option("--force", is_flag=True, help="Replace OUT when it exists.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def import_(
    file: Path, target: Path | None, per_bar: int, reading: tuple[str, ...], key: str | None, force: bool, as_json: bool
) -> None:
    """Turn a lead sheet (.musicxml, .mxl, .abc) or pasted text (.txt, or - for standard input) into a song file.

    At a terminal, one key settles each doubt for the whole song and Enter saves. Elsewhere the song file is printed
    where there is no --to, and the form and every doubt go to standard error.
    """
    from engine.errors import ChartError
    from engine.formats.import_choices import Answers
    from engine.formats.import_file import song_from_file
    from engine.formats.import_result import NotImported
    from tui.cli import arguments
    from tui.persistence.files import StoreError

    arguments.check_key(key)
    rules = _rules(reading)
    if file.suffix == ".toml" and file.is_file():
        raise click.UsageError(f"{file} is a song file already. Open it: stillhand {file}")
    if target is not None:
        output_files.check_free(target, force, ".toml")
    name = "" if str(file) == "-" else file.stem.replace("-", " ").replace("_", " ").strip().title()
    content = _content(file)

    def read(answers: Answers) -> "Imported":
        return _in_key(song_from_file(content, name, answers), key)

    try:
        found = read(Answers(per_bar, tuple(rules.items())))
    except ChartError as error:
        raise ChartError(str(file), error.faults) from None
    except NotImported as error:
        raise StoreError(file, str(error)) from None
    asked = not as_json and str(file) != "-" and _at_terminal()
    if asked and (target is None or found.choices):
        _settled(found, read, target or _free(Path(f"{file.stem}.toml")))
        return
    if target is not None:
        output_files.write(target, found.text, quiet=as_json)
    _report(found, target, as_json)


def _at_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty() and sys.stderr.isatty()


def _free(path: Path) -> Path:
    """Return the path, or one with a number that no file has yet."""
    tried = (path, *(path.with_stem(f"{path.stem}-{number}") for number in range(2, 1000)))
    return next((free for free in tried if not free.exists()), path)


def _settled(found: "Imported", read: "Callable[[Answers], Imported]", target: Path) -> None:
    from tui.cli.import_doubts import settled

    end = settled(found, read, str(target))
    if end.saved:
        output_files.write(target, end.found.text)
    else:
        click.echo(end.found.text, nl=False)


def _report(found: "Imported", target: Path | None, as_json: bool) -> None:
    from engine.song.length import form

    summary = form(found.song)
    if as_json:
        click.echo(json.dumps({"form": summary, "doubts": found.doubts, "song": found.text}))
        return
    if target is None:
        click.echo(found.text, nl=False)
    for line in (summary, *(f"doubt: {doubt}" for doubt in found.doubts)):
        click.echo(line, err=True)


def _content(file: Path) -> bytes:
    """Return the bytes of the file, or of standard input."""
    from tui.persistence.files import StoreError

    try:
        if str(file) == "-":
            content = sys.stdin.buffer.read(LARGEST + 1)
        elif file.is_dir():
            raise StoreError(file, "that is a folder", "name a .musicxml, .mxl, .abc or .txt file")
        elif file.is_fifo() and not str(file).startswith("/dev/"):
            # Opening one waits for somebody who writes, for ever if need be.
            raise StoreError(file, "that is no file", "read it from standard input, with - as the file")
        else:
            with file.open("rb") as opened:
                content = opened.read(LARGEST + 1)
    except FileNotFoundError:
        raise StoreError(file, "there is no such file", "check its name and folder") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise StoreError(file, f"the file cannot be read ({reason.lower()})") from None
    if len(content) > LARGEST:
        raise StoreError(file, "the file is far too large for a song", "is it the right file?")
    return content


def _rules(words: tuple[str, ...]) -> dict[str, str]:
    from engine.chord.house_rules import CHOICES

    rules: dict[str, str] = {}
    for word in words:
        rule, _, said = word.partition("=")
        if said.strip('"') not in CHOICES.get(rule, ()):
            offered = "; ".join(f"{name}: {' or '.join(choices)}" for name, choices in CHOICES.items())
            raise click.UsageError(f"{word} is no reading. Take one of {offered}.")
        rules[rule] = said.strip('"')
    return rules


def _in_key(found: "Imported", key: str | None) -> "Imported":
    if key is None:
        return found
    from dataclasses import replace

    from engine.song.transposing import transpose
    from engine.song.writing import write_song

    song = transpose(found.song, key)
    return replace(found, song=song, text=write_song(song))
