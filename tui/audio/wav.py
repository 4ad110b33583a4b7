"""A planned song as a sound file (WAV, 16 bits, one channel), made by the built-in sound."""

import io
import wave
from dataclasses import replace
from typing import TYPE_CHECKING

from engine.performance.events import in_order
from engine.performance.play_along import Ride, play_along
from engine.performance.sound_settings import PROGRAMS, entry
from tui.audio.synthesizer import RATE, rendered
from tui.audio.voices import Samples

if TYPE_CHECKING:
    from engine.planning.model import Plan
    from engine.song.model import Song

FADE_OUT = 0.5
"""Seconds after the music in which the last chord fades."""


def song_wav(song: "Song", plan: "Plan", ride: Ride | None = None) -> bytes:
    """Return a song as it is played along, vamps once, in a WAV file."""
    ride = ride or Ride()
    performance = play_along(song, plan, ride)
    number = ride.touch.program
    touch = replace(ride.touch, program=PROGRAMS.get(song.sound) if number is None else number)
    called = tuple((0.0, data) for data in entry(touch))
    return wav(rendered(in_order(called, performance.messages), performance.seconds + FADE_OUT))


def wav(samples: Samples, rate: int = RATE) -> bytes:
    """Return samples between -1 and 1 as a WAV file."""
    written = io.BytesIO()
    with wave.open(written, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes((samples * 32767).astype("<i2").tobytes())
    return written.getvalue()
