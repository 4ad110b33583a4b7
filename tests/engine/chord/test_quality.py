from itertools import combinations

import pytest

from engine.chord.quality import KNOWN, QUALITIES, quality_of
from engine.chord.symbol import read_symbol

EXTRA = ("b9", "9", "#9", "11", "#11", "b13", "13")


@pytest.mark.parametrize("quality", KNOWN)
def test_a_quality_means_what_its_symbol_is_read_as_and_is_called_so_again(quality: str) -> None:
    degrees = read_symbol("C" + quality).degrees
    assert " ".join(degrees) == QUALITIES[quality]
    assert quality_of(degrees) == quality


@pytest.mark.parametrize(
    ("degrees", "quality"),
    [("1 3 5 13", "(add13)"), ("1 b3 5 b7 b9", "m7(b9)"), ("1 3 5 b7 9 b13", "9(b13)"), ("1 5 b7", "7(no3)"),
     ("1 3 5 7 13", "maj7(13)"), ("1 3 5 b9", "(b9)"), ("1 3 5 b7 #9 13", "7#9(13)"), ("1 5 6", "6(no3)"),
     ("1 b3 b7", "m7(no5)"), ("1 3 7 9", "maj9(no5)"), ("1 4 5 6", "sus4(add6)")],
)  # fmt: skip
def test_what_no_table_has_is_the_nearest_quality_and_what_comes_on_top(degrees: str, quality: str) -> None:
    assert quality_of(tuple(degrees.split())) == quality


@pytest.mark.parametrize(
    "base", ["1 3 5", "1 b3 5", "1 3 5 b7", "1 3 5 7", "1 b3 5 b7", "1 b3 b5 b7", "1 4 5 b7", "1 3 #5 b7"]
)
def test_a_chord_with_any_tensions_reads_as_it_is_called(base: str) -> None:
    for count in range(3):
        for extra in combinations(EXTRA, count):
            if any({natural, sign + natural} <= set(extra) for natural in ("9", "11", "13") for sign in "b#"):
                continue  # an altered tone takes the place of the natural one
            degrees = {*base.split(), *extra}
            assert set(read_symbol("C" + quality_of(tuple(sorted(degrees)))).degrees) == degrees
