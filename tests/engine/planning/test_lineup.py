"""Who else plays, and where the hands stay. Source: common practice."""

import pytest

from engine.planning.lineup import FLOOR_WITH_BASS, request_for, setting, zones
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.model import SetList
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from engine.theory.pitch import key_number

CHANGES = "Dm7 G7 Cmaj7 A7b9 C/E F/G Bb13 F#m7b5"


def told(step):
    return {note.degree for note in step.left + step.right}


def test_colours_are_added_where_they_are_wanted(planned):
    plain, coloured = planned("Dm7 G7 Cmaj7", method="shell"), planned("Dm7 G7 Cmaj7", method="shell", colour=True)
    tensions = {"9", "11", "13", "#11"}
    assert not any(told(step) & tensions for step in plain.steps)
    assert all(told(step) & tensions for step in coloured.steps)


def test_a_pad_is_thinner_than_a_piano_and_still_says_third_and_seventh(planned):
    changes = "Dm7 G7 Cmaj7 Am7 Fmaj7 Bm7b5 E7b9 Am7"
    piano, pad = (planned(changes, sound=sound).steps for sound in ("piano", "pad"))
    assert sum(len(step.keys) for step in pad) < sum(len(step.keys) for step in piano) - len(pad) / 2
    assert max(len(step.keys) for step in pad) == 4
    assert all({"3", "b3"} & told(step) and {"7", "b7"} & told(step) for step in pad)


def test_two_players_who_both_add_colours_clash_so_beside_a_guitar_nobody_adds_any(planned):
    assert planned("Dm7 G7 Cmaj7", colour=True, guitar=True) == planned("Dm7 G7 Cmaj7", guitar=True)


def test_a_dominant_on_its_way_to_minor_is_never_coloured_natural(planned):
    step = planned("Dm7b5 G7 Cm7", method="shell", colour=True).steps[1]
    assert not told(step) & {"9", "13", "#11"}


@pytest.mark.parametrize("bass", [True, False])
def test_floor_and_ceiling_are_kept(planned, bass):
    for step in planned(CHANGES, bass=bass, floor=50, ceiling=74).steps:
        assert min(step.keys) >= 50
        assert max(step.keys) <= 74


def test_on_four_octaves_nothing_lies_beyond_the_keyboard():
    four_octaves = (key_number("C3"), key_number("C7"))
    song = song_from_chart("| C/E | F#m7b5 B7 | Am9/C |")
    found = plan(unfold(song), request_for(song, SetList("Evening"), (200.0, 200.0), register=four_octaves))
    assert all(four_octaves[0] <= key <= four_octaves[1] for step in found.steps for key in step.keys)
    assert all(step.keys for step in found.steps)


def test_beside_a_bass_player_the_floor_is_c3():
    lowest = setting(Request(bass=True)).register.left[0]
    assert lowest == FLOOR_WITH_BASS
    assert key_number("C3") == FLOOR_WITH_BASS


def test_behind_a_singer_the_right_hand_keeps_below_the_top_of_the_tune():
    tune = (key_number("G3"), key_number("A4"))
    assert zones(Request(melody=tune))[1].high == key_number("A4")


def test_a_request_takes_what_song_and_set_say():
    song = song_from_chart("| C |")
    asked = request_for(song, SetList("Evening", bass=True, guitar=True), (190.0, 200.0), bass=None)
    assert (asked.bass, asked.guitar, asked.reach, asked.colour) == (True, True, (190.0, 200.0), False)
    assert request_for(song, SetList("Evening", bass=True), (190.0, 200.0), bass=False).bass is False


@pytest.mark.parametrize("reach", [170.0, 200.0, 227.0])
@pytest.mark.parametrize(
    "lineup",
    [{}, {"bass": True}, {"bass": True, "guitar": True, "colour": True}, {"hands": "left"}, {"hands": "right"}],
)
def test_every_line_up_and_reach_plans_every_chord_within_reach_and_above_the_floor(planned, reach, lineup):
    from engine.hand.keyboard import span

    for step in planned(CHANGES, reach=(reach, reach), **lineup).steps:
        assert step.keys
        assert not lineup.get("bass") or min(step.keys) >= FLOOR_WITH_BASS
        for hand in (step.left, step.right):
            assert not hand or span(hand[0].key, hand[-1].key) <= reach
