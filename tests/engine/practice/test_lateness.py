"""How late each shift came when a song was played in time."""

from datetime import datetime, timedelta

import pytest

from engine.practice.lateness import WORST, Late, last_heard, ride
from engine.practice.log import Try, line_of, read_log, ride_line
from tests.engine.practice.by_hand import TWO_FIVE, plan_of

PLAN = plan_of(TWO_FIVE * 2)
NOW = datetime(2026, 3, 2, 20, 30)


def test_the_latest_shifts_of_a_ride_are_kept_with_their_seconds() -> None:
    kept = ride(NOW, "Ropewalk", 120.0, PLAN, {1: 0.08, 2: 0.3, 3: 0.01})
    assert [seconds for _, seconds in kept.late] == [0.3, 0.08]
    assert kept.late[0][0] == "5G2 | 1B3 3F4 > 5C2 | 1B3 3E4"
    assert kept.shifts == 3


def test_a_shift_met_twice_counts_with_the_middle_of_its_seconds() -> None:
    assert [seconds for _, seconds in ride(NOW, "Ropewalk", 120.0, PLAN, {1: 0.1, 4: 0.3}).late] == [0.2]


def test_the_first_chord_is_no_shift() -> None:
    assert ride(NOW, "Ropewalk", 120.0, PLAN, {0: 0.4}).shifts == 0


def test_hands_in_time_leave_nothing_but_their_number() -> None:
    kept = ride(NOW, "Ropewalk", 120.0, PLAN, {1: -0.1, 2: 0.02})
    assert (kept.shifts, kept.late) == (2, ())


def test_a_ride_stays_small() -> None:
    long = plan_of([("C", 1, f"5:{36 + n % 12}", f"1:{60 + n % 11}") for n in range(100)])
    assert len(ride(NOW, "Long", 120.0, long, {n: 0.1 + n / 100 for n in range(100)}).late) == WORST


def test_reading_a_ride_gives_the_same_ride_beside_the_tries() -> None:
    kept = ride(NOW, "Ropewalk", 92.5, PLAN, {1: 0.08, 2: 0.3})
    one = Try(NOW, "5C2 | - > 5D2 | -", 72.0, True, ("C", "D"), "Ropewalk", 0.12)
    log = read_log(f"{line_of(one)}\n{ride_line(kept)}\n")
    assert (log.tries, log.rides, log.bad) == ((one,), (kept,), ())


@pytest.mark.parametrize("slip", ['"late": {"a": "b"}', '"late": {"a": 1e9}', '"late": {"a": true}'])
def test_a_ride_that_makes_no_sense_is_said_and_skipped(slip: str) -> None:
    line = '{"when": "2026-03-02T20:30:00", "song": "R", "tempo": 92, "shifts": 1, ' + slip + "}"
    log = read_log(line)
    assert log.rides == ()
    assert len(log.bad) == 1


def test_what_was_heard_last_is_what_counts() -> None:
    before, after = Late(0.3, 80.0, NOW), Late(0.1, 92.0, NOW + timedelta(days=1))
    assert last_heard([("a", after), ("a", before)]) == {"a": after}


def test_a_try_that_was_heard_counts_like_a_ride() -> None:
    one = Try(NOW, "5C2 | - > 5D2 | -", 72.0, True, late=0.12)
    assert read_log(line_of(one)).heard() == {one.sign: Late(0.12, 72.0, NOW)}
