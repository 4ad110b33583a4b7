"""The demo set: songs of our own that show what a chart can say, and that plan without a warning."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from engine.planning.lineup import request_for
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.model import SetList, Song, Step
from engine.song.unfolding import unfold
from tui.persistence import store

SETS = Path(__file__).parents[1] / "setlists"


@pytest.fixture(scope="module")
def evening() -> SetList:
    return store.open_set(SETS / "harbour-room.toml")


def songs(evening: SetList) -> list[Song]:
    return [place.song for place in evening.songs]


def steps(evening: SetList) -> Iterator[Step]:
    for song in songs(evening):
        yield from unfold(song)


def test_every_song_opens_without_a_doubt(evening: SetList) -> None:
    assert evening.missing == ()
    assert evening.doubts == ()
    assert [song.doubts for song in songs(evening) if song.doubts] == []


def test_every_song_file_is_in_the_set(evening: SetList) -> None:
    assert {place.file for place in evening.songs} == {f"songs/{file.name}" for file in SETS.glob("songs/*.toml")}


def test_at_least_eight_songs_and_two_drills(evening: SetList) -> None:
    drills = [song for song in songs(evening) if song.title.startswith("Drill")]
    assert (len(drills), len(songs(evening)) - len(drills) >= 8) == (2, True)


@pytest.mark.parametrize("meter", ["4/4", "3/4", "6/8"])
def test_meters_are_shown(evening: SetList, meter: str) -> None:
    assert meter in {str(song.meter) for song in songs(evening)}


def test_what_a_chart_can_say_is_shown(evening: SetList) -> None:
    played = list(steps(evening))
    sections = [(song, section) for song in songs(evening) for section in song.sections]
    bars = [(song, bar) for song, section in sections for bar in section.bars]
    neighbours = [(one.symbol, two.symbol) for one, two in pairwise(played)]
    files = [file.read_text(encoding="utf-8") for file in SETS.glob("songs/*.toml")]
    tonight = (SETS / "harbour-room.toml").read_text(encoding="utf-8").split("[[songs]]")[1:]
    shown = {
        "swing": any(song.feel == "swing" for song in songs(evening)),
        "minor ii-V": any(one.endswith("m7b5") and two.endswith("7b9") for one, two in neighbours),
        "slash basses": any(step.chord and step.chord.slash for step in played),
        "endings": any(bar.ending for _, bar in bars),
        "repeats": any(bar.repeat_times > 2 for _, bar in bars),
        "a vamp": any(step.until == "cue" for step in played),
        "a key change": any(section.key and section.key != song.key for song, section in sections),
        "a tag": any("Tag" in song.roadmap for song in songs(evening)),
        "a pickup": any(section.pickup for _, section in sections),
        "an odd bar": any(bar.meter != song.meter for song, bar in bars),
        "marks": {step.mark for step in played} >= {"push", "stop", "ring", "hold"},
        "no chord": any(step.chord is None for step in played),
        "a pin": any(song.pins for song in songs(evening)),
        "numbers": any("numbers = true" in text for text in files),
        "tonight's key": any("key" in text for text in tonight),
    }
    assert [name for name, there in shown.items() if not there] == []


def test_the_circle_drill_falls_by_fifths_through_all_twelve(evening: SetList) -> None:
    (drill,) = (song for song in songs(evening) if "Circle" in song.title)
    roots = [step.chord.root.pc for step in unfold(drill) if step.chord][:12]
    assert len(set(roots)) == 12
    assert all((one - two) % 12 == 7 for one, two in pairwise(roots))


def test_the_other_drill_ends_in_twelve_keys(evening: SetList) -> None:
    (drill,) = (song for song in songs(evening) if "Doors" in song.title)
    played = list(unfold(drill))
    assert len({step.chord.root.pc for step in played if step.chord and step.symbol.endswith("maj7")}) == 12


def test_every_melody_lies_in_a_range_somebody_sings(evening: SetList) -> None:
    for song in songs(evening):
        if song.melody:
            low, high = song.melody
            assert 50 <= low < high <= 79
            assert high - low <= 21


def test_the_whole_set_is_planned_without_a_warning(evening: SetList) -> None:
    warned = []
    for song in songs(evening):
        planned = plan(unfold(song), request_for(song, evening, Request().reach)).steps
        warned += [(song.title, step.step.symbol) for step in planned if step.warnings]
    assert warned == []
