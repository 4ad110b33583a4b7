"""An instrument that takes MIDI messages and gives samples: no device, no clock, the same every time."""

from collections.abc import Iterable

import numpy as np

from tui.audio.tones import CLICKS, PIANO, Tone, tone_of
from tui.audio.voices import Samples, Voices

RATE = 48_000
"""Samples a second."""

DRUMS = 10
"""The percussion channel. Source: General MIDI System Level 1."""

NOTE_LOUDNESS = 0.22
"""Part of full scale of one note at full velocity: four loud notes stay below the bend of `_soft` (own choice)."""

BEND = 0.75
"""From this part of full scale on a sum is bent so that it never comes to full scale."""

SUSTAIN, VOLUME, SOUND_OFF, RESET, NOTES_OFF = 64, 7, 120, 121, 123
"""Controllers. Source: MIDI 1.0 Detailed Specification."""

MASTER = bytes((0xF0, 0x7F, 0x7F, 0x04, 0x01))
"""Master volume, then its fine and coarse value. Source: MIDI 1.0 Detailed Specification, universal real time."""

USUAL_VOLUME = 100
"""Channel volume at power up. Source: General MIDI System Level 1."""

CUT = 0.004
"""Seconds in which all sound off fades: shorter clicks."""


class Synthesizer:
    """Sixteen channels, each with its program, volume and sustain pedal; `volume` (0 to 1) goes over all."""

    def __init__(self, rate: int = RATE, volume: float = 1.0) -> None:
        self.rate, self.volume = rate, volume
        self._voices = Voices(rate)
        self._tones: dict[int, Tone] = {}
        self._volumes: dict[int, int] = {}
        self._pedals: set[int] = set()
        self._kept: set[tuple[int, int]] = set()

    @property
    def silent(self) -> bool:
        """True when nothing sounds, so that the next samples are zeros."""
        return self._voices.sounding == 0

    def message(self, data: bytes) -> None:
        """Take a MIDI message that is due with the next sample; what is not understood is left alone."""
        if data[:5] == MASTER and len(data) == 8:
            self.volume = (data[6] / USUAL_VOLUME) ** 2
        if len(data) < 2 or data[0] >= 0xF0:
            return
        kind, channel = data[0] & 0xF0, (data[0] & 0x0F) + 1
        if kind == 0x90 and data[2] > 0:
            self._strike(channel, data[1], data[2])
        elif kind in (0x80, 0x90):
            self._release(channel, data[1])
        elif kind == 0xC0:
            self._tones[channel] = tone_of(data[1])
        elif kind == 0xB0:
            self._control(channel, data[1], data[2])

    def block(self, frames: int) -> Samples:
        """Return the next samples, each above -1 and below 1."""
        if frames <= 0 or self.silent:
            return np.zeros(max(frames, 0), np.float32)
        return _soft(self._voices.block(frames) * self.volume).astype(np.float32)

    def _strike(self, channel: int, key: int, velocity: int) -> None:
        # Loudness grows with the square of velocity and volume. Source: General MIDI 2, recommended response.
        loud = NOTE_LOUDNESS * (velocity / 127 * self._volumes.get(channel, USUAL_VOLUME) / USUAL_VOLUME) ** 2
        if channel == DRUMS:
            if key in CLICKS:
                self._voices.click(key, channel, 2 * loud, CLICKS[key])
            return
        self._kept.discard((channel, key))
        self._voices.release(key, channel)
        self._voices.strike(key, channel, loud, self._tones.get(channel, PIANO))

    def _release(self, channel: int, key: int) -> None:
        if channel in self._pedals:
            self._kept.add((channel, key))
        else:
            self._voices.release(key, channel)

    def _control(self, channel: int, number: int, value: int) -> None:
        if number == VOLUME:
            self._volumes[channel] = value
        elif number == SUSTAIN and value >= 64:
            self._pedals.add(channel)
        elif number in (SUSTAIN, RESET, NOTES_OFF, SOUND_OFF):
            self._lift(channel)
            if number == NOTES_OFF:
                self._voices.release(channel=channel)
            elif number == SOUND_OFF:
                self._voices.cut(channel, CUT)

    def _lift(self, channel: int) -> None:
        self._pedals.discard(channel)
        for kept in [pair for pair in self._kept if pair[0] == channel]:
            self._kept.discard(kept)
            self._voices.release(kept[1], channel)


def rendered(messages: Iterable[tuple[float, bytes]], seconds: float, rate: int = RATE, volume: float = 1.0) -> Samples:
    """Return the samples of messages in the order of time (seconds from the start), `seconds` long."""
    synthesizer = Synthesizer(rate, volume)
    blocks, at, end = [], 0, round(seconds * rate)
    for due, data in messages:
        place = min(max(round(due * rate), at), end)
        while at < place:
            blocks.append(synthesizer.block(min(place - at, rate)))
            at += len(blocks[-1])
        synthesizer.message(data)
    while at < end:
        blocks.append(synthesizer.block(min(end - at, rate)))
        at += len(blocks[-1])
    return np.concatenate(blocks) if blocks else np.zeros(0, np.float32)


def _soft(sum_: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return samples bent smoothly where they come near full scale."""
    loud = np.abs(sum_)
    if loud.max(initial=0.0) <= BEND:
        return sum_
    bent = BEND + (0.999 - BEND) * np.tanh((loud - BEND) / (0.999 - BEND))
    return np.where(loud > BEND, np.copysign(bent, sum_), sum_)
