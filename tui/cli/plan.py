"""The planned voicings of songs and sets, on the command line."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from engine.errors import EngineError, NoGrip
from engine.method_names import METHOD_CHOICES, TEXTURE_CHOICES
from tui.cli.arguments import as_asked, check_key, finish, opened, request, songs
from tui.cli.number_options import REACH, SONG_NUMBER, TEMPO
from tui.session.song_numbers import missing_text

if TYPE_CHECKING:
    from engine.song.model import SetList


@click.command(short_help="voicings, fingers, moves and effort of songs and sets")
@click.argument("files", nargs=-1, metavar="FILE...", type=click.Path(path_type=Path))
@click.option("--chart", metavar="BARS", help='Plan these bars instead of a file: "| Dm7 | G7 | C6 |".')
@click.option("--key", metavar="K", help="Of --chart: its key. Of a file: transpose to this key.")
@click.option("--meter", metavar="M", help="The meter of --chart (default 4/4).")
@click.option("--tempo", type=TEMPO, metavar="T", help="Beats a minute.")
@click.option("--method", type=click.Choice(METHOD_CHOICES), help="Voicing method (default: the song's own).")
@click.option(
    "--texture", type=click.Choice(TEXTURE_CHOICES), help="How full sections are voiced (default: as the song)."
)
@click.option("--bass/--no-bass", default=None, help="A bass player has the low register (default: as the set says).")
@click.option("--reach", type=REACH, metavar="MM", help="Thumb to little finger, in millimetres.")
@click.option("--hands", type=click.Choice(("both", "left", "right")), default="both", help="Which hands play.")
@click.option("--song", "number", type=SONG_NUMBER, metavar="N", help="Only the Nth song of each set.")
@click.option("--explain", is_flag=True, help="Say of every shift what the fingers do, how far, and what it costs.")
@click.option("--prove", is_flag=True, help="Take time to better the plan and to prove how good it is.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def plan(
    files: tuple[Path, ...], chart: str | None, key: str | None, meter: str | None, tempo: float | None,
    method: str | None, texture: str | None, bass: bool | None, reach: float | None, hands: str,
    number: int | None, explain: bool, prove: bool, as_json: bool,
) -> None:  # fmt: skip
    """Print the planned voicings, fingers, moves and effort of songs and sets."""
    _check_plan_use(files, chart, meter, number)
    check_key(key)
    faults: list[str] = []
    sets = [_chart_set(chart, key, meter, tempo)] if chart is not None else list(_sets(files, number, faults))
    from engine.planning.report import plan_json, plan_text
    from tui.planning.pool import plan_all

    jobs = []
    for set_list in sets:
        for song in songs(set_list, number):
            tonight = song if chart is not None else as_asked(song, key, tempo)
            wish = request(tonight, set_list, method, bass, reach, hands)
            jobs.append((tonight, replace(wish, prove=prove, texture=texture or wish.texture)))
    made = list(zip((song for song, _ in jobs), plan_all(jobs), strict=True))
    entries = [(song, found) for song, found in made if not isinstance(found, NoGrip)]
    faults += [f"{song.title}: {found}" for song, found in made if isinstance(found, NoGrip)]
    faults += [missing_text(*line) for set_list in sets if number is None for line in set_list.missing]
    if entries or not faults:
        texts = (plan_text(song, found, explain) for song, found in entries)
        click.echo(json.dumps(plan_json(entries)) if as_json else "\n\n".join(texts))
    for fault in faults:
        click.echo(fault, err=True)
    finish(bool(faults))


def _sets(files: tuple[Path, ...], number: int | None, faults: list[str]) -> "Iterator[SetList]":
    """Yield the sets that open; what is wrong with the others is added to `faults`."""
    for file in files:
        try:
            yield opened(file, number)
        except EngineError as fault:
            faults.append(str(fault))


def _check_plan_use(files: tuple[Path, ...], chart: str | None, meter: str | None, number: int | None) -> None:
    if bool(files) == (chart is not None):
        raise click.UsageError('give either files or --chart "| Dm7 | G7 | C6 |".')
    if files and meter:
        raise click.UsageError("--meter goes with --chart; a song file has its own meter.")
    if chart is not None and number:
        raise click.UsageError("--song goes with a set; --chart is a single song.")


def _chart_set(bars: str, key: str | None, meter: str | None, tempo: float | None) -> "SetList":
    from engine.song.model import SetList, SetSong
    from engine.song.reader import song_from_chart
    from engine.theory.meter import meter as read_meter

    try:
        read_meter(meter or "4/4")
    except ValueError:
        raise click.UsageError(f"{meter} is no meter. Write it as 4/4, 3/4 or 6/8.") from None
    song = song_from_chart(bars, key or "C", meter or "4/4", tempo or 120.0)
    return SetList(title=song.title, songs=(SetSong(file="", song=song),))
