"""What the README and the guide for developers say is there."""

import re
from pathlib import Path

import click
import pytest

from tui.cli.main import commands

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


CONTEXT = click.Context(commands)
COMMANDS = {
    name: command for name in commands.list_commands(CONTEXT) if (command := commands.get_command(CONTEXT, name))
}


def test_every_command_stands_in_the_readme_and_no_other() -> None:
    told = set(re.findall(r"^\| `stillhand ([a-z]+)", README, re.MULTILINE))
    assert told == {name for name, command in COMMANDS.items() if not command.hidden}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_that_the_readme_names_exists(name: str) -> None:
    rows = [row.split("|")[1] for row in README.splitlines() if row.startswith(f"| `stillhand {name}")]
    known = {option for parameter in COMMANDS[name].params for option in (*parameter.opts, *parameter.secondary_opts)}
    assert {option for row in rows for option in re.findall(r"--[a-z-]+", row)} <= known


@pytest.mark.parametrize("path", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README + GUIDE))))
def test_every_linked_file_and_picture_is_there(path: str) -> None:
    assert (ROOT / path).exists()


def test_the_readme_names_the_test_command_that_the_checks_run() -> None:
    assert re.search(r"^ +python3 -m venv .*-m pytest$", README, re.MULTILINE)


NAMED = set(re.findall(r"`((?:\w+/)+\w+(?:\.py)?)`", GUIDE)) - {"engine/voicing/NAME.py", "shared/reference"}


@pytest.mark.parametrize("path", sorted(NAMED))
def test_every_file_that_the_guide_names_is_there(path: str) -> None:
    folders = [ROOT / folder for folder in ("", "engine", "engine/formats", "tui")]
    assert any((folder / ending).exists() for folder in folders for ending in (path, f"{path}.py"))
