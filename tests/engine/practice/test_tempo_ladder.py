from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.practice.difficulty import load
from engine.practice.log import Memory, Try, remembered
from engine.practice.ranking import HardShift, rank
from engine.practice.tempo_ladder import (
    after_clean,
    after_stop,
    done,
    equal_rungs,
    first_tempo,
    next_tempo,
    notch,
    rungs,
    sits,
)
from engine.song.section_tempo import FASTEST, SLOWEST
from tests.engine.practice.by_hand import TWO_FIVE, plan_of, song

NOW = datetime(2026, 3, 2, 20, 30)
YESTERDAY = NOW - timedelta(days=1)
tempos = st.floats(SLOWEST, FASTEST)


def hardest(tempo: float = 200.0) -> HardShift:
    return rank([(song(tempo=tempo), plan_of(TWO_FIVE))]).shifts[0]


def memory(*tries: tuple[float, bool], when: datetime = NOW) -> Memory:
    return remembered([Try(when, "sign", tempo, clean) for tempo, clean in tries])["sign"]


def test_a_clean_try_at_sixty_asks_for_sixty_three() -> None:
    assert after_clean(60.0, 132.0) == 63.0
    assert after_clean(72.0, 132.0) == 76.0


@given(tempos, tempos)
def test_a_clean_try_goes_up_three_or_four_and_never_over_the_goal(tempo: float, goal: float) -> None:
    up = after_clean(tempo, goal)
    assert up <= goal
    assert up == goal or up - tempo == pytest.approx(notch(tempo))


@given(tempos, tempos)
def test_a_stop_takes_back_what_a_clean_try_gave(tempo: float, goal: float) -> None:
    if tempo <= goal:
        assert after_stop(after_clean(tempo, goal)) <= max(tempo, SLOWEST) + 1e-9
    assert SLOWEST <= after_stop(tempo) <= tempo


@given(tempos, tempos)
def test_the_ladder_climbs_to_the_goal_and_ends_there(tempo: float, goal: float) -> None:
    ladder = rungs(tempo, goal)
    assert ladder[-1] == goal
    assert all(low < high for low, high in pairwise(ladder))


@given(tempos)
def test_a_new_spot_begins_where_half_the_time_is_enough(tempo: float) -> None:
    hard = hardest(tempo)
    begin = first_tempo(hard, None, NOW)
    gives = hard.tightest.available * tempo / begin
    assert begin <= tempo
    assert load(hard.needs, gives) <= 0.5 + 1e-9 or begin == SLOWEST


def test_the_same_evening_goes_on_from_the_last_try() -> None:
    assert first_tempo(hardest(), memory((72, True)), NOW) == 76.0
    assert first_tempo(hardest(), memory((76, False)), NOW) == 72.0


def test_the_next_day_begins_a_notch_under_the_best() -> None:
    assert first_tempo(hardest(), memory((72, True), (76, True), (80, False), when=YESTERDAY), NOW) == 72.0


def test_after_an_evening_of_stops_the_next_begins_lower_still() -> None:
    assert first_tempo(hardest(), memory((40, False), when=YESTERDAY), NOW) == 37.0


def test_a_song_taken_slower_tonight_lowers_the_start() -> None:
    assert first_tempo(hardest(60.0), memory((120, True), when=YESTERDAY), NOW) == 60.0
    assert next_tempo(memory((120, True)), 60.0) == 60.0
    assert next_tempo(memory((120, False)), 60.0) == 60.0


def test_three_clean_tries_at_the_songs_tempo_are_enough() -> None:
    assert not done(None, 120.0)
    assert not done(memory((120, True), (120, True)), 120.0)
    assert done(memory((120, True), (120, True), (120, True)), 120.0)
    assert not done(memory((120, True), (120, True), (116, True)), 120.0)


def test_a_shift_sits_for_good_after_two_evenings_at_its_tempo() -> None:
    one = memory(*[(120, True)] * 3, when=YESTERDAY)
    assert not sits(one, 120.0, NOW)
    assert sits(one, 120.0, YESTERDAY)
    two = remembered([Try(YESTERDAY, "sign", 120, True), Try(NOW, "sign", 120, True)])["sign"]
    assert sits(two, 120.0, NOW + timedelta(days=9))


def test_a_climb_has_few_rungs_in_whole_beats_up_to_the_songs_own_tempo() -> None:
    assert equal_rungs(100) == (60, 70, 80, 90, 100)
    assert equal_rungs(92.5) == (56, 65, 74, 83, 92.5)
    assert equal_rungs(100, rungs=1) == (100,)
