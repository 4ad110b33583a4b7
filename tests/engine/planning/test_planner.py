"""Plans against the facts of the trade. Where nothing else is named the source is common practice."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.chord.symbol import read_symbol
from engine.errors import NoGrip
from engine.hand.keyboard import span
from engine.method_names import METHOD_NAMES
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.reader import read_song, song_from_chart
from engine.song.unfolding import unfold

CIRCLE = "C7 F7 Bb7 Eb7 Ab7 Db7 Gb7 B7 E7 A7 D7 G7 C7"


def keys(step, hand="right"):
    return tuple(note.key for note in getattr(step, hand))


def moved(one, two):
    """Semitones that each note of the right hand moves, low to high."""
    return [after - before for before, after in zip(keys(one), keys(two), strict=True)]


@pytest.mark.parametrize(
    "chords", ["Em7 A7 Dmaj7", "Dm7 G7 Cmaj7", "Cm7 F7 Bbmaj7", "F#m7 B7 Emaj7", "Bbm7 Eb7 Abmaj7"]
)
def test_in_a_major_two_five_one_exactly_one_shell_note_moves_by_a_semitone(planned, chords):
    steps = planned(chords, method="shell").steps
    for one, two in pairwise(steps):
        assert sorted(map(abs, moved(one, two))) == [0, 1]


def test_dominants_round_the_circle_alternate_third_and_seventh_and_both_fall_a_semitone(planned):
    steps = planned(CIRCLE, method="shell").steps
    assert all(moved(one, two) == [-1, -1] for one, two in pairwise(steps))
    tops = [step.right[-1].degree for step in steps]
    assert all({one, two} == {"3", "b7"} for one, two in pairwise(tops))


def test_rootless_two_five_one_takes_six_semitones_in_all(planned):
    steps = planned("Dm9 G13 Cmaj9", method="rootless", bass=True).steps
    held = [step.keys for step in steps]
    assert sum(abs(b - a) for one, two in pairwise(held) for a, b in zip(one, two, strict=True)) == 6


@pytest.mark.parametrize(("chord", "substitute"), [("G7", "Db7"), ("C7", "F#7"), ("E7", "Bb7")])
def test_a_dominant_and_its_tritone_substitute_share_the_shell(planned, chord, substitute):
    one, two = planned(f"{chord} {substitute}", method="shell").steps
    assert {note.move for note in two.right} == {"hold"}
    assert keys(one) == keys(two)


@pytest.mark.parametrize("method", ["auto", "shell", "triad", "spread", "rootless", "close", "drop2"])
@pytest.mark.parametrize("bass", [True, False])
def test_every_method_says_every_chord(planned, method, bass):
    chords = "Cmaj7 A7b9 Dm9 G13 C6/9 F#m7b5 B7alt Em7 Bdim7 Bb7#11 Fsus4 C/E G9sus4 Caug Am(maj7) D"
    for step in planned(chords, method=method, bass=bass).steps:
        chord = read_symbol(step.step.symbol)
        told = {key % 12 for key in step.keys}
        third = chord.tone("3", "b3", "4")
        assert third.pc in told or "11" in chord.degrees
        seventh = chord.tone("b7", "7", "bb7", "6")
        assert seventh is None or seventh.pc in told


@pytest.mark.parametrize("bass", [True, False])
@pytest.mark.parametrize("chords", ["C/E F/G Am7/D C/Bb", "Cmaj7 Dm7 G7"])
def test_alone_the_left_hand_owes_the_bass_and_beside_a_bass_player_nothing_sounds_below_c3(planned, bass, chords):
    for step in planned(chords, bass=bass).steps:
        chord = read_symbol(step.step.symbol)
        if bass:
            assert min(step.keys) >= 48
        else:
            assert step.keys[0] % 12 == chord.bass.pc


@pytest.mark.parametrize("reach", [170.0, 200.0, 227.0])
def test_no_hand_spans_more_than_its_reach(planned, reach):
    for step in planned("Cmaj9 A7alt Dm9 G13 F#m7b5 Bb13", method="auto", reach=(reach, reach)).steps:
        for hand in (step.left, step.right):
            assert not hand or span(hand[0].key, hand[-1].key) <= reach


@pytest.mark.parametrize(("hands", "resting"), [("left", "right"), ("right", "left")])
def test_one_hand_alone_leaves_the_other_at_rest(planned, hands, resting):
    assert all(getattr(step, resting) == () for step in planned("Dm7 G7 Cmaj7", hands=hands).steps)


def test_the_efforts_of_the_steps_add_up_and_each_is_the_sum_of_its_terms(planned):
    found = planned("Dm7 G7 Cmaj7 A7b9")
    assert found.effort == pytest.approx(sum(step.effort for step in found.steps), abs=1e-9)
    for step in found.steps:
        assert step.effort == pytest.approx(sum(amount for _, amount in step.terms), abs=1e-9)


def test_the_same_song_gives_the_same_plan(planned):
    assert planned("Dm7 G7 Cmaj7 A7b9") == planned("Dm7 G7 Cmaj7 A7b9")


def test_a_common_tone_stays_under_its_finger(planned):
    _, two, _ = planned("Em7 A7 Dmaj7", method="shell").steps
    held = [note for note in two.right if note.move == "hold"]
    assert [note.left_from for note in held] == [note.key for note in held]


def test_altered_dominants_have_no_natural_ninth_or_fifth(planned):
    for step in planned("Dm7b5 G7alt Cm6 C7alt Fm", method="auto").steps:
        if "alt" in step.step.symbol:
            assert not {"9", "5", "13"} & {note.degree for note in step.left + step.right}


def test_a_dominant_that_goes_to_minor_is_not_given_a_natural_thirteenth_that_nobody_asked_for(planned):
    step = planned("Dm7b5 G7 Cm7", method="rootless", bass=True).steps[1]
    assert not {"13", "9"} & {note.degree for note in step.left + step.right}


def test_no_chord_rests_both_hands_and_the_rest_is_planned(planned):
    steps = planned("Dm7 N.C. G7").steps
    assert (steps[1].left, steps[1].right, steps[1].effort) == ((), (), steps[1].effort)
    assert steps[2].keys


def test_a_left_hand_alone_has_the_root_with_third_or_seventh_and_leaves_the_rest_to_the_tune(planned):
    step = planned("Dm7 G7alt", hands="left").steps[1]
    told = {note.degree for note in step.left}
    assert "1" in told
    assert told & {"3", "b7"}


def test_a_reach_that_fits_no_chord_names_the_way_out(planned):
    with pytest.raises(NoGrip, match="reach"):
        planned("Cmaj13#11 G13", reach=(20.0, 20.0), sound="organ")


def test_nothing_to_plan_is_an_empty_plan():
    assert plan((), Request()).steps == ()


QUALITIES = ["m7", "7", "maj7", "m7b5", "6", "", "m", "7b9", "sus4", "9"]


@given(
    qualities=st.lists(st.sampled_from(QUALITIES), min_size=2, max_size=4),
    roots=st.lists(st.sampled_from(["C", "D", "Eb", "F", "G", "A", "Bb"]), min_size=4, max_size=4),
)
@settings(max_examples=20, deadline=None)
def test_no_plan_moves_less_than_its_free_bound(qualities, roots):
    bars = "| " + " | ".join(root + quality for root, quality in zip(roots, qualities, strict=False)) + " |"
    found = plan(unfold(song_from_chart(bars)), Request(method="shell"))
    assert found.free <= found.bound <= found.effort
    assert found.exact == (found.bound == found.effort)


SYMBOLS = ("C", "Am7", "Dm7", "G7", "C/E", "Ebmaj7", "F#m7b5", "B7b9", "Gsus4", "Ab6", "D9", "E5")
SECTIONS = st.lists(st.sampled_from(SYMBOLS), min_size=2, max_size=4).map(" | ".join)
ROADMAPS = ("A", "A, A, B", "A, B, A, B", "B, A, A, B, B")


@settings(deadline=None, max_examples=25)
@given(
    one=SECTIONS,
    two=SECTIONS,
    roadmap=st.sampled_from(ROADMAPS),
    bass=st.booleans(),
    hands=st.sampled_from(["both", "left", "right"]),
    way=st.sampled_from([{}, {"prove": True}, {"loop": True}, {"colour": True}, {"sound": "organ"}]),
)
def test_auto_is_never_dearer_than_any_method_by_itself(one, two, roadmap, bass, hands, way):
    text = f'title = "T"\nkey = "C"\nroadmap = "{roadmap}"\n[sections.A]\nbars = "| {one} |"\n'
    steps = unfold(read_song(text + f'[sections.B]\nbars = "| {two} |"\n' * ("B" in roadmap), "t"))
    asked = Request(bass=bass, hands=hands, **way)
    auto = plan(steps, asked).effort
    assert auto <= min(plan(steps, replace(asked, method=method)).effort for method in METHOD_NAMES) + 1e-9


@pytest.mark.parametrize("wishes", [{}, {"bass": True}, {"bass": True, "hands": "left"}])
def test_a_dominant_eleventh_is_played_as_the_minor_seventh_a_fifth_above_over_its_root(planned, wishes):
    # Common practice: G11 is Dm7 over G, the third B left out.
    step = planned("Dm7 G11 Cmaj7", **wishes).steps[1]
    assert {key % 12 for key in step.keys} <= {7, 2, 5, 9, 0}
