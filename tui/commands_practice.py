"""The commands of the shed: the hardest shifts of a set, and practice songs."""

import json
from pathlib import Path

import click


@click.command()
@click.argument("file", metavar="SET", type=click.Path(path_type=Path))
@click.option("--top", type=click.IntRange(1, 500), default=10, metavar="N", help="How many to print (default 10).")
@click.option("--json", "as_json", is_flag=True, help="One JSON object with all of them.")
def shifts(file: Path, top: int, as_json: bool) -> None:
    """Print the hardest shifts of a set, by time needed against time there is."""
    from engine.plan.planner import plan
    from engine.practice.ranking import rank
    from engine.practice.report import shifts_json, shifts_text
    from engine.song.unfolding import unfold
    from tui import cli

    set_list = cli._opened(file, None)
    entries = []
    for song in cli._songs(set_list, None):
        entries.append((song, plan(unfold(song), cli._request(song, set_list, None, None, None, "both"))))
    ranking = rank(entries)
    title = set_list.title
    click.echo(json.dumps(shifts_json(title, ranking)) if as_json else shifts_text(title, ranking, top))
    for name, why in set_list.missing:
        click.echo(cli._missing_words(name, why), err=True)
    cli._finish(bool(set_list.missing))
