"""Every fault of songs and sets with its place, on the command line."""

import json
import re
from pathlib import Path
from typing import Any

import click

from engine.errors import ChartError, EngineError
from tui.cli.arguments import finish
from tui.session.song_numbers import missing_text


@click.command(short_help="every fault of songs and sets, and how to mend it")
@click.argument("files", nargs=-1, required=True, metavar="FILE...", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def check(files: tuple[Path, ...], as_json: bool) -> None:
    """Print every fault of songs and sets as file:line:column: what, and how to mend it."""
    reports = [_checked(file) for file in files]
    if as_json:
        click.echo(json.dumps({"files": reports}))
    else:
        for report in reports:
            _print_report(report)
    finish(any(report["faults"] for report in reports))


def _checked(file: Path) -> dict[str, Any]:
    """Return the faults of one file and its doubtful symbols with the reading chosen."""
    from engine.song.avoid_notes import avoid_notes
    from tui.persistence import store

    report: dict[str, Any] = {"file": str(file), "faults": [], "doubts": [], "advice": []}
    if file.name == "player.toml":
        report["faults"] = _settings_faults(file)
        return report
    try:
        set_list = store.open_set(file)
    except ChartError as error:
        report["faults"] = _fault_list(error)
        return report
    except EngineError as error:
        found = str(error).removeprefix(f"{file}: ")
        report["faults"] = [{"file": str(file), "line": 1, "column": 1, "found": found, "hint": ""}]
        return report
    doubts = [(str(file), *doubt) for doubt in set_list.doubts]
    doubts += [(place.song.source or str(file), *doubt) for place in set_list.songs for doubt in place.song.doubts]
    for source, line, column, symbol, reading in doubts:
        where = {"file": source, "line": line, "column": column}
        report["doubts"].append({**where, "symbol": symbol, "reading": reading})
    for place in set_list.songs:
        for advice in avoid_notes(place.song):
            where = {"file": place.song.source or str(file), "line": advice.line, "column": advice.column}
            report["advice"].append({**where, "symbol": advice.symbol, "remark": advice.remark})
    report["faults"] = [fault for missing in set_list.missing for fault in _missing_faults(file, *missing)]
    return report


def _fault_list(error: ChartError) -> list[dict[str, Any]]:
    return [
        {"file": error.source, "line": fault.line, "column": fault.column, "found": fault.found, "hint": fault.hint}
        for fault in error.faults
    ]


def _missing_faults(file: Path, name: str, why: str) -> list[dict[str, Any]]:
    """A song of a set that does not open: its own faults when it has some, else one fault of the set."""
    from tui.persistence import store

    path = store.song_path(file, name)
    if store.is_there(path) and path.is_file():
        try:
            store.open_song(path)
        except ChartError as error:
            return _fault_list(error)
        except EngineError as error:
            why = str(error)
    line, column = _named_at(file, name)
    return [{"file": str(file), "line": line, "column": column, "found": missing_text(name, why), "hint": ""}]


def _named_at(file: Path, name: str) -> tuple[int, int]:
    """Return line and column where a set names a song's file."""
    from tui.persistence import store

    for number, line in enumerate(store.read_text(file).splitlines(), start=1):
        found = re.match(r"\s*file\s*=\s*[\"']", line)
        if found and line[found.end() :].startswith(name):
            return number, found.end() + 1
    return 1, 1


def _settings_faults(file: Path) -> list[dict[str, Any]]:
    """Return what cannot be used of a player's own settings."""
    from tui.persistence.saved_state import load_player

    found = []
    for note in load_player(file).notes:
        place = re.match(r"line (\d+), column (\d+): ", note)
        line, column = (int(place[1]), int(place[2])) if place else (1, 1)
        words = note[place.end() :] if place else note
        found.append({"file": str(file), "line": line, "column": column, "found": words, "hint": ""})
    return found


def _print_report(report: dict[str, Any]) -> None:
    from tui.cli.caret import caret_lines

    for fault in report["faults"]:
        hint = f", {fault['hint']}" if fault["hint"] else ""
        click.echo(f"{fault['file']}:{fault['line']}:{fault['column']}: {fault['found']}{hint}")
        # A set from elsewhere may name any file of this machine: only lines of songs are for showing.
        if fault["file"] == report["file"] or fault["file"].endswith(".toml"):
            for line in caret_lines(fault["file"], fault["line"], fault["column"]):
                click.echo(line)
    for doubt in report["doubts"]:
        place = f"{doubt['file']}:{doubt['line']}:{doubt['column']}"
        click.echo(f"{place}: note: {doubt['symbol']} {doubt['reading']}")
    for advice in report["advice"]:
        place = f"{advice['file']}:{advice['line']}:{advice['column']}"
        click.echo(f"{place}: advice: {advice['symbol']}: {advice['remark']}")
    if not report["faults"]:
        click.echo(f"{report['file']}: no faults")
