"""The clock process with a pretended MIDI library that can be unplugged, hang and crash."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from engine.perform.events import Note, control, note_off, note_on, wire
from engine.perform.following import CLOCK, START, place_messages
from engine.perform.timeline import Loop, Mark, Performance
from tests.tui.devices.heard import still_sounding
from tui.devices.clock import Clock, ClockEvent

ROOT = Path(__file__).resolve().parents[3]
PIANO = "Piano:Piano MIDI 1 20:0"
SENSE = b"\xfe"


class Studio:
    """A folder that plays the MIDI system, and the clock under test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.events: list[ClockEvent] = []
        self.clock = Clock(folder / "log", self.events.append)
        self.plug(PIANO)

    def plug(self, *outputs: str, inputs: tuple[str, ...] = ()) -> None:
        (self.folder / "outputs").write_text("".join(f"{name}\n" for name in outputs))
        (self.folder / "inputs").write_text("".join(f"{name}\n" for name in inputs))

    def trouble(self, what: str) -> None:
        (self.folder / "trouble").write_text(what)

    def play(self, port: str, *messages: bytes) -> None:
        with (self.folder / f"in {port}").open("a") as file:
            file.writelines(f"{data.hex()}\n" for data in messages)

    def sent(self) -> list[tuple[float, bytes]]:
        path = self.folder / "sent"
        lines = path.read_text().split("\n")[:-1] if path.exists() else []
        return [(float(line.split("\t")[0]), bytes.fromhex(line.split("\t")[2])) for line in lines]

    def messages(self) -> list[bytes]:
        """Return what was sent, active sensing left aside."""
        return [data for _, data in self.sent() if data != SENSE]

    def sensed(self) -> list[float]:
        return [at for at, data in self.sent() if data == SENSE]

    def sounding(self) -> set[tuple[int, int]]:
        return still_sounding(self.messages())

    def said(self) -> list[str]:
        return [event.text for event in self.events if event.kind == "status"]

    def ready(self) -> None:
        self.clock.start()
        self.clock.open("Piano")
        until(lambda: self.clock.ready)


def until(true: Callable[[], object], seconds: float = 10.0) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not happen in time"
        time.sleep(0.01)


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Studio]:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parent / "pretended"))
    monkeypatch.setenv("PRETENDED_MIDI", str(tmp_path))
    studio = Studio(tmp_path)
    yield studio
    studio.clock.close()


def test_notes_are_sent_in_order_and_in_time(studio: Studio):
    studio.ready()
    line = wire(tuple(Note(n * 0.05, 60 + n, 0.04) for n in range(8)))
    before = len(studio.messages())
    studio.clock.play(Performance(line), 0.1)
    until(lambda: len(studio.messages()) >= before + len(line))
    sent = [item for item in studio.sent() if item[1][0] & 0xE0 == 0x80]
    assert [data for _, data in sent] == [data for _, data in line]
    begin = sent[0][0] - line[0][0]
    late = sorted(abs(at - begin - planned) for (at, _), (planned, _) in zip(sent, line, strict=True))
    assert late[len(late) // 2] < 0.003


def test_beats_and_steps_are_said_when_they_come(studio: Studio):
    studio.ready()
    marks = (Mark(0.0, "beat", 3), Mark(0.1, "step", 7))
    studio.clock.play(Performance((), marks))
    until(lambda: any(event.kind == "end" for event in studio.events))
    said = [(event.kind, event.value) for event in studio.events if event.kind in ("beat", "step")]
    assert said == [("beat", 3), ("step", 7)]


def test_the_beat_goes_on_without_any_port(studio: Studio):
    studio.plug()
    studio.clock.start()
    until(lambda: studio.clock.process_id)
    studio.clock.play(Performance((), (Mark(0.0, "beat", 3),)))
    until(lambda: any(event.kind == "beat" for event in studio.events))


def test_a_long_piece_arrives_whole(studio: Studio):
    studio.ready()
    line = tuple((n * 0.0002, note_on(n % 128) if n % 2 == 0 else note_off((n - 1) % 128)) for n in range(1000))
    before = len(studio.messages())
    studio.clock.play(Performance(line))
    until(lambda: len(studio.messages()) >= before + 1000)
    assert studio.sounding() == set()


def test_a_chord_sounds_until_the_next_and_keeps_common_tones(studio: Studio):
    studio.ready()
    before = len(studio.messages())
    studio.clock.sound([50, 60, 65], [40, 50, 60])
    studio.clock.sound([43, 59, 65], 70, legato=True)
    until(lambda: len(studio.messages()) >= before + 7)
    assert studio.messages()[before:] == [
        note_on(50, 40), note_on(60, 50), note_on(65, 60),
        note_off(50), note_off(60), note_on(43, 70), note_on(59, 70),
    ]  # fmt: skip


def test_a_chord_can_be_given_its_length(studio: Studio):
    studio.ready()
    studio.clock.sound([60], seconds=0.05)
    until(lambda: note_off(60) in studio.messages())


def test_silence_ends_every_note_the_pedal_and_the_playing(studio: Studio):
    studio.ready()
    studio.clock.play(Performance(((0.0, note_on(60)), (0.0, control(64, 127)), (0.3, note_on(61)))))
    until(lambda: note_on(60) in studio.messages())
    studio.clock.silence()
    until(lambda: studio.messages()[-1] == control(120, 0))
    time.sleep(0.4)
    assert studio.messages()[-4:] == [note_off(60), control(64, 0), control(123, 0), control(120, 0)]


def test_panic_reaches_all_sixteen_channels(studio: Studio):
    studio.ready()
    before = len(studio.messages())
    studio.clock.panic()
    until(lambda: len(studio.messages()) >= before + 48)
    assert {data[0] & 0x0F for data in studio.messages()[before:]} == set(range(16))


def test_a_loop_goes_round_until_the_cue_and_leaves_nothing_sounding(studio: Studio):
    studio.ready()
    line = ((0.0, note_on(60)), (0.1, note_off(60)), (0.1, note_on(72)), (0.2, note_off(72)))
    studio.clock.play(Performance(line, (), (Loop(0.0, 0.1),), 0.2))
    until(lambda: studio.messages().count(note_on(60)) >= 3)
    assert note_on(72) not in studio.messages()
    studio.clock.cue()
    until(lambda: any(event.kind == "end" for event in studio.events))
    assert note_on(72) in studio.messages()
    assert studio.sounding() == set()


def test_closing_silences_and_ends_the_process(studio: Studio):
    studio.ready()
    studio.clock.sound([60, 64, 67])
    until(lambda: len(studio.sounding()) == 3)
    studio.clock.close()
    assert studio.sounding() == set()
    studio.clock.close()


def test_sigterm_silences(studio: Studio):
    studio.ready()
    studio.clock.sound([60, 64, 67])
    until(lambda: len(studio.sounding()) == 3)
    os.kill(studio.clock.process_id or 0, signal.SIGTERM)
    until(lambda: not studio.sounding(), 2)


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


def test_an_instrument_that_has_been_played_hears_every_300_milliseconds_that_we_are_there(studio: Studio):
    studio.ready()
    time.sleep(0.5)
    assert studio.sensed() == []
    studio.clock.sound([60])
    until(lambda: len(studio.sensed()) > 8)
    gaps = [after - before for before, after in pairwise(studio.sensed())]
    # The middle one: a busy machine may hold one up.
    assert sorted(gaps)[len(gaps) // 2] < 0.3


def test_active_sensing_ends_with_the_clock_and_is_left_when_told(studio: Studio):
    studio.ready()
    studio.clock.sound([60])
    until(lambda: studio.sensed())
    studio.clock.sense(False)
    time.sleep(0.3)
    before = len(studio.sensed())
    time.sleep(0.5)
    assert len(studio.sensed()) == before


def test_active_sensing_is_not_sent_to_copies_that_are_led(studio: Studio):
    studio.plug(PIANO, "Net 1")
    studio.ready()
    studio.clock.open("Net 1", "lead")
    studio.clock.sound([60])
    until(lambda: len(studio.sensed()) > 2)
    lines = (studio.folder / "sent").read_text().split("\n")[:-1]
    assert {line.split("\t")[1] for line in lines if line.endswith("\tfe")} == {PIANO}


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


def test_a_leaders_place_is_followed(studio: Studio):
    studio.plug(PIANO, inputs=("Net 1",))
    studio.clock.start()
    studio.clock.open("Net 1", "follow")
    until(lambda: studio.clock.status == "follows Net 1")
    studio.play("Net 1", *place_messages(3, 32), bytes((START,)), *[bytes((CLOCK,))] * 13)
    until(lambda: any(event.place and event.place.sixteenth == 2 for event in studio.events))
    first = next(event.place for event in studio.events if event.place and event.place.sixteenth == 32)
    assert first.song == 3


def test_a_leader_repeats_its_place_for_those_who_come_late(studio: Studio):
    studio.ready()
    studio.clock.open("Piano", "lead")
    studio.clock.lead(2, 64)
    until(lambda: studio.messages().count(place_messages(2, 64)[1]) >= 2, 4)


def test_stopping_a_leader_stops_its_followers(studio: Studio):
    studio.ready()
    studio.clock.open("Piano", "lead")
    studio.clock.play(Performance(((0.0, bytes((START,))), (9.0, bytes((CLOCK,))))))
    until(lambda: bytes((START,)) in studio.messages())
    studio.clock.stop()
    until(lambda: bytes((0xFC,)) in studio.messages())


PLAYER = """
import sys, time
from engine.perform.timeline import Performance
from engine.perform.events import note_on
from tui.devices.clock import Clock
clock = Clock()
clock.start(); clock.open("Piano")
while not clock.ready or clock.ports() is None: time.sleep(0.01)
clock.play(Performance(tuple((n * 0.01, note_on(40 + n % 60)) for n in range(2000))))
print(clock.process_id, flush=True)
time.sleep(60)
"""


@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGTERM, signal.SIGSTOP])
def test_an_interface_that_dies_or_is_suspended_leaves_nothing_sounding(studio: Studio, end: signal.Signals):
    environment = {**os.environ, "PYTHONPATH": f"{os.environ['PYTHONPATH']}{os.pathsep}{ROOT}"}
    with subprocess.Popen([sys.executable, "-c", PLAYER], stdout=subprocess.PIPE, env=environment) as player:
        assert player.stdout
        try:
            player.stdout.readline()
            until(lambda: len(studio.sounding()) > 5)
            player.send_signal(end)
            until(lambda: not studio.sounding(), 8)
            time.sleep(0.2)
            assert not studio.sounding()
        finally:
            player.kill()


def test_when_interface_and_clock_are_killed_at_once_the_third_process_silences(studio: Studio):
    environment = {**os.environ, "PYTHONPATH": f"{os.environ['PYTHONPATH']}{os.pathsep}{ROOT}"}
    with subprocess.Popen([sys.executable, "-c", PLAYER], stdout=subprocess.PIPE, env=environment) as player:
        assert player.stdout
        clock = int(player.stdout.readline())
        # The listing process runs, and is told of the port within the watch's quarter second.
        time.sleep(1.0)
        assert studio.sounding()
        os.kill(clock, signal.SIGKILL)
        player.kill()
    until(lambda: not studio.sounding(), 10)
    time.sleep(0.3)
    assert not studio.sounding()
