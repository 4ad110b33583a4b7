from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from engine.practice.log import Memory, Try, remembered
from engine.practice.practice_plan import MOST_SPOTS, PLAY, TURN, bounds, tonight
from engine.practice.ranking import Ranking, rank
from tests.engine.practice.by_hand import TWO_FIVE, Chord, plan_of, song

NOW = datetime(2026, 3, 2, 20, 30)
YESTERDAY = NOW - timedelta(days=1)


def ranking(count: int = 9) -> Ranking:
    """A set with `count` different shifts: an upper voice that climbs by another way each time."""
    chords: list[Chord] = [(f"C{i}", 2, "5:36", f"1:{60 + i * (i + 1) // 2}") for i in range(count + 1)]
    return rank([(song(tempo=160.0), plan_of(chords))])


def practised(sign: str, when: datetime = YESTERDAY, tempo: float = 60.0, clean: bool = True) -> dict[str, Memory]:
    return remembered([Try(when, sign, tempo, clean)])


def test_half_an_hour_is_interleaved_turns_of_three_minutes_and_a_pause() -> None:
    evening = tonight(ranking(), {}, 30.0, NOW)
    assert [turn.minutes for turn in evening.turns] == [3.0] * 10
    assert [turn.spot is None for turn in evening.turns].index(True) == 8
    assert len(evening.spots) == 4


def test_no_spot_follows_itself_when_there_is_another() -> None:
    turns = [turn.spot for turn in tonight(ranking(), {}, 45.0, NOW).turns if turn.spot]
    assert all(one is not other for one, other in pairwise(turns))


@given(st.floats(0, 240), st.integers(0, 12))
def test_the_evening_fits_the_minutes_and_comes_back_to_each_spot(minutes: float, shifts: int) -> None:
    evening = tonight(ranking(shifts), {}, minutes, NOW)
    assert evening.minutes <= minutes + 1e-9
    assert len(evening.spots) <= MOST_SPOTS
    playing = [turn for turn in evening.turns if turn.spot is not None]
    for spot in evening.spots:
        assert len(playing) < 2 or sum(turn.spot is spot for turn in playing) >= 2
    assert all(turn.start + turn.minutes <= minutes + 1e-9 for turn in evening.turns)
    ends = [turn.start + turn.minutes for turn in evening.turns]
    assert all(abs(turn.start - end) < 1e-9 for turn, end in zip(evening.turns[1:], ends, strict=False))


@given(st.floats(0, 240))
def test_nobody_plays_on_for_long_without_a_pause(minutes: float) -> None:
    since = 0.0
    for turn in tonight(ranking(), {}, minutes, NOW).turns:
        since = since + turn.minutes if turn.spot else 0.0
        assert since <= PLAY + TURN


def test_less_than_a_turn_is_one_short_turn() -> None:
    (turn,) = tonight(ranking(), {}, 2.0, NOW).turns
    assert (turn.minutes, turn.spot is not None) == (2.0, True)


def test_no_time_or_no_shift_is_no_evening() -> None:
    assert tonight(ranking(), {}, 0.0, NOW).turns == ()
    assert tonight(rank([]), {}, 30.0, NOW).turns == ()


def test_what_is_due_after_a_night_comes_before_what_is_harder() -> None:
    here = ranking()
    easiest = here.shifts[-1].shift.sign
    first = tonight(here, practised(easiest), 30.0, NOW).spots[0]
    assert first.hard.shift.sign == easiest
    assert first.again


def test_what_was_begun_this_evening_comes_after_what_is_due() -> None:
    here = ranking()
    today, due = here.shifts[0].shift.sign, here.shifts[-1].shift.sign
    memories = practised(today, NOW) | practised(due)
    spots = tonight(here, memories, 30.0, NOW).spots
    assert [spot.hard.shift.sign for spot in spots[:2]] == [due, today]


def test_what_sits_comes_last() -> None:
    here = ranking()
    sign = here.shifts[0].shift.sign
    tries = [Try(when, sign, 160.0, True) for when in (YESTERDAY - timedelta(days=1), YESTERDAY)]
    evening = tonight(here, remembered(tries), 30.0, NOW)
    assert sign not in [spot.hard.shift.sign for spot in evening.spots]


def test_a_shift_that_left_the_set_is_forgotten_for_tonight() -> None:
    assert len(tonight(ranking(), practised("5C2 | - > 5D2 | -"), 30.0, NOW).spots) == 4


def test_a_spot_goes_from_one_chord_before_to_one_chord_after() -> None:
    chords: list[Chord] = [("Am7", 4, "5:45", "1:60 3:67"), *TWO_FIVE, ("Cmaj7", 4, "5:36", "1:59 3:64")]
    evening = tonight(rank([(song(tempo=300.0), plan_of(chords))]), {}, 30.0, NOW, (len(chords),))
    spots = {spot.hard.tightest.symbols: (spot.first, spot.last) for spot in evening.spots}
    assert spots["Dm7", "G7"] == (0, 3)
    assert spots["G7", "Cmaj7"] == (1, 4)


def test_at_the_ends_of_the_song_a_spot_is_shorter() -> None:
    spots = tonight(rank([(song(), plan_of(TWO_FIVE))]), {}, 30.0, NOW, (3,)).spots
    assert {(spot.first, spot.last) for spot in spots} == {(0, 2)}


def test_the_seam_of_a_vamp_is_practised_with_the_whole_vamp() -> None:
    place = rank([(song(), plan_of(TWO_FIVE))]).shifts[0].tightest
    assert bounds(replace(place, before=7, index=4), 20) == (4, 7)


@given(st.floats(1, 120))
def test_the_same_log_and_minutes_give_the_same_evening(minutes: float) -> None:
    memories = practised(ranking().shifts[3].shift.sign)
    assert tonight(ranking(), memories, minutes, NOW) == tonight(ranking(), memories, minutes, NOW)


@given(st.lists(st.tuples(st.integers(-1, 1), st.booleans()), min_size=1, max_size=12), st.integers(-1, 1))
def test_a_clock_thrown_a_day_forward_and_back_while_practising_spoils_no_evening(
    tries: list[tuple[int, bool]], day: int
) -> None:
    hard = ranking()
    signs = [one.shift.sign for one in hard.shifts]
    log = [
        Try(NOW + timedelta(days=shift, minutes=number), signs[number % 3], 60.0 + number, clean)
        for number, (shift, clean) in enumerate(tries)
    ]
    plan = tonight(hard, remembered(log), 30.0, NOW + timedelta(days=day))
    assert plan.minutes == 30.0
    assert len(plan.spots) == 4
    assert all(0 < spot.tempo <= spot.goal for spot in plan.spots)
