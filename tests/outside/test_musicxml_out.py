"""The grand staff against the W3C's schema and two general notation libraries."""

import importlib.util
from collections import defaultdict
from fractions import Fraction
from itertools import accumulate
from pathlib import Path

import pytest

from engine.formats.musicxml_out.container import compressed
from engine.formats.musicxml_out.writer import musicxml
from engine.planning.model import Plan, Request
from engine.planning.planner import plan
from engine.song.model import Song
from engine.song.unfolding import unfold
from tui.persistence import store

DEMO = Path(__file__).parents[2] / "setlists" / "harbour-room.toml"
SONGS = [place.song for place in store.open_set(DEMO).songs]

FEW = ("Paper Boat Waltz", "Fog Signal", "Last Boat Home", "Drill: Twelve Doors")
"""A pickup in 3/4, vamps, an odd bar, and every root; the libraries are slow readers."""


@pytest.fixture(scope="module", params=SONGS, ids=lambda song: song.title)
def planned(request) -> tuple[Song, Plan, bytes]:
    song = request.param
    found = plan(unfold(song), Request(bass=True))
    return song, found, musicxml(song, found)


@pytest.fixture(scope="module")
def schema():
    xmlschema = pytest.importorskip("xmlschema")
    package = importlib.util.find_spec("musicxml")
    if package is None:
        pytest.skip("the package musicxml carries the W3C schema and is not installed")
    folder = Path(package.submodule_search_locations[0]) / "generate_classes"
    text = (folder / "musicxml_4_0.xsd").read_text(encoding="utf-8")
    for name in ("xml", "xlink"):
        text = text.replace(f"http://www.musicxml.org/xsd/{name}.xsd", str(folder / f"{name}.xsd"))
    return xmlschema.XMLSchema(text)


def test_every_demo_song_is_valid_musicxml_four(planned, schema):
    data = planned[2].decode("utf-8").split("?>", 1)[1]
    assert [str(error) for error in schema.iter_errors(data)] == []


def by_start(plan: Plan) -> dict[Fraction, set[int]]:
    """Return the planned keys by when they are struck, in quarters; rests are left out."""
    lengths = [one.step.beats * one.step.meter.beat_quarters for one in plan.steps]
    starts = accumulate(lengths, initial=Fraction(0))
    return {start: set(one.keys) for start, one in zip(starts, plan.steps, strict=False) if one.keys}


def test_a_notation_library_plays_the_planned_notes(planned):
    if planned[0].title not in FEW:
        pytest.skip("another song stands for it")
    music21 = pytest.importorskip("music21")
    score = music21.converter.parse(planned[2].decode("utf-8"), format="musicxml").expandRepeats()
    found = defaultdict(set)
    for note in score.flatten().notes:
        if isinstance(note, music21.harmony.Harmony) or (note.tie and note.tie.type in ("stop", "continue")):
            continue
        found[Fraction(note.offset).limit_denominator(96)] |= {pitch.midi for pitch in note.pitches}
    assert found == by_start(planned[1])


def test_a_notation_library_opens_the_packed_file(planned, tmp_path):
    if planned[0].title != FEW[0]:
        pytest.skip("another song stands for it")
    music21 = pytest.importorskip("music21")
    path = tmp_path / "song.mxl"
    path.write_bytes(compressed(planned[2]))
    score = music21.converter.parse(path)
    packed = [sorted(pitch.midi for pitch in note.pitches) for note in score.flatten().notes]
    plain = music21.converter.parse(planned[2].decode("utf-8"), format="musicxml")
    assert packed == [sorted(pitch.midi for pitch in note.pitches) for note in plain.flatten().notes]


@pytest.mark.filterwarnings("ignore::UserWarning")
def test_a_second_library_finds_every_written_note(planned, tmp_path):
    if planned[0].title not in FEW:
        pytest.skip("another song stands for it")
    partitura = pytest.importorskip("partitura")
    path = tmp_path / "song.musicxml"
    path.write_bytes(planned[2])
    part = partitura.load_musicxml(str(path))[0]
    keys = {note.midi_pitch for note in part.notes}
    assert keys == {key for step in planned[1].steps for key in step.keys}
