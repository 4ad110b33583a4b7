"""Drills are songs: they read, plan and export like any other, and do what the trade says of them."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.formats.midi_file import midi_file
from engine.planning.model import Plan, PlannedStep, Request
from engine.planning.planner import plan
from engine.practice.drills import DRILLS, NoDrill, drill_text, tonight_text
from engine.practice.same_shapes import holding
from engine.song.model import SetList, SetSong, Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from engine.song.writer import write_song
from engine.theory.key import read_key

NAMES = [drill.name for drill in DRILLS]
KEYS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "F#", "G", "Ab", "A", "Bb", "B", "Cm", "C#m", "Ebm", "F#m", "G#m", "Bbm")


def drill_song(name: str, key: str = "C") -> Song:
    return read_song(drill_text(name, key), name)


def planned(song: Song, bass: bool = False) -> Plan:
    return plan(unfold(song), Request(method=song.method, bass=bass, pins=song.pins))


def right(step: PlannedStep) -> tuple[int, ...]:
    return tuple(note.key for note in step.right)


def roots(song: Song, every: int) -> list[int]:
    steps = unfold(song)
    return [step.chord.root.pc for step in steps[every - 1 :: every] if step.chord]


@settings(deadline=None, max_examples=30)
@given(st.sampled_from(NAMES), st.sampled_from(KEYS))
def test_every_drill_reads_in_every_key_and_is_written_back_the_same(name: str, key: str) -> None:
    song = drill_song(name, key)
    assert song.key == key
    again = read_song(write_song(song), "again")
    assert [step.symbol for step in unfold(again)] == [step.symbol for step in unfold(song)]
    assert again.pins == song.pins


@pytest.mark.parametrize("bass", [True, False])
@pytest.mark.parametrize("name", NAMES)
def test_every_drill_fits_the_hands_as_it_is_written(name: str, bass: bool) -> None:
    # Spreads are for when nobody else has the bottom. That a low chord blurs is said, and no fault of the drill.
    song = drill_song(name, "Eb")
    steps = planned(song, bass and name != "spreads").steps
    assert [words for step in steps for words in step.warnings if "blur" not in words] == []
    assert all(step.keys for step in steps)


def test_a_drill_goes_out_as_a_midi_file() -> None:
    song = drill_song("circle")
    assert midi_file(song, planned(song)).startswith(b"MThd")


@pytest.mark.parametrize("name", ["two-five-one", "minor-two-five-one", "rootless-a", "rootless-b"])
def test_the_cadences_end_in_all_twelve_keys_down_whole_steps_then_the_other_six(name: str) -> None:
    ones = roots(drill_song(name, "Eb" if name[0] != "m" else "Ebm"), 4)
    assert sorted(ones) == list(range(12))
    assert ones[:3] == [3, 1, 11]
    assert ones[6:8] == [4, 2]


def test_dominants_fall_by_fifths_then_rise() -> None:
    all_roots = roots(drill_song("circle", "D"), 1)
    falling = [(2 + 5 * i) % 12 for i in range(12)]
    assert all_roots == [*falling, *falling, *[(2 - 5 * i) % 12 for i in range(12)]]


@pytest.mark.parametrize("key", ["C", "E", "Ab", "B"])
def test_falling_shells_change_places_and_each_note_falls_half_a_step(key: str) -> None:
    steps = planned(drill_song("circle", key)).steps
    for start in (0, 12):
        forms = [tuple(note.degree for note in step.right) for step in steps[start : start + 12]]
        first = ("3", "b7") if start == 0 else ("b7", "3")
        assert forms == [first, first[::-1]] * 6
        for before, after in pairwise(steps[start : start + 12]):
            assert [low - high for low, high in zip(right(after), right(before), strict=True)] == [-1, -1]


@pytest.mark.parametrize(
    ("name", "degrees"),
    [
        ("rootless-a", [["b3", "5", "b7", "9"], ["b7", "9", "3", "13"], ["3", "5", "7", "9"]]),
        ("rootless-b", [["b7", "9", "b3", "5"], ["3", "13", "b7", "9"], ["7", "9", "3", "5"]]),
    ],
)  # fmt: skip
def test_rootless_forms_are_a_and_b_in_turn(name: str, degrees: list[list[str]]) -> None:
    steps = planned(drill_song(name), bass=True).steps
    assert [[note.degree for note in step.left] for step in steps[:3]] == degrees


def test_rootless_nine_thirteen_nine_takes_six_semitones_in_all() -> None:
    # Free identity of the trade: Dm9, G13, Cmaj9 from form A take 6 semitones in 4 finger moves.
    steps = planned(drill_song("rootless-a"), bass=True).steps
    ways = [
        abs(one.key - other.key)
        for before, after in pairwise(steps[:3])
        for one, other in zip(before.left, after.left, strict=True)
    ]
    assert sum(ways) == 6
    assert sum(way > 0 for way in ways) == 4


def test_inversions_turn_each_chord_three_times() -> None:
    steps = planned(drill_song("inversions", "F")).steps
    assert len(steps) == 21
    assert [tuple(note.degree for note in step.right) for step in steps[:3]] == [
        ("1", "3", "5", "7"), ("3", "5", "7", "1"), ("5", "7", "1", "3"),
    ]  # fmt: skip


@pytest.mark.parametrize("key", ["C", "Eb", "A"])
def test_a_diminished_seventh_is_the_dominant_with_a_flat_ninth(key: str) -> None:
    steps = planned(drill_song("diminished", key)).steps
    for start in range(0, 48, 4):
        assert right(steps[start]) == right(steps[start + 1])


def test_tritone_pairs_leave_the_right_hand_where_it_is() -> None:
    steps = planned(drill_song("tritone")).steps
    assert all(holding(steps[start + 1], steps[start + 2])[1] for start in range(0, 48, 4))


def test_spreads_lie_low_and_wide() -> None:
    steps = planned(drill_song("spreads")).steps
    assert all(step.left[0].key <= 53 and step.left[-1].key - step.left[0].key >= 12 for step in steps)


def test_a_drill_that_is_not_there_names_a_near_one() -> None:
    with pytest.raises(NoDrill, match="did you mean circle"):
        drill_text("circel")
    with pytest.raises(NoDrill, match="the drills are circle, two-five-one"):
        drill_text("scales")
    with pytest.raises(NoDrill, match="no key"):
        drill_text("circle", "H")


def tonight(*keys: str, bass: bool = False) -> Song:
    from dataclasses import replace

    songs = tuple(SetSong(f"{i}.toml", replace(drill_song("circle"), key=key, title=key)) for i, key in enumerate(keys))
    return read_song(tonight_text(SetList("Harbour Room", bass=bass, songs=songs)), "tonight")


def test_tonights_drill_goes_through_tonights_keys_once_each() -> None:
    song = tonight("Eb", "Am", "Eb", "F")
    assert [section.name for section in song.sections] == ["Eb major", "A minor", "F major"]
    assert [step.symbol for step in unfold(song)][4:8] == ["Bm7b5", "E7b9", "Am6", "Am6"]


@pytest.mark.parametrize("bass", [True, False])
def test_with_a_bass_player_it_is_rootless(bass: bool) -> None:
    assert tonight("C", bass=bass).method == ("rootless" if bass else "shell")


def test_a_set_without_songs_has_no_drill() -> None:
    with pytest.raises(NoDrill, match="no songs"):
        tonight_text(SetList("Empty"))


@pytest.mark.parametrize("key", KEYS)
def test_tonights_drill_reads_in_every_key(key: str) -> None:
    steps = unfold(tonight(key))
    assert steps[3].chord is not None
    assert steps[3].chord.root == read_key(key).tonic
