"""The commands of the shed: the hardest shifts of a set, and practice songs."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from engine.formats.sheets.paper import PAPERS
from tui.cli import output_files
from tui.cli.arguments import opened
from tui.cli.number_options import Amount, Count

if TYPE_CHECKING:
    from engine.formats.sheets.practice_page import Practice
    from engine.practice.log import BadLine, Memory
    from engine.practice.practice_plan import Evening
    from engine.practice.ranking import Entry, Ranking
    from engine.song.model import SetList


@click.command(short_help="the hardest shifts of a set, and what to practise")
@click.argument("file", metavar="SET", type=click.Path(path_type=Path))
@click.option("--top", type=Count(1, 500), default=10, metavar="N", help="How many to print (default 10).")
@click.option("--minutes", type=Amount(1, 600, "minutes"), metavar="M", help="A practice plan of so many minutes too.")
@click.option("--to", "target", metavar="OUT", type=click.Path(path_type=Path), help="Write them as a .pdf to print.")
@click.option("--paper", type=click.Choice(tuple(PAPERS)), default="a4", help="Size of the pages.")
@click.option("--force", is_flag=True, help="Replace the file when it exists.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object with all of them.")
def shifts(
    file: Path, top: int, minutes: float | None, target: Path | None, paper: str, force: bool, as_json: bool
) -> None:
    """Print the hardest shifts of a set, by time needed against time there is."""
    from engine.practice import report
    from engine.practice.ranking import rank

    if target is not None:
        output_files.check_free(target, force, ".pdf")
    set_list = opened(file, None)
    ranking = rank(_planned(set_list))
    memories, bad = _memories()
    evening = _evening(ranking, memories, minutes)
    if target is not None:
        _print_pdf(target, paper, _practice(set_list.title, ranking, memories, evening, top))
    elif as_json:
        value = report.shifts_json(set_list.title, ranking, memories=memories)
        if evening is not None:
            value["tonight"] = report.evening_json(evening, ranking)
        click.echo(json.dumps(value))
    else:
        click.echo(report.shifts_text(set_list.title, ranking, top, memories))
        if evening is not None:
            click.echo(f"\n{report.evening_text(evening, ranking)}")
    for line in bad:
        click.echo(f"practice log, {line}: skipped", err=True)
    _finish_with_missing(set_list)


def _planned(set_list: "SetList") -> "list[Entry]":
    from engine.planning.planner import plan
    from engine.song.unfolding import unfold
    from tui.cli import arguments

    songs = arguments.songs(set_list, None)
    return [(song, plan(unfold(song), arguments.request(song, set_list, None, None, None, "both"))) for song in songs]


def _memories() -> "tuple[dict[str, Memory], tuple[BadLine, ...]]":
    """Return what the practice log knows; a log that cannot be read is said and counts as an empty one."""
    from engine.practice.log import remembered
    from tui.persistence import practice_log, store

    try:
        log = practice_log.load()
    except store.StoreError as error:
        click.echo(str(error), err=True)
        return {}, ()
    return remembered(log.tries), log.bad


def _evening(ranking: "Ranking", memories: "dict[str, Memory]", minutes: float | None) -> "Evening | None":
    from datetime import datetime

    from engine.practice.practice_plan import tonight

    return None if minutes is None else tonight(ranking, memories, minutes, datetime.now().astimezone())


def _print_pdf(target: Path, paper: str, practice: "Practice") -> None:
    from engine.formats.sheets.practice_page import practice_pdf

    output_files.write(target, practice_pdf(practice, paper))


def _practice(
    title: str, ranking: "Ranking", memories: "dict[str, Memory]", evening: "Evening | None", top: int
) -> "Practice":
    from datetime import datetime

    from engine.formats.sheets.practice_page import Practice
    from engine.practice.tempo_ladder import first_tempo

    now = datetime.now().astimezone()
    start = {hard.shift.sign: first_tempo(hard, memories.get(hard.shift.sign), now) for hard in ranking.shifts[:top]}
    return Practice(title, ranking, memories, start, evening, top)


def _finish_with_missing(set_list: "SetList") -> None:
    from tui.cli import arguments
    from tui.session.song_numbers import missing_text

    for name, why in set_list.missing:
        click.echo(missing_text(name, why), err=True)
    arguments.finish(bool(set_list.missing))


@click.command(short_help="practice songs: what there is, or one of them")
@click.argument("name", metavar="[NAME]", required=False)
@click.option("--key", metavar="K", default=None, help="The key it begins in (default C).")
@click.option("--set", "set_path", metavar="SET", type=click.Path(path_type=Path), help="For tonight: whose keys.")
@click.option("--to", "target", metavar="OUT", type=click.Path(path_type=Path), help="Write it to this file.")
@click.option("--force", is_flag=True, help="Replace the file when it exists.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def drill(
    name: str | None, key: str | None, set_path: Path | None, target: Path | None, force: bool, as_json: bool
) -> None:
    """Print a practice song (with no NAME: what there is); --to FILE.toml writes it, ready for the stand."""
    from engine.practice import drills

    if name is None and key is not None:
        raise click.UsageError("--key goes with a drill's name: stillhand drill circle --key Eb.")
    if name is None:
        _list_drills(as_json)
        return
    if (set_path is not None) != (name == "tonight"):
        raise click.UsageError("--set goes with the drill tonight: stillhand drill tonight --set SET.")
    if set_path is not None:
        text = drills.tonight_text(opened(set_path, None))
    else:
        try:
            text = drills.drill_text(name, key or "C")
        except drills.NoDrill as error:
            raise click.UsageError(f"{error}.") from None
    if target is not None:
        output_files.check_free(target, force, ".toml")
        output_files.write(target, text)
    elif as_json:
        click.echo(json.dumps({"name": name, "key": key or None, "toml": text}))
    else:
        click.echo(text, nl=False)


TONIGHT = "two-five-ones in tonight's keys for tonight's line-up (with --set SET)"


def _list_drills(as_json: bool) -> None:
    from engine.practice.drills import DRILLS

    rows = [(one.name, one.words) for one in DRILLS] + [("tonight", TONIGHT)]
    if as_json:
        click.echo(json.dumps({"drills": [{"name": name, "words": words} for name, words in rows]}))
        return
    for name, words in rows:
        click.echo(f"{name:<20}{words}")
