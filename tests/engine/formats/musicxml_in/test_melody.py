"""The melody of a lead sheet comes in as the tune of its sections, and the first words sung as their cues."""

from fractions import Fraction

from engine.formats.musicxml_in.reader import song_from_musicxml
from tests.engine.formats.scores import mark, measure, note, score, second_part


def tunes(data: bytes) -> list[list[tuple[Fraction, Fraction, int]]]:
    song = song_from_musicxml(data).song
    return [[(one.onset, one.length, one.note) for one in section.tune] for section in song.sections]


def sung(quarters: int, pitch: str, text: str, syllabic: str = "single") -> str:
    words = f"<lyric><syllabic>{syllabic}</syllabic><text>{text}</text></lyric>"
    return note(quarters, pitch).replace("</note>", f"{words}</note>")


def test_notes_are_the_tune_of_their_section_in_beats_from_its_start():
    data = score(measure("C", "F", before=mark("A")), measure("G"), measure("A", before=mark("B")), measure("A"))
    assert tunes(data) == [[(0, 2, 60), (2, 2, 60), (4, 4, 60)], [(0, 4, 60), (4, 4, 60)]]


def test_tied_notes_are_one():
    tied = note(4, "E4").replace("</note>", '<tie type="start"/></note>')
    data = score(measure(after=""), measure("C")).replace(note(4).encode(), tied.encode(), 1)
    data = data.replace(note(4).encode(), note(4, "E4").encode())
    assert tunes(data) == [[(0, 8, 64)]]


def test_a_tune_after_a_pickup_begins_with_it():
    assert tunes(score(measure("G", quarters=1), measure("C"))) == [[(0, 1, 60), (1, 4, 60)]]


def test_the_part_that_has_words_is_the_tune():
    chords = score(measure("C"), measure("F"))
    voice = [f"<measure>{sung(4, 'G4', 'Low')}</measure>", f"<measure>{sung(4, 'A4', 'tide')}</measure>"]
    divided = "<attributes><divisions>1</divisions></attributes>"
    data = second_part(chords, voice[0].replace("<measure>", f"<measure>{divided}"), voice[1])
    assert tunes(data) == [[(0, 4, 67), (4, 4, 69)]]


def test_the_first_words_sung_are_the_cue():
    line = sung(1, "C4", "Har", "begin") + sung(1, "C4", "bour", "end") + sung(2, "C4", "light")
    data = score(measure("C").replace(note(4), line), measure("F"))
    assert song_from_musicxml(data).song.sections[0].cue == "Harbour light"
