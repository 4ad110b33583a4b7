"""Where a band starts again: sections, bars before them, the last ending, loops."""

import pytest

from tests.tui import charts
from tests.tui.walking import at, forwards
from tui.session import navigation
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal


def test_a_loop_goes_round(harbour: Rehearsal) -> None:
    loop = navigation.looped(harbour, 3, 1)
    assert [forwards(loop, n).step for n in range(6)] == [0, 1, 2, 3, 1, 2]


def test_a_section_asked_for_again_is_its_next_pass(harbour: Rehearsal) -> None:
    first = navigation.to_section(harbour, "Verse")
    second = navigation.to_section(first, "Verse")
    third = navigation.to_section(second, "Verse")
    assert [at(now)[1] for now in (first, second, third, navigation.to_section(third, "Verse"))] == [1, 2, 3, 1]


def test_two_before_the_bridge_is_two_bars_before_it(harbour: Rehearsal) -> None:
    now = navigation.to_section(harbour, "Bridge", bars_early=2)
    assert at(now) == ("Verse", 2, 3)


def test_an_unknown_section_names_those_there_are(harbour: Rehearsal) -> None:
    with pytest.raises(NotThere, match="Intro, Verse, Bridge"):
        navigation.to_section(harbour, "Coda")


def test_bars_back_count_bars_and_not_chords(harbour: Rehearsal) -> None:
    verse = forwards(navigation.to_section(harbour, "Verse"), 4)
    assert at(verse) == ("Verse", 1, 4)
    assert at(navigation.back_bars(verse, 2)) == ("Verse", 1, 2)
    assert at(navigation.back_bars(verse, 4)) == ("Intro", 1, 2)
    assert navigation.back_bars(verse, 99).step == 0


def test_from_the_end_one_bar_back_is_the_bar_before_the_last(harbour: Rehearsal) -> None:
    end = navigation.to_step(harbour, 999)
    assert at(navigation.back_bars(end, 0)) == ("Tag", 1, 1)
    assert at(navigation.back_bars(end, 1)) == ("Vamp", 1, 2)


def test_a_bar_is_counted_in_its_section(harbour: Rehearsal) -> None:
    verse = navigation.to_section(harbour, "Verse")
    assert at(navigation.to_bar(verse, 3)) == ("Verse", 1, 3)
    with pytest.raises(NotThere, match="no bar 5"):
        navigation.to_bar(verse, 5)


def test_down_and_up_go_section_by_section(harbour: Rehearsal) -> None:
    verse = navigation.neighbour_section(harbour, 1)
    assert at(verse) == ("Verse", 1, 1)
    inside = stand.forward(verse)
    assert navigation.neighbour_section(inside, -1).step == verse.step
    assert at(navigation.neighbour_section(verse, -1)) == ("Intro", 1, 1)


def test_the_last_ending_is_its_bracket() -> None:
    played = charts.song(
        "Two Windows", charts.section("A", "C", "F", "G", "C", endings={3: 1, 4: 2}), roadmap=("A", "A")
    )
    now = stand.opened(charts.harbour_set(played), charts.unfold)
    assert at(navigation.last_ending(now)) == ("A", 2, 4)


def test_without_brackets_the_last_ending_is_the_last_section(harbour: Rehearsal) -> None:
    assert at(navigation.last_ending(harbour)) == ("Tag", 1, 1)
