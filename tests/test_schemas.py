"""The schemas for editors say what the readers read: the same keys, the same words."""

import json
import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from engine.chord.house_rules import CHOICES
from engine.method_names import METHOD_CHOICES
from engine.song.header import FEELS, SONG_KEYS, VOICING
from engine.song.house_rules import SIGNS
from engine.song.pins import KEYS
from engine.song.reader import SECTION_KEYS
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.song.set_list import HORNS, SET_KEYS, SET_SONG_KEYS
from tui.persistence.player import SETTINGS, THEMES, Player, Singer
from tui.persistence.player_writer import write_player

SETS = Path(__file__).parents[1] / "setlists"
FILES = sorted(SETS.glob("**/*.toml"))


def schema(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((SETS / ".schema" / f"{name}.json").read_text(encoding="utf-8"))
    return found


SONG, SET, PLAYER = (schema(name)["properties"] for name in ("song", "set", "player"))


@pytest.mark.parametrize(
    ("said", "read"),
    [
        (SONG, SONG_KEYS),
        (SONG["sections"]["additionalProperties"]["properties"], SECTION_KEYS),
        (SONG["pins"]["items"]["properties"], KEYS),
        (SONG["reading"]["properties"], (*CHOICES, *SIGNS, "lower_minor")),
        (SET, SET_KEYS),
        (SET["songs"]["items"]["properties"], SET_SONG_KEYS),
        (PLAYER, SETTINGS),
        (PLAYER["singers"]["items"]["properties"], tuple(field.name for field in fields(Singer))),
    ],
)
def test_the_keys_are_those_that_are_read(said: dict[str, Any], read: tuple[str, ...]) -> None:
    assert sorted(said) == sorted(read)


@pytest.mark.parametrize(
    ("said", "read"),
    [
        (SONG["feel"], FEELS),
        (SONG["voicing"]["oneOf"][0], METHOD_CHOICES),
        (SONG["voicing"]["oneOf"][1]["properties"]["method"], METHOD_CHOICES),
        (SONG["voicing"]["oneOf"][1]["properties"]["sound"], VOICING["sound"]),
        (SET["songs"]["items"]["properties"]["voicing"]["oneOf"][0], METHOD_CHOICES),
        (SET["horns"]["items"], HORNS),
        (PLAYER["theme"], THEMES),
        *((SONG["reading"]["properties"][rule], choices) for rule, choices in CHOICES.items()),
    ],
)
def test_the_words_are_those_that_are_read(said: dict[str, Any], read: tuple[str, ...]) -> None:
    assert tuple(said["enum"]) == read


def test_the_tempos_are_those_that_are_read() -> None:
    for place in (SONG["tempo"], SET["songs"]["items"]["properties"]["tempo"]):
        assert (place["minimum"], place["maximum"]) == (SLOWEST, FASTEST)


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.name))
def test_the_demo_set_is_valid_by_its_schema(file: Path) -> None:
    jsonschema = pytest.importorskip("jsonschema", reason="pip install jsonschema checks the schemas themselves")
    name = "set" if file.parent == SETS else "song"
    jsonschema.Draft7Validator.check_schema(schema(name))
    jsonschema.validate(tomllib.loads(file.read_text(encoding="utf-8")), schema(name))


def test_a_players_file_is_valid_by_its_schema() -> None:
    jsonschema = pytest.importorskip("jsonschema", reason="pip install jsonschema checks the schemas themselves")
    player = Player(
        reach=(200.0, 190.0), register=(36, 96), theme="light", singers=(Singer("Ines", 55, 74),), keys=(("a.b", "x"),)
    )
    jsonschema.validate(tomllib.loads(write_player(player)), schema("player"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.name))
def test_an_editor_is_told_where_the_schema_lies(file: Path) -> None:
    first = file.read_text(encoding="utf-8").split("\n")[0]
    assert first.startswith("#:schema ")
    assert (file.parent / first.removeprefix("#:schema ")).is_file()
