"""A song in time through the real clock process and the built-in sound, its samples written down (null device)."""

import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from engine.performance.play_along import Ride, play_along
from engine.song.model import Song
from tests.engine.performance.by_hand import FOUR, plan_by_hand
from tests.tui.playback.recording_process import recorded, wait_for_blocks
from tests.tui.waiting import until
from tui.audio import BUILT_IN
from tui.audio.synthesizer import RATE
from tui.audio.tones import hertz
from tui.midi.clock import Clock, ClockEvent

pytest.importorskip("miniaudio", reason="pip install miniaudio")

SONG = Song("Try", "C", FOUR, 300.0)
VAMP = {"section": "V", "until": "cue", "section_start": True, "comp": "half"}
PLAN = plan_by_hand(
    (4, (48,), (64, 67)),
    (4, (41,), (60, 69), {"comp": "charleston"}),
    (4, (43,), (59, 65), VAMP),
    (4, (36,), (61, 70), {"section": "End", "section_start": True}),
)


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[Clock, list[ClockEvent], Path]]:
    monkeypatch.setenv("RECORDED", str(tmp_path))
    monkeypatch.setenv("STILLHAND_AUDIO", "null")
    events: list[ClockEvent] = []
    clock = Clock(tmp_path / "log", events.append, "tests.tui.playback.recording_process", (BUILT_IN,))
    clock.start()
    clock.open(BUILT_IN)
    until(lambda: clock.ready)
    yield clock, events, tmp_path
    clock.close()


def strongest(samples: np.ndarray, keys: range) -> list[int]:  # type: ignore[type-arg]
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples))))
    at = np.fft.rfftfreq(len(samples), 1 / RATE)
    return sorted(keys, key=lambda key: -spectrum[np.argmin(np.abs(at - hertz(key)))])


def test_a_whole_form_sounds_as_planned_with_its_vamp_and_is_over_in_time(studio) -> None:
    clock, events, folder = studio
    clock.play(play_along(SONG, PLAN, Ride(click=False, counted=False)))
    until(lambda: any(event.kind == "pass" for event in events), 10)
    clock.cue()
    until(lambda: any(event.kind == "end" for event in events), 10)
    wait_for_blocks(folder)
    samples, _ = recorded(folder)
    begin = int(np.flatnonzero(samples)[0])
    bar = round(0.8 * RATE)
    passes = sum(event.kind == "pass" for event in events)
    order = [0, 1] + [2] * (passes + 1) + [3]
    for number, step in enumerate(order):
        stretch = samples[begin + number * bar + 2400 : begin + number * bar + round(0.3 * RATE)]
        keys = PLAN.steps[step].keys
        # At this length neighbouring low keys are not told apart; the upper two are.
        assert set(strongest(stretch, range(55, 72))[:2]) == {key for key in keys if key >= 55}, number
    assert not samples[begin + len(order) * bar + round(0.15 * RATE) :].any()
    assert np.abs(samples).max() < 1


def test_after_x_nothing_sounds_on(studio) -> None:
    """How soon is measured by `python -m tests.bench audio`."""
    clock, _, folder = studio
    for _ in range(3):
        clock.play(play_along(SONG, PLAN, Ride(counted=False)))
        time.sleep(0.5)
        clock.panic()
        wait_for_blocks(folder)
        samples, asked = recorded(folder)
        last = int(np.flatnonzero(samples)[-1])
        assert last // (len(samples) // len(asked)) < len(asked) - 5


def test_without_a_device_the_status_says_so_and_playing_goes_on(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.setenv("STILLHAND_AUDIO", "device")
    monkeypatch.setenv("RECORDED", str(tmp_path / "nowhere"))
    events: list[ClockEvent] = []
    clock = Clock(tmp_path / "log", events.append, "tests.tui.playback.mute_process", (BUILT_IN,))
    try:
        clock.start()
        clock.open(BUILT_IN)
        until(lambda: "no sound device" in clock.status)
        clock.play(play_along(SONG, PLAN, Ride(counted=False)))
        until(lambda: any(event.kind == "step" and event.value == 1 for event in events), 10)
        assert sum("no sound device" in event.text for event in events if event.kind == "status") == 1
    finally:
        clock.close()
