"""Transposing by intervals on the line of fifths: what a chord is never changes, only what it is called."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.symbol import read_symbol
from engine.song.model import Song
from engine.song.reader import read_song, song_from_chart
from engine.song.transposing import transpose, transpose_symbol
from engine.song.unfolding import unfold
from engine.song.writer import write_song
from tests.engine.song.songs import LANTERN, music

KEYS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "F#", "G", "Ab", "A", "Bb", "B")


def lantern() -> Song:
    return read_song(LANTERN, "lantern.toml")


def symbols(song: Song) -> list[str]:
    return [step.symbol for step in unfold(song)]


def degrees(song: Song) -> list[tuple[str, ...] | None]:
    return [step.chord and step.chord.degrees for step in unfold(song)]


def sound(song: Song) -> list[tuple[int, ...] | None]:
    return [step.chord and (step.chord.bass.pc, *(tone.pc for tone in step.chord.tones)) for step in unfold(song)]


@pytest.mark.parametrize(
    ("bars", "old", "new", "moved"),
    [
        ("C F G7 C", "C", "Gb", "Gb Cb Db7 Gb"),  # flat keys have flats: the fourth of Gb is Cb
        ("C/E G7/F Am7 D7", "C", "Eb", "Eb/G Bb7/Ab Cm7 F7"),  # the slash bass moves too
        ("C E7 Am D7", "C", "E", "E G#7 C#m F#7"),
        ("Am E7 Am E7", "Am", "Cm", "Cm G7 Cm G7"),
        ("Bbm7 Eb7 Ab6 N.C.", "Ab", "A", "Bm7 E7 A6 N.C."),
    ],
)
def test_chords_are_spelled_in_the_new_key(bars, old, new, moved):
    # Common practice, worked by hand.
    assert symbols(transpose(song_from_chart(f"| {bars} |", key=old), new)) == moved.split()


@pytest.mark.parametrize("key", KEYS)
def test_a_chord_is_the_same_chord_in_every_key(key):
    assert degrees(transpose(lantern(), key)) == degrees(lantern())


@pytest.mark.parametrize("key", KEYS)
def test_there_and_back_is_the_same_song(key):
    assert music(transpose(transpose(lantern(), key), "Eb")) == music(lantern())


def test_twelve_fifths_bring_a_song_home_note_for_note():
    song = lantern()
    for key in ("Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "Db", "Ab", "Eb"):
        song = transpose(song, key)
    assert symbols(song) == symbols(lantern())
    assert song.sections[2].key == "Ab"
    # The shorter way is a fourth down, twelve times: the same notes five octaves lower.
    assert [key + 60 for key in song.melody] == list(lantern().melody)
    assert [key + 60 for key in song.pins[0].right] == list(lantern().pins[0].right)


@pytest.mark.parametrize("key", KEYS)
def test_a_transposed_song_is_written_and_read_as_it_sounds(key):
    song = transpose(lantern(), key)
    again = read_song(write_song(song), "")
    assert sound(again) == sound(song)
    assert (again.melody, again.pins, again.key) == (song.melody, song.pins, song.key)


@pytest.mark.parametrize(("asked", "given_"), [("D#", "Eb"), ("G#", "Ab"), ("A#", "Bb"), ("C#", "Db")])
def test_nobody_gets_an_absurd_key(asked, given_):
    assert transpose(song_from_chart("| C |"), asked).key == given_


def test_the_side_of_six_is_the_one_asked_for():
    song = song_from_chart("| C |")
    assert (transpose(song, "F#", sharps=True).key, transpose(song, "Gb").key) == ("F#", "Gb")


def test_a_later_key_moves_with_the_song_and_its_chords_are_spelled_in_it():
    song = song_from_chart("| Db | Bbm7 | Gb | Ab7 |")
    song = replace(song, sections=(replace(song.sections[0], key="Db"),))
    moved = transpose(song, "Gb")
    assert moved.sections[0].key == "G"
    assert symbols(moved) == ["G", "Em7", "C", "D7"]


def test_melody_and_pins_go_the_shorter_way():
    up, down = transpose(lantern(), "G"), transpose(lantern(), "C")
    assert up.melody == (59, 76)
    assert down.melody == (52, 69)
    assert down.pins[0].left == (38, 45)


@given(
    root=st.sampled_from(["C", "F#", "Bb", "Eb", "B"]),
    quality=st.sampled_from(["", "m7", "7alt", "maj7#11", "6/9", "m7b5", "7sus4", "°7", "-7", "Δ"]),
    bass=st.sampled_from(["", "/E", "/Ab", "/C#"]),
    fifths=st.integers(-11, 11),
)
def test_a_symbol_moved_is_the_same_chord_on_another_root(root, quality, bass, fifths):
    old = read_symbol(root + quality + bass)
    new = read_symbol(transpose_symbol(old.symbol, fifths))
    assert new.degrees == old.degrees
    assert [(tone.pc - other.pc) % 12 for tone, other in zip(new.tones, old.tones, strict=True)] == [
        fifths * 7 % 12
    ] * len(old.tones)
    assert (new.bass.pc - old.bass.pc) % 12 == fifths * 7 % 12
