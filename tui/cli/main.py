"""The commands: arguments, calls, printing, nothing else.

Every part is imported where it is used, so that `stillhand chord` need not wait for the screens or the planner.
Exit codes: 0 done, 1 the music or a file has faults, 2 wrong use.
"""

import gc
import io
import json
import os
import sys
from contextlib import redirect_stderr, redirect_stdout
from difflib import get_close_matches
from importlib import import_module
from keyword import iskeyword
from pathlib import Path
from typing import NoReturn, TextIO

import click

from engine.errors import EngineError
from tui.cli.number_options import SONG_NUMBER
from tui.cli.visible import Visible

MODULES = {"drill": "practice", "shifts": "practice", "import": "import_song"} | {
    name: name for name in ("check", "chord", "export", "keys", "new", "plan")
}
"""Each command that is loaded when it is named first, and its module."""


class _Commands(click.Group):
    """A first word that is no command is the set to open on the stand."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted({*self.commands, *MODULES})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name in MODULES and cmd_name not in self.commands:
            module = import_module(f"tui.cli.{MODULES[cmd_name]}")
            self.add_command(getattr(module, f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name))
        return super().get_command(ctx, cmd_name)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        first = args[0] if args else ""
        commands = self.list_commands(ctx)
        if not ctx.resilient_parsing and first not in (*commands, "--help", "--version"):
            _refuse_misspelt(first, commands, ctx)
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
    help="Show the version and exit.",
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
    # Nothing that is loaded on the way to the first chord is garbage; the stand turns this on again.
    gc.disable()
    from tui.persistence import store

    path = set_path or store.demo_set()
    set_list = store.open_to_mend(path)
    index = 0
    if song is not None:
        from tui.cli.arguments import check_song_number

        index = check_song_number(song, set_list)
    from tui.app import StandApp

    # A song asked for begins at its top; without one the stand opens where the player was.
    step = None if song is None else 0
    StandApp(set_list, path, midi, index, step, lead=lead, follow=follow).run()


@commands.command(short_help="the built-in sound and the MIDI ports, or why there are none")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def ports(as_json: bool) -> None:
    """Print the built-in sound and the MIDI ports seen, and what is wrong when there are none."""
    from tui.audio import BUILT_IN
    from tui.midi.port_list import ports_seen

    seen = ports_seen()
    if as_json:
        click.echo(
            json.dumps(
                {"outputs": seen.outputs, "inputs": seen.inputs, "trouble": seen.trouble or None, "built_in": BUILT_IN}
            )
        )
    else:
        click.echo(f"out  {BUILT_IN}")
        for name in seen.outputs:
            click.echo(f"out  {name}")
        for name in seen.inputs:
            click.echo(f"in   {name}")
        if seen.trouble:
            click.echo(seen.trouble, err=True)


def main(arguments: list[str] | None = None) -> NoReturn:
    """Run a command and leave with its exit code; a person's mistake is one or two lines, never a traceback."""
    # A stream that was closed by whoever started it is None.
    sys.stdin, sys.stderr = sys.stdin or _empty(), sys.stderr or _empty()
    if sys.stdout is None:
        print("stillhand: standard output is closed.", file=sys.stderr)
        sys.exit(1)
    for stream in (sys.stdout, sys.stderr):
        _forgive(stream, "backslashreplace")
    _forgive(sys.stdin, "replace")
    with redirect_stdout(Visible(sys.stdout)), redirect_stderr(Visible(sys.stderr)):
        code = _run(sys.argv[1:] if arguments is None else arguments)
    sys.exit(code)


def _empty() -> TextIO:
    return io.TextIOWrapper(io.BytesIO())


def _forgive(stream: object, errors: str) -> None:
    """Let a terminal that knows no ♭, or a pipe with stray bytes, not end the command."""
    if hasattr(stream, "reconfigure"):
        stream.reconfigure(errors=errors)


LONGEST_NAME = 60
"""Characters of a file's name that are told in full where the system refuses it (own choice)."""

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
    except OSError as error:
        name = str(error.filename or "")
        where = f": {name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME] + '...'}" if name else ""
        click.echo(f"stillhand: {error.strerror or error}{where}", err=True)
        return 1
    except Exception as fault:
        from tui.persistence.report import kept_report

        click.echo(kept_report(fault), err=True)
        return 1


def _say_use(error: click.ClickException) -> int:
    """Print what was wrong with the command line, and where its help is."""
    from tui.cli.usage_errors import in_words

    context = getattr(error, "ctx", None)
    words = context.command_path.split() if context else ["stillhand"]
    called = " ".join(word for word in words if word != "stand")
    click.echo(f"stillhand: {in_words(error)}\nMore: {called} --help", err=True)
    return error.exit_code
