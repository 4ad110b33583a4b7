import time

import numpy as np
import pytest

from engine.performance.events import control, note_on
from tests.tui.waiting import until
from tui.audio.device import BlockClock, BuiltInSound, NoSound, open_built_in
from tui.audio.synthesizer import RATE


def test_two_messages_keep_their_distance_to_the_sample(monkeypatch):
    sound, now = BuiltInSound(), 100.0
    sound.block(384, now)
    monkeypatch.setattr(time, "monotonic", lambda: 100.001)
    sound.send(note_on(60))
    monkeypatch.setattr(time, "monotonic", lambda: 100.0195)
    sound.send(note_on(100, 127, 2))
    blocks = np.concatenate([sound.block(384, now + 0.008 * number) for number in range(1, 5)])
    first = np.flatnonzero(blocks)[0]
    assert first == pytest.approx(0.001 * RATE, abs=3)
    # The second is found where the sound changes from one note alone.
    alone = BuiltInSound()
    alone._synthesizer.message(note_on(60))
    single = alone._synthesizer.block(len(blocks))
    second = np.flatnonzero(np.abs(blocks[first - 1 :] - single[: len(blocks) - first + 1]) > 1e-5)
    assert second[0] - 1 == pytest.approx(0.0185 * RATE, abs=8)


def test_calls_that_come_unevenly_are_smoothed():
    clock, frames = BlockClock(), 384
    uneven = [0.0, 0.0015, -0.001, 0.002, 0.0, -0.0015, 0.001] * 20
    begun = [clock.begin(50 + number * 0.008 + late, frames) for number, late in enumerate(uneven)]
    errors = [at - (50 + (number - 1) * 0.008) for number, at in enumerate(begun)][5:]
    assert max(abs(error - np.mean(errors)) for error in errors) < 0.0003
    assert all(at + 0.008 <= 50 + number * 0.008 + uneven[number] + 1e-9 for number, at in enumerate(begun))


def test_after_a_pause_the_real_time_counts():
    clock = BlockClock()
    clock.begin(10.0, 384)
    assert clock.begin(60.0, 384) == pytest.approx(60.0 - 0.008)


@pytest.fixture
def null(monkeypatch):
    pytest.importorskip("miniaudio", reason="pip install miniaudio")
    monkeypatch.setenv("STILLHAND_AUDIO", "null")


def test_into_nothing_it_plays_in_time_and_is_silent_soon_after_all_sound_off(null):
    sound = open_built_in()
    try:
        for key in (48, 55, 64, 71):
            sound.send(note_on(key))
        until(lambda: not sound._synthesizer.silent, 5)
        sound.send(control(120, 0))
        until(lambda: sound._synthesizer.silent, 5)
    finally:
        sound.close()
        sound.close()


def test_without_a_device_it_says_so_in_one_line(monkeypatch, capfd):
    miniaudio = pytest.importorskip("miniaudio", reason="pip install miniaudio")

    def none(*_args, **_more):
        raise miniaudio.MiniaudioError("no suitable audio backend found")

    monkeypatch.setattr(miniaudio, "PlaybackDevice", none)
    with pytest.raises(NoSound, match="no sound device was found"):
        open_built_in()
