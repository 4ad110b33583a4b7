"""Whatever stands in a file, its reader answers soon, and in words that lie inside it."""

import contextlib
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.song.reader import song_from_chart
from tests.engine.song.songs import DEMO, LANTERN, faults, short

SONGS = [LANTERN, *(file.read_text(encoding="utf-8") for file in sorted((DEMO / "songs").glob("*.toml")))]


@given(st.text(max_size=200))
def test_any_text_is_a_song_or_a_list_of_faults(text: str) -> None:
    for fault in faults(text):
        assert fault.line >= 1
        assert fault.column >= 1


@given(st.text("|:/%[]().,x123 CDm7b#s\n-N", max_size=80))
def test_any_line_of_signs_is_a_chart_or_a_list_of_faults(bars: str) -> None:
    with contextlib.suppress(ChartError):
        assert song_from_chart(bars).sections[0].bars


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(SONGS),
    st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 12), st.text("|:/%[]()x31.\"\n#=é\t\\',{}", max_size=3)), max_size=5
    ),
)
def test_a_song_with_slips_of_the_pen_is_read_or_its_faults_lie_inside_it(
    text: str, slips: list[tuple[float, int, str]]
) -> None:
    for place, lost, typed in slips:
        start = int(place * len(text))
        text = text[:start] + typed + text[start + lost :]
    lines = text.split("\n")
    for fault in faults(text):
        assert 1 <= fault.line <= len(lines) + 1


@pytest.mark.parametrize(
    "bars",
    [
        "C" * 60_000,
        "C(" + " " * 60_000 + ")",
        "(" * 60_000,
        "|" * 60_000,
        "| C " * 8_000,
        "/" * 60_000,
        "[1" + "," * 60_000,
        "x" * 60_000,
        "%" * 60_000,
    ],
    ids=lambda bars: str(bars[:4]),
)
def test_a_huge_file_is_answered_at_once(bars: str) -> None:
    start = perf_counter()
    assert faults(short(bars))
    assert perf_counter() - start < 10


def test_a_file_of_nothing_but_faults_is_told_as_far_as_anyone_reads() -> None:
    assert 100 <= len(faults(short("| Q " * 5000))) <= 300


def test_a_huge_roadmap_is_answered_at_once() -> None:
    assert faults(f'roadmap = "A{" " * 60_000}x"\n' + short("| C |"))
