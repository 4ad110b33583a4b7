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
