from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.formats.sheets.grid import LABEL, SIZES, Size, few_wrap, fits, lines
from engine.formats.sheets.paper import POINT, SMALLEST
from engine.formats.sheets.roadmap import played_sections
from engine.song.model import Bar, Event, Section
from engine.song.reader import song_from_chart
from engine.theory.meter import Meter

WIDTH = 182.0
SYMBOLS = ("C", "F#m7b5", "Bbmaj7", "C7b9", "Ebm(maj7)", "A7sus4", "N.C.", "G13", "Dm7/G")


def measure(text, ink):
    """A typeface whose every letter is six tenths of its size wide."""
    return len(text) * ink.size * POINT * 0.6


def chart(bars: str, meter: str = "4/4", size: Size = SIZES[0]):
    song = song_from_chart(bars, meter=meter)
    return lines(played_sections(song), song.meter, size, WIDTH, measure)


@st.composite
def sections(draw):
    meter = draw(st.sampled_from((Meter(4, 4), Meter(3, 4), Meter(6, 8), Meter(7, 8))))
    bars = []
    for _ in range(draw(st.integers(1, 14))):
        cuts = sorted(draw(st.sets(st.integers(1, meter.beats), max_size=4)) | {1})
        ends = [*cuts[1:], meter.beats + 1]
        symbols = [draw(st.sampled_from(SYMBOLS)) for _ in cuts]
        events = tuple(
            Event(Fraction(cut), Fraction(end - cut), symbol, None)
            for cut, end, symbol in zip(cuts, ends, symbols, strict=True)
        )
        bars.append(Bar(meter, events, draw(st.booleans()), draw(st.sampled_from((0, 0, 0, 2, 3)))))
    return Section("Verse", tuple(bars))


@settings(max_examples=40)
@given(sections(), st.sampled_from(SIZES))
def test_chords_stand_in_their_bars_in_order_and_never_touch(section, size):
    for line in lines((section,), section.bars[0].meter, size, WIDTH, measure):
        for cell in line.cells:
            assert all(before.x + before.width <= after.x + 1e-6 for before, after in pairwise(cell.placed))
            assert all(one.x > 0 and one.x + one.width < cell.width for one in cell.placed)


@settings(max_examples=40)
@given(sections(), st.sampled_from(SIZES))
def test_bars_fill_their_line_without_gap_or_overlap_and_none_is_lost(section, size):
    found = lines((section,), section.bars[0].meter, size, WIDTH, measure)
    assert [cell.bar for line in found for cell in line.cells] == list(section.bars)
    for line in found:
        assert all(abs(a.x + a.width - b.x) < 1e-6 for a, b in pairwise(line.cells))
        assert line.cells[-1].x + line.cells[-1].width <= WIDTH - LABEL + 1e-6


def test_a_chord_stands_on_its_beat_where_there_is_room():
    (line,) = chart("| C | F G | C / / G | C |")
    second = line.cells[1]
    assert second.placed[1].x - second.placed[0].x == pytest.approx(second.width / 2, rel=0.15)


def test_uneven_chords_are_counted_with_slashes_and_even_ones_are_not():
    (line,) = chart("| C | F G | C / / G | Am |")
    assert [[one.text for one in cell.placed] for cell in line.cells] == [
        ["C"], ["F", "G"], ["C", "/", "/", "G"], ["Am"]
    ]  # fmt: skip


def test_the_bar_before_again_is_a_sign_but_not_at_the_start_of_a_line():
    first, second = chart("| C | C | G | C | C | G | G | C |")
    assert [cell.same for cell in first.cells] == [False, True, False, False]
    assert [cell.same for cell in second.cells] == [False, False, True, False]


def test_bars_stand_under_bars():
    first, second = chart("| C | F | G7b9sus4 | C | C | F | G | C |")
    assert [cell.x for cell in first.cells] == [cell.x for cell in second.cells]


def test_a_meter_is_told_where_it_changes():
    (line,) = chart("| C | (2/4) F | G | C |")
    assert [cell.meter for cell in line.cells] == ["", "2/4", "4/4", ""]


DENSE = "C#m7b5 F#7b9 Bm(maj7) E7sus4"


def test_one_dense_row_wraps_and_the_others_stay_as_they_are():
    plain = chart("| C | F | G | C |" * 3)
    found = chart(f"| C | F | G | C | C | {DENSE} | {DENSE} | C | C | F | G | C |")
    assert [len(line.cells) for line in found] == [4, 2, 2, 4]
    assert [line.part for line in found] == [0, 0, 1, 0]
    assert [cell.x for cell in found[-1].cells] == [cell.x for cell in plain[-1].cells]
    assert fits(found, SIZES[0], measure)
    assert few_wrap(found)


def test_where_many_rows_wrap_the_chart_says_so():
    assert not few_wrap(chart(f"| C | {DENSE} | {DENSE} | C |" * 3))


def test_a_row_is_halved_until_its_chords_can_be_read():
    found = chart(f"| {DENSE} |" * 4, size=Size(4, 20))
    assert [len(line.cells) for line in found] == [1, 1, 1, 1]
    assert [line.part for line in found] == [0, 1, 2, 3]


def test_a_bar_with_too_many_long_chords_does_not_fit():
    size = Size(8, 28)
    found = chart("| C#m7b5(push) F#7b9sus4 Bm(maj7)/A# E7sus4/F# |" * 8, size=size)
    assert not fits(found, size, measure)


def test_nothing_is_set_smaller_than_can_be_read():
    assert min(size.points for size in SIZES) >= SMALLEST == 10
