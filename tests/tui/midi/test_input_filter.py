"""A flood is thinned out; what a player means is not."""

import random

from engine.performance.events import control, note_off, note_on, program
from tui.midi.input_filter import AT_ONCE, MOST, InputFilter


def passed(messages: list[tuple[float, bytes]], role: str = "in") -> list[bytes]:
    """Return what is passed on of (second, message), taken up every few milliseconds and once more at rest."""
    woken: list[int] = []
    filtered = InputFilter(lambda: woken.append(1))
    out: list[bytes] = []
    for number, (at, data) in enumerate(messages):
        filtered.receive(role, data, at)
        if number % 7 == 0:
            out += [data for _, data, _ in filtered.take(at)]
    last = messages[-1][0]
    while filtered.pending:
        last += 0.03
        out += [data for _, data, _ in filtered.take(last)]
    return out + [data for _, data, _ in filtered.take(last)]


def test_wheels_and_pressure_are_dropped_and_chords_between_them_are_not():
    flood = [(n / 10_000, bytes((0xE0, n % 128, 64))) for n in range(3000)]
    flood += [(n / 10_000, bytes((0xD0, n % 128))) for n in range(3000)]
    chord = [(0.1, note_on(60)), (0.1, note_on(64)), (0.15, note_off(60)), (0.15, note_off(64))]
    assert passed(sorted(flood + chord, key=lambda item: item[0])) == [data for _, data in chord]


def test_fast_playing_passes_whole():
    chance = random.Random(3)
    line: list[tuple[float, bytes]] = []
    for n in range(400):  # two hands of five fingers, ten chords a second
        for key in chance.sample(range(36, 96), 10):
            line += [(n / 10, note_on(key)), (n / 10 + 0.05, note_off(key))]
    line.sort(key=lambda item: item[0])
    assert passed(line) == [data for _, data in line]


def test_a_flood_of_notes_is_held_to_what_hands_can_play_and_none_is_left_hanging():
    flood = [(n / 10_000, note_on(n // 2 % 128) if n % 2 == 0 else note_off(n // 2 % 128)) for n in range(20_000)]
    out = passed(flood)
    ons = sum(data[0] == 0x90 for data in out)
    assert 1 < ons <= AT_ONCE + 2 * MOST + 1
    assert ons == sum(data[0] == 0x80 for data in out)


def test_a_pedal_is_passed_at_once_and_a_moving_controller_by_its_last_value():
    press = [(0.0, control(64, 127)), (0.001, control(64, 0)), (0.002, control(64, 127)), (0.003, control(64, 0))]
    assert passed(press) == [data for _, data in press]
    wheel = [(n / 1000, control(1, n % 60)) for n in range(1, 1000)]
    out = passed(wheel)
    assert len(out) < 60
    assert out[-1] == wheel[-1][1]


def test_program_changes_pass_for_switches_that_send_them():
    assert passed([(0.0, program(3)), (0.5, program(4))]) == [program(3), program(4)]


def test_of_a_leader_whose_clock_runs_wild_the_oldest_wait_and_the_rest_is_dropped():
    filtered = InputFilter(lambda: None)
    for n in range(10_000):
        filtered.receive("follow", b"\xf8", n / 10_000)
    filtered.receive("in", note_on(60), 1.0)
    taken = filtered.take(1.0)
    assert len(taken) < 400
    assert taken[-1] == ("in", note_on(60), 1.0)
