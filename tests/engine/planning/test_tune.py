"""A tune that somebody else has: the hands stay below what it holds, and clear of it. Source: common practice."""

from dataclasses import replace
from fractions import Fraction

import pytest

from engine.chord.symbol import read_symbol
from engine.planning.lineup import request_for
from engine.planning.model import HeldTune, Request
from engine.planning.planner import plan
from engine.planning.voicing_costs import TERMS, standing_as_told
from engine.song.model import SetList, TuneNote
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from engine.theory.pitch import key_number
from engine.voicing.model import Voicing
from tests.engine.planning.asking import ask_of

CHANGES = "| Cmaj7 | Am7 | Dm7 | G7 |"


def sung(chart, *notes, lengths=4, tune_is=""):
    """A song with one note of a tune over each bar."""
    song = song_from_chart(chart)
    tune = tuple(TuneNote(Fraction(4 * bar), Fraction(lengths), note) for bar, note in enumerate(notes))
    return replace(song, sections=(replace(song.sections[0], tune=tune, tune_is=tune_is),))


def requested(song, **wishes):
    return replace(request_for(song, SetList("Pier"), (200.0, 200.0)), **wishes)


def planned(song, **wishes):
    return plan(unfold(song), requested(song, **wishes))


def rubs(step, note):
    return [key for key in step.keys if abs(key - note) in (1, 13)]


def test_comping_under_a3_stays_under_it():
    a3 = key_number("A3")
    song = sung(CHANGES, a3, a3, a3, a3)
    assert all(max(step.keys) < a3 for step in planned(song).steps)
    assert any(max(step.keys) >= a3 for step in planned(song, tune=()).steps), "without the tune it would not"


def test_a_major_seventh_keeps_off_a_semitone_below_its_own_root_in_the_tune():
    for note in (key_number("C4"), key_number("C5")):
        steps = planned(sung("| Cmaj7 | Cmaj7 |", note, note)).steps
        assert all(note - 1 not in step.keys for step in steps)


def test_no_note_rubs_where_a_chord_can_be_said_clear_of_the_tune():
    notes = [key_number(name) for name in ("E5", "C5", "F5", "D5")]
    for step, note in zip(planned(sung(CHANGES, *notes)).steps, notes, strict=True):
        assert not rubs(step, note)


def test_passing_notes_and_a_tune_of_ones_own_ask_for_nothing():
    a3 = key_number("A3")
    assert requested(sung(CHANGES, a3, lengths=Fraction(1, 2))).tune == ()
    assert requested(sung(CHANGES, a3, tune_is="mine")).tune == ()


def test_a_short_chord_holds_what_sounds_over_most_of_it():
    song = sung("| C Am Dm G |", key_number("E5"), lengths=Fraction(3, 4))
    assert requested(song).tune == (HeldTune(("Chart", 0, 0), (key_number("E5"),)),)


def test_a_song_without_a_tune_is_asked_for_as_before():
    song = song_from_chart(CHANGES)
    assert requested(song).tune == Request().tune == ()


@pytest.mark.parametrize("up", [-2, 3])
def test_what_is_held_moves_with_the_key(up):
    notes = [key_number("E5"), key_number("C5")]
    low, high = (requested(sung(CHANGES, *(note + by for note in notes))).tune for by in (0, up))
    assert [tuple(note + up for note in held.notes) for held in low] == [held.notes for held in high]


@pytest.mark.parametrize("up", range(-5, 7))
def test_what_the_tune_asks_of_a_voicing_is_the_same_in_every_key(up):
    def priced(symbol, by):
        ask = replace(ask_of(Request()), tune=(60 + by, 67 + by))
        voicings = [Voicing((48 + by,), (52 + by, 59 + by)), Voicing((36 + by,), (54 + by, 68 + by))]
        terms = standing_as_told(read_symbol(symbol), voicings, [0, 0], ask).terms
        return terms[:, [TERMS.index("over"), TERMS.index("rub")]].tolist()

    symbol = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"][up % 12] + "maj7"
    assert priced(symbol, up) == priced("Cmaj7", 0)
    assert all(sum(terms) > 0 for terms in priced("Cmaj7", 0))


def test_a_tune_too_low_to_stay_under_is_said_where_it_is_crossed_and_rubbed():
    c4 = key_number("C4")
    steps = planned(sung(CHANGES, c4, c4, c4, c4), bass=True).steps
    for step in steps:
        crossed, rubbed = max(step.keys) > c4 > min(step.keys), rubs(step, c4)
        said = [words for words in step.warnings if "the tune's C4" in words]
        assert len(said) == crossed + len(rubbed)
    assert any(rubs(step, c4) for step in steps)
