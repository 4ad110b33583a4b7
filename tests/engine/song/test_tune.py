"""Tunes in ABC notation over a section's bars."""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.errors import ChartError, EngineError
from engine.song.abc_notes import read_abc_notes
from engine.song.abc_writing import tune_text
from engine.song.avoid_notes import avoid_notes
from engine.song.file_transposing import in_key
from engine.song.model import TuneNote
from engine.song.reader import read_song
from engine.song.set_list import read_set
from engine.song.transposing import transpose
from engine.song.tune import sung_range, tune_over, whose_tune
from engine.song.unfolding import unfold
from engine.song.writer import write_song
from engine.theory.meter import Meter

KEYS = ("C", "G", "D", "A", "E", "B", "F#", "Gb", "Db", "Ab", "Eb", "Bb", "F", "Am", "Cm", "F#m")


def song(tune, bars="| C | C |", key="C", more="", section=""):
    return f'title = "Tideway"\nkey = "{key}"\n{more}\n[sections.A]\n{section}\nbars = "{bars}"\ntune = """{tune}"""\n'


def tune_of(tune, **more):
    return read_song(song(tune, **more), "").sections[0].tune


def notes(tune, **more):
    return [(note.onset, note.length, note.note) for note in tune_of(tune, **more)]


def test_notes_have_onset_and_length_in_beats():
    assert notes("G2 A2 B4 | c8 |") == [(0, 1, 67), (1, 1, 69), (2, 2, 71), (4, 4, 72)]


def test_octaves_are_as_the_standard_says():
    """ABC 2.1, section 4.1: C is middle C, c the octave above; comma and apostrophe go on."""
    assert [note for _, _, note in notes("C,2 C2 c2 c'2 | z8 |")] == [48, 60, 72, 84]


def test_key_signature_and_accidentals_hold_to_the_bar_line():
    """ABC 2.1, section 4.2."""
    assert [note for _, _, note in notes("F2 =F2 F2 ^F2 | F8 |", key="D")] == [66, 65, 65, 66, 66]


def test_a_tie_joins_two_notes_and_keeps_the_accidental_over_the_bar_line():
    """ABC 2.1, section 4.11; that the accidental holds over the tie is common practice."""
    assert notes("z6 ^F2- | F4 F4 |") == [(3, 3, 66), (6, 2, 65)]


def test_broken_rhythm_and_tuplets_share_the_time():
    """ABC 2.1, sections 4.4 and 4.13."""
    lengths = [length for _, length, _ in notes("C2>D2 (3E2F2G2 | C<D E>>F z4 |")]
    third = Fraction(2, 3)
    assert lengths == [Fraction(3, 2), Fraction(1, 2), third, third, third,
                       Fraction(1, 4), Fraction(3, 4), Fraction(7, 8), Fraction(1, 8)]  # fmt: skip


def test_words_graces_slurs_and_comments_are_passed_over():
    plain = notes("G2 A2 B4 | c8 |")
    assert notes('"C"G2 {ab}(A2 !mf!B4) | "^softly"~c8 | % the end\n') == plain


def test_a_unit_and_a_key_on_the_way_hold_from_there():
    assert notes("L:1/4\nG A B2 | [K:D] f4 |") == [(0, 1, 67), (1, 1, 69), (2, 2, 71), (4, 4, 78)]


def test_a_pickup_is_the_tune_s_first_bar():
    found = notes("G2 | c8 |", bars="| G7 | C |", section="pickup = 1")
    assert found == [(0, 1, 67), (1, 4, 72)]


def test_in_six_eight_a_beat_is_a_dotted_quarter():
    assert notes("G3 A3 | B6 |", more='meter = "6/8"') == [(0, 1, 67), (1, 1, 69), (2, 2, 71)]


@pytest.mark.parametrize(
    ("tune", "line", "column", "found", "hint"),
    [("G2 A2 | c8 |", 7, 11, "bar 1 of the tune has 2 beats", "its lengths"),
     ("G A B2 | c4 |", 7, 11, "bar 1 of the tune has 2 beats", "L:1/4"),
     ("c8 |", 7, 11, "the tune has 1 bar, the section 2 bars", "every bar once"),
     ("c8 | j8 |", 7, 16, "j means nothing", "A to G"),
     ("c8 |\n  [ce]8 |", 8, 3, "several notes", "highest"),
     ("c8 | z2 (99:1:1c6 |", 7, 19, "no tuplet", "(3"),
     ("c8 |\nV:2\nc8 |", 8, 1, "several voices", "one voice"),
     ("c8 | [L:3] c8 |", 7, 16, "no length", "1/8")],
)  # fmt: skip
def test_faults_say_line_and_column_of_the_song_s_file(tune, line, column, found, hint):
    with pytest.raises(ChartError) as raised:
        read_song(song(tune), "")
    fault = raised.value.faults[0]
    assert (fault.line, fault.column) == (line, column)
    assert found in fault.found
    assert hint in fault.hint


def lines():
    """Tunes of two bars of 4/4: rests and notes in lengths of twelfths of a beat."""
    length = st.sampled_from([Fraction(n, d) for n in (1, 2, 3, 5) for d in (1, 2, 3, 4)])
    return st.lists(st.tuples(st.booleans(), length, st.integers(36, 96)), max_size=12)


def timed(drawn):
    at, found = Fraction(0), []
    for rest, length, note in drawn:
        length = min(length, 8 - at)
        if length > 0 and not rest:
            found.append(TuneNote(at, length, note))
        at += length
    return tuple(found)


@given(drawn=lines(), key=st.sampled_from(KEYS))
def test_reading_what_was_written_gives_the_same_tune(drawn, key):
    tune = timed(drawn)
    text = tune_text(tune, key, Meter(4, 4), meters=[Meter(4, 4)] * 2)
    assert tune_of(text, key=key) == tune


@given(drawn=lines(), key=st.sampled_from(KEYS), other=st.sampled_from(KEYS))
def test_a_file_put_into_another_key_for_good_has_the_tune_of_tonight_s_key(drawn, key, other):
    text = song(tune_text(timed(drawn), key, Meter(4, 4), meters=[Meter(4, 4)] * 2), key=key)
    wanted = transpose(read_song(text, ""), other)
    assert read_song(in_key(text, other), "").sections[0].tune == wanted.sections[0].tune


def test_only_notes_change_in_a_file_put_into_another_key():
    text = song('"C"G2  (A2 B4)|  % home\n[K:C] c4 !mf!^c4 |', more="# ours")
    assert in_key(text, "D") == song(
        '"D"A2  (B2 c4)|  % home\n[K:D] d4 !mf!^d4 |', bars="| D | D |", key="D", more="# ours"
    )


def test_a_song_is_written_with_its_tunes():
    read = read_song(song("G2 A2 B4- | B8 |", more='tune_is = "mine"', section='tune_is = "theirs"'), "")
    again = read_song(write_song(read), "")
    assert again.sections[0].tune == read.sections[0].tune
    assert (again.tune_is, again.sections[0].tune_is) == ("mine", "theirs")


def test_whose_the_tune_is_a_section_says_over_the_song_and_tonight_over_the_song():
    text = song("c8 | c8 |", more='tune_is = "mine"')
    assert whose_tune(*_first(read_song(text, ""))) == "mine"
    tonight = read_set('title = "T"\n[[songs]]\nfile = "a"\ntune_is = "theirs"\n', "", lambda _: text)
    assert whose_tune(*_first(tonight.songs[0].song)) == "theirs"


def _first(read):
    return read, read.sections[0]


def test_each_chord_as_played_has_the_notes_that_sound_over_it():
    read = read_song(song("G2 A2 B4- | B4 c4 |", bars="||: C F | G :||", section=""), "")
    heard = tune_over(read, unfold(read))
    assert [[(n.onset, n.note) for n in one] for one in heard[:3]] == [
        [(0, 67), (1, 69)], [(0, 71)], [(-2, 71), (2, 72)],
    ]  # fmt: skip
    assert heard[3:] == heard[:3]


def test_the_sung_range_is_the_tune_s_where_none_is_written():
    assert sung_range(read_song(song("G,8 | c8 |"), "")) == (55, 72)
    told = song("G,8 | c8 |", more='[melody]\nlowest = "A3"\nhighest = "D4"')
    assert sung_range(read_song(told, "")) == (57, 62)


def test_a_major_seventh_under_its_own_held_root_is_offered_as_a_sixth_chord():
    """Common practice of arrangers."""
    advice = avoid_notes(read_song(song("c8 | B8 |", bars="| Cmaj7 | Cmaj7 |"), ""))
    assert [(one.bar, one.symbol) for one in advice] == [(1, "Cmaj7")]
    assert "C6 would stay clear" in advice[0].remark


def test_a_passing_note_is_no_avoid_note():
    assert avoid_notes(read_song(song("B4 cB A2 | G8 |", bars="| Cmaj7 | C |"), "")) == ()


@given(text=st.text(alphabet="CcGz,'^_=[](){}|:-<>/0123469\"!%ZKLMV \n\\x", max_size=60))
def test_any_text_is_read_or_refused_at_its_place(text):
    tune = read_abc_notes(text, 0, Meter(4, 4))
    assert all(0 <= offset < max(1, len(text)) for offset, _, _ in tune.faults)
    assert all(0 <= note.note <= 127 and note.bar < len(tune.bars) for note in tune.notes)


@given(text=st.text(alphabet="Cc2Gz,'^[]()|:-<>/3469\"!%ZKLMV \n", max_size=40))
def test_no_tune_ends_in_anything_but_a_song_or_its_faults(text):
    if '"""' not in text and not text.endswith('"'):
        with suppress(EngineError):
            read_song(song(text), "")
