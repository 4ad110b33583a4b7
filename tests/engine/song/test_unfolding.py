"""A song as the band plays it: repeats, endings, roadmap and pickups."""

from fractions import Fraction
from itertools import groupby

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.song.model import Song, Step
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.song.songs import DEMO, LANTERN, short


def played(bars: str, head: str = "") -> str:
    return " ".join(step.symbol for step in unfold(read_song(short(bars, head), "")))


@pytest.mark.parametrize(
    ("bars", "expected"),
    [
        ("| C | F |", "C F"),
        ("||: C | F :|| G |", "C F C F G"),
        ("||: C :|| x3 F |", "C C C F"),
        ("||: C :|| x1 F |", "C F"),
        ("| C | F :|| G |", "C F C F G"),
        ("| A | ||: C :|| F :|| G |", "A C C F F G"),
        ("||: C [1. F :|| [2. G || A |", "C F C G A"),
        ("||: C [1,2. F :|| [3. G || A |", "C F C F C G A"),
        ("||: C [1-3. F :|| [4. G ||", "C F C F C F C G"),
        ("||: C [1. F :|| [2. G :|| [3. A || D |", "C F C G C A D"),
        ("||: C [1. F :|| G |", "C F C G"),
        ("||: C [1. F :|| [2. G || ||: A [1. D :|| [2. E ||", "C F C G A D A E"),
        ("| C | % |", "C C"),
    ],
)
def test_repeats_are_played_as_written(bars: str, expected: str) -> None:
    assert played(bars) == expected


def steps(text: str = LANTERN) -> tuple[Step, ...]:
    return unfold(read_song(text, ""))


def test_steps_are_numbered_from_nought() -> None:
    assert [step.index for step in steps()] == list(range(len(steps())))


def test_a_section_knows_its_pass_of_all_passes() -> None:
    starts = [(step.section, step.pass_, step.passes) for step in steps() if step.section_start]
    assert starts == [
        ("Intro", 1, 1), ("Verse", 1, 3), ("Verse", 2, 3), ("Bridge", 1, 1), ("Verse", 3, 3),
        ("Tag", 1, 3), ("Tag", 2, 3), ("Tag", 3, 3),
    ]  # fmt: skip


def test_a_repeat_counts_its_turns() -> None:
    repeated = [step for step in steps() if step.section == "Verse" and step.pass_ == 1 and step.bar == 5]
    assert [(step.turn, step.turns, step.symbol) for step in repeated] == [(1, 2, "Abmaj7"), (2, 2, "Abmaj7")]


def test_the_same_written_chord_is_the_same_at_every_pass() -> None:
    places = {step.written for step in steps() if step.section == "Verse" and (step.bar, step.beat) == (3, 4)}
    assert places == {("Verse", 2, 1)}


def test_a_key_change_holds_in_its_section() -> None:
    assert {step.section: step.key for step in steps()} == {"Intro": "Eb", "Verse": "Eb", "Bridge": "Ab", "Tag": "Eb"}


def test_cue_words_and_the_way_out_of_a_vamp_go_with_their_section() -> None:
    assert {step.cue for step in steps() if step.section == "Verse"} == {"drums out second time"}
    assert {step.until for step in steps() if step.section == "Tag"} == {"cue"}


def test_a_pickup_is_bar_nought_and_ends_on_the_last_beat() -> None:
    first, second = steps()[:2]
    assert (first.bar, first.beat, first.beats, first.bars) == (0, 4, 1, 2)
    assert (second.bar, second.beat) == (1, 1)


def test_a_pickup_later_on_takes_the_last_beat_of_the_bar_before() -> None:
    text = 'roadmap = "A x2"\n' + short("G7 | C | F |", "pickup = 1")
    lengths = [(step.symbol, step.beats) for step in steps(text)]
    assert lengths == [("G7", 1), ("C", 4), ("F", 3), ("G7", 1), ("C", 4), ("F", 4)]


def test_a_bar_in_another_meter_says_so() -> None:
    assert [str(step.meter) for step in steps() if step.section == "Bridge"] == ["4/4", "3/4", "3/4", "4/4"]


def demo_songs() -> list[Song]:
    files = sorted((DEMO / "songs").glob("*.toml"))
    return [read_song(file.read_text(encoding="utf-8"), file.name) for file in files]


@pytest.mark.parametrize("song", demo_songs(), ids=lambda song: str(song.title))
def test_every_bar_played_adds_up_to_its_meter(song: Song) -> None:
    played_bars = [
        (key, list(group))
        for key, group in groupby(unfold(song), key=lambda step: (step.section, step.pass_, step.bar, step.turn))
    ]
    shortened = {place - 1 for place, ((_, _, bar, _), _) in enumerate(played_bars) if bar == 0}
    for place, ((_, _, bar, _), group) in enumerate(played_bars):
        if bar and place not in shortened:
            # One bar repeated alone stands several times in a row.
            assert sum(step.beats for step in group) % group[0].meter.beats == 0


@given(st.integers(1, 9), st.integers(1, 9))
def test_times_in_the_roadmap_and_in_a_repeat_multiply(times: int, repeats: int) -> None:
    text = f'roadmap = "A x{times}"\n' + short(f"||: C | F :|| x{repeats}")
    assert len(steps(text)) == 2 * times * repeats


def test_beats_are_exact() -> None:
    assert all(isinstance(step.beats, Fraction | int) for step in steps())
