"""The commands: arguments, calls, printing, nothing else.

Every part is imported where it is used, so that `stillhand chord` need not wait for the screens or the planner.
Exit codes: 0 done, 1 the music or a file has faults, 2 wrong use.
"""

import json
import os
import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from engine.errors import ChartError, EngineError, NoGrip
from tui.amounts import REACH, SONG_NUMBER, TEMPO
from tui.commands_export import export
from tui.commands_import import import_
from tui.commands_keys import keys
from tui.commands_new import new
from tui.commands_practice import drill, shifts

if TYPE_CHECKING:
    from engine.plan.model import Request
    from engine.song.model import SetList, Song

CLICK_BEGINS = ("Missing", "Invalid", "No such", "Got", "Option")
"""How messages of the command library begin; ours may begin with a file or a key, whose capitals matter."""
LONGEST_SHOWN = 30
METHODS = ("auto", "shell", "triad", "spread", "rootless", "close", "drop2")


class _Commands(click.Group):
    """A first word that is no command is the set to open on the stand."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        first = args[0] if args else ""
        if not ctx.resilient_parsing and first not in self.commands and first not in ("--help", "--version"):
            _refuse_misspelt(first, list(self.commands), ctx)
            args = ["stand", *args]
        return super().parse_args(ctx, args)

    def format_usage(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        formatter.write_usage("stillhand", "[SET] [--song N] [--midi PORT] [--lead PORT] [--follow PORT]")
        formatter.write_usage("stillhand", "COMMAND [ARGUMENTS] ...", prefix="   or: ")


def _refuse_misspelt(first: str, commands: list[str], ctx: click.Context) -> None:
    """Say which command was meant when `first` is neither a file nor looks like one."""
    near = get_close_matches(first, commands, n=1)
    if near and not Path(first).suffix and not Path(first).exists():
        raise click.UsageError(f"there is no command and no file {first!r}. Did you mean {near[0]}?", ctx)


def _print_version(ctx: click.Context, _option: click.Parameter, asked: bool) -> None:
    if not asked or ctx.resilient_parsing:
        return
    from importlib import metadata

    try:
        click.echo(f"stillhand {metadata.version('stillhand')}")
    except metadata.PackageNotFoundError:
        click.echo("stillhand, run from a checkout")
    ctx.exit()


EXAMPLES = """\b
Examples:
  stillhand                                     the demo set
  stillhand friday.toml --song 3                a set, from its third song
  stillhand plan --chart "| Dm7 | G7 | C6 |" --method shell --explain
  stillhand keys ballad.toml --range A3-D5      the twelve keys for a singer
  stillhand shifts friday.toml --minutes 30     what to practise tonight
  stillhand export friday.toml --to friday.pdf  a page a song
"""


@click.group(cls=_Commands, epilog=EXAMPLES)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Show the version and leave.",
)
def commands() -> None:
    """Rehearse a set at the keyboard with the least movement of the hands.

    SET is a set (.toml) or a single song (.toml); without it the demo set opens on the stand.
    --song N starts at the Nth song, --midi PORT plays through the port of that name, --lead PORT and --follow PORT
    keep several copies at the same place.
    """


@commands.command(hidden=True)
@click.argument("set_path", metavar="[SET]", required=False, type=click.Path(path_type=Path))
@click.option(
    "--song", type=SONG_NUMBER, metavar="N", help="Start at the Nth song of the set (default: where you were)."
)
@click.option("--midi", metavar="PORT", help="Play through the MIDI port of this name (see `stillhand ports`).")
@click.option("--lead", metavar="PORT", help="Lead other copies on this MIDI port: they show the same place.")
@click.option("--follow", metavar="PORT", help="Show the place of the copy that leads on this MIDI port.")
def stand(set_path: Path | None, song: int | None, midi: str | None, lead: str | None, follow: str | None) -> None:
    """Open a set on the stand, the rehearsal screen (with no SET: the demo set)."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise click.UsageError(
            "the stand needs a terminal, and input or output is piped. "
            "Run it in a terminal window, or print with `stillhand plan FILE`."
        )
    if os.environ.get("TERM") == "dumb":
        raise click.UsageError("the stand needs a terminal that can draw, and TERM is dumb. Set TERM=xterm-256color.")
    from tui import store

    path = set_path or store.demo_set()
    set_list = store.open_set(path)
    _check_song_number(song or 1, set_list)
    from tui.app import StandApp

    # A song asked for begins at its top; without one the stand opens where the player was.
    step = None if song is None else 0
    StandApp(set_list, path, midi, (song or 1) - 1, step, lead=lead, follow=follow).run()


@commands.command()
@click.argument("symbols", nargs=-1, required=True, metavar="SYMBOL...")
@click.option("--key", metavar="K", help="The key it stands in (Eb, Cm, F#m), for spelling.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def chord(symbols: tuple[str, ...], key: str | None, as_json: bool) -> None:
    """Print the tones of chord symbols with degrees and spelling ( - reads one symbol a line)."""
    from engine.chord.report import chord_json

    _check_key(key)
    faults = False
    for symbol in _symbols(symbols):
        answer = chord_json(symbol, key)
        faults = faults or bool(answer["error"])
        if as_json:
            click.echo(json.dumps(answer))
        else:
            _print_chord(answer)
    _finish(faults)


def _symbols(arguments: Iterable[str]) -> Iterator[str]:
    for argument in arguments:
        if argument == "-":
            # A line is answered as it comes, so that another program can ask and wait.
            yield from (word for line in sys.stdin if (word := line.strip().removeprefix("\ufeff")))
        else:
            yield argument


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
    """Return an unreadable symbol short, and without what would upset the terminal."""
    plain = "".join(char if char.isprintable() else "?" for char in symbol)
    return plain if len(plain) <= LONGEST_SHOWN else f"{plain[:LONGEST_SHOWN]}..."


@commands.command()
@click.argument("files", nargs=-1, metavar="FILE...", type=click.Path(path_type=Path))
@click.option("--chart", metavar="BARS", help='Plan these bars instead of a file: "| Dm7 | G7 | C6 |".')
@click.option("--key", metavar="K", help="Of --chart: its key. Of a file: transpose to this key.")
@click.option("--meter", metavar="M", help="The meter of --chart (default 4/4).")
@click.option("--tempo", type=TEMPO, metavar="T", help="Beats a minute.")
@click.option("--method", type=click.Choice(METHODS), help="Voicing method (default: the song's own).")
@click.option("--bass/--no-bass", default=None, help="A bass player has the low register (default: as the set says).")
@click.option("--reach", type=REACH, metavar="MM", help="Thumb to little finger, in millimetres.")
@click.option("--hands", type=click.Choice(("both", "left", "right")), default="both", help="Which hands play.")
@click.option("--song", "number", type=SONG_NUMBER, metavar="N", help="Only the Nth song of each set.")
@click.option("--explain", is_flag=True, help="Say of every shift what the fingers do, how far, and what it costs.")
@click.option("--prove", is_flag=True, help="Take time to better the plan and to prove how good it is.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def plan(
    files: tuple[Path, ...], chart: str | None, key: str | None, meter: str | None, tempo: float | None,
    method: str | None, bass: bool | None, reach: float | None, hands: str, number: int | None, explain: bool,
    prove: bool, as_json: bool,
) -> None:  # fmt: skip
    """Print the planned voicings, fingers, moves and effort of songs and sets."""
    _check_plan_use(files, chart, meter, number)
    _check_key(key)
    sets = [_chart_set(chart, key, meter, tempo)] if chart is not None else [_opened(file, number) for file in files]
    from engine.plan.report import plan_json, plan_text
    from tui.many_plans import plan_all

    jobs = []
    for set_list in sets:
        for song in _songs(set_list, number):
            tonight = song if chart is not None else _as_asked(song, key, tempo)
            request = _request(tonight, set_list, method, bass, reach, hands)
            jobs.append((tonight, replace(request, prove=prove)))
    made = list(zip((song for song, _ in jobs), plan_all(jobs), strict=True))
    entries = [(song, found) for song, found in made if not isinstance(found, NoGrip)]
    faults = [f"{song.title}: {found}" for song, found in made if isinstance(found, NoGrip)]
    faults += [_missing_words(*line) for set_list in sets if number is None for line in set_list.missing]
    if entries or not faults:
        texts = (plan_text(song, found, explain) for song, found in entries)
        click.echo(json.dumps(plan_json(entries)) if as_json else "\n\n".join(texts))
    for fault in faults:
        click.echo(fault, err=True)
    _finish(bool(faults))


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
        raise click.UsageError(f"{meter} is no meter. Write it as 3/4 or 12/8.") from None
    song = song_from_chart(bars, key or "C", meter or "4/4", tempo or 120.0)
    return SetList(title=song.title, songs=(SetSong(file="", song=song),))


def _opened(file: Path, number: int | None) -> "SetList":
    from tui import store

    set_list = store.open_set(file)
    if number is not None:
        _check_song_number(number, set_list)
    return set_list


def _check_song_number(number: int, set_list: "SetList") -> None:
    count = len(set_list.songs)
    if number > max(count, 1):
        raise click.UsageError(f"there is no song {number}: {set_list.title} has {count}.")


def _songs(set_list: "SetList", number: int | None) -> "list[Song]":
    songs = [place.song for place in set_list.songs]
    return songs if number is None else songs[number - 1 : number]


def _as_asked(song: "Song", key: str | None, tempo: float | None) -> "Song":
    if key is not None:
        from engine.song.transposing import transpose

        song = transpose(song, key)
    return song if tempo is None else replace(song, tempo=tempo)


def _request(
    song: "Song", set_list: "SetList", method: str | None, bass: bool | None, reach: float | None, hands: str
) -> "Request":
    from engine.plan.lineup import request_for

    span = (reach, reach) if reach is not None else _own_reach(set_list)
    return replace(request_for(song, set_list, span, hands, bass), method=method or song.method)


def _own_reach(set_list: "SetList") -> tuple[float, float]:
    """The reach the set gives, else the player's own (millimetres, left and right)."""
    from engine.plan.model import Request
    from tui import store

    return set_list.reach or store.load_player().reach or Request().reach


@commands.command()
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
    _finish(any(report["faults"] for report in reports))


def _checked(file: Path) -> dict[str, Any]:
    """Return the faults of one file and its doubtful symbols with the reading chosen."""
    from tui import store

    report: dict[str, Any] = {"file": str(file), "faults": [], "doubts": []}
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
    report["faults"] = [fault for missing in set_list.missing for fault in _missing_faults(file, *missing)]
    return report


def _fault_list(error: ChartError) -> list[dict[str, Any]]:
    return [
        {"file": error.source, "line": fault.line, "column": fault.column, "found": fault.found, "hint": fault.hint}
        for fault in error.faults
    ]


def _missing_faults(file: Path, name: str, why: str) -> list[dict[str, Any]]:
    """A song of a set that does not open: its own faults when it has some, else one fault of the set."""
    from tui import store

    path = store.song_path(file, name)
    if path.is_file():
        try:
            store.open_song(path)
        except ChartError as error:
            return _fault_list(error)
        except EngineError as error:
            why = str(error)
    line, column = _named_at(file, name)
    return [{"file": str(file), "line": line, "column": column, "found": _missing_words(name, why), "hint": ""}]


def _named_at(file: Path, name: str) -> tuple[int, int]:
    """Return line and column where a set names a song's file."""
    from tui import store

    for number, line in enumerate(store.read_text(file).splitlines(), start=1):
        found = re.match(r"\s*file\s*=\s*[\"']", line)
        if found and line[found.end() :].startswith(name):
            return number, found.end() + 1
    return 1, 1


def _missing_words(name: str, why: str) -> str:
    return why if why.startswith(name) else f"{name}: {why}"


def _print_report(report: dict[str, Any]) -> None:
    from tui.caret import caret_lines

    for fault in report["faults"]:
        hint = f", {fault['hint']}" if fault["hint"] else ""
        click.echo(f"{fault['file']}:{fault['line']}:{fault['column']}: {fault['found']}{hint}")
        for line in caret_lines(fault["file"], fault["line"], fault["column"]):
            click.echo(line)
    for doubt in report["doubts"]:
        place = f"{doubt['file']}:{doubt['line']}:{doubt['column']}"
        click.echo(f"{place}: note: {doubt['symbol']} {doubt['reading']}")
    if not report["faults"]:
        click.echo(f"{report['file']}: no faults")


@commands.command()
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def ports(as_json: bool) -> None:
    """Print the MIDI ports seen, and what is wrong when there are none."""
    from tui.port_list import ports_seen

    seen = ports_seen()
    if as_json:
        click.echo(json.dumps({"outputs": seen.outputs, "inputs": seen.inputs, "trouble": seen.trouble or None}))
    else:
        for name in seen.outputs:
            click.echo(f"out  {name}")
        for name in seen.inputs:
            click.echo(f"in   {name}")
        if seen.trouble:
            click.echo(seen.trouble, err=True)


commands.add_command(export)
commands.add_command(import_)
commands.add_command(keys)
commands.add_command(new)
commands.add_command(shifts)
commands.add_command(drill)


def _check_key(key: str | None) -> None:
    if key is None:
        return
    from engine.theory.key import read_key

    try:
        read_key(key)
    except (ValueError, EngineError):
        raise click.UsageError(f"{key} is no key. Write it as Eb, F# or Cm.") from None


def _finish(faults: bool) -> None:
    if faults:
        raise click.exceptions.Exit(1)


def main(arguments: list[str] | None = None) -> NoReturn:
    """Run a command and leave with its exit code; a person's mistake is one or two lines, never a traceback."""
    for stream in (sys.stdout, sys.stderr):
        _forgive(stream, "backslashreplace")
    _forgive(sys.stdin, "replace")
    sys.exit(_run(sys.argv[1:] if arguments is None else arguments))


def _forgive(stream: object, errors: str) -> None:
    """Let a terminal that knows no ♭, or a pipe with stray bytes, not end the command."""
    if hasattr(stream, "reconfigure"):
        stream.reconfigure(errors=errors)


COMPLETION = "_STILLHAND_COMPLETE"
"""What a shell sets when it asks for the words that fit; click answers it."""


def _run(arguments: list[str]) -> int:
    if COMPLETION in os.environ:
        from click.shell_completion import shell_complete

        return shell_complete(commands, {}, "stillhand", COMPLETION, os.environ[COMPLETION])
    try:
        with commands.make_context("stillhand", list(arguments)) as context:
            commands.invoke(context)
        sys.stdout.flush()
        return 0
    except click.exceptions.Exit as end:
        return end.exit_code
    except click.ClickException as error:
        return _say_use(error)
    except EngineError as error:
        click.echo(str(error), err=True)
        return 1
    except BrokenPipeError:
        # The reader has seen enough; nothing may be written at exit either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (KeyboardInterrupt, click.Abort):
        return 130


def _say_use(error: click.ClickException) -> int:
    """Print what was wrong with the command line, and where its help is."""
    context = getattr(error, "ctx", None)
    words = context.command_path.split() if context else ["stillhand"]
    called = " ".join(word for word in words if word != "stand")
    message = error.format_message()
    if message.startswith(CLICK_BEGINS):
        message = message[0].lower() + message[1:]
    click.echo(f"stillhand: {message}\nMore: {called} --help", err=True)
    return error.exit_code
