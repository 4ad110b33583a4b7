"""Values that no song has, in every field and every option: a fault in words, never a traceback."""

import os
from pathlib import Path

import click
import pytest

from engine.song.header import SONG_KEYS
from engine.song.reader import SECTION_KEYS
from engine.song.set_list import SET_KEYS, SET_SONG_KEYS
from tests.tui.commands import Run
from tui.cli.main import commands

BIG = "9" * 400
VALUES = (BIG, f'"{"n" * 5000}"', f"[{BIG}]", "nan", f'"1/{BIG}"', '"\\u0000"')
HEAD = {"title": '"Pier"', "key": '"C"', "meter": '"4/4"', "tempo": "100"}
BARS = {"bars": '"| Dm7 | G7 |"'}
WORDS = (BIG, f"-{BIG}.5", "n" * 300 + ".toml", os.fsdecode(b"caf\xe9.toml"), "\ud800", "~nobody/x", "", "nan")
ARGUMENTS = {
    "check": ["a.toml"], "chord": ["C"], "drill": ["ii-V-I"], "export": ["a.toml", "--to", "o.mid"],
    "import": ["c.txt", "--to", "i.toml"], "keys": ["a.toml"], "plan": ["a.toml"], "ports": [], "shifts": ["a.toml"],
}  # fmt: skip


def table(head: str, values: dict[str, str]) -> str:
    return head + "".join(f"{name} = {value}\n" for name, value in values.items())


def answered(run: Run, *words: str) -> None:
    said = run(*words)
    assert said.code in (0, 1, 2)
    assert "Traceback" not in said.err


@pytest.mark.parametrize("key", [*SONG_KEYS, *(f"sections.{name}" for name in SECTION_KEYS)])
def test_any_value_in_any_field_of_a_song_is_answered(run: Run, tmp_path: Path, key: str):
    for value in VALUES:
        head = HEAD if "." in key else HEAD | {key: value}
        bars = BARS | {key.split(".")[1]: value} if "." in key else BARS
        (tmp_path / "a.toml").write_text(table("", head) + table("[sections.Verse]\n", bars))
        answered(run, "check", "a.toml")


@pytest.mark.parametrize(
    "key", [*(name for name in SET_KEYS if name != "songs"), *(f"songs.{name}" for name in SET_SONG_KEYS)]
)
def test_any_value_in_any_field_of_a_set_is_answered(run: Run, tmp_path: Path, key: str):
    (tmp_path / "a.toml").write_text(table("", HEAD) + table("[sections.Verse]\n", BARS))
    for value in VALUES:
        head, song = {"title": '"S"'}, {"file": '"a.toml"'}
        (song if "." in key else head)[key.split(".")[-1]] = value
        (tmp_path / "s.toml").write_text(table("", head) + table("[[songs]]\n", song))
        answered(run, "check", "s.toml")


@pytest.mark.parametrize("name", ARGUMENTS)
def test_any_words_for_any_argument_and_option_are_answered(run: Run, tmp_path: Path, name: str):
    (tmp_path / "a.toml").write_text(table("", HEAD) + table("[sections.Verse]\n", BARS))
    (tmp_path / "c.txt").write_text("Verse\n| C | G |\n")
    command = commands.get_command(click.Context(commands), name)
    assert command is not None
    options = [param.opts[0] for param in command.params if isinstance(param, click.Option) and not param.is_flag]
    for words in WORDS:
        answered(run, name, words)
        for option in options:
            answered(run, name, *ARGUMENTS[name], option, words)
