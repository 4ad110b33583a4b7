from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from engine.planning.model import Request
from engine.practice.log import Try
from engine.practice.strain import CAUTION, ENOUGH, advice, in_a_row, narrower, sitting, stretches, wide_hands
from tests.engine.practice.by_hand import Chord, plan_of, song

NOW = datetime(2026, 3, 2, 20, 30)
REACH = (200.0, 200.0)
TENTHS: list[Chord] = [("C", 1, "5:48 1:62", "1:64"), ("G7", 1, "5:43 1:47", "1:59 5:74"), ("C", 2, "5:36", "1:64")]


def tries(*minutes: float, sign: str = "a") -> list[Try]:
    return [Try(NOW + timedelta(minutes=minute), sign, 60.0, True) for minute in minutes]


def test_a_stretch_within_a_white_key_of_the_reach_is_wide() -> None:
    steps = plan_of(TENTHS).steps
    # A ninth from C is 188 mm, a minor tenth from B above 200.
    assert [wide_hands(step, REACH) for step in steps] == [(True, False), (False, True), (False, False)]


def test_wide_stretches_are_counted_and_told_a_minute() -> None:
    found = stretches((song(tempo=120.0), plan_of(TENTHS)), REACH)
    assert (found.left, found.right, found.count) == (1, 1, 2)
    assert found.a_minute == 60.0


def test_a_larger_hand_has_fewer_wide_stretches() -> None:
    assert stretches((song(), plan_of(TENTHS)), (260.0, 260.0)).count == 0


def test_an_empty_song_has_none() -> None:
    assert stretches((song(), plan_of([])), REACH).a_minute == 0.0


def test_tries_of_one_shift_in_a_row_are_counted_from_the_end() -> None:
    assert in_a_row(tries(0, 1, 2), NOW + timedelta(minutes=3)) == 3
    assert in_a_row([*tries(0, 1), *tries(2, sign="b")], NOW + timedelta(minutes=3)) == 1
    assert in_a_row([], NOW) == 0


def test_a_pause_begins_a_new_row_and_a_new_sitting() -> None:
    now = NOW + timedelta(minutes=11)
    assert in_a_row(tries(0, 1, 10), now) == 1
    assert sitting(tries(0, 1, 10), now) == 1.0


def test_half_an_hour_without_a_pause_is_half_an_hour_at_the_keys() -> None:
    assert sitting(tries(*range(0, 31, 3)), NOW + timedelta(minutes=30)) == 30.0


def test_yesterday_does_not_count() -> None:
    assert sitting(tries(-1440, -1439), NOW) == 0.0
    assert in_a_row(tries(-1440, -1439), NOW) == 0


def test_six_in_a_row_ask_for_another_spot() -> None:
    assert advice(tries(0, 0.5, 1, 1.5, 2), NOW + timedelta(minutes=3)) == ()
    (words,) = advice(tries(*[i / 2 for i in range(ENOUGH)]), NOW + timedelta(minutes=3))
    assert words.startswith("6 tries in a row")


def test_a_long_sitting_asks_for_a_rest_first() -> None:
    words = advice(tries(*range(0, 28, 2)), NOW + timedelta(minutes=27))
    assert words[0] == "27 minutes without a pause: rest your hands for five"


def test_many_wide_stretches_offer_the_narrower_version() -> None:
    found = stretches((song(tempo=120.0), plan_of(TENTHS)), REACH)
    assert "narrower version" in advice([], NOW, found)[0]


def test_the_narrower_version_reaches_a_white_key_less_until_it_is_too_little() -> None:
    request: Request | None = Request()
    seen = []
    while request is not None:
        seen.append(request.reach[0])
        request = narrower(request)
    assert seen[0] - seen[1] == 23.5
    assert len(seen) < 8
    assert seen[-1] > 120


def test_the_caution_says_to_stop_before_pain_and_who_decides() -> None:
    words = " ".join(CAUTION)
    assert "stop before anything hurts" in words
    assert "teachers and clinicians decide" in words


@given(st.lists(st.tuples(st.datetimes(), st.sampled_from("ab")), max_size=9), st.datetimes())
def test_whatever_the_clock_said_something_sensible_is_counted(said: list[tuple[datetime, str]], now: datetime) -> None:
    log = [Try(when, sign, 60.0, True) for when, sign in said]
    assert 0 <= in_a_row(log, now) <= len(log)
    assert 0.0 <= sitting(log, now) <= 24 * 60
    assert isinstance(advice(log, now), tuple)
