"""Charts in German names, in numbers and under house rules: every later part reads plain English symbols."""

import pytest

from engine.chord.symbol import read_symbol
from engine.song.model import Event
from engine.song.reader import read_song
from tests.engine.song.songs import said, short


def events(bars: str, head: str, key: str = "C") -> list[Event]:
    text = head + short(bars).replace('key = "C"', f'key = "{key}"')
    return [event for bar in read_song(text, "").sections[0].bars for event in bar.events]


def symbols(bars: str, head: str, key: str = "C") -> list[str]:
    return [event.symbol for event in events(bars, head, key)]


def test_german_names_become_english() -> None:
    assert symbols("| H7 | B | Es7 | Fis7 | H7/Dis |", 'names = "german"\n') == ["B7", "Bb", "Eb7", "F#7", "B7/D#"]


def test_a_chart_with_both_h_and_bb_is_noted() -> None:
    song = read_song('names = "german"\n' + short("| H7 | Bb |"), "")
    assert [("B flat" in note[3], note[2]) for note in song.doubts if note[2] == "H7"] == [(True, "H7")]


def test_h_in_an_english_chart_is_a_fault_that_names_the_way_out() -> None:
    assert 'names = "german"' in said(short("| H7 |"))


@pytest.mark.parametrize(
    ("bars", "key", "expected"),
    [
        ("| 1 | 4 5 |", "A", ["A", "D", "E"]),
        ("| 6-7 | 5/7 | b7 |", "C", ["A-7", "G/B", "Bb"]),
        ("| 1 | N.C. | 5 |", "F", ["F", "N.C.", "C"]),
    ],
)
def test_numbers_become_chords_of_the_key(bars: str, key: str, expected: list[str]) -> None:
    read = [read_symbol(symbol) for symbol in symbols(bars, "numbers = true\n", key)]
    assert read == [read_symbol(symbol) for symbol in expected]


def test_numbers_follow_the_key_of_their_section() -> None:
    text = "numbers = true\n" + short("| 1 |", '[sections.B]\nkey = "Db"\nbars = "| 1 | 4 |"')
    b = read_song(text, "").sections[1]
    assert [bar.events[0].symbol for bar in b.bars] == ["Db", "Gb"]


def test_letters_in_a_chart_of_numbers_or_nonsense_are_faults_not_crashes() -> None:
    assert said("numbers = true\n" + short("| 9 | $ |"))


def test_a_house_rule_changes_the_chord_and_its_symbol_says_so() -> None:
    (event,) = [*events("| Co |", "", "C")]
    assert event.chord is not None
    assert event.chord.degrees == ("1", "b3", "b5")
    text = short("| Co |", '[reading]\no = "dim7"\n')
    (bar,) = read_song(text, "").sections[0].bars
    symbol = bar.events[0].symbol
    plain = read_symbol(symbol)
    assert plain is not None
    assert plain.degrees == ("1", "b3", "b5", "bb7")


@pytest.mark.parametrize(
    ("reading", "words"),
    [('o = "dim"', "o is 'dim'"), ("o = 3", "o is 3"), ('sus = "ninth"', "sus is 'ninth'")],
)
def test_a_house_rule_that_is_none_is_a_fault(reading: str, words: str) -> None:
    assert words in said(short("| C |", f"[reading]\n{reading}\n"))


def test_an_unknown_house_rule_is_noted() -> None:
    (note,) = read_song(short("| C |", '[reading]\nsuss = "triad"\n'), "").doubts
    assert "did you mean sus?" in note[3]
