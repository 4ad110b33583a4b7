"""Reading what was written gives the same song; a change of a file leaves all the rest as it was."""

import itertools
import tomllib
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.song.chord_names import Wording, reader_of
from engine.song.model import Bar, Event, Pin, Section, Song
from engine.song.reader import read_song
from engine.song.set_list import read_set
from engine.song.writer import (
    add_song,
    drop_song,
    move_song,
    replace_bar,
    set_pins,
    set_tonight,
    write_song,
)
from engine.theory.meter import Meter
from tests.engine.song.songs import DEMO, LANTERN, music, short

FILES = sorted((DEMO / "songs").glob("*.toml"))


@pytest.mark.parametrize("text", [LANTERN, *(file.read_text(encoding="utf-8") for file in FILES)])
def test_reading_what_was_written_gives_the_same_song(text: str) -> None:
    song = read_song(text, "")
    assert music(read_song(write_song(song), "")) == music(song)


read = reader_of(Wording())
symbols = st.sampled_from(["C", "Dm7", "G7b9", "F/A", "Bbmaj7", "N.C.", "Ebm7b5", "A7alt", "C6/9"])
meters = st.sampled_from([Meter(4, 4), Meter(3, 4), Meter(6, 8), Meter(12, 8), Meter(5, 4), Meter(7, 8), Meter(2, 2)])


@st.composite
def bars(draw: st.DrawFn, length: Fraction | None = None) -> Bar:
    meter = draw(meters)
    total = length or Fraction(meter.beats)
    unit = draw(st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 3)]))
    cuts = draw(st.sets(st.integers(1, int(total / unit) - 1), max_size=5)) if total > unit else set()
    edges = [Fraction(0), *(cut * unit for cut in sorted(cuts)), total]
    events = []
    for start, end in itertools.pairwise(edges):
        word = draw(symbols)
        mark = draw(st.sampled_from(["", "", "push", "stop", "ring", "hold"]))
        events.append(Event(start + 1, end - start, *read(word), mark))
    return Bar(meter, tuple(events))


@st.composite
def made_songs(draw: st.DrawFn) -> Song:
    names = draw(st.lists(st.sampled_from(["Verse", "Verse 2", "B x2", "a,b", 'quo"te', "Ä"]), min_size=1, unique=True))
    text = st.text(st.characters(codec="utf-8").filter(str.isprintable), max_size=12)
    sections = tuple(
        Section(name, tuple(draw(st.lists(bars(), min_size=1, max_size=6))), cue=draw(text), until=draw(text))
        for name in names
    )
    roadmap = tuple(draw(st.lists(st.sampled_from(names), min_size=1, max_size=6)))
    tempo = draw(st.floats(20, 400))
    return Song(
        title="T" + draw(text), key=draw(st.sampled_from(["C", "Eb", "F#m"])), meter=draw(meters), tempo=tempo,
        count=draw(st.sampled_from(["one bar", "none", "3"])), roadmap=roadmap, sections=sections,
        melody=draw(st.none() | st.tuples(st.integers(40, 60), st.integers(60, 80))), note=draw(text),
    )  # fmt: skip


@settings(max_examples=30, deadline=None)
@given(made_songs())
def test_any_song_survives_being_written_and_read(song: Song) -> None:
    assert music(read_song(write_song(song), "")) == song


EVENING = """\
# Friday
title = "Harbour Room"   # upstairs

[[songs]]
file = "a.toml"   # the opener
key  = "F"        # for Ines

# a long one
[[songs]]
file = "b.toml"

  [[songs.pins]]
  section = "A"
  right = "C4"

[[songs]]
file = "c.toml"
# after the last
"""


def lines_kept(old: str, new: str, touched: tuple[str, ...]) -> None:
    """Every old line that says nothing of what was changed stands in the new text, in the same order."""
    rest = iter(new.split("\n"))
    for line in old.split("\n"):
        if not line.startswith(touched):
            assert line in rest, line


def files(text: str) -> list[str]:
    return [song["file"] for song in tomllib.loads(text).get("songs", [])]


def test_tonights_key_is_written_and_comments_stay() -> None:
    text = set_tonight(EVENING, 1, key="G")
    assert text == EVENING.replace('key  = "F"', 'key  = "G"')


def test_tonights_tempo_joins_its_song() -> None:
    text = set_tonight(EVENING, 2, tempo=92.0, note="slower")
    songs = tomllib.loads(text)["songs"]
    assert (songs[1]["tempo"], songs[1]["note"], len(songs)) == (92, "slower", 3)
    lines_kept(EVENING, text, ())


def test_tonights_key_is_taken_out_again() -> None:
    text = set_tonight(EVENING, 1, key="")
    assert "key" not in tomllib.loads(text)["songs"][0]
    lines_kept(EVENING, text, ("key",))


@settings(deadline=None)
@given(st.integers(1, 3), st.sampled_from(["C", "Eb", "F#m"]), st.integers(20, 400), st.text('ab"\\\n#é', max_size=9))
def test_whatever_is_changed_tonight_the_rest_of_the_file_stays(number: int, key: str, tempo: int, note: str) -> None:
    text = set_tonight(EVENING, number, key=key, tempo=tempo, note=note)
    song = tomllib.loads(text)["songs"][number - 1]
    assert (song["key"], song["tempo"], song.get("note", "")) == (key, tempo, note)
    lines_kept(EVENING, text, ("key",))


def test_a_song_moves_with_its_comments_and_pins() -> None:
    text = move_song(EVENING, 2, 1)
    assert files(text) == ["b.toml", "a.toml", "c.toml"]
    assert tomllib.loads(text)["songs"][0]["pins"] == [{"section": "A", "right": "C4"}]
    assert text.index("# a long one") < text.index("b.toml") < text.index("a.toml")
    assert sorted(text.split("\n")) == sorted(EVENING.split("\n"))


@given(st.integers(1, 3), st.integers(1, 3))
def test_moving_there_and_back_gives_the_same_file(first: int, second: int) -> None:
    assert move_song(move_song(EVENING, first, second), second, first) == EVENING


def test_a_song_is_dropped_with_its_lines() -> None:
    text = drop_song(EVENING, 2)
    assert files(text) == ["a.toml", "c.toml"]
    assert "a long one" not in text
    assert "# for Ines" in text


@pytest.mark.parametrize("place", [1, 2, 3, 4, None])
def test_a_song_is_added_at_its_place_and_dropped_again(place: int | None) -> None:
    text = add_song(EVENING, "d.toml", place)
    number = place or 4
    assert files(text)[number - 1] == "d.toml"
    assert [file for file in files(text) if file != "d.toml"] == ["a.toml", "b.toml", "c.toml"]
    lines_kept(EVENING, text, ())


def test_a_song_is_added_to_an_empty_set() -> None:
    assert files(add_song('title = "a"', "d.toml")) == ["d.toml"]


@pytest.mark.parametrize("number", [0, 4, -1])
def test_a_song_that_is_not_there_changes_nothing(number: int) -> None:
    for change in (lambda: set_tonight(EVENING, number, key="C"), lambda: drop_song(EVENING, number)):
        with pytest.raises(ChartError, match="no number"):
            change()


PIN = Pin("Verse", 1, Fraction(1), (39,), (55, 62), (5,), (1, 3))


def pins(text: str, song: int) -> list[dict[str, Any]]:
    return tomllib.loads(text)["songs"][song - 1].get("pins", [])


def test_a_pin_for_tonight_goes_to_its_song_in_the_set_and_the_rest_stays() -> None:
    text = set_pins(EVENING, 3, [PIN], [])
    assert [len(pins(text, song)) for song in (1, 2, 3)] == [0, 1, 1]
    lines_kept(EVENING, text, ())


def test_a_pin_is_read_as_it_was_written() -> None:
    text = set_pins('title = "x"\n[[songs]]\nfile = "a.toml"\n', 1, [PIN], [], "Eb")
    assert 'left = "Eb2"' in text
    assert read_set(text, "", lambda file: LANTERN).songs[0].song.pins[-1] == PIN


def test_a_pin_at_the_same_place_is_replaced() -> None:
    text = set_pins(set_pins(EVENING, 1, [PIN], []), 1, [replace(PIN, left=None, left_fingers=())], [])
    assert len(pins(text, 1)) == 1
    assert "left" not in pins(text, 1)[0]


def test_a_pin_is_taken_out_again() -> None:
    assert set_pins(set_pins(EVENING, 1, [PIN], []), 1, [], [PIN]) == EVENING


def test_only_the_pin_at_its_place_is_taken_out() -> None:
    text = set_pins(EVENING, 1, [PIN, replace(PIN, bar=2)], [])
    assert [pin["bar"] for pin in pins(set_pins(text, 1, [], [PIN]), 1)] == [2]


def test_a_pin_that_no_reader_takes_is_left_alone() -> None:
    text = '[[songs]]\nfile = "a.toml"\n[[songs.pins]]\nsection = "Verse"\nbeat = "soon"\nright = "C4"\n'
    assert set_pins(text, 1, [], [PIN]) == text
    assert len(pins(set_pins(text, 1, [PIN], []), 1)) == 2


def test_a_file_that_cannot_be_read_is_not_changed() -> None:
    with pytest.raises(ChartError, match="cannot be changed"):
        set_tonight('[[songs]]\ntitle = "never closed', 1, key="C")


def test_a_set_with_tables_after_its_songs_keeps_them_there() -> None:
    text = EVENING + '\n[notes]\nencore = "maybe"\n'
    assert add_song(text, "d.toml").endswith('[notes]\nencore = "maybe"\n')
    assert files(add_song(text, "d.toml")) == ["a.toml", "b.toml", "c.toml", "d.toml"]


@pytest.mark.parametrize(
    ("section", "bar", "new", "old"),
    [
        ("Verse", 2, "Cm7 B7", "Cm7 F7"),
        ("Verse", 3, "Fm7", "Fm7 / / Bb7(push)"),
        ("Verse", 7, "Gm7", "Gm7 C7b9"),
        ("Verse", 10, "C7", "C7alt (hold)"),
        ("Intro", 0, "Bb13", "Bb7 | Ebmaj7"),
        ("Intro", 1, "Eb6", "Ebmaj7 | Bb7sus4"),
        ("Bridge", 2, "Eb7", "(3/4) Dbmaj7 / Eb7"),
    ],
)
def test_one_bar_changes_between_its_bar_lines(section: str, bar: int, new: str, old: str) -> None:
    text = replace_bar(LANTERN, section, bar, new)
    replaced = old.partition(" |")[0] if section == "Intro" else old
    assert text == LANTERN.replace(old, new + old[len(replaced) :], 1)


def test_every_bar_rewritten_as_it_was_leaves_the_file_as_it_was() -> None:
    text = short("||: C | F G [1. C / / G7(push) :||x2 [2. Dm7 (hold) || % |")
    for bar, chords in enumerate(["C", "F G", "C / / G7(push)", "Dm7 (hold)", "%"], 1):
        assert replace_bar(text, "A", bar, chords) == text


def test_a_wish_for_tonight_touches_one_line_of_the_demo_set() -> None:
    text = (DEMO / "harbour-room.toml").read_text(encoding="utf-8")
    for number in range(1, 13):
        changed = set_tonight(text, number, key="B")
        lines_kept(text, changed, ("key",))
        assert len(changed.split("\n")) - len(text.split("\n")) <= 1
