"""Roadmaps as players write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.song.roadmap import MOST_TIMES, named_in, read_roadmap, write_roadmap

NAMES = ("Intro", "Verse", "Verse 2", "Bridge")


@pytest.mark.parametrize(
    ("text", "played"),
    [
        ("Intro, Verse x2", ["Intro", "Verse", "Verse"]),
        ("verse, BRIDGE", ["Verse", "Bridge"]),
        ("Verse 2 x2", ["Verse 2", "Verse 2"]),
        ("Verse 2x", ["Verse", "Verse"]),
        ("Intro,, \n Bridge ×1,", ["Intro", "Bridge"]),
    ],
)
def test_times_are_how_often_in_all(text, played):
    assert read_roadmap(text, NAMES) == (tuple(played), ())


@pytest.mark.parametrize(
    ("text", "offset", "words"),
    [
        ("Intro, Brigde", 7, "did you mean Bridge?"),
        ("Solo", 0, "the sections are Intro, Verse"),
        ("Verse x100", 0, "x1 to x99"),
        ("Verse x0", 0, "x1 to x99"),
    ],
)
def test_an_entry_that_plays_nothing_is_said_where_it_stands(text, offset, words):
    _, (slip,) = read_roadmap(text, NAMES)
    assert slip.offset == offset
    assert words in slip.hint


def test_two_sections_that_differ_in_capitals_alone_are_told_apart():
    assert read_roadmap("a, A", ("A", "a")) == (("a", "A"), ())
    assert read_roadmap("ab", ("AB", "Ab"))[1] != ()


@given(st.lists(st.sampled_from(NAMES), max_size=MOST_TIMES + 9).map(tuple))
def test_a_roadmap_written_is_read_as_the_same(played):
    assert read_roadmap(write_roadmap(played), NAMES) == (played, ())


def test_the_sections_that_a_new_song_needs_are_named_once_each():
    assert named_in("Intro, Verse x2, Bridge,\nverse, Tag x3") == ("Intro", "Verse", "Bridge", "Tag")
