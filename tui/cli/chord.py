"""The tones of chord symbols, on the command line."""

import json
import sys
from collections.abc import Iterable, Iterator
from typing import Any

import click

from tui.cli.arguments import check_key, finish

LONGEST_LINE = 10_000
"""Characters of a line that are read (own choice): no symbol has as many, and an endless one would fill the memory."""

LONGEST_SHOWN = 30
"""Characters shown of a symbol that cannot be read (own choice)."""


@click.command(short_help="the tones of chord symbols")
@click.argument("symbols", nargs=-1, required=True, metavar="SYMBOL...")
@click.option("--key", metavar="K", help="The key it stands in (Eb, Cm, F#m), for spelling.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def chord(symbols: tuple[str, ...], key: str | None, as_json: bool) -> None:
    """Print the tones of chord symbols with degrees and spelling ( - reads one symbol a line)."""
    from engine.chord.report import chord_json

    check_key(key)
    faults = False
    for symbol in _symbols(symbols):
        answer = chord_json(symbol, key)
        faults = faults or bool(answer["error"])
        if as_json:
            click.echo(json.dumps(answer))
        else:
            _print_chord(answer)
    finish(faults)


def _symbols(arguments: Iterable[str]) -> Iterator[str]:
    for argument in arguments:
        if argument == "-":
            # A line is answered as it comes, so that another program can ask and wait.
            yield from (word for line in _lines() if (word := line.strip().removeprefix("\ufeff")))
        else:
            yield argument


def _lines() -> Iterator[str]:
    while line := sys.stdin.readline(LONGEST_LINE):
        if len(line) == LONGEST_LINE and not line.endswith("\n"):
            raise click.UsageError(f"a line of {LONGEST_LINE} characters or more. Write one symbol a line.")
        yield line


def _print_chord(answer: dict[str, Any]) -> None:
    """Print one line of tones, or the fault on standard error."""
    error = answer["error"]
    if error:
        place = f": column {error['column']}" if error.get("column") else ""
        click.echo(f"{_shown(answer['symbol'])}{place}: {error.get('hint', 'cannot be read')}", err=True)
        return
    tones = "  ".join(f"{tone['degree']} {tone['name']}" for tone in answer["tones"] or ())
    bass = f"  over {answer['bass']}" if answer["bass"] != answer["root"] else ""
    click.echo(f"{answer['symbol']:<12} {tones or 'no chord'}{bass}")
    if answer["reading"]:
        click.echo(f"{'':<12} {answer['reading']}")


def _shown(symbol: str) -> str:
    """Return an unreadable symbol short."""
    return symbol if len(symbol) <= LONGEST_SHOWN else f"{symbol[:LONGEST_SHOWN]}..."
