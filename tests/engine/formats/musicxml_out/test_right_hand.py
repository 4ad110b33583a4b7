"""The player's own tune in notation: each note where it is written, the chord under the first of them."""

from fractions import Fraction
from xml.etree.ElementTree import fromstring

import pytest

from engine.formats.musicxml_out.right_hand import right_strokes
from engine.formats.musicxml_out.writer import musicxml
from engine.planning.lineup import request_for
from engine.planning.planner import plan
from engine.song.model import SetList
from engine.song.reader import read_song
from engine.song.unfolding import unfold

TUNES = {
    "4/4": "L:1/4\ne d c/2B/2 A | (3ABc d2 | z2 e2- | e4 |",
    "6/8": "L:1/8\ne2 d c2 B | A3 z d2 | e6- | e6 |",
}


def planned(meter):
    head = f'title = "Pier"\nkey = "C"\nmeter = "{meter}"\ntempo = 100\ntune_is = "mine"\n'
    song = read_song(f'{head}[sections.A]\nbars = "| C | Dm7 G7 | C | Am |"\ntune = """{TUNES[meter]}"""\n', "")
    return song, plan(unfold(song), request_for(song, SetList("Pier"), (200.0, 200.0)))


@pytest.mark.parametrize("meter", TUNES)
def test_notes_and_rests_last_as_long_as_their_chord(meter):
    for one in planned(meter)[1].steps:
        assert sum(quarters for _, quarters in right_strokes(one)) == one.step.beats * one.step.meter.beat_quarters


@pytest.mark.parametrize("meter", TUNES)
def test_the_chord_is_written_under_the_first_note_and_the_tune_goes_on_alone(meter):
    for one in planned(meter)[1].steps:
        struck = [notes for notes, _ in right_strokes(one) if notes]
        assert struck[0] == one.right
        later = [stroke.notes for stroke in one.tune if stroke.hand != one.right]
        assert [notes for notes in struck[1:] if notes in later] == later


def test_every_note_is_in_the_score_at_its_place():
    song, found = planned("4/4")
    score = fromstring(musicxml(song, found).split(b"?>", 1)[1])
    divisions = int(score.findtext(".//divisions"))
    names = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
    struck, at, start = set(), 0, 0
    for note in (note for note in score.iter("note") if note.findtext("staff") == "1"):
        at = start if note.find("chord") is not None else at
        start, pitch = at, note.find("pitch")
        if pitch is not None:
            key = 12 * (int(pitch.findtext("octave")) + 1) + names[pitch.findtext("step")]
            struck.add((Fraction(at, divisions), key + int(pitch.findtext("alter", "0"))))
        at += int(note.findtext("duration"))
    assert {(note.onset, note.note) for note in song.sections[0].tune} <= struck
