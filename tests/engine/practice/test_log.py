"""The log is the player's own file: it may be cut, mended by hand, broken by a crash, and dated by a wrong clock."""

import json
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.practice.log import Try, caution_line, evening, line_of, read_log, remembered, taken_back_line

SIGN = "5G2 | 1B3 3F4 > 5C2 | 1B3 3E4"
MONDAY = datetime(2026, 3, 2, 20, 30)


def try_(minutes: float = 0, tempo: float = 72.0, clean: bool = True, days: int = 0, sign: str = SIGN) -> Try:
    return Try(MONDAY + timedelta(days=days, minutes=minutes), sign, tempo, clean, ("G7", "Cmaj7"), "Ropewalk")


def text(*tries: Try) -> str:
    return "".join(line_of(one) + "\n" for one in tries)


def spoilt(good: str, bad: str) -> str:
    return line_of(try_()).replace(good, bad)


tries = st.builds(
    Try,
    st.datetimes(timezones=st.sampled_from((None, UTC, timezone(timedelta(hours=5, minutes=30))))).map(
        lambda when: when.replace(microsecond=0)
    ),
    st.text(min_size=1).map(str.strip).filter(bool),
    st.floats(1, 1000) | st.integers(1, 1000).map(float),
    st.booleans(),
    st.tuples(st.text(), st.text()),
    st.text(),
)


@given(st.lists(tries, max_size=5))
def test_reading_what_was_written_gives_the_same_tries(written: list[Try]) -> None:
    log = read_log(text(*written))
    assert log.tries == tuple(written)
    assert log.bad == ()


def test_a_line_can_be_read_by_a_person() -> None:
    assert json.loads(line_of(try_())) == {
        "when": "2026-03-02T20:30:00", "shift": SIGN, "tempo": 72, "clean": True,
        "chords": ["G7", "Cmaj7"], "song": "Ropewalk",
    }  # fmt: skip


@pytest.mark.parametrize("cut", [1, 10, 40, 80])
def test_a_half_written_last_line_is_skipped_and_said(cut: int) -> None:
    log = read_log(text(try_()) + line_of(try_(1))[:cut])
    assert len(log.tries) == 1
    assert [bad.line for bad in log.bad] == [2]
    assert str(log.bad[0]).startswith("line 2: ")


@pytest.mark.parametrize(
    "line",
    [
        "practised a lot today", "[]", "3", "null", "{}", "{" * 5000, "[" * 100000, '{"when": "yesterday"}', "\x00\x01",
        spoilt("72", '"72"'), spoilt("72", "-4"), spoilt("72", "NaN"), spoilt("true", '"yes"'), spoilt(SIGN, " "),
        spoilt("20:30", "25:99"), spoilt('["G7", "Cmaj7"]', '["G7"]'), spoilt('["G7", "Cmaj7"]', "7"),
    ],
)  # fmt: skip
def test_a_broken_line_is_skipped_and_the_others_count(line: str) -> None:
    log = read_log(text(try_()) + line + "\n\n" + text(try_(1)))
    assert len(log.tries) == 2
    assert [bad.line for bad in log.bad] == [2]


@given(st.text(max_size=300))
def test_any_text_at_all_can_be_read(anything: str) -> None:
    log = read_log(anything + "\n" + text(try_()))
    assert log.tries[-1] == try_()


def test_lines_of_a_later_version_keep_their_other_fields_to_themselves() -> None:
    more = line_of(try_())[:-1] + ', "heard": "exact"}'
    assert read_log(more).tries == (try_(),)


def test_the_caution_is_remembered() -> None:
    assert not read_log(text(try_())).cautioned
    assert read_log(caution_line(MONDAY) + "\n" + text(try_())).cautioned


def test_a_try_taken_back_does_not_count_and_its_line_stays() -> None:
    back = taken_back_line(MONDAY) + "\n"
    assert read_log(text(try_(), try_(1)) + back + text(try_(2))).tries == (try_(), try_(2))
    assert read_log(back + back + text(try_())).tries == (try_(),)


def test_each_shift_has_its_own_memory() -> None:
    memories = remembered([try_(), try_(1, sign="other"), try_(2, tempo=75.0)])
    assert memories[SIGN].tries == 2
    assert memories["other"].tries == 1


def test_the_best_is_the_fastest_clean_tempo() -> None:
    memory = remembered([try_(0, 72), try_(1, 76), try_(2, 80, clean=False), try_(3, 76)])[SIGN]
    assert (memory.best, memory.tries, memory.clean) == (76.0, 4, 3)


def test_without_a_clean_try_there_is_no_best() -> None:
    memory = remembered([try_(clean=False)])[SIGN]
    assert (memory.best, memory.streak, memory.kept(MONDAY + timedelta(days=1))) == (0.0, 0, 0.0)


def test_the_streak_counts_clean_tries_at_the_same_tempo() -> None:
    assert remembered([try_(0, 72), try_(1, 76), try_(2, 76)])[SIGN].streak == 2


def test_a_shift_is_due_after_a_night() -> None:
    memory = remembered([try_()])[SIGN]
    assert not memory.due(MONDAY + timedelta(hours=2))
    assert memory.due(MONDAY + timedelta(days=1))


def test_after_midnight_it_is_still_the_same_evening() -> None:
    memory = remembered([try_()])[SIGN]
    assert not memory.due(MONDAY.replace(hour=23) + timedelta(hours=3))
    assert evening(datetime(2026, 3, 3, 3, 59)) == MONDAY.date()


def test_progress_has_one_point_an_evening() -> None:
    memory = remembered([try_(0, 60), try_(1, 63), try_(0, 60, days=1), try_(1, 66, days=1)])[SIGN]
    assert [(best, count) for _, best, count in memory.evenings] == [(63.0, 2), (66.0, 2)]
    assert memory.kept(MONDAY + timedelta(days=1)) == 63.0
    assert memory.kept(MONDAY + timedelta(days=2)) == 66.0


def test_a_clock_set_back_an_hour_changes_nothing() -> None:
    memory = remembered([try_(0, 60), try_(-60, 63)])[SIGN]
    assert (memory.tempo, memory.best, memory.streak) == (63.0, 63.0, 1)
    assert not memory.due(MONDAY - timedelta(minutes=50))


def test_a_clock_set_back_by_years_keeps_the_order_of_the_lines() -> None:
    memory = remembered([try_(0, 60), try_(0, 63, days=-20000)])[SIGN]
    assert memory.tempo == 63.0
    assert memory.due(MONDAY)
    assert memory.kept(MONDAY + timedelta(days=1)) == 63.0


def test_the_zone_of_the_clock_may_change_between_evenings() -> None:
    away = Try(MONDAY.replace(tzinfo=UTC), SIGN, 60.0, True)
    memory = remembered([try_(), away])[SIGN]
    assert not memory.due(MONDAY)
    assert not memory.due(MONDAY.astimezone())


@given(st.lists(tries, max_size=12), st.datetimes())
def test_memories_add_up(written: list[Try], now: datetime) -> None:
    memories = remembered(written)
    assert sum(memory.tries for memory in memories.values()) == len(written)
    for memory in memories.values():
        assert 0 <= memory.clean <= memory.tries
        assert sum(count for _, _, count in memory.evenings) == memory.tries
        assert memory.best == max(best for _, best, _ in memory.evenings)
        assert memory.due(now) in (True, False)
        assert memory.kept(now) <= memory.best
