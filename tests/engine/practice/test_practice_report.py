import json
from datetime import datetime, timedelta

from engine.practice.log import Try, remembered
from engine.practice.practice_plan import tonight
from engine.practice.ranking import rank
from engine.practice.report import evening_json, evening_text, shifts_json, shifts_text
from tests.engine.practice.by_hand import TWO_FIVE, Chord, plan_of, song

FAST = song("Low Tide", 260.0), plan_of(TWO_FIVE)
HELD: tuple[Chord, ...] = (TWO_FIVE[0], TWO_FIVE[0])


def test_the_hardest_shift_stands_first_with_its_place_time_and_fingers() -> None:
    text = shifts_text("Harbour Room", rank([FAST]))
    assert "1. G7 > Cmaj7" in text
    assert "Low Tide, Verse bar 1 beat 3, 260" in text
    assert "LH 5 slides down a fifth onto 36" in text


def test_no_line_is_wider_than_a_terminal() -> None:
    assert all(len(line) <= 80 for line in shifts_text("Harbour Room " * 3, rank([FAST] * 9)).splitlines()[2:])


def test_the_share_of_the_hardest_is_said() -> None:
    assert "carry 100% of the set's difficulty" in shifts_text("Set", rank([FAST])).replace("\n", " ")


def test_a_set_with_time_enough_says_so() -> None:
    slow = song(tempo=30.0), plan_of(TWO_FIVE)
    assert "All 2 shifts have at least twice the time they need" in shifts_text("Set", rank([slow]))


def test_a_set_in_which_nothing_moves_says_so() -> None:
    assert "no finger has to move" in shifts_text("Drone", rank([(song(), plan_of(HELD))]))


def test_late_hands_are_said_in_words() -> None:
    assert "too little" in shifts_text("Set", rank([FAST]))


def test_the_json_has_every_place_of_every_shift() -> None:
    value = json.loads(json.dumps(shifts_json("Set", rank([FAST, (song(), plan_of(TWO_FIVE))]))))
    first = value["shifts"][0]
    assert first["rank"] == 1
    assert first["symbols"] == ["G7", "Cmaj7"]
    assert [place["song"] for place in first["places"]] == ["Low Tide", "Ropewalk"]
    assert first["before"]["left"] == [{"midi": 43, "finger": 5}]
    assert first["sign"] == "5G2 | 1B3 3F4 > 5C2 | 1B3 3E4"
    assert 0 < value["covered"]["share"] <= 1


NOW = datetime(2026, 3, 2, 20, 30)


def test_what_was_practised_is_said_with_its_best_tempo() -> None:
    ranking = rank([FAST])
    sign = ranking.shifts[0].shift.sign
    clean = remembered([Try(NOW, sign, 92.0, True), Try(NOW, sign, 96.0, False)])
    assert "best clean 92 in 2 tries, last on 2026-03-02" in shifts_text("Set", ranking, memories=clean)
    stopped = remembered([Try(NOW, sign, 96.0, False)])
    assert "no clean try yet in 1 try" in shifts_text("Set", ranking, memories=stopped)
    first, second = shifts_json("Set", ranking, memories=clean)["shifts"]
    assert first["practised"]["best"] == 92.0
    assert second["practised"] is None


def test_tonights_plan_is_told_by_minute_rank_and_tempo() -> None:
    ranking = rank([FAST])
    sign = ranking.shifts[1].shift.sign
    memories = remembered([Try(NOW - timedelta(days=1), sign, 92.0, True)])
    evening = tonight(ranking, memories, 30.0, NOW)
    lines = evening_text(evening, ranking).splitlines()
    assert lines[0] == "Tonight, 30 minutes:"
    assert lines[2].startswith("   0:00   2. Dm7 > G7             88 to 260")
    assert "  24:00      pause, 3 minutes" in lines[10]
    assert all(len(line) <= 80 for line in lines)


def test_tonights_plan_as_json_has_ranks_and_null_in_a_pause() -> None:
    ranking = rank([FAST])
    value = json.loads(json.dumps(evening_json(tonight(ranking, {}, 30.0, NOW), ranking)))
    assert value["minutes"] == 30.0
    assert [turn["rank"] for turn in value["turns"]] == [1, 2, 1, 2, 1, 2, 1, 2, None, 1]


def test_an_evening_without_anything_says_so() -> None:
    assert "nothing to practise" in evening_text(tonight(rank([]), {}, 30.0, NOW), rank([]))
