from fractions import Fraction
from itertools import pairwise

import pytest

from engine.performance.count_in import count_in, count_seconds, usual_count
from engine.theory.meter import meter


def spoken(*arguments, **more):
    return " ".join(click.spoken for click in count_in(*arguments, **more))


@pytest.mark.parametrize(
    ("signature", "tempo", "feel", "words", "said"),
    [
        ("4/4", 140, "swing", "", "1 2 1 2 3 4"),
        ("4/4", 140, "swing", "two bars", "1 2 1 2 3 4"),
        ("4/4", 140, "swing", "one bar", "1 2 3 4"),
        ("4/4", 66, "ballad", "", "1 2 3 4"),
        ("4/4", 140, "straight", "", "1 2 3 4"),
        ("3/4", 120, "straight", "", "1 2 3 1 2 3"),
        ("6/8", 60, "straight", "", "1 2 1 2"),
        ("7/8", 180, "straight", "one bar", "1 2 1 2 1 2 3"),
        ("5/8", 180, "straight", "one bar", "1 2 3 1 2"),
        ("5/4", 120, "straight", "one bar", "1 2 3 4 5"),
        ("4/4", 120, "straight", "none", ""),
        ("4/4", 120, "straight", "3", "2 3 4"),
        ("4/4", 45, "ballad", "one bar", "1 & 2 & 3 & 4 &"),
    ],
)
def test_each_feel_is_counted_as_players_count_it(signature, tempo, feel, words, said):
    assert spoken(meter(signature), tempo, feel, words) == said


def test_the_first_bar_of_a_swing_count_is_in_half_notes():
    clicks = count_in(meter("4/4"), 120, "swing")
    assert [click.seconds for click in clicks] == [0, 1, 2, 2.5, 3, 3.5]


@pytest.mark.parametrize("signature", ["2/4", "3/4", "4/4", "5/8", "6/8", "7/8", "9/8", "12/8", "2/2"])
@pytest.mark.parametrize("bars", ["one bar", "two bars"])
def test_a_count_lasts_its_bars(signature, bars):
    wanted = meter(signature)
    seconds = count_seconds(count_in(wanted, 97.3, "straight", bars))
    assert seconds == pytest.approx((1 if bars == "one bar" else 2) * wanted.beats * wanted.beat_seconds(97.3))


def test_pickup_beats_are_left_out_of_the_count():
    clicks = count_in(meter("4/4"), 120, "straight", "one bar", Fraction(1))
    assert [click.spoken for click in clicks] == ["1", "2", "3"]
    assert count_seconds(clicks) == pytest.approx(1.5)


def test_a_long_pickup_gets_another_bar_so_that_the_tempo_is_heard():
    assert spoken(meter("4/4"), 120, "straight", "one bar", Fraction(3)) == "1 2 3 4 1"


def test_an_eighth_as_pickup_leaves_half_a_beat_after_the_last_click():
    last = count_in(meter("4/4"), 120, "straight", "one bar", Fraction(1, 2))[-1]
    assert (last.spoken, last.lasts) == ("4", pytest.approx(0.25))


def test_one_is_the_strongest_click_and_a_group_starts_stronger_than_its_beats():
    assert [click.strength for click in count_in(meter("7/8"), 180, "straight", "one bar")] == [3, 1, 2, 1, 2, 1, 1]


def test_clicks_follow_each_other_without_a_gap():
    clicks = count_in(meter("4/4"), 133, "swing", "two bars", Fraction(1, 2))
    for click, following in pairwise(clicks):
        assert click.seconds + click.lasts == pytest.approx(following.seconds)


@pytest.mark.parametrize("words", ["three bars", "a bit", "-1", "17", "1.5"])
def test_a_count_in_other_words_is_refused(words):
    with pytest.raises(ValueError, match="say one bar"):
        count_in(meter("4/4"), 120, "straight", words)


@pytest.mark.parametrize("tempo", [0, -60])
def test_there_is_no_count_without_a_tempo(tempo):
    with pytest.raises(ValueError, match="tempo"):
        count_in(meter("4/4"), tempo)


def test_a_slow_tune_in_four_is_counted_as_a_ballad():
    assert usual_count(meter("4/4"), 60, "swing") == "one bar"
