import io
import wave

import numpy as np

from engine.performance.play_along import Ride
from engine.song.model import Song
from tests.engine.performance.by_hand import FOUR, plan_by_hand
from tui.audio.wav import song_wav

SONG = Song("Try", "C", FOUR, 120.0)
PLAN = plan_by_hand((4, (48,), (64, 67)), (4, (41,), (60, 69)))


def read(data):
    with wave.open(io.BytesIO(data)) as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        samples = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32768
        return samples, file.getframerate()


def test_a_song_begins_with_its_count_and_ends_silent():
    samples, rate = read(song_wav(SONG, PLAN))
    assert len(samples) == round((2 + 4 + 0.5) * rate)
    assert samples[: round(0.02 * rate)].any()
    assert not samples[-round(0.1 * rate) :].any()


def test_without_count_and_click_only_the_chords_sound():
    samples, rate = read(song_wav(SONG, PLAN, Ride(click=False, counted=False)))
    assert len(samples) == round(4.5 * rate)
    quiet, _ = read(song_wav(SONG, PLAN, Ride(click=False, counted=False, guide="none")))
    assert not quiet.any()
