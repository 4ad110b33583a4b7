"""Chord symbols against published tables, open data and three independent libraries."""

import warnings

import mir_eval.chord
import music21.harmony
import pychord
import pytest

from engine.chord.symbol import read_symbol
from engine.theory.pitch import note_name

# What the open tables call by other names than chart writers do: a suspended second, a minor chord's flat sixth.
SAME_DEGREE = {"2": "9", "b6": "b13"}


def pcs(symbol: str) -> list[int]:
    return sorted({tone.pc for tone in read_symbol(symbol).tones})


PUBLISHED = {
    # MusicXML 4.0 (W3C), the meanings listed for the values of <kind>: the intervals above the root.
    "C": "C E G", "Cm": "C Eb G", "Caug": "C E G#", "Cdim": "C Eb Gb", "C7": "C E G Bb", "Cmaj7": "C E G B",
    "Cm7": "C Eb G Bb", "Cdim7": "C Eb Gb Bbb", "C7#5": "C E G# Bb", "Cm7b5": "C Eb Gb Bb", "Cm(maj7)": "C Eb G B",
    "C6": "C E G A", "Cm6": "C Eb G A", "C9": "C E G Bb D", "Cmaj9": "C E G B D", "Cm9": "C Eb G Bb D",
    "Csus2": "C G D", "Csus4": "C F G", "C5": "C G",
    # Spelling by letter: textbooks of harmony, common practice.
    "Db7": "Db F Ab Cb", "Gbmaj7": "Gb Bb Db F", "F#7": "F# A# C# E", "Bdim7": "B D F Ab", "Abm7": "Ab Cb Eb Gb",
}  # fmt: skip


def on_the_stand(name):
    """A published name, or its plain twin where it has two signs: nobody reads B double flat at sight."""
    found = note_name(name)
    twin = found.up(-12 if found.fifths > 0 else 12)
    return str(twin if abs(found.accidental) > 1 else found)


@pytest.mark.parametrize(("symbol", "names"), PUBLISHED.items())
def test_tones_are_spelled_as_published(symbol, names):
    assert {str(tone.name) for tone in read_symbol(symbol).tones} == {on_the_stand(name) for name in names.split()}


def test_every_symbol_of_the_table_has_its_root_bass_tones_and_degrees(published):
    for symbol, root, bass, tones, degrees in published("chord_symbols.json")["symbols"]:
        chord = read_symbol(symbol)
        assert pcs(symbol) == sorted(map(int, tones.split())), symbol
        assert (chord.root.pc, chord.bass.pc) == (root, bass), symbol
        assert set(chord.degrees) == {SAME_DEGREE.get(one, one) for one in degrees.split()}, symbol


def test_every_chord_of_the_table_is_spelled_by_letter(published):
    for symbol, degrees, notes in published("chord_spelling.json")["chords"]:
        pairs = zip(degrees.split(), notes.split(), strict=True)
        wanted = {SAME_DEGREE.get(degree, degree): on_the_stand(note) for degree, note in pairs}
        assert {tone.degree: str(tone.name) for tone in read_symbol(symbol).tones} == wanted, symbol


@pytest.mark.parametrize("name", ["progressions_billboard.json", "progressions_openewld.json"])
def test_every_symbol_of_an_open_corpus_reads(corpus, name):
    # Open data: chord annotations of popular songs and open lead sheets.
    for song in corpus(name):
        for symbol, _ in song["chords"]:
            chord = read_symbol(symbol)
            assert chord is None or chord.degrees[0] == "1", symbol


COMMON = ["", "m", "7", "maj7", "m7", "6", "m6", "dim7", "m7b5", "sus4", "9", "m9", "maj9", "aug", "dim", "7b9", "7#9"]


@pytest.mark.parametrize("quality", COMMON)
@pytest.mark.parametrize("root", ["C", "F#", "Bb", "E"])
def test_music21_hears_the_same_pitch_classes(root, quality):
    # music21 writes flats as minus signs: its B7 with flat is B-7.
    figure = root.replace("b", "-") + quality.replace("m7b5", "ø7").replace("dim7", "o7").replace("maj9", "M9")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        heard = music21.harmony.ChordSymbol(figure.replace("7b9", "7 add b9").replace("7#9", "7 add #9"))
    assert pcs(root + quality) == sorted({pitch.pitchClass for pitch in heard.pitches})


@pytest.mark.parametrize("quality", [quality for quality in COMMON if quality != "dim7"])
@pytest.mark.parametrize("root", ["C", "F#", "Bb", "E"])
def test_pychord_hears_the_same_pitch_classes(root, quality):
    heard = pychord.Chord(root + quality).components()
    assert pcs(root + quality) == sorted({note_name(name).pc for name in heard})


@pytest.mark.parametrize(
    ("quality", "harte"),
    [("", "maj"), ("m", "min"), ("7", "7"), ("maj7", "maj7"), ("m7", "min7"), ("dim", "dim"), ("dim7", "dim7"),
     ("m7b5", "hdim7"), ("aug", "aug"), ("sus4", "sus4"), ("sus2", "sus2"), ("6", "maj6"), ("m6", "min6"),
     ("m(maj7)", "minmaj7")],
)  # fmt: skip
def test_mir_eval_knows_the_same_pitch_classes(quality, harte):
    # mir_eval follows the chord grammar of Harte et al. 2005; it keeps ninths out of its bitmap.
    _, bitmap, _ = mir_eval.chord.encode(f"C:{harte}", reduce_extended_chords=False)
    assert pcs(f"C{quality}") == [pc for pc, present in enumerate(bitmap) if present]
