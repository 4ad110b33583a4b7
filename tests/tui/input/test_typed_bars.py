"""Bars as they are read while they are typed."""

import pytest

from tests.tui import charts
from tui.input.prompts import Prompt
from tui.input.typed_bars import bar_reading
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


@pytest.mark.parametrize(
    ("bar", "reading"),
    [
        ("Dm7", "Dm7 4 beats"),
        ("Dm7 Gb7", "Dm7 2 beats  G♭7 2 beats"),
        ("C / / G7", "C 3 beats  G7 1 beat"),
        ("N.C.", "N.C. 4 beats"),
    ],
)
def test_a_bar_is_read_as_it_is_typed(now: Rehearsal, bar: str, reading: str) -> None:
    assert bar_reading(Prompt("bar", typed=bar), now) == (reading, "")


@pytest.mark.parametrize("bar", ["Qm7", "Dm7 | G7", ""])
def test_a_bar_that_cannot_be_read_says_why(now: Rehearsal, bar: str) -> None:
    reading, fault = bar_reading(Prompt("bar", typed=bar), now)
    assert reading == ""
    assert fault
