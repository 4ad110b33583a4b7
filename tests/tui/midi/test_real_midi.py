"""Through a real port to a real synthesizer: what was planned is what sounds, and then nothing does (see rig.py)."""

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from engine.performance.events import note_on
from engine.performance.play_along import Ride, play_along
from engine.performance.sound_settings import Touch, entry
from engine.performance.timeline import Performance
from engine.planning.model import Plan
from engine.song.model import Song
from tests.engine.performance.by_hand import FOUR, plan_by_hand
from tests.tui.midi.heard import still_sounding
from tests.tui.midi.rig import RATE, Rig, demand, rig
from tests.tui.playback.recording_process import recorded, wait_for_blocks
from tests.tui.waiting import until
from tui.audio import BUILT_IN
from tui.midi.clock import Clock, ClockEvent
from tui.midi.port_list import ports_seen

ROOT = Path(__file__).resolve().parents[3]
TEMPO = 180.0
BEAT = 60 / TEMPO
ORGAN = 19
"""Church organ, whose partials stand still. Source: General MIDI System Level 1, sound set (from 0)."""

PLAN = plan_by_hand((4, (38,), (60, 65)), (4, (43,), (59, 65)), (4, (36,), (59, 64)))
"""Dm7 G7 Cmaj7 as shells."""

Wave = "np.ndarray[tuple[int], np.dtype[np.float64]]"


@dataclass(frozen=True)
class Take:
    """A recording and the sample at which the first click begins."""

    audio: Wave
    first: int
    plan: Plan

    def between(self, start: float, end: float) -> Wave:
        """Return the sound from `start` to `end`, in beats from the first click."""
        return self.audio[self.first + round(start * BEAT * RATE) : self.first + round(end * BEAT * RATE)]


@pytest.fixture(scope="module")
def take(tmp_path_factory: pytest.TempPathFactory) -> Take:
    """Count in, play two chords and a half, stop in the middle of the third, wait: recorded once for all tests."""
    demand()
    folder = tmp_path_factory.mktemp("take")
    with rig(folder) as built:
        built.start_server()
        built.start_synth()
        until(lambda: any("synth" in name for name in ports_seen().outputs), 15)
        clock = Clock(folder / "clock.log")
        try:
            clock.start()
            clock.open("synth")
            until(lambda: clock.ready)
            touch = Touch(left=90, right=90, guide=60, restrike="chord")
            clock.send(entry(Touch(program=ORGAN)))
            time.sleep(0.3)
            song = Song("Take", "C", FOUR, TEMPO)
            clock.play(play_along(song, PLAN, Ride(touch=touch, click=False)), 0.1)
            time.sleep(0.1 + 14 * BEAT)
            clock.silence()
            time.sleep(1.2)
        finally:
            clock.close()
        audio = built.audio()
    loud = np.flatnonzero(np.abs(audio) > 0.01)
    return Take(audio, int(loud[0]) if len(loud) else 0, PLAN)


def level(sound: Wave) -> float:
    return float(np.sqrt(np.mean(sound**2))) if len(sound) else 0.0


def pitches(sound: Wave, keys: range) -> dict[int, float]:
    """Return for each key how strong its fundamental is, in decibels under the strongest."""
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), 1 << 17))
    width = RATE / (1 << 17)

    def strength(key: int) -> float:
        hertz = 440 * 2 ** ((key - 69) / 12)
        near = spectrum[round(hertz * 0.985 / width) : round(hertz * 1.015 / width) + 1]
        return float(near.max())

    found = {key: strength(key) for key in keys}
    top = max(found.values())
    return {key: 20 * float(np.log10(value / top + 1e-9)) for key, value in found.items()}


def onsets(sound: Wave) -> list[float]:
    """Return where the envelope jumps up, in seconds: to thrice the 20 ms before it, at least 100 ms apart."""
    frame = RATE // 500
    envelope = np.abs(sound[: len(sound) // frame * frame]).reshape(-1, frame).max(axis=1)
    found: list[float] = []
    for index, value in enumerate(envelope):
        before = envelope[max(index - 10, 0) : index]
        if (
            value > 0.02
            and (not len(before) or value > 3 * before.max())
            and (not found or index / 500 - found[-1] > 0.1)
        ):
            found.append(index / 500)
    return found


def test_the_count_is_clicked_on_every_beat(take: Take):
    # Up to shortly before the fourth beat, which a recording may hear a moment early.
    assert onsets(take.between(0, 2.8)) == pytest.approx([0, BEAT, 2 * BEAT], abs=0.012)


def test_no_chord_is_struck_before_its_place(take: Take):
    assert level(take.between(3.5, 3.9)) < level(take.between(4.5, 4.9)) / 10


@pytest.mark.parametrize("index", [0, 1])
def test_every_planned_note_is_in_the_spectrum_and_no_other(take: Take, index: int):
    keys = take.plan.steps[index].keys
    found = pitches(take.between(4 + 4 * index + 0.5, 4 + 4 * index + 3.5), range(36, 67))
    quietest = min(found[key] for key in keys)
    partials = {key + above for key in keys for above in (0, 12, 19, 24, 28, 31)}
    others = [strength for key, strength in found.items() if key not in partials]
    assert quietest > -22
    assert max(others) < quietest - 6


def test_the_chord_changes_on_the_bar(take: Take):
    before = pitches(take.between(7.2, 7.9), range(36, 67))
    after = pitches(take.between(8.1, 8.8), range(36, 67))
    assert before[38] > -22 > after[38]
    assert after[43] > -22


def test_after_a_stop_there_is_silence(take: Take):
    playing = level(take.between(12.5, 13.5))
    assert playing > 0.005
    assert level(take.between(15, 16)) < playing / 1000


PLAYER = """
import random, sys, time
from engine.performance.events import note_off, note_on
from engine.performance.timeline import Loop, Performance
from tui.midi.clock import Clock
clock = Clock()
clock.start(); clock.open("monitor")
while not clock.ready or clock.ports() is None or clock.spare_id is None: time.sleep(0.005)
time.sleep(0.5)
line = [(n * 0.01, note_on(36 + n % 60)) for n in range(60)]
clock.play(Performance(tuple(line), (), (Loop(0.0, 0.6),), 0.6))
print(clock.process_id, clock.lister_id, clock.spare_id, flush=True)
sys.stdin.read()
"""

TIMES = int(os.environ.get("STILLHAND_KILLS", "20"))
"""How often a process is killed; the full proof takes 100."""


VICTIMS = (
    "interface", "clock", "lister", "spare", "interface clock", "interface lister", "clock lister", "clock spare",
    "interface spare", "lister spare",
)  # fmt: skip


def test_killing_any_process_or_two_at_any_moment_leaves_nothing_sounding(monitored: Rig):
    chance = random.Random(20)
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    for turn in range(TIMES):
        player = subprocess.Popen(
            [sys.executable, "-c", PLAYER], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=environment
        )
        try:
            assert player.stdout
            clock, lister, spare = map(int, player.stdout.readline().split())
            time.sleep(chance.uniform(0.02, 0.6))
            numbers = {"interface": player.pid, "clock": clock, "lister": lister, "spare": spare}
            victims = VICTIMS[turn % len(VICTIMS)].split()
            for victim in victims:
                os.kill(numbers[victim], signal.SIGKILL)
            if not {"interface", "clock"} & set(victims):
                # The music goes on; with the interface it ends as ever.
                time.sleep(0.3)
                player.kill()
            until(lambda: not still_sounding(monitored.heard()), 10)
        finally:
            player.kill()
            player.wait()
        time.sleep(0.3)
        until(lambda: not still_sounding(monitored.heard()), 6)
        assert monitored.heard(), f"nothing was heard in turn {turn}"


def test_another_key_while_it_plays_sounds_no_wrong_note(lossless: Rig):
    clock = Clock()
    moved = plan_by_hand((4, (39,), (61, 66)), (4, (44,), (60, 66)), (4, (37,), (60, 65)))
    song, ride = Song("Key", "C", FOUR, 240.0), Ride(click=False, counted=False)
    try:
        clock.start()
        clock.open("monitor")
        until(lambda: clock.ready)
        clock.play(play_along(song, PLAN, ride))
        until(lambda: bytes((0x90, 38, 76)) in lossless.heard())
        clock.mute()
        until(lambda: not still_sounding(lossless.heard()), 1)
        before = len(lossless.heard())
        clock.go_on(play_along(song, moved, ride))
        until(lambda: bytes((0x80, 37, 64)) in lossless.heard())
        struck = [data[1] for data in lossless.heard()[before:] if data[0] == 0x90]
        # The 66 is held into the second chord and struck with it.
        assert (sorted(struck[:3]), struck[3:]) == ([44, 60, 66], [37, 65])
    finally:
        clock.close()


def test_two_copies_show_the_same_place_and_a_late_one_finds_it(lossless: Rig):
    places: list[ClockEvent] = []
    leader, follower = Clock(), Clock(on_event=places.append)
    song, plan = Song("Lead", "C", FOUR, 240.0), plan_by_hand(*[(4, (48,), ())] * 7)
    try:
        leader.start()
        leader.open("virtual:stage", "lead")
        until(lambda: leader.status == "leads on stage")
        leader.play(play_along(song, plan, Ride(guide="none", click=False, counted=False, lead=True, song_number=3)))
        time.sleep(1.0)
        follower.start()
        follower.open("stage", "follow")
        until(lambda: any(event.place and event.place.sixteenth == 48 for event in places), 10)
        seen = next(event for event in places if event.place and event.place.sixteenth == 48)
        assert seen.place
        assert seen.place.running
        leader.silence()
        until(lambda: any(event.place and not event.place.running for event in places if event.kind == "place"))
    finally:
        leader.close()
        follower.close()


def test_what_is_played_is_passed_on_to_an_instrument(lossless: Rig):
    other, ours = Clock(), Clock()
    try:
        other.start()
        other.open("virtual:keys")
        until(lambda: other.ready)
        ours.start()
        ours.open("keys", "in")
        ours.open("monitor", "thru")
        until(lambda: "listens to" in ours.status and "passes on to" in ours.status)
        other.sound([60, 64], 90)
        until(lambda: still_sounding(lossless.heard()) == {(0, 60), (0, 64)})
        other.silence()
        until(lambda: not still_sounding(lossless.heard()))
    finally:
        other.close()
        ours.close()


def test_a_midi_port_and_the_built_in_sound_sound_at_once(
    lossless: Rig, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    pytest.importorskip("miniaudio", reason="pip install miniaudio")
    monkeypatch.setenv("RECORDED", str(tmp_path))
    monkeypatch.setenv("STILLHAND_AUDIO", "null")
    clock = Clock(module="tests.tui.playback.recording_process", sinks=(BUILT_IN,))
    try:
        clock.start()
        clock.open("monitor")
        clock.open(BUILT_IN, "beside")
        until(lambda: clock.ready and f"and through {BUILT_IN}" in clock.status)
        clock.sound([69])
        until(lambda: bytes((0x90, 69, 76)) in lossless.heard())
        until(lambda: np.abs(recorded(tmp_path)[0]).max(initial=0) > 0.01)
        clock.silence()
        until(lambda: not still_sounding(lossless.heard()))
        wait_for_blocks(tmp_path, 60)
        assert np.abs(recorded(tmp_path)[0][-RATE // 20 :]).max() < 0.001
    finally:
        clock.close()


def test_keys_that_are_played_come_in_and_a_leader_that_was_lost_is_found_again(monitored: Rig):
    heard: list[ClockEvent] = []
    other, ours = Clock(), Clock(on_event=heard.append)
    try:
        other.start()
        other.open("virtual:keys")
        other.open("virtual:stage", "lead")
        until(lambda: other.ready)
        ours.start()
        ours.open("keys", "in")
        ours.open("stage", "follow")
        until(lambda: ours.status == "listens to stillhand leads:keys; follows stillhand leads-01:stage")
        other.sound([60, 64], 90)
        until(lambda: [event.data[:2] for event in heard if event.kind == "in"][-2:] == [b"\x90\x3c", b"\x90\x40"])
        sent = next(event.seconds for event in heard if event.data[:2] == b"\x90\x3c")
        assert abs(time.monotonic() - sent) < 1
        os.kill(other.process_id or 0, signal.SIGKILL)
        until(lambda: other.restarts)
        other.lead(4, 16)
        until(lambda: any(event.place and event.place.song == 4 for event in heard), 12)
    finally:
        other.close()
        ours.close()


@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGKILL] if TIMES > 20 else [signal.SIGTERM])
def test_a_server_that_goes_is_said_and_the_next_one_is_taken_up(tmp_path: Path, end: signal.Signals):
    demand()
    with rig(tmp_path, sync=False) as built:
        server = built.start_server()
        built.start_monitor()
        clock = Clock(tmp_path / "clock.log")
        try:
            clock.start()
            clock.open("monitor")
            until(lambda: clock.ready)
            clock.play(Performance(tuple((n * 0.001, note_on(n % 128)) for n in range(5000))))
            server.send_signal(end)
            until(lambda: not clock.ready, 6)
            assert clock.status
            longest = 0.0
            for _ in range(200):
                before = time.monotonic()
                clock.sound([60])
                longest = max(longest, time.monotonic() - before)
            # A port that hangs would hold up for good: a second tells that from a busy machine.
            assert longest < 1.0
            if end == signal.SIGKILL:
                return  # JACK itself takes no client for a while after it was killed.
            server.wait()
            # A client of the old server troubles the new one (seen), so the old monitor goes first.
            built.processes[-1].kill()
            built.start_server()
            built.start_monitor()
            until(lambda: clock.ready, 15)
            clock.sound([60])
            until(lambda: bytes((0x90, 60, 76)) in built.heard())
        finally:
            clock.close()
