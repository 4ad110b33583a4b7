"""Pedal streams in this file are generated (seeded), not recorded."""

import random

import pytest

from engine.performance.pedal import CONTROL, NOTE, PROGRAM, Pressed, Switch, feel, learn

SUSTAIN = Switch(CONTROL, 64, 1)


def counted(switch, line):
    pressed, count = Pressed(), 0
    for at, data in line:
        pressed, counts = feel(switch, pressed, data, at)
        count += counts
    return count


def control(value, number=64):
    return bytes((0xB0, number, value))


def half_pedal(presses, chance, inverted=False):
    """A continuous pedal: values swept down and up in 2 ms steps, trembling by up to 12 either way."""
    line, at = [], 0.0
    for _ in range(presses):
        for value in [*range(0, 128, 4), *range(127, -1, -4)]:
            value = min(max(value + chance.randrange(-12, 13), 0), 127)
            line.append((at, control(127 - value if inverted else value)))
            at += 0.002
        at += 0.4
    return line


@pytest.mark.parametrize("inverted", [False, True])
@pytest.mark.parametrize("seed", range(5))
def test_a_trembling_half_pedal_counts_each_press_once(seed, inverted):
    line = half_pedal(5, random.Random(seed), inverted)
    assert counted(Switch(CONTROL, 64, 1, inverted), line) == 5


def test_a_bouncing_contact_counts_once():
    line = [(0.0, control(127)), (0.01, control(0)), (0.02, control(127)), (0.3, control(0)), (0.5, control(127))]
    assert counted(SUSTAIN, line) == 2


def test_holding_the_pedal_does_not_count_again():
    assert counted(SUSTAIN, [(n * 0.3, control(127)) for n in range(5)]) == 1


@pytest.mark.parametrize(
    ("messages", "switch"),
    [
        ((control(127), control(0)), Switch(CONTROL, 64, 1)),
        ((control(0), control(127)), Switch(CONTROL, 64, 1, inverted=True)),
        ((control(127, 66), control(0, 66)), Switch(CONTROL, 66, 1)),
        ((control(20), control(90), control(127), control(60), control(0)), Switch(CONTROL, 64, 1)),
        ((b"\x92\x18\x64", b"\x82\x18\x00"), Switch(NOTE, 24, 3)),
        ((b"\xc0\x05",), Switch(PROGRAM, 5, 1)),
        ((b"\xfe", control(127, 67)), Switch(CONTROL, 67, 1)),
        ((b"\xb0\x7b\x00",), None),
        ((), None),
    ],
)
def test_a_switch_is_learnt_by_pressing_it_once(messages, switch):
    assert learn(messages) == switch


def test_a_switch_that_sends_notes_counts_its_note_ons():
    switch = Switch(NOTE, 24, 1)
    line = [(0.0, b"\x90\x18\x40"), (0.1, b"\x80\x18\x40"), (0.5, b"\x90\x18\x40"), (0.6, b"\x90\x18\x00")]
    assert counted(switch, line) == 2


def test_a_switch_that_sends_programs_counts_each_but_a_bounce():
    switch = Switch(PROGRAM, 5, 1)
    assert counted(switch, [(0.0, b"\xc0\x05"), (0.05, b"\xc0\x05"), (1.0, b"\xc0\x05"), (2.0, b"\xc0\x06")]) == 2


def test_other_pedals_and_channels_do_not_step():
    assert counted(SUSTAIN, [(0.0, control(127, 66)), (0.0, b"\xb1\x40\x7f"), (0.0, b"\x90\x40\x7f")]) == 0


def test_contacts_that_tremble_as_they_are_let_go_step_once():
    switch, pressed, presses = Switch(CONTROL, 64, 1), Pressed(), 0
    for press in range(5):
        begin = press * 1.0
        # Held for 200 ms, then let go with four milliseconds of trembling.
        stream = [(begin, 127), *((begin + 0.2 + n / 1000, 0 if n % 2 == 0 else 127) for n in range(5))]
        for at, value in stream:
            pressed, counts = feel(switch, pressed, control(value), at)
            presses += counts
    assert presses == 5


def test_a_quick_double_press_counts_twice():
    switch, pressed, presses = Switch(CONTROL, 64, 1), Pressed(), 0
    for at, value in [(0.0, 127), (0.08, 0), (0.2, 127), (0.28, 0)]:
        pressed, counts = feel(switch, pressed, control(value), at)
        presses += counts
    assert presses == 2
