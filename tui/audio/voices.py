"""The notes that sound at once, all computed together, block by block (numpy)."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from tui.audio.tones import ClickTone, Tone, hertz

Samples = NDArray[np.float32]
_Values = NDArray[np.float64]

MOST = 64
"""Voices at most; the one that has been fading or sounding longest gives way."""

QUIET = 1e-4
"""A voice below this part of full scale (-80 dB) is over."""


@dataclass(slots=True)
class Voices:
    """One row a voice. Times are in samples since its note began; `ends` is when its release began (-1: not yet)."""

    rate: int
    key: NDArray[np.int64] = field(default_factory=lambda: np.full(MOST, -1))
    channel: NDArray[np.int64] = field(default_factory=lambda: np.zeros(MOST, np.int64))
    age: _Values = field(default_factory=lambda: np.zeros(MOST))
    ends: _Values = field(default_factory=lambda: np.full(MOST, -1.0))
    values: _Values = field(default_factory=lambda: np.zeros((8, MOST)))
    """Rows: radians a sample, loudness, attack, release, decay (samples), bright, dull, mellows (samples)."""

    def strike(self, key: int, channel: int, loud: float, tone: Tone) -> None:
        """Begin a note; `loud` from 0 to 1."""
        # Low strings ring longer: an octave up halves it in two.
        decay = tone.decay * 2 ** ((60 - key) / 24) if tone.decay else 1e9
        seconds = [tone.attack, tone.release, max(decay, 0.3)]
        self._begin(key, channel, hertz(key), loud, [max(s * self.rate, 1.0) for s in seconds], tone, 0.4 + 0.8 * loud)

    def click(self, key: int, channel: int, loud: float, tone: ClickTone) -> None:
        """Begin a click, which ends by itself."""
        lengths = [0.0005 * self.rate, tone.decay * self.rate, tone.decay * self.rate]
        plain = Tone(0.0, 0.0, 0.0, 0.0, 1.0, 0.0)
        row = self._begin(key, channel, tone.hertz, loud, lengths, plain, 0.0)
        self.key[row] = -2  # No note-off stops it.

    def _begin(
        self, key: int, channel: int, frequency: float, loud: float, lengths: list[float], tone: Tone, touch: float
    ) -> int:
        row = self._free()
        self.key[row], self.channel[row], self.age[row], self.ends[row] = key, channel, 0.0, -1.0
        radians = 2 * np.pi * frequency / self.rate
        # Sidebands above half the sampling rate would come back as wrong pitches.
        room = max(min(1.0, (0.5 * self.rate / frequency - 2) / 4), 0.0)
        mellows = max(tone.mellows * self.rate, 1.0)
        self.values[:, row] = [radians, loud, *lengths, tone.bright * touch * room, tone.dull * room, mellows]
        return row

    def _free(self) -> int:
        idle = np.flatnonzero(self.key == -1)
        if len(idle):
            return int(idle[0])
        fading = self.ends >= 0
        return int(np.argmax(self.age + 1e9 * fading))

    def release(self, key: int | None = None, channel: int | None = None) -> None:
        """Let notes end: those of a key and channel, None meaning all."""
        found = (self.key >= 0) & (self.ends < 0)
        if key is not None:
            found &= self.key == key
        if channel is not None:
            found &= self.channel == channel
        self.ends[found] = self.age[found]

    def cut(self, channel: int, seconds: float) -> None:
        """End everything on a channel within `seconds`, clicks included."""
        found = (self.key != -1) & (self.channel == channel)
        self.ends[found] = self.age[found]
        self.values[3, found] = np.minimum(self.values[3, found], seconds * self.rate)

    @property
    def sounding(self) -> int:
        """How many voices there are."""
        return int(np.count_nonzero(self.key != -1))

    def block(self, frames: int) -> _Values:
        """Return the sum of all voices for the next `frames` samples, and let them grow older."""
        rows = np.flatnonzero(self.key != -1)
        if not len(rows):
            return np.zeros(frames)
        radians, loud, attack, release, decay, bright, dull, mellows = (v[rows, None] for v in self.values)
        age = self.age[rows, None] + np.arange(frames)
        wave = radians * age
        wave += (dull + bright * np.exp(-age / mellows)) * np.sin(wave)
        np.sin(wave, out=wave)
        shape = loud * np.exp(-age / decay)
        if (self.age[rows] < self.values[2, rows]).any():
            shape *= 0.5 - 0.5 * np.cos(np.pi * np.minimum(age / attack, 1.0))
        ends = self.ends[rows, None]
        if (ends >= 0).any():
            gone = np.where(ends >= 0, np.clip((age - ends) / release, 0.0, 1.0), 0.0)
            shape *= 0.5 + 0.5 * np.cos(np.pi * gone)
        self.age[rows] += frames
        over = (shape[:, -1] < QUIET) & (self.age[rows] > self.values[2, rows])
        self.key[rows[over]] = -1
        return np.asarray((wave * shape).sum(axis=0))
