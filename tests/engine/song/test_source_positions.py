"""A fault is shown where it stands: every character of every value keeps its line and column."""

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.song.source_positions import Path, Places, places

SONG = '''\
title = "Pier \\"Lights\\"" # a comment = "x"
'quoted key' = 1
voicing.method = "shell"
numbers = [ 1, [2, 3], # inside
  { a = "b", c = 'd' } ]
[sections.Verse]
bars = """
| Dm7 |
| G7 \\
   C |
"""
[sections."Verse 2"]
bars = \'\'\'| E |\'\'\'
[[pins]]
bar = 1
[pins.more]
deep = true
[[pins]]
bar = 2
[pins.more]
deep = false
'''


def strings(value: Any, path: Path = ()) -> list[tuple[Path, str]]:
    if isinstance(value, str):
        return [(path, value)]
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [found for key, item in inner for found in strings(item, (*path, key))]


def plain(found: Places, path: Path) -> str:
    """Return the characters of the text at the places kept for a string."""
    return "".join(found.text[offset] for offset in found.strings[path][:-1])


def test_every_string_is_found_character_by_character() -> None:
    found = places(SONG)
    written = strings(tomllib.loads(SONG))
    assert {path for path, _ in written} == set(found.strings)
    for path, value in written:
        assert len(found.strings[path]) == len(value) + 1
        if path != ("title",):
            assert plain(found, path) == value


def test_a_chord_of_a_long_text_stands_at_its_own_line_and_column() -> None:
    found = places(SONG)
    bars = tomllib.loads(SONG)["sections"]["Verse"]["bars"]
    assert found.inside(bars.index("Dm7"), "sections", "Verse", "bars") == (8, 3)
    assert found.inside(bars.index("G7"), "sections", "Verse", "bars") == (9, 3)
    assert found.inside(bars.index("C"), "sections", "Verse", "bars") == (10, 4)


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("title",), (1, 1)),
        (("quoted key",), (2, 1)),
        (("voicing", "method"), (3, 1)),
        (("sections", "Verse"), (6, 1)),
        (("sections", "Verse 2", "bars"), (13, 1)),
        (("pins", 0, "bar"), (15, 1)),
        (("pins", 1, "bar"), (19, 1)),
        (("pins", 1, "more", "deep"), (21, 1)),
        (("pins", 1, "nowhere"), (18, 1)),
        (("nowhere",), (1, 1)),
    ],
)
def test_a_key_is_found_or_the_table_that_should_hold_it(path: Path, place: tuple[int, int]) -> None:
    assert places(SONG).key(*path) == place


def test_values_inside_lists_are_found() -> None:
    assert places(SONG).value("numbers", 2, "c") == (5, 18)


@given(st.text(st.characters(codec="utf-8", exclude_characters="\r"), max_size=60))
def test_any_text_written_as_a_string_is_followed_to_its_end(value: str) -> None:
    from engine.song.writer import quoted

    text = f"a = {quoted(value)}\nb = 1\n"
    assert tomllib.loads(text)["a"] == value
    found = places(text)
    assert len(found.strings["a",]) == len(value) + 1
    assert found.key("b") == (2, 1)


@given(st.text("ab=\"'[]{}.,#\\\n 1", max_size=80))
def test_every_valid_file_is_walked_without_stumbling(text: str) -> None:
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    found = places(text)
    for path, value in strings(table):
        assert len(found.strings[path]) == len(value) + 1
