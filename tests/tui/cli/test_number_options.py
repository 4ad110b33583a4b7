"""Numbers on the command line, and how a person's slips in them are answered."""

import click
import pytest

from tui.cli.number_options import REACH, SONG_NUMBER, Amount, Count


@pytest.mark.parametrize("text", ["119", "331", "wide", "nan", "inf", ""])
def test_a_reach_that_no_hand_has_is_refused_with_its_bounds_and_unit(text: str) -> None:
    with pytest.raises(click.BadParameter) as refused:
        REACH.convert(text, None, None)
    assert refused.value.message == f"{text} is no number from 120 to 330 mm."


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "two"])
def test_songs_are_counted_from_one(text: str) -> None:
    with pytest.raises(click.BadParameter, match="whole number from 1 up"):
        SONG_NUMBER.convert(text, None, None)


def test_bounds_belong_to_what_is_allowed_and_a_comma_may_stand_for_the_point() -> None:
    assert [Amount(1, 2).convert(text, None, None) for text in ("1", "1,5", "2")] == [1.0, 1.5, 2.0]
    assert Count(1, 4).convert("4", None, None) == 4
