"""The player's own tune on top, the chord below it. Where nothing else is named the source is common practice."""

from dataclasses import replace

import pytest

from engine.chord.symbol import read_symbol
from engine.hand.keyboard import span
from engine.method_names import METHOD_NAMES
from engine.planning.lineup import request_for
from engine.planning.model import Request
from engine.planning.own_tune.telling import PINNED_OFF
from engine.planning.own_tune.voicings import Top
from engine.planning.planner import plan
from engine.planning.voicing_costs import hands_with_tune
from engine.song.model import Pin, SetList
from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.unfolding import unfold
from engine.theory.pitch import key_number
from engine.voicing.textures import textures
from tests.engine.planning.asking import ask_of

CHANGES = "| Dm7 | G7 | Cmaj7 | A7 | Dm7 G7 | Em7 A7 | Dm7 G7 | C6 |"
TUNE = "L:1/4\nf2 e d | B3 z | e4- | e2 ^c2 | a2 g f | e2 g2 | f e d2 | c4 |"
ONSETS = ("F5", "B4", "E5", "E5", "A5", "G5", "E5", "G5", "F5", "D5", "C5")
KEYS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")


def tuned(bars=CHANGES, tune=TUNE, more=""):
    head = f'title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 100\ntune_is = "mine"\n{more}'
    return read_song(f'{head}\n[sections.A]\nbars = "{bars}"\ntune = """{tune}"""\n', "")


def asked(song, **wishes):
    return replace(request_for(song, SetList("Pier"), (200.0, 200.0)), **wishes)


def planned(song, **wishes):
    return plan(unfold(song), asked(song, **wishes))


def tops(found):
    return [step.right[-1].key for step in found.steps]


@pytest.mark.parametrize("bass", [False, True])
@pytest.mark.parametrize("method", ["auto", *METHOD_NAMES])
def test_the_right_hands_top_note_is_the_tunes_at_every_chord(method, bass):
    found = planned(tuned(), method=method, bass=bass)
    assert tops(found) == [key_number(name) for name in ONSETS]
    assert all(step.keys[-1] == step.right[-1].key for step in found.steps)


@pytest.mark.parametrize("hands", ["both", "right"])
@pytest.mark.parametrize("key", KEYS)
def test_the_top_moves_with_the_tune_into_every_key(key, hands):
    song = transpose(tuned(), key)
    found = planned(song, hands=hands)
    by = song.sections[0].tune[0].note - tuned().sections[0].tune[0].note
    assert tops(found) == [key_number(name) + by for name in ONSETS]


def test_where_the_tune_rests_the_top_is_free():
    song = tuned("| C | F |", "L:1/4\ne4 | z4 |")
    bare = planned(tuned("| C | F |", "L:1/4\ne4 | z4 |", 'hands = "both"'))
    assert tops(bare)[0] == key_number("E5")
    assert asked(song).own_tune[-1].written == ("A", 0, 0)


@pytest.mark.parametrize("bass", [False, True])
def test_the_right_hand_has_no_tone_of_the_tunes_twice(bass):
    for step in planned(tuned(), bass=bass).steps:
        assert len({note.key % 12 for note in step.right}) == len(step.right)


def test_the_third_and_the_seventh_are_there_under_the_tune():
    for step in planned(tuned()).steps:
        said = {note.degree for note in step.left + step.right}
        assert said & {"3", "b3"}
        assert said & {"7", "b7", "6"}


@pytest.mark.parametrize("bass", [False, True])
def test_no_tone_lies_a_semitone_or_a_minor_ninth_under_a_held_note(bass):
    # A major seventh under its own root, a third under a held fourth.
    for step in planned(tuned("| Cmaj7 | C7 | Fmaj7 |", "L:1/4\nc4 | f4 | f4 |"), bass=bass).steps:
        top = step.right[-1].key
        assert not {top - 1, top - 13} & set(step.keys)


def test_what_is_left_out_under_the_tune_is_said():
    (first, *_) = planned(tuned("| Cmaj7 | Cmaj7 |", "L:1/4\nc4 | e4 |")).steps
    assert "7" not in {note.degree for note in first.left + first.right}
    assert first.warnings == ("the 7, B, is left out: it would rub against the tune's C5",)


@pytest.mark.parametrize("reach", [150.0, 180.0, 230.0])
def test_no_hand_is_wider_than_it_reaches(reach):
    for step in planned(tuned(), reach=(reach, reach)).steps:
        if not any("beyond its reach" in words for words in step.warnings):
            for hand in (step.left, step.right):
                assert not hand or span(hand[0].key, hand[-1].key) <= reach


def test_beside_a_bass_player_nothing_sounds_below_c3():
    assert all(step.keys[0] >= key_number("C3") for step in planned(tuned(), bass=True).steps)


@pytest.mark.parametrize("pattern", ["root and fifth", "stride", "walking"])
def test_a_left_hand_plays_its_pattern_under_the_tune(pattern):
    found = planned(tuned(more=f'left_hand = "{pattern}"'))
    assert tops(found) == [key_number(name) for name in ONSETS]
    assert all(step.strokes for step in found.steps)


def test_a_left_hand_alone_and_somebody_elses_tune_are_planned_as_before():
    song = tuned()
    assert planned(song, hands="left") == planned(song, hands="left", own_tune=())
    theirs = replace(song, tune_is="theirs")
    assert asked(theirs).own_tune == ()


def test_a_tune_too_low_for_a_chord_below_it_is_said_and_the_chord_played():
    step = planned(tuned("| C | F |", "L:1/4\nC,,4 | c4 |")).steps[0]
    assert step.keys
    assert "no voicing of C with the tune on top fits the hands, the chord is played without it" in step.warnings


def test_a_tune_above_the_keyboard_is_said():
    steps = planned(tuned("| C | F |", "L:1/4\nc'4 | c4 |"), ceiling=key_number("B5")).steps
    assert "no voicing of C with the tune on top fits the hands, the chord is played without it" in steps[0].warnings
    assert steps[1].right[-1].key == key_number("C5")


def test_a_pin_goes_before_the_tune():
    song = tuned("| C | F |", "L:1/4\ne4 | f4 |")
    pin = Pin("A", 1, 1, left=(48,), right=(64, 67, 72))
    found = planned(song, pins=(pin,))
    assert tops(found)[0] == 72
    assert found.steps[0].warnings == (PINNED_OFF,)
    assert not found.steps[0].tune_on_top


def test_a_pin_of_the_left_hand_leaves_the_tune_on_top():
    song = tuned("| C | F |", "L:1/4\ne4 | f4 |")
    pin = Pin("A", 1, 1, left=(48, 55), right=None)
    step = planned(song, pins=(pin,)).steps[0]
    assert [note.key for note in step.left] == [48, 55]
    assert step.right[-1].key == key_number("E5")


def test_the_terms_of_the_steps_add_up_to_the_songs_effort():
    found = planned(tuned())
    assert sum(step.effort for step in found.steps) == pytest.approx(found.effort)
    assert all(sum(amount for _, amount in step.terms) == pytest.approx(step.effort) for step in found.steps)


def test_an_octave_higher_the_chord_goes_with_the_tune():
    low, high = (planned(tuned("| F | C |", tune)) for tune in ("L:1/4\nc4 | c4 |", "L:1/4\nc'4 | c'4 |"))
    rights = [[[note.key for note in step.right] for step in found.steps] for found in (low, high)]
    assert [[key + 12 for key in keys] for keys in rights[0]] == rights[1]


@pytest.mark.parametrize("bass", [False, True])
@pytest.mark.parametrize("up", ["Db", "D", "B", "Bb"])
def test_in_another_key_the_hands_do_the_same_as_near_as_the_keyboard_lets_them(up, bass):
    # Black keys and the registers have their say in how a chord lies, not in whether the tune can be played on it.
    song, moved = tuned(), transpose(tuned(), up)
    for one, two in zip(planned(song, bass=bass).steps, planned(moved, bass=bass).steps, strict=True):
        assert two.tune_on_top == one.tune_on_top
        assert [stroke.place for stroke in two.tune] == [stroke.place for stroke in one.tune]
        assert not two.warnings or one.warnings or any("blur" in words for words in two.warnings)


def test_what_the_tune_has_over_each_chord_moves_with_the_key():
    song = tuned("| F7 | Bb7 |", "L:1/4\nc4 | d4 |")
    here, there = asked(song).own_tune, asked(transpose(song, "D")).own_tune
    by = there[0].notes[0].note - here[0].notes[0].note
    assert [(own.written, note.note + by) for own in here for note in own.notes] == [
        (own.written, note.note) for own in there for note in own.notes
    ]


@pytest.mark.parametrize("bass", [False, True])
@pytest.mark.parametrize(("symbol", "up"), [("D", 2), ("Eb", 3), ("F", 5), ("G", 7), ("Bb", 10)])
@pytest.mark.parametrize("texture", textures("auto", "auto"))
def test_what_lies_under_the_tune_moves_with_it(texture, symbol, up, bass):
    # Before the registers have their say.
    for quality, note in (("maj7", 72), ("7", 74), ("m7", 70)):
        ask = ask_of(Request(bass=bass))
        low = hands_with_tune(read_symbol(f"C{quality}"), texture, replace(ask, own=Top(note, (note,))))
        high = hands_with_tune(
            read_symbol(f"{symbol}{quality}"), texture, replace(ask, own=Top(note + up, (note + up,)))
        )
        moved = {tuple(tuple(key + up for key in hand) for hand in hands) for hands in low}
        assert moved == set(high)
        assert all(right[-1] == note for _, right in low)
