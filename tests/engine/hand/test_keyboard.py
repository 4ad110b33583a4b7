import pytest

from engine.hand.keyboard import OCTAVE, black, place, span
from engine.theory.pitch import key_number


@pytest.mark.parametrize(
    ("root", "millimetres"),
    [("C", 212), ("F", 212), ("G", 212), ("D", 218), ("Bb", 220), ("A", 220), ("Eb", 222), ("E", 222), ("Ab", 224),
     ("B", 224), ("Db", 226)],
)  # fmt: skip
def test_a_major_tenth_is_as_wide_as_it_lies(root, millimetres):
    # Common practice, computed from a simple key geometry: not all tenths are equal.
    low = key_number(f"{root}3")
    assert span(low, low + 16) == pytest.approx(millimetres, abs=2.0)


def test_every_octave_is_164_and_a_half_millimetres():
    assert {round(span(key, key + 12), 6) for key in range(21, 97)} == {OCTAVE}


def test_the_keys_ascend():
    assert all(place(key) < place(key + 1) for key in range(127))


def test_five_of_twelve_keys_are_black():
    assert [key for key in range(60, 72) if black(key)] == [61, 63, 66, 68, 70]
