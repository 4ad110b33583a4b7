"""ABC files read as songs and written out of them. Source: the ABC music standard 2.1, unless said."""

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.errors import EngineError
from engine.formats.abc.parts import part_order
from engine.formats.abc.reader import is_abc, song_from_abc
from engine.formats.abc.writer import abc_file
from engine.formats.import_file import song_from_file
from engine.song.reader import read_song
from engine.song.unfolding import unfold

REEL = """%abc-2.1
X:1
T:Tideway Reel
M:6/8
L:1/8
Q:3/8=96
P:A2B
K:G
P:A
D|"G"G2A B2d|"C"e2d "D7"c2A|1 "G"G3-G2 D:|2 "G"G6||
P:B
|:"Em"e2f g2e|"Am7"a3 "D7"f3:|
"""
DEMO = sorted((Path(__file__).parents[4] / "setlists" / "songs").glob("*.toml"))


def abc(body, head="M:4/4\nL:1/8\nQ:1/4=100\nK:C"):
    return f"X:1\nT:Quay\n{head}\n{body}\n"


def played(song):
    return [step.symbol for step in unfold(song)]


def test_title_key_meter_tempo_parts_repeats_and_endings_come_in():
    found = song_from_file(REEL.encode())
    song = found.song
    assert (song.title, song.key, str(song.meter), song.tempo) == ("Tideway Reel", "G", "6/8", 96)
    assert song.roadmap == ("A", "A", "B")
    assert played(song)[:9] == ["N.C.", "G", "C", "D7", "G", "G", "C", "D7", "G"]
    assert song.sections[0].tune[-2].length * 3 == 1
    assert found.doubts == ()


def test_writing_and_reading_again_gives_the_same_song():
    song = song_from_abc(REEL).song
    again = song_from_abc(abc_file(song).decode()).song
    assert [section.tune for section in again.sections] == [section.tune for section in song.sections]
    assert played(again) == played(song)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_the_chords_of_a_song_come_back_as_played(path):
    song = read_song(path.read_text(encoding="utf-8"), "")
    again = song_from_abc(abc_file(song).decode()).song
    wanted = [(step.symbol, step.beats) for step in unfold(song)]
    if any(bar.repeat_times > 2 for section in song.sections for bar in section.bars):
        pytest.skip("ABC has no sign for a repeat of three times")
    told = [(step.symbol, step.beats) for step in unfold(again)]
    assert told == wanted


def test_a_chord_lasts_until_the_next_one_over_the_bar_line():
    assert played(song_from_abc(abc('"C"c8 | c4 "F"c4 |')).song) == ["C", "C", "F"]


def test_modes_tempos_and_common_time_are_read():
    song = song_from_abc(abc('"Dm"d4 |', "M:C|\nL:1/4\nQ:1/2=60\nK:D dor")).song
    assert (song.key, str(song.meter), song.tempo) == ("Dm", "2/2", 120)
    assert song.sections[0].tune[0].note == 74


@pytest.mark.parametrize(
    ("text", "doubt"),
    [(abc('"C"c8 |') + 'X:2\nT:B\nK:C\n"F"f8|\n', "several tunes"), (abc('"Cxyz"c8 | "F"f8 |'), "no chord symbol"),
     (abc('V:1\n"C"c8 |\nV:2\nC8 |'), "of several voices 1"), (abc('"C"[ceg]8 |'), "several notes"),
     (abc('"C"c8 |', "M:4/4\nK:C"), "no tempo"), (abc('"C"c8|', "M:4/4\nQ:1/4=90\nP:AB\nK:C"), "order of the parts")],
)  # fmt: skip
def test_what_was_guessed_or_left_out_is_said(text, doubt):
    assert any(doubt in one for one in song_from_abc(text).doubts)


def test_a_tune_without_chords_is_refused():
    with pytest.raises(EngineError, match="no chord symbols"):
        song_from_abc(abc("c8 |"))


def test_other_texts_are_no_abc():
    assert is_abc(REEL)
    assert not is_abc("Key: C\n| C | F |")


@pytest.mark.parametrize(
    ("order", "wanted"),
    [("ABA", "A B A"), ("A2B", "A A B"), ("(AB)2C", "A B A B C"), ("((AB)2C)2", "A B A B C A B A B C"), ("", "A B C")],
)
def test_the_order_of_parts_is_written_out(order, wanted):
    """ABC 2.1, section 3.1.9."""
    assert part_order(order, ["A", "B", "C"], ["A", "B", "C"], []) == tuple(wanted.split())


@given(body=st.text(alphabet='CcGz,^[]()|:-<>/12348"ADm7!%ZKLMVPQ \n', max_size=60))
def test_any_text_after_a_head_gives_a_song_or_a_refusal(body):
    with suppress(EngineError):
        song_from_abc(abc('"C"c8 |' + body))


@given(head=st.text(alphabet="MLQKP:/=0123468C|ABm x\n", max_size=40))
def test_any_head_gives_a_song_or_a_refusal(head):
    with suppress(EngineError):
        song_from_abc(abc('"C"c8 |', head + "\nK:C"))
