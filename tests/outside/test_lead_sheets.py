"""Lead sheets written by general music libraries, music21 and partitura, come in with their chords and form."""

import warnings
from pathlib import Path

import music21
import pytest

from engine.chord.symbol import read_symbol
from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.unfolding import unfold
from engine.theory.pitch import note_name

CORPUS = Path(music21.__file__).parent / "corpus" / "leadSheet"


def chords(data: bytes) -> list[str]:
    return [step.symbol for step in unfold(song_from_musicxml(data).song)]


def music21_sheet(figures: list[str], **how: object) -> bytes:
    """Return a lead sheet of one chord a bar, written by music21 (its flats are minus signs)."""
    part = music21.stream.Part()
    for number, figure in enumerate(figures, 1):
        bar = music21.stream.Measure(number=number)
        if number == 1:
            bar.append([music21.key.KeySignature(how.get("fifths", 0)), music21.meter.TimeSignature("4/4")])
            bar.insert(0, music21.tempo.MetronomeMark(number=88))
        bar.insert(0, music21.harmony.ChordSymbol(figure))
        bar.append(music21.note.Note("C4", quarterLength=4))
        part.append(bar)
    how.get("change", lambda part: None)(part)
    score = music21.stream.Score([part])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return music21.musicxml.m21ToXml.GeneralObjectExporter(score).parse()


FIGURES = ["C", "Dm7", "G7", "CM7", "E-m", "Fø7", "B-o7", "A+", "D6", "Gsus4", "F#m7", "B-9", "Am7/G", "Em6", "C/E"]


@pytest.mark.parametrize("figure", FIGURES)
def test_music21_hears_the_chord_that_we_read_from_its_file(figure):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        heard = music21.harmony.ChordSymbol(figure)
    chord = read_symbol(chords(music21_sheet([figure]))[0])
    assert {tone.pc for tone in chord.tones} | {chord.bass.pc} == {pitch.pitchClass for pitch in heard.pitches}
    assert chord.bass == note_name(heard.bass().name.replace("-", "b"))


def test_key_and_tempo_of_music21_come_in():
    song = song_from_musicxml(music21_sheet(["E-", "B-7"], fifths=-3)).song
    assert (song.key, song.tempo, str(song.meter)) == ("Eb", 88, "4/4")


def test_repeats_of_music21_play_as_music21_expands_them():
    def repeated(part):
        music21.repeat.insertRepeat(part, 2, 3, inPlace=True)

    data = music21_sheet(["C", "F", "G", "Am"], change=repeated)
    assert chords(data) == ["C", "F", "G", "F", "G", "Am"]


def test_endings_of_music21_play_as_music21_expands_them():
    def endings(part):
        music21.repeat.insertRepeatEnding(part, 2, 2, 1, inPlace=True)
        music21.repeat.insertRepeatEnding(part, 3, 3, 2, inPlace=True)

    assert chords(music21_sheet(["C", "F", "G", "Am"], change=endings)) == ["C", "F", "C", "G", "Am"]


@pytest.mark.parametrize("name", ["berlinAlexandersRagtime.mxl", "fosterBrownHair.mxl"])
def test_real_lead_sheets_play_as_many_bars_as_music21_expands(name):
    # Both songs are in the public domain and come with music21.
    data = (CORPUS / name).read_bytes()
    song = song_from_musicxml(data).song
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = music21.converter.parse(CORPUS / name).parts[0]
        expanded = music21.repeat.Expander(part).process()
    bars = sum(step.beats for step in unfold(song)) / song.meter.beats
    assert bars == len(expanded.getElementsByClass("Measure"))


def test_partitura_writes_what_we_read():
    partitura = pytest.importorskip("partitura")
    part = partitura.score.Part("P1", "Voice", quarter_duration=1)
    part.add(partitura.score.TimeSignature(4, 4), 0)
    part.add(partitura.score.KeySignature(1, "major"), 0)
    for bar, (root, kind, bass) in enumerate((("G", "major", None), ("D", "dominant", "F"))):
        part.add(partitura.score.Note(id=f"n{bar}", step="D", octave=4 + bar, voice=1), bar * 4, bar * 4 + 4)
        part.add(partitura.score.ChordSymbol(root=root, kind=kind, bass=bass), bar * 4)
        part.add(partitura.score.Measure(number=bar + 1), bar * 4, bar * 4 + 4)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        data = partitura.save_musicxml(part, None)
    song = song_from_musicxml(data).song
    assert (song.key, song.melody, [step.symbol for step in unfold(song)]) == ("G", (62, 74), ["G", "D7/F"])
