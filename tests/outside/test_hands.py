"""Hands and worked voicings against what is published."""

from itertools import pairwise

import pytest

from engine.chord.symbol import read_symbol
from engine.ear.voice_leading import one_to_one
from engine.hand.keyboard import OCTAVE
from engine.hand.spans import BALLIAUW, PARNCUTT
from engine.theory.pitch import key_number, note_name


def table(rows: dict[str, list[int]]) -> dict[tuple[int, ...], tuple[int, ...]]:
    return {tuple(map(int, pair.split("-"))): tuple(spans) for pair, spans in rows.items()}


def test_finger_spans_are_those_of_both_published_tables(published):
    # Parncutt et al. 1997, table 1; Balliauw et al. 2017.
    values = published("finger_spans.json")
    assert table(values["parncutt_1997_semitones"]) == PARNCUTT
    assert {size: table(rows) for size, rows in values["balliauw_units_octave14"].items()} == BALLIAUW


def test_every_span_widens_from_a_cramped_to_a_stretched_hand():
    # Parncutt et al. 1997: practical, comfortable and relaxed spans lie inside each other.
    for rows in (PARNCUTT, *BALLIAUW.values()):
        for pair, spans in rows.items():
            assert list(spans) == sorted(spans), pair


def test_an_octave_of_the_keyboard_is_as_wide_as_pianos_are():
    # Common practice of piano makers: seven white keys in 164 to 165 mm (from memory).
    assert 164.0 <= OCTAVE <= 165.0


def test_the_notes_of_every_worked_voicing_belong_to_its_chord(published):
    for example in published("voicings.json")["examples"]:
        for symbol, notes in zip(example["chords"], example["voicings"], strict=True):
            tones = {tone.name.pc for tone in read_symbol(symbol).tones}
            assert {note_name(note[:-1]).pc for note in notes} <= tones, (example["title"], symbol)


def test_worked_voicings_lie_low_to_high_and_move_as_the_sheets_say(published):
    for example in published("voicings.json")["examples"]:
        keys = [[key_number(note) for note in notes] for notes in example["voicings"]]
        assert all(low < high for chord in keys for low, high in pairwise(chord)), example["title"]
        moves = [[b - a for a, b in zip(one, other, strict=True)] for one, other in pairwise(keys)]
        assert moves == example["moves"], example["title"]


@pytest.mark.parametrize("title", ["guide tones", "3-7 / 7-3", "A form", "B form", "3-7-9"])
def test_worked_voicings_move_by_no_more_than_the_smallest_voice_leading_plus_octaves(published, title):
    # Tymoczko 2006: the least sum of semitones between two sets of pitch classes, one to one.
    for example in published("voicings.json")["examples"]:
        if example["title"].startswith(title):
            keys = [[key_number(note) for note in notes] for notes in example["voicings"]]
            for (one, other), moves in zip(pairwise(keys), example["moves"], strict=True):
                least = one_to_one([key % 12 for key in one], [key % 12 for key in other])
                assert sum(map(abs, moves)) == least, example["title"]
