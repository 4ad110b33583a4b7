"""Tunes in ABC notation against music21's reader of the same notation."""

from fractions import Fraction

import pytest

from engine.formats.abc.reader import song_from_abc
from engine.formats.abc.writer import abc_file
from engine.song.unfolding import turns

music21 = pytest.importorskip("music21")

BODIES = {
    "plain": '"C"c2 d2 e2 f2 | "G7"g4 f2 d2 | "C"c8 |',
    "accidentals": '"C"^c2 c2 =c2 _B2 | "F"B2 A2 ^G2 =G2 | "C"e8 |',
    "ties": '"C"c4 e4- | "F"e4 f4 | "C"c8 |',
    "broken": '"C"c>d e<f g2 a2 | "F"f2>a2 c\'4 | "C"c8 |',
    "tuplets": '"C"(3cde (3fga b2 c\'2 | "F"(3f2a2f2 c4 | "C"c8 |',
    "octaves": '"C"C,2 C2 c2 c\'2 | "F"F,2 F2 f2 f\'2 | "C"c8 |',
    "rests": '"C"z2 c2 z4 | "F"f3 z f4 | "C"c8 |',
}


def sounding(text):
    """Return (onset, length, MIDI number) in quarters of every note as music21 reads it, ties joined."""
    version = "" if text.startswith("%abc") else "%abc-2.1\n"
    score = music21.converter.parseData(version + text, format="abc")
    notes = score.flatten().stripTies().getElementsByClass(music21.note.Note)
    return [(Fraction(n.offset).limit_denominator(96), Fraction(n.quarterLength).limit_denominator(96), n.pitch.midi)
            for n in notes]  # fmt: skip


def ours(song):
    quarters = song.meter.beat_quarters
    return [(note.onset * quarters, note.length * quarters, note.note) for note in song.sections[0].tune]


@pytest.mark.parametrize("key", ["C", "D", "Eb", "Am"])
@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
def test_notes_are_those_that_music21_reads(body, key):
    text = f"X:1\nT:Quay\nM:4/4\nL:1/8\nQ:1/4=100\nK:{key}\n{body}\n"
    song = song_from_abc(text).song
    assert ours(song) == sounding(text)


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
def test_what_we_write_music21_reads_as_the_same_notes(body):
    song = song_from_abc(f"X:1\nT:Quay\nM:4/4\nL:1/8\nQ:1/4=100\nK:Eb\n{body}\n").song
    assert sounding(abc_file(song).decode()) == ours(song)


def test_chord_symbols_stand_where_music21_finds_them():
    song = song_from_abc(f"X:1\nT:Quay\nM:4/4\nL:1/8\nQ:1/4=100\nK:C\n{BODIES['plain']}\n").song
    score = music21.converter.parseData(abc_file(song).decode(), format="abc")
    found = score.flatten().getElementsByClass(music21.harmony.ChordSymbol)
    assert [(one.offset, one.figure) for one in found] == [(0, "C"), (4, "G7"), (8, "C")]


def test_the_playing_order_of_repeats_and_endings_is_music21_s():
    body = '|:"C"c8 | "F"f8 |1 "G7"g8 :|2 "C"e8 || "Am"a8 |'
    text = f"X:1\nT:Quay\nM:4/4\nL:1/8\nQ:1/4=100\nK:C\n{body}\n"
    score = music21.converter.parseData(text, format="abc").parts[0].expandRepeats()
    wanted = [note.pitch.midi for note in score.flatten().notes if isinstance(note, music21.note.Note)]
    section = song_from_abc(text).song.sections[0]
    assert [section.tune[bar.place].note for bar in turns(section.bars)] == wanted
