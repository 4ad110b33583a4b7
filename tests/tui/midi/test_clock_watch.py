"""A clock that dies or hangs, ports that come and go: said, mended, and never waited for."""

import os
import signal
import time

import pytest

from engine.performance.events import control, note_off, note_on
from engine.performance.timeline import Mark, Performance
from tests.tui.midi.studio import PIANO, Studio
from tests.tui.waiting import until


def test_a_killed_clock_is_started_again_and_silences_what_it_left(studio: Studio):
    studio.ready()
    studio.clock.sound([60, 64, 67])
    until(lambda: len(studio.sounding()) == 3)
    os.kill(studio.clock.process_id or 0, signal.SIGKILL)
    until(lambda: not studio.sounding(), 3)
    until(lambda: studio.clock.ready)
    assert any("started again" in text for text in studio.said())
    studio.clock.sound([72], 80)
    until(lambda: note_on(72) in studio.messages())


def test_a_spare_process_takes_a_dead_clocks_place_and_another_stands_by(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.spare_id)
    time.sleep(1.0)
    spare = studio.clock.spare_id
    studio.clock.sound([60, 64])
    until(lambda: len(studio.sounding()) == 2)
    os.kill(studio.clock.process_id or 0, signal.SIGKILL)
    until(lambda: studio.clock.process_id == spare, 2)
    until(lambda: not studio.sounding(), 1)
    until(lambda: studio.clock.ready)
    studio.clock.sound([72], 80)
    until(lambda: note_on(72) in studio.messages())
    until(lambda: studio.clock.spare_id not in (None, spare), 4)


def test_the_notes_of_a_clock_that_dies_together_with_the_process_that_lists_ports_end(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.ports() and studio.clock.spare_id)
    time.sleep(1.0)
    studio.clock.sound([60, 64])
    until(lambda: len(studio.sounding()) == 2)
    os.kill(studio.clock.lister_id or 0, signal.SIGKILL)
    os.kill(studio.clock.process_id or 0, signal.SIGKILL)
    until(lambda: not studio.sounding(), 1)
    assert {note_off(60), note_off(64)} <= set(studio.messages())


def test_the_spare_follows_the_instrument_to_another_port(studio: Studio):
    studio.plug(PIANO, "Strings 1")
    studio.ready()
    until(lambda: studio.clock.spare_id)
    studio.clock.open("Strings")
    until(lambda: studio.clock.status == "plays through Strings 1")
    time.sleep(1.0)
    studio.clock.sound([60])
    until(lambda: studio.sounding())
    os.kill(studio.clock.process_id or 0, signal.SIGKILL)
    until(lambda: not studio.sounding(), 1)
    until(lambda: studio.clock.status == "plays through Strings 1")
    studio.clock.sound([72])
    until(lambda: "Strings 1\t" + note_on(72, 76).hex() in (studio.folder / "sent").read_text())


def test_no_spare_stands_by_for_sound_that_is_no_midi_port(studio: Studio):
    studio.clock.start()
    until(lambda: studio.clock.process_id)
    time.sleep(0.5)
    assert studio.clock.spare_id is None


def test_after_every_death_the_notes_that_sounded_are_released_one_by_one_though_a_new_clock_may_take_its_time(
    studio: Studio,
):
    studio.ready()
    until(lambda: studio.clock.ports())
    killed = 0
    for turn in range(6):
        until(lambda old=killed: studio.clock.ready and studio.clock.process_id not in (None, old), 12)
        before = len(studio.messages())
        studio.clock.sound([50 + turn, 62, 65], channel=2)
        until(lambda: len(studio.sounding()) == 3)
        killed = studio.clock.process_id or 0
        for number in (studio.clock.spare_id, killed):
            if number:
                os.kill(number, signal.SIGKILL)
        until(lambda: not studio.sounding(), 3)
        after = studio.messages()[before:]
        assert {note_off(50 + turn, 2), note_off(62, 2), note_off(65, 2)} <= set(after)
    assert any("again in" in text for text in studio.said())


def test_silence_is_sent_by_another_process_while_the_clock_hangs(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.ports())
    studio.clock.sound([60, 64])
    until(lambda: len(studio.sounding()) == 2)
    os.kill(studio.clock.process_id or 0, signal.SIGSTOP)
    studio.clock.panic()
    until(lambda: not studio.sounding(), 1.5)
    assert not [event for event in studio.events if event.kind == "alarm"]


def test_silence_that_nobody_can_send_is_said(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.ports())
    studio.plug()
    until(lambda: not studio.clock.ready, 4)
    studio.clock.panic()
    until(lambda: [event for event in studio.events if event.kind == "alarm"], 3)
    words = next(event.text for event in studio.events if event.kind == "alarm")
    assert words.startswith("NOT SILENCED")
    assert "Piano" in words


def test_a_port_that_comes_back_gets_the_controllers_once(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.ports())
    studio.plug()
    until(lambda: not studio.clock.ready, 4)
    before = len(studio.messages())
    studio.plug(PIANO)
    until(lambda: studio.clock.ready, 4)
    time.sleep(1.5)
    assert studio.messages()[before:].count(control(120, 0)) == 1


@pytest.mark.parametrize("trouble", ["send", "crash"])
def test_a_library_that_hangs_or_crashes_in_a_send_never_holds_up_the_screen(studio: Studio, trouble: str):
    studio.ready()
    studio.trouble(trouble)
    longest = 0.0
    for n in range(100):
        begin = time.monotonic()
        studio.clock.sound([n], [80])
        studio.clock.play(Performance(((0.0, note_on(60)),) * 500))
        longest = max(longest, time.monotonic() - begin)
    # A send that hangs would hold up for good: a second tells that from a busy machine.
    assert longest < 1.0
    until(lambda: studio.clock.restarts > 0, 6)
    studio.trouble("")
    until(lambda: studio.clock.ready, 12)
    studio.clock.sound([72], 80)
    until(lambda: note_on(72) in studio.messages())


def test_unplugging_is_said_within_two_seconds_and_plugging_in_again_is_enough(studio: Studio):
    studio.ready()
    until(lambda: studio.clock.ports())
    studio.plug("Other:Other 1 24:0")
    until(lambda: not studio.clock.ready, 2)
    assert "not connected" in studio.clock.status
    studio.plug("Other:Other 1 24:0", "Piano:Piano MIDI 1 28:0")
    until(lambda: studio.clock.ready, 4)
    assert studio.clock.status == "plays through Piano MIDI 1"


def test_a_list_that_hangs_is_said_in_one_line(studio: Studio):
    studio.trouble("list")
    studio.clock.start()
    studio.clock.open("Piano")
    time.sleep(0.3)
    assert "Piano: " in studio.clock.status
    assert "\n" not in studio.clock.status


@pytest.mark.parametrize(("trouble", "words"), [("library", "not installed"), ("system", "offers no MIDI")])
def test_a_missing_library_or_system_is_one_line_and_nothing_else(studio: Studio, trouble: str, words: str):
    studio.trouble(trouble)
    studio.clock.start()
    studio.clock.open("Piano")
    until(lambda: words in studio.clock.status)
    studio.clock.sound([60])
    studio.clock.play(Performance((), (Mark(0.0, "beat", 3),)))
    until(lambda: any(event.kind == "beat" for event in studio.events))
    assert studio.clock.restarts == 0
    # One row of the usual window.
    assert "\n" not in studio.clock.status
    assert len(studio.clock.status) <= 80
