"""Pins as they are written in a song's file."""

from fractions import Fraction

from engine.song.reader import read_song
from tests.engine.song.songs import LANTERN, short


def test_a_pin_holds_its_keys_and_fingers() -> None:
    (pin,) = read_song(LANTERN, "").pins
    assert (pin.section, pin.bar, pin.beat) == ("Verse", 3, Fraction(1))
    assert (pin.left, pin.right, pin.left_fingers, pin.right_fingers) == ((41, 48), (56, 63), (5, 1), (1, 4))


def test_a_pin_for_one_hand_leaves_the_other_free() -> None:
    text = short("| C |", '[[pins]]\nsection = "A"\nright = "G4 E4"\nfingers = "5 2"\n')
    (pin,) = read_song(text, "").pins
    assert (pin.left, pin.right, pin.right_fingers) == (None, (64, 67), (2, 5))


def test_of_two_pins_on_one_chord_the_first_holds_and_the_second_is_noted() -> None:
    pins = '[[pins]]\nsection = "A"\nright = "E4 G4"\n[[pins]]\nsection = "A"\nbeat = 1\nright = "G4 C5"\n'
    song = read_song(short("| C |", pins), "")
    assert [pin.right for pin in song.pins] == [(64, 67)]
    assert "pinned further up already" in song.doubts[0][3]


def remarks(bars: str, keys: str) -> list[tuple[int, str]]:
    text = short(bars, f'[[pins]]\nsection = "A"\n{keys}\n')
    song = read_song(text, "")
    assert song.pins, "a pin with a remark is held all the same"
    return [(text.splitlines()[line - 1].split(" ")[0], remark) for line, _, _, remark in song.doubts]


def test_a_pin_without_third_or_seventh_is_noted_at_its_line() -> None:
    assert remarks("| G7 |", 'left = "G2 D3"\nright = "B3 G4"') == [("right", "the b7 (F) of G7 is not in it")]
    both = remarks("| Dm7 |", 'left = "D3"\nright = "A3"')
    assert both == [("right", "the b3 (F) and the b7 (C) of Dm7 are not in it")]


def test_a_pin_of_one_hand_leaves_the_rest_to_the_other() -> None:
    assert remarks("| G7 |", 'left = "G2 D3"') == []


def test_a_sixth_a_fourth_and_an_eleventh_stand_for_what_they_replace() -> None:
    assert remarks("| C6 |", 'left = "C3"\nright = "E4 G4 A4"') == []
    assert remarks("| C7sus4 |", 'left = "C3"\nright = "F4 Bb4"') == []
    assert remarks("| C11 |", 'left = "C3"\nright = "Bb3 D4 F4"') == []


def test_hands_that_cross_and_fingers_that_no_hand_has_are_noted_at_their_lines() -> None:
    ((line, crossed),) = remarks("| C |", 'left = "C4 G4"\nright = "E4 C5"')
    assert (line, "the hands cross" in crossed) == ("right", True)
    ((line, fingers),) = remarks("| C |", 'left = "C3"\nright = "E4 G4 C5"\nfingers = "5 / 5 3 1"')
    assert (line, "no right hand holds it" in fingers) == ("fingers", True)
    ((line, fingers),) = remarks("| C |", 'left = "C3 G3"\nright = "E4"\nfingers = "1 5 / 2"')
    assert (line, "no left hand holds it" in fingers) == ("fingers", True)


def test_a_hand_that_plays_alone_may_leave_third_or_seventh_to_the_tune_and_not_both() -> None:
    assert remarks("| G7 |", 'left = "G2 F3"\nright = ""') == []
    assert remarks("| G7 |", 'left = "G2 D3"\nright = ""') != []
