"""The interface's side of the clock process: every call returns at once, whatever the MIDI system does."""

import time
from collections.abc import Iterable, Sequence

from engine.performance.events import Timed
from engine.performance.sound_settings import Touch, voiced
from engine.performance.timeline import Performance
from engine.planning.model import PlannedStep
from tui.midi.clock_watch import ClockEvent, WatchedClock

__all__ = ["Clock", "ClockEvent"]

PART = 200
"""Messages in one line to the clock process, so that reading a line never takes as long as a beat's precision."""


class Clock(WatchedClock):
    """Plays, sounds and listens through MIDI ports that are opened by name and found again when they come back.

    `on_event` is called from a thread of ours and must return soon (posting a message is fine).
    """

    def play(self, performance: Performance, delay: float = 0.0) -> None:
        """Play from the start, `delay` seconds from now; what was playing stops."""
        begin = time.monotonic() + delay
        messages = [[seconds, data.hex()] for seconds, data in performance.messages]
        for first in range(0, len(messages), PART):
            self._send({"do": "more", "messages": messages[first : first + PART]})
        self._send(
            {
                "do": "play",
                "begin": begin,
                "marks": [[mark.seconds, mark.kind, mark.value] for mark in performance.marks],
                "loops": [[loop.start, loop.end] for loop in performance.loops],
                "seconds": performance.seconds,
            }
        )

    def count_in(self, schedule: tuple[Timed, ...]) -> None:
        """Play messages without marks."""
        self.play(Performance(schedule))

    def sound(
        self,
        keys: Sequence[int],
        velocity: int | Sequence[int] = 76,
        channel: int = 1,
        legato: bool = False,
        seconds: float | None = None,
    ) -> None:
        """Sound a chord in place of the one before, until the next or for `seconds`; `velocity` for all or for each.

        With `legato` the keys that both chords have are not struck again.
        """
        loud = [velocity] * len(keys) if isinstance(velocity, int) else list(velocity)
        notes = [list(pair) for pair in zip(keys, loud, strict=True)]
        self._send({"do": "sound", "notes": notes, "channel": channel, "legato": legato, "seconds": seconds})

    def send(self, messages: Iterable[bytes]) -> None:
        """Send messages now: a program change, a pedal; system messages go to the port that leads."""
        self._send({"do": "send", "messages": [data.hex() for data in messages]})

    def sound_step(self, step: PlannedStep, touch: Touch, guide: bool = False, seconds: float | None = None) -> None:
        """Sound a step's voicing, the hands as loud as `touch` says, or quietly as a guide."""
        notes = voiced(step, touch, guide)
        keys, loud = [key for key, _ in notes], [velocity for _, velocity in notes]
        self.sound(keys, loud, touch.channel, touch.held, seconds)

    def lead(self, song: int, sixteenth: int) -> None:
        """Tell the copies that follow where we are: the song of the set (from 0) and the sixteenth in it."""
        self._leads = {"do": "lead", "song": song, "sixteenth": sixteenth}
        self._send(self._leads)

    def sense(self, on: bool) -> None:
        """Let the instrument notice when we vanish (active sensing), or not; it does unless told otherwise."""
        self._sensing = {"do": "sensing", "on": on}
        self._send(self._sensing)

    def cue(self) -> None:
        """Leave the loop or vamp when it comes to its end."""
        self._send({"do": "cue"})

    def silence(self) -> None:
        """Stop playing; nothing sounds on."""
        self._send({"do": "silence"})

    stop = silence

    def panic(self) -> None:
        """As `silence`, on all sixteen channels, also for what others left sounding."""
        self._send({"do": "panic"})
