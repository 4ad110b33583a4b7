"""A song's own channel, program, bank and volume, and tonight's over them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.song.instrument import over
from engine.song.model import Midi, Song
from engine.song.reader import read_song
from engine.song.set_list import read_set
from engine.song.writer import write_song
from tests.engine.song.songs import short


def song(midi: str) -> Song:
    return read_song(short("| C |", f"[midi]\n{midi}"), "song.toml")


def wishes(most: int, least: int = 0) -> st.SearchStrategy[int | None]:
    return st.none() | st.integers(least, most)


midis = st.builds(
    Midi, channel=wishes(16, 1), program=wishes(128, 1), bank=wishes(16383), volume=wishes(127)
)  # fmt: skip


def test_a_song_names_its_channel_program_bank_and_volume() -> None:
    assert song("channel = 2\nprogram = 17\nbank = 5\nvolume = 100").midi == Midi(2, 17, 5, 100)


def test_a_song_without_wishes_leaves_the_instrument_alone() -> None:
    assert read_song(short("| C |"), "").midi == Midi()


def test_a_bank_may_be_the_two_numbers_that_manuals_print() -> None:
    assert song("program = 1\nbank = [87, 2]").midi.bank == 87 * 128 + 2


@pytest.mark.parametrize(
    ("midi", "found", "hint"),
    [
        ("program = 0", "program is 0", "from 1 to 128"),
        ("program = 129", "program is 129", "from 1 to 128"),
        ("channel = 17", "channel is 17", "from 1 to 16"),
        ("volume = 128", "volume is 128", "from 0 to 127"),
        ("volume = 1.5", "volume is 1.5", "whole number"),
        ('program = "organ"', "program is organ", "whole number"),
        ("program = true", "program is True", "whole number"),
        ("bank = 16384", "bank is 16384", "[coarse, fine]"),
        ("bank = [1]", "no pair", "[87, 2]"),
        ("bank = [128, 0]", "no pair", "each from 0 to 127"),
    ],
)
def test_what_cannot_be_sent_is_a_fault_at_its_value(midi: str, found: str, hint: str) -> None:
    with pytest.raises(ChartError) as caught:
        song(midi)
    (fault,) = caught.value.faults
    assert found in fault.found
    assert hint in fault.hint
    lines = short("| C |", f"[midi]\n{midi}").splitlines()
    assert lines[fault.line - 1] == midi
    assert fault.column == midi.index("=") + 3


def test_a_bank_without_a_program_is_remarked() -> None:
    assert [(what, "write program" in remark) for _, _, what, remark in song("bank = 3").doubts] == [("bank", True)]


def test_the_drums_channel_is_remarked() -> None:
    assert [what for _, _, what, _ in song("channel = 10").doubts] == ["channel"]


def test_a_slip_in_a_name_is_remarked() -> None:
    assert "did you mean program?" in song("programme = 3").doubts[0][3]


@given(midis)
def test_reading_what_was_written_gives_the_same_wishes(midi: Midi) -> None:
    from dataclasses import replace

    plain = read_song(short("| C |"), "")
    assert read_song(write_song(replace(plain, midi=midi)), "").midi == midi


@given(midis)
def test_tonights_wishes_go_over_the_songs_own(midi: Midi) -> None:
    assert over(midi, Midi()) == over(Midi(), midi) == over(midi, midi) == midi


def test_tonights_program_does_not_take_the_songs_bank() -> None:
    assert over(Midi(program=5, bank=9), Midi(program=17)) == Midi(program=17)


def test_a_set_asks_for_another_program_tonight() -> None:
    text = 'title = "Harbour"\n[[songs]]\nfile = "a"\nmidi = { program = 17, volume = 90 }\n'
    own = short("| C |", "[midi]\nprogram = 5\nchannel = 3")
    (place,) = read_set(text, "harbour.toml", lambda _: own).songs
    assert place.song.midi == Midi(channel=3, program=17, volume=90)


def test_a_set_with_a_program_that_there_is_not_is_a_fault_of_the_set() -> None:
    text = 'title = "Harbour"\n[[songs]]\nfile = "a"\nmidi = { program = 200 }\n'
    with pytest.raises(ChartError, match="program is 200"):
        read_set(text, "harbour.toml", lambda _: short("| C |"))
