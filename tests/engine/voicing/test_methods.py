"""The voicing methods against what teachers show. Source: common practice unless another is named."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.symbol import read_symbol
from engine.method_names import AUTO, METHOD_NAMES
from engine.theory.pitch import key_number
from engine.voicing.methods import METHODS, chosen, voicings
from engine.voicing.model import Register, Setting
from engine.voicing.tones import degree_of

ALONE = Setting(Register(bass=(33, 53), left=(33, 67), right=(50, 84)))
WITH_BASS = Setting(Register(bass=(48, 61), left=(48, 69), right=(53, 84)), owes_bass=False)
LEFT = replace(ALONE, hands="left")
LEFT_WITH_BASS = replace(WITH_BASS, hands="left")


def named(text):
    return tuple(key_number(name) for name in text.split())


def offered(symbol, method, setting):
    return {(voicing.left, voicing.right) for voicing in voicings(read_symbol(symbol), method, setting)}


@pytest.mark.parametrize(
    ("symbol", "method", "setting", "left", "right"),
    [
        # Guide tones over root and fifth, third or seventh below.
        ("Dm7", "shell", ALONE, "D3 A3", "F4 C5"),
        ("Dm7", "shell", ALONE, "D3 A3", "C4 F4"),
        ("G7", "shell", ALONE, "G2 D3", "B3 F4"),
        ("G9", "shell", ALONE, "G2", "F4 A4 B4"),
        # A triad and the seventh where a finger is free.
        ("Cmaj7", "triad", ALONE, "C3", "E4 G4 B4 C5"),
        ("Cmaj7", "triad", ALONE, "C3", "B3 C4 E4 G4"),
        # Spreads in the low register.
        ("Cmaj7", "spread", LEFT, "C2 B2 E3", ""),
        ("Cmaj7", "spread", ALONE, "C2 G2 E3", "B3"),
        ("C7", "spread", ALONE, "C2 Bb2 E3", "G3"),
        # Rootless A and B forms.
        ("Dm9", "rootless", LEFT_WITH_BASS, "F3 A3 C4 E4", ""),
        ("G13", "rootless", LEFT_WITH_BASS, "F3 A3 B3 E4", ""),
        ("Cmaj9", "rootless", LEFT_WITH_BASS, "E3 G3 B3 D4", ""),
        ("Dm9", "rootless", LEFT_WITH_BASS, "C4 E4 F4 A4", ""),
        ("G13", "rootless", LEFT_WITH_BASS, "B3 E4 F4 A4", ""),
        # Half-diminished keeps its root.
        ("Dm7b5", "rootless", LEFT_WITH_BASS, "F3 Ab3 C4 D4", ""),
        # A left hand alone: 1-7, 1-3, 1-7-3.
        ("Dm7", "shell", LEFT, "D3 C4", ""),
        ("Dm7", "shell", LEFT, "D3 F3", ""),
        ("G7", "shell", LEFT, "G2 F3 B3", ""),
        # The whole chord over a written bass.
        ("C/G", "shell", ALONE, "G2", "C4 E4 G4"),
        ("D/F#", "shell", ALONE, "F#2", "A3 D4"),
        ("Eb/G", "triad", ALONE, "G2", "Eb4 G4 Bb4"),
        ("C/E", "triad", WITH_BASS, "C3", "G3 C4 E4"),
        ("D/C", "triad", WITH_BASS, "A3 D4", "F#4 A4 D5"),
        ("C/G", "spread", WITH_BASS, "E3 C4", "G4"),
        # A left hand alone beside a bass player has as many notes for a seventh chord as for a triad.
        ("G7", "shell", LEFT_WITH_BASS, "F3 B3 D4", ""),
        ("G7", "shell", LEFT_WITH_BASS, "F3 B3", ""),
        # A left hand alone puts the tone that would blur further up.
        ("Dm/C", "shell", LEFT, "C3 F3 A3 D4", ""),
        # The second note from the top an octave lower.
        ("Cmaj7", "drop2", WITH_BASS, "C4 G4", "B4 E5"),
        ("Cmaj7", "close", ALONE, "C3", "C4 E4 G4 B4"),
    ],
)
def test_a_voicing_that_teachers_show_is_offered(symbol, method, setting, left, right):
    assert (named(left), named(right)) in offered(symbol, method, setting)


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("setting", [ALONE, WITH_BASS])
@pytest.mark.parametrize("symbol", ["C", "F#m7", "Bb13", "Eb6/9", "Abmaj7/C", "Bm7b5", "C7alt", "Gsus4", "D5"])
def test_every_voicing_keeps_hands_apart_and_registers_kept(symbol, method, setting):
    register = setting.register
    for voicing in voicings(read_symbol(symbol), method, setting):
        assert all(low < high for low, high in pairwise(voicing.keys))
        assert all(register.left[0] <= key <= register.left[1] for key in voicing.left)
        assert all(register.right[0] <= key <= register.right[1] for key in voicing.right)


@given(method=st.sampled_from(sorted(METHODS)), quality=st.sampled_from(["m7", "7", "maj7", "6", "7b9", "m7b5", ""]))
def test_the_same_chord_a_half_step_up_has_every_shape_a_half_step_up_that_the_registers_allow(method, quality):
    here = {(one.left, one.right) for one in voicings(read_symbol("D" + quality), method, ALONE)}
    there = {(one.left, one.right) for one in voicings(read_symbol("Eb" + quality), method, ALONE)}
    raised = {(tuple(key + 1 for key in left), tuple(key + 1 for key in right)) for left, right in here}
    tops = (ALONE.register.bass[1], ALONE.register.left[1], ALONE.register.right[1])
    allowed = {
        (left, right)
        for left, right in raised
        if (not left or (left[0] <= tops[0] and left[-1] <= tops[1])) and (not right or right[-1] <= tops[2])
    }
    assert here
    assert allowed <= there


@given(
    symbol=st.sampled_from(["C7b9", "Dm7", "G13", "F#m7b5", "Bbmaj9", "E7#9"]), method=st.sampled_from(sorted(METHODS))
)
def test_thirds_and_sevenths_are_always_told(symbol, method):
    chord = read_symbol(symbol)
    found = voicings(chord, method, ALONE)
    assert found
    for voicing in found:
        told = {degree_of(chord, key % 12).degree for key in voicing.keys}
        assert told & {"3", "b3"}
        assert told & {"b7", "7"}


def test_auto_stands_for_every_method():
    assert chosen(AUTO) == tuple(METHODS)


def test_files_and_commands_know_the_same_methods():
    assert tuple(METHODS) == METHOD_NAMES


def test_an_unknown_method_is_refused():
    with pytest.raises(ValueError, match="no voicing method"):
        chosen("quartal")
