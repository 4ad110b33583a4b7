from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tui.drawn_text import picture_text
from tests.tui.widgets.planned import exactly
from tui.widgets.cells import Rows
from tui.widgets.lettering import chord_rows, in_ascii, pretty_words, words_rows, written

SYMBOLS = [
    "C", "F#m7b5", "Ebmaj7/G", "Bb13sus4", "G7(b9,#11)/Db", "Ddim7", "Caug", "Abm(maj7)/Eb", "C6/9", "F#/A#", "N.C.",
    "Am7", "E7alt", "H7", "Dbadd9", "Gno3", "C5", "Fm11", "A7#5#9",
]  # fmt: skip
ANY_SYMBOL = st.one_of(
    st.sampled_from(SYMBOLS), st.text(max_size=30), st.from_regex(r"[A-H][#b]?(m|maj|dim)?\d{0,2}", fullmatch=True)
)


def ink(rows: Rows) -> int:
    """Return the number of rows with any ink."""
    return sum(any(char.strip() for char, _ in row) for row in rows)


@settings(max_examples=150, deadline=None)
@given(ANY_SYMBOL, st.integers(1, 300), st.integers(1, 100), st.sampled_from(["words", "signs"]), st.booleans())
def test_any_symbol_fits_any_panel(symbol: str, width: int, height: int, style: str, ascii_only: bool) -> None:
    assert exactly(chord_rows(symbol, width, height, "chord", style, ascii_only), width, height)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=60), st.integers(1, 300), st.integers(1, 100), st.sampled_from(["left", "centre"]))
def test_any_cue_fits_any_panel(cue: str, width: int, height: int, align: str) -> None:
    assert exactly(words_rows(cue, width, height, "cue", align), width, height)


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_the_present_chord_fills_most_of_eight_rows(symbol: str) -> None:
    assert ink(chord_rows(symbol, 48, 8)) >= 5


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_a_chord_is_drawn_and_not_typed_in_five_rows_of_thirty_columns(symbol: str) -> None:
    assert not any(char.isalnum() for char in picture_text(chord_rows(symbol, 30, 5, "next")))


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_more_room_never_makes_a_chord_lower(symbol: str) -> None:
    heights = [ink(chord_rows(symbol, 6 * height, height)) for height in range(3, 40, 4)]
    assert heights == sorted(heights)


@pytest.mark.parametrize("size", [(48, 8), (60, 14), (120, 22)])
def test_no_two_symbols_look_the_same(size: tuple[int, int]) -> None:
    assert len({picture_text(chord_rows(symbol, *size)) for symbol in SYMBOLS}) == len(SYMBOLS)


@pytest.mark.parametrize("root", "ABCDEFGH")
def test_flat_sharp_and_natural_roots_differ_even_in_the_smallest_letters(root: str) -> None:
    assert len({picture_text(chord_rows(root + sign, 20, 3)) for sign in ("", "b", "#")}) == 3


@pytest.mark.parametrize(
    ("symbol", "words", "signs"),
    [
        ("Ebmaj7", "E♭maj7", "E♭Δ7"),
        ("F#m7b5", "F♯m7♭5", "F♯ø7"),
        ("Ddim7/Ab", "Ddim7/A♭", "D°7/A♭"),
        ("C7#9", "C7♯9", "C7♯9"),
        ("Bbb", "B♭♭", "B♭♭"),
        ("N.C.", "N.C.", "N.C."),
    ],
)
def test_a_symbol_is_written_in_words_or_in_signs(symbol: str, words: str, signs: str) -> None:
    assert (written(symbol), written(symbol, "signs")) == (words, signs)


def test_a_plain_font_gets_letters_for_signs() -> None:
    assert in_ascii("F♯ø7/B♭") == "F#m7b57/Bb"


def test_a_long_cue_gets_narrow_letters_before_it_is_cut() -> None:
    cue = "Drums out second time"
    narrow, cut = words_rows(cue, 80, 3, "cue"), words_rows(cue, 30, 3, "cue")
    assert {char for row in narrow for char, _ in row} & set("▌▐▙▟▛▜")
    assert picture_text(cut) != picture_text(words_rows("Drums out", 30, 3, "cue"))


def test_letters_that_nobody_drew_are_typed() -> None:
    assert "夜" in picture_text(words_rows("夜", 40, 3, "cue"))


def test_accents_are_left_out_of_drawn_words() -> None:
    assert words_rows("Café", 40, 3, "cue") == words_rows("CAFE", 40, 3, "cue")


def test_a_half_diminished_chord_at_its_usual_size(same_picture: Callable[[Rows], None]) -> None:
    same_picture(chord_rows("F#m7b5/C", 48, 8))


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("key Eb to F#m, Pier", "key E♭ to F♯m, Pier"),
        ("the tune tops out on Bb4", "the tune tops out on B♭4"),
        ("a Bar of Ebb", "a Bar of E♭♭"),
        ("Abbey, Bbq and Cb-1", "Abbey, Bbq and C♭-1"),
    ],
)
def test_keys_and_notes_among_words_have_real_signs(words: str, shown: str) -> None:
    assert pretty_words(words) == shown
