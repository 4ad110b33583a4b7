"""The head of a song's file as it is typed anew."""

import pytest

from engine.errors import ChartError
from engine.song.head_edits import HEAD, head_value, with_head
from engine.song.reader import read_song

SONG = """\
title = "Two Piers"   # ours
key = "C"
tempo = 92
roadmap = "Verse x2"   # twice

[sections.Verse]
bars = "| C | F |"
"""


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        ("title", "Three Piers", "Three Piers"), ("key", "ebm", "Ebm"), ("meter", "6/8", "6/8"),
        ("tempo", "97,5", "97.5"),
        ("tempo", "100", "100"), ("feel", "Swing", "swing"), ("count", "two bars", "two bars"), ("count", "3", "3"),
        ("roadmap", "verse x3, Verse", "verse x3, Verse"),
    ],
)  # fmt: skip
def test_a_value_is_written_where_it_stands_and_its_comment_stays(name: str, typed: str, value: str):
    text = with_head(SONG, name, typed)
    assert head_value(text, name) == value
    assert text.count("# ours") == text.count("# twice") == 1
    read_song(text, "")


@pytest.mark.parametrize("name", HEAD)
def test_a_value_that_is_not_written_yet_goes_before_the_sections(name: str):
    text = 'title = "T"\nkey = "C"\n[sections.Verse]\nbars = "| C |"\n'
    typed = {"title": "U", "key": "D", "meter": "3/4", "tempo": "80", "feel": "swing", "count": "none"}.get(
        name, "Verse x2"
    )
    assert head_value(with_head(text, name, typed), name) == typed
    read_song(with_head(text, name, typed), "")


@pytest.mark.parametrize(
    ("name", "typed"), [("key", "Q"), ("tempo", "fast"), ("tempo", "9" * 400), ("roadmap", "Chorus"), ("title", "")]
)
def test_what_is_no_such_value_is_refused(name: str, typed: str):
    with pytest.raises(ChartError):
        with_head(SONG, name, typed)
