"""The built-in sound on the system's own output, through `miniaudio`: it takes messages as a MIDI port does.

A message sounds one block after it was sent, at its place inside the block: notes keep their distances to the sample,
however long a block is. Nothing of the library is imported before a device is opened.
"""

import os
import sys
import time
from collections import deque
from collections.abc import Generator
from typing import Any

import numpy as np

from tui.audio.synthesizer import RATE, Synthesizer
from tui.audio.voices import Samples

BLOCK_MS, BLOCKS = 5, 2
"""Length of a block and how many the system holds: 5 ms until the block begins, then two, are 15 ms (own choice)."""

DRIFT = 0.0005
"""Part of a call's lateness by which our idea of the system's clock is moved later at each, so that it cannot drift."""

NULL = "STILLHAND_AUDIO"
"""Environment: "null" plays into nothing at all, in time; for tests on machines without a sound card."""


class NoSound(OSError):
    """There is no sound output; the words are for the player."""


class BlockClock:
    """When a message was sent, as a place in the block that is being made: the system asks a little unevenly."""

    def __init__(self, rate: int = RATE) -> None:
        self._rate = rate
        self._began = 0.0

    def begin(self, now: float, frames: int) -> float:
        """Return the moment (monotonic seconds) whose messages begin the block that is asked for now."""
        length = frames / self._rate
        expected = self._began + length
        # The earliest calls tell the time, late ones are only late: so no message comes after its block was made.
        # After a stop, and at first, the real time counts.
        steady = expected <= now <= expected + 6 * length
        self._began = expected + DRIFT * (now - expected) if steady else now
        return self._began - length

    def place(self, sent: float, began: float, frames: int) -> int:
        """Return the sample of a block at which a message is due that was sent at `sent`; past its end: later."""
        return min(max(round((sent - began) * self._rate), 0), frames)


class BuiltInSound:
    """An open output. `send` may be called from any one thread; the library asks for samples on its own."""

    def __init__(self, volume: float = 1.0, rate: int = RATE) -> None:
        self._synthesizer = Synthesizer(rate, volume)
        self._sent: deque[tuple[float, bytes]] = deque()
        self._clock = BlockClock(rate)
        self._device: Any = None
        self.spent = 0.0
        """Seconds of processor time that making samples has taken."""

    def send(self, data: bytes) -> None:
        """Sound a message, one block from now."""
        self._sent.append((time.monotonic(), data))

    def block(self, frames: int, now: float) -> Samples:
        """Return the samples for a block that is asked for `now`."""
        began = self._clock.begin(now, frames)
        samples = np.zeros(frames, np.float32)
        at = 0
        while self._sent and (place := self._clock.place(self._sent[0][0], began, frames)) < frames:
            if place > at:
                samples[at:place] = self._synthesizer.block(place - at)
                at = place
            self._synthesizer.message(self._sent.popleft()[1])
        samples[at:] = self._synthesizer.block(frames - at)
        return samples

    def open(self) -> None:
        """Open the system's output and begin.

        Raises:
            NoSound: there is none, or the library is not there.
        """
        try:
            import miniaudio
        except ImportError:
            raise NoSound("the sound library is not installed: pip install miniaudio") from None
        null = os.environ.get(NULL) == "null"
        skipped = (miniaudio.Backend.NULL, miniaudio.Backend.CUSTOM, miniaudio.Backend.WEBAUDIO)
        backends = [miniaudio.Backend.NULL] if null else [one for one in miniaudio.Backend if one not in skipped]
        try:
            self._device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.FLOAT32, nchannels=1, sample_rate=RATE, buffersize_msec=BLOCK_MS,
                callback_periods=BLOCKS, backends=backends, app_name="stillhand",
            )  # fmt: skip
            samples = self._samples()
            next(samples)
            self._device.start(samples)
        except miniaudio.MiniaudioError as error:
            print(f"built-in sound: {error}", file=sys.stderr)
            self.close()
            raise NoSound("no sound device was found") from None

    def close(self) -> None:
        """Stop and close; a second call does nothing."""
        device, self._device = self._device, None
        if device is not None:
            device.close()

    def _samples(self) -> Generator[Samples, int, None]:
        frames = yield np.zeros((0, 1), np.float32)
        while True:
            before = time.thread_time()
            samples = self.block(frames, time.monotonic())
            self.spent += time.thread_time() - before
            frames = yield samples.reshape(-1, 1)


def open_built_in() -> BuiltInSound:
    """Return the built-in sound, open.

    Raises:
        NoSound: as `BuiltInSound.open`.
    """
    sound = BuiltInSound()
    sound.open()
    return sound
