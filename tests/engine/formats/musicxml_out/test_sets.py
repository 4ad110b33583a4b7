"""Several songs in one score. Source: MusicXML 4.0 (W3C), <print>, <attributes>."""

from pathlib import Path
from xml.etree.ElementTree import Element, fromstring, tostring

import pytest

from engine.formats.musicxml_out.writer import chart_musicxml, musicxml, set_musicxml
from engine.planning.model import Plan
from engine.planning.planner import plan
from engine.song.model import Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold

FOLDER = Path(__file__).parents[4] / "setlists" / "songs"
NAMES = ("paper-boat-waltz", "last-boat-home", "low-tide-lantern", "rain-on-the-slipway")
"""Swing with a pickup in 3/4, straight with a bar of 2/4, swing with triplets of chords, 6/8."""


@pytest.fixture(scope="module")
def entries() -> list[tuple[Song, Plan]]:
    songs = [read_song((FOLDER / f"{name}.toml").read_text(encoding="utf-8"), name) for name in NAMES]
    return [(song, plan(unfold(song))) for song in songs]


@pytest.fixture(scope="module")
def score(entries) -> Element:
    return fromstring(set_musicxml("Harbour Room", entries).split(b"?>", 1)[1])


def music(measures) -> list[bytes]:
    """What sounds of measures, and how long: notes with all their signs, chord symbols, bar lines."""
    kept = ("note", "backup", "harmony", "barline")
    return [b"".join(tostring(item) for item in measure if item.tag in kept) for measure in measures]


def test_in_a_set_each_song_is_as_in_its_own_file(entries, score):
    alone = [list(fromstring(musicxml(*entry).split(b"?>", 1)[1]).iter("measure")) for entry in entries]
    together = list(score.iter("measure"))
    assert [part for one in alone for part in music(one)] == music(together)
    assert [part.get("number") for one in alone for part in one] == [part.get("number") for part in together]


def test_each_song_begins_on_its_own_page_with_all_that_holds_for_it(entries, score):
    starts = [one for one in score.iter("measure") if one.find("attributes/divisions") is not None]
    titles = [one.find("direction/direction-type/words[@font-weight='bold']").text for one in starts]
    assert titles == [song.title for song, _ in entries]
    assert all(one.find("attributes/key") is not None and one.find("attributes/time") is not None for one in starts)
    assert all(one.find("direction/sound[@tempo]") is not None for one in starts)
    assert [one.find("print[@new-page='yes']") is not None for one in starts] == [False, True, True, True]
    assert len(score.findall(".//clef")) == 2


def test_a_straight_song_after_a_swung_one_says_so(score):
    feels = [one.find("straight") is None for one in score.iter("swing")]
    assert feels == [True, False, True, False]
    assert [words.text for words in score.iter("words") if words.text in ("swing", "straight")] == [
        "swing", "straight", "swing", "straight"
    ]  # fmt: skip


def test_a_file_of_one_song_has_its_title_once(entries):
    assert musicxml(*entries[0]).count(b"Paper Boat Waltz") == 1


def test_a_horns_charts_of_a_set_tell_each_songs_interval(entries):
    data = chart_musicxml("Harbour Room", [song for song, _ in entries], "Eb")
    assert fromstring(data.split(b"?>", 1)[1]).findtext("work/work-title") == "Harbour Room"
    assert data.count(b"<transpose>") == len(entries)


def test_a_song_without_chords_is_a_measure_of_rest_under_its_title(entries):
    empty = Song("Quiet", "C", entries[0][0].meter, 100)
    written = set_musicxml("Harbour Room", [*entries[:1], (empty, Plan((), 0.0, 0.0, True))])
    last = list(fromstring(written.split(b"?>", 1)[1]).iter("measure"))[-1]
    assert (last.find(".//words").text, last.find("note/rest") is not None) == ("Quiet", True)
