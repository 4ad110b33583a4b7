"""The clock as the program holds it: opened on a port, heard, played on and closed."""

import time

from engine.performance.events import control, note_on
from engine.performance.timeline import Mark, Performance
from tests.tui.midi.studio import PIANO, Studio
from tests.tui.waiting import until


def test_the_beat_goes_on_without_any_port(studio: Studio):
    studio.plug()
    studio.clock.start()
    until(lambda: studio.clock.process_id)
    studio.clock.play(Performance((), (Mark(0.0, "beat", 3),)))
    until(lambda: any(event.kind == "beat" for event in studio.events))


def test_closing_silences_and_ends_the_process(studio: Studio):
    studio.ready()
    studio.clock.sound([60, 64, 67])
    until(lambda: len(studio.sounding()) == 3)
    studio.clock.close()
    assert studio.sounding() == set()
    studio.clock.close()


def test_an_unknown_port_is_said_and_waited_for(studio: Studio):
    studio.clock.start()
    studio.clock.open("Strings")
    until(lambda: "Strings: it is not connected" in studio.clock.status)
    studio.plug(PIANO, "Strings 1")
    until(lambda: studio.clock.ready)


def test_the_players_keyboard_is_heard_with_the_time_of_each_note(studio: Studio):
    studio.plug(PIANO, inputs=("Piano:Piano MIDI 1 20:0",))
    studio.clock.start()
    studio.clock.open("Piano", "in")
    until(lambda: "listens to" in studio.clock.status)
    studio.play(PIANO, note_on(60), bytes((0xF8,)), control(64, 127))
    until(lambda: len([event for event in studio.events if event.kind == "in"]) >= 2)
    heard = [event for event in studio.events if event.kind == "in"]
    assert [event.data for event in heard] == [note_on(60), control(64, 127)]
    assert abs(time.monotonic() - heard[0].seconds) < 2
