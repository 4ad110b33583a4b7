"""A clock that dies or hangs, ports that come and go: said, mended, and never waited for."""

import os
import signal
import time

import pytest

from engine.performance.events import note_on
from engine.performance.timeline import Mark, Performance
from tests.tui.midi.studio import Studio
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
    assert len(studio.clock.status) < 70
