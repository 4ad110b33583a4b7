"""Where a jump goes while it is typed, and what is said of it."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tui.input import jumps
from tui.input.prompts import Prompt
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


@pytest.mark.parametrize(
    ("typed", "early", "name", "bar"),
    [("2c", 2, "c", 0), ("ver", 0, "ver", 0), ("b12", 0, "b", 12), ("-2", 2, "", 0), ("12", 12, "", 0), ("", 0, "", 0)],
)
def test_a_jump_is_bars_before_a_name_and_a_bar_after_it(typed: str, early: int, name: str, bar: int) -> None:
    assert jumps.goal(Prompt("jump", typed=typed)) == jumps.Goal(early, name, bar)


def test_the_section_again_at_the_end_is_the_last_one(now: Rehearsal) -> None:
    end = replace(now, step=len(now.steps))
    again = jumps.landed(Prompt("jump"), end)
    assert again.now is not None
    assert again.now.section == "Tag"


def test_a_section_that_is_not_there_is_no_place_to_land(now: Rehearsal) -> None:
    with pytest.raises(NotThere, match="no section has the letter q"):
        jumps.landed(Prompt("jump", typed="q"), now)


def test_a_jump_goes_once_to_the_section_that_is_typed(now: Rehearsal) -> None:
    prompt, there = jumps.went(Prompt("jump", typed="b"), now)
    assert there.now is not None
    assert (prompt.subject, there.now.section) == ("Bridge", "Bridge")
    assert jumps.went(prompt, there) == (prompt, there)
