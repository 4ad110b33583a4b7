import pytest

from tui.widgets import font5, font8, strokes
from tui.widgets.glyphs import SIZES, glyph, word

NEEDED = "ABCDEFGHNCabcdeghijlmnostu0123456789♭♯Δø°+-()/,."


@pytest.mark.parametrize(("letters", "high"), [(font5.LETTERS, 5), (font8.LETTERS, 8)])
def test_every_drawn_letter_has_its_height_and_even_rows(letters: dict[str, str], high: int) -> None:
    for char, drawn in letters.items():
        rows = drawn.split()
        assert len(rows) == high, char
        assert len({len(row) for row in rows}) == 1, char
        assert set(drawn) <= set("#. "), char


@pytest.mark.parametrize("size", SIZES)
def test_no_two_letters_of_chord_symbols_are_alike(size: int) -> None:
    bitmaps = {glyph(char, size) for char in NEEDED}
    assert len(bitmaps) == len(set(NEEDED))


@pytest.mark.parametrize("size", [5, 6, 7, 8, 9, 11, 13, 16, 21, 30, 48])
def test_every_letter_is_as_high_as_asked(size: int) -> None:
    assert {len(glyph(char, size)) for char in NEEDED + "?~X"} == {size}
    assert len(word("F♯m7", size)) == size


def test_every_letter_of_chords_is_built_from_strokes_and_has_ink() -> None:
    for char in NEEDED:
        for high in (6, 7, 10, 16, 40):
            assert any(any(row) for row in strokes.drawn(char, high)), char


def test_finger_numbers_are_three_pixels_wide() -> None:
    assert {len(font5.LETTERS[digit].split()[0]) for digit in "0123456789"} == {3}
