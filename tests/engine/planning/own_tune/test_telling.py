"""The notes of the player's own tune between the chords: planned with fingers, said, and heard in their own rhythm."""

from dataclasses import replace
from itertools import pairwise

import pytest

from engine.hand.fingering import FREE
from engine.performance.play_along import Ride, play_along
from engine.planning.own_tune.ways import crossing
from engine.planning.report import plan_json, plan_text
from engine.song.tune import tune_over
from engine.song.unfolding import unfold
from engine.theory.pitch import key_number
from engine.theory.pulses import in_beats, pulses
from tests.engine.planning.own_tune.test_voicings import planned, tuned


def struck(found):
    """Each note of the tune as planned: the step's number, its beat and its key."""
    return [
        (place, in_beats(stroke.place, pulses(step.step.meter)) + 1, note.key)
        for place, step in enumerate(found.steps)
        for stroke in step.tune
        for note in stroke.notes
    ]


def written(song):
    """Each note of the tune as written, in the song as it is played."""
    steps = unfold(song)
    over = zip(steps, tune_over(song, steps), strict=True)
    return [
        (place, step.beat + note.onset, note.note)
        for place, (step, notes) in enumerate(over)
        for note in notes
        if 0 <= note.onset < step.beats
    ]


@pytest.mark.parametrize("bass", [False, True])
def test_every_note_of_the_tune_is_planned_once_at_its_beat(bass):
    song = tuned()
    assert struck(planned(song, bass=bass)) == written(song)


def test_each_note_is_the_top_of_the_hand_that_plays_it():
    for step in planned(tuned()).steps:
        for stroke in step.tune:
            assert stroke.hand[-1:] == stroke.notes
            assert [note.finger for note in stroke.hand] == sorted({note.finger for note in stroke.hand})


def test_a_chord_stays_under_the_fingers_that_have_it():
    for step in planned(tuned()).steps:
        under = {note.key: note.finger for note in step.right}
        for stroke in step.tune:
            assert all(under[note.key] == note.finger for note in stroke.hand[:-1])
            assert all(note.move == "hold" for note in stroke.hand[:-1] if stroke is not step.tune[0])


def test_the_left_hand_stays_below_all_of_the_tune():
    for step in planned(tuned()).steps:
        lowest = min([note.key for note in step.right] + [note.key for one in step.tune for note in one.notes])
        assert all(note.key < lowest for note in step.left)


def test_the_next_chord_is_reached_from_the_tunes_last_note():
    steps = planned(tuned()).steps
    for before, after in pairwise(steps):
        was = {note.finger: note.key for note in before.right_behind}
        assert all(note.left_from == was.get(note.finger) for note in after.right if note.move == "slide")


def test_a_scale_is_taken_finger_by_finger():
    (step, _) = planned(tuned("| C | C |", "L:1/4\nc d e f | g4 |")).steps
    fingers = [note.finger for stroke in step.tune[1:] for note in stroke.notes]
    keys = [note.key for stroke in step.tune[1:] for note in stroke.notes]
    assert keys == [key_number(name) for name in ("D5", "E5", "F5")]
    assert all(one < two or two == 1 for one, two in pairwise(fingers))


def test_thumbs_go_under_and_other_fingers_do_not_cross():
    def over(key, finger):
        return tuple(key if at == finger else FREE for at in range(1, 6))

    assert crossing(over(60, 1), over(62, 2)) == 0
    assert crossing(over(64, 3), over(65, 1)) == 1  # the thumb under, as in a scale
    assert crossing(over(65, 1), over(64, 3)) == 1  # the third finger over
    assert crossing(over(64, 3), over(65, 2)) == 3
    assert crossing(over(64, 3), over(66, 1)) == 2  # the thumb under onto a black key
    assert crossing(over(64, 3), over(65, 3)) == 1  # the same finger again
    assert crossing(over(64, 3), over(64, 3)) == 0


def test_the_tune_is_said_in_the_plan_and_in_json():
    song = tuned("| C | F |", "L:1/4\ne2 f e | f4 |")
    found = planned(song)
    first = found.steps[0]
    words = ", ".join(f"{stroke.notes[0].finger}:{stroke.notes[0].name}" for stroke in first.tune)
    assert f"right in turn {words}" in plan_text(song, found)
    told = plan_json([(song, found)])["songs"][0]["steps"]
    assert [(one["beat"], one["beats"], one["notes"][0]["name"]) for one in told[0]["right_tune"]] == [
        (1.0, 2.0, "E5"), (3.0, 1.0, "F5"), (4.0, 1.0, "E5"),
    ]  # fmt: skip


def test_a_plan_without_ones_own_tune_has_none_in_json():
    song = replace(tuned(), tune_is="theirs")
    assert plan_json([(song, planned(song))])["songs"][0]["steps"][0]["right_tune"] is None


@pytest.mark.parametrize("comp", ["held", "charleston", "quarters"])
def test_each_note_of_the_tune_is_heard_once_at_its_beat(comp):
    song = replace(tuned(), comp=comp)
    found = planned(song)
    heard = play_along(song, found, Ride(click=False, counted=False))
    ons = [(round(at, 6), data[1]) for at, data in heard.messages if data[0] & 0xF0 == 0x90 and data[2]]
    beat, (section,) = 60 / song.tempo, song.sections
    wanted = [(round(float(note.onset) * beat, 6), note.note) for note in section.tune]
    assert all(ons.count(one) == 1 for one in wanted)
    chords = {key for step in found.steps for key in (step.keys[:-1] if step.tune_on_top else step.keys)}
    # What no chord holds is heard where the tune has it and nowhere else.
    assert [one for one in ons if one[1] not in chords] == [one for one in wanted if one[1] not in chords]


def test_a_tied_note_sounds_on_into_the_next_chord():
    song = tuned("| C | Am |", "L:1/4\ne4- | e4 |")
    heard = play_along(song, planned(song), Ride(click=False, counted=False))
    e5 = key_number("E5")
    own = [(at, data[0] & 0xF0) for at, data in heard.messages if data[1] == e5]
    assert [kind for _, kind in own] == [0x90, 0x80]
    assert own[1][0] - own[0][0] == pytest.approx(8 * 60 / song.tempo)


def test_a_song_played_from_a_held_note_begins_with_it():
    song = tuned("| C | Am |", "L:1/4\ne4- | e4 |")
    heard = play_along(song, planned(song), Ride(click=False, counted=False, first=1))
    assert key_number("E5") in {data[1] for at, data in heard.messages if at == 0.0}


def test_a_tune_that_dips_below_the_chord_lets_it_go_and_the_left_hand_lies_lower():
    song = tuned("| C | F |", "L:1/4\nc2 E F | c4 |")
    step = planned(song).steps[0]
    assert [stroke.notes[0].key for stroke in step.tune] == [72, 64, 65]
    assert all(note.key < 64 for note in step.left)


def test_a_tune_that_goes_too_low_between_the_chords_is_said():
    song = tuned("| C | F |", "L:1/4\nc2 C,,2 | c4 |")
    step = planned(song).steps[0]
    assert step.right[-1].key == 72
    assert (
        "the tune goes too low for a left hand under it at C, what comes after the chord is not played" in step.warnings
    )


def test_the_terms_of_the_steps_add_up_with_the_way_through_the_tune():
    found = planned(tuned())
    assert any(dict(step.terms).get("tune") for step in found.steps)
    assert sum(step.effort for step in found.steps) == pytest.approx(found.effort)


def test_without_a_chord_the_right_hand_plays_the_tune_alone():
    song = tuned("| C | N.C. | F | N.C. |", "L:1/4\ne2 f e | d c B A | f4 | z2 c2 |")
    found = planned(song)
    assert struck(found) == written(song)
    alone, late = found.steps[1], found.steps[3]
    assert alone.left == late.left == late.right == ()
    assert [note.name for stroke in alone.tune for note in stroke.notes] == ["D5", "C5", "B4", "A4"]
    assert sum(step.effort for step in found.steps) == pytest.approx(found.effort)


def test_a_bar_without_chord_and_tune_is_at_rest_as_before():
    steps = planned(tuned("| C | N.C. | F |", "L:1/4\ne4 | z4 | f4 |")).steps
    assert steps[1].keys == ()
    assert steps[1].tune == ()


def test_a_key_that_the_chord_holds_is_struck_again_where_the_tune_has_it():
    (step, _) = planned(tuned("| C7 | F |", "L:1/4\nc2 _B c | a4 |")).steps
    assert step.tune[1].notes[0].key in {note.key for note in step.right}
    assert all(note.move != "hold" for stroke in step.tune[1:] for note in stroke.notes)
