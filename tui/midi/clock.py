"""The interface's side of the clock process: every call returns at once, whatever the MIDI system does."""

import time
from collections.abc import Iterable, Sequence
from dataclasses import replace

from engine.performance.sound_settings import Touch, voiced
from engine.performance.timeline import Performance
from engine.planning.model import PlannedStep
from tui.midi import messages as said
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
        self._send(said.Play(self._parted(performance), begin))

    def go_on(self, performance: Performance) -> None:
        """Play another performance of the same steps, in another key or tempo, from the next step on."""
        self._send(said.GoOn(self._parted(performance)))

    def mute(self) -> None:
        """End the chord that sounds and strike no other until `go_on`; the click and the marks go on."""
        self._send(said.Mute())

    def _parted(self, performance: Performance) -> Performance:
        """Send the messages in parts, and return the rest."""
        messages = performance.messages
        for first in range(0, len(messages), PART):
            self._send(said.More(messages[first : first + PART]))
        return replace(performance, messages=())

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
        self._send(said.Strike(tuple(zip(keys, loud, strict=True)), channel, legato, seconds))

    def send(self, messages: Iterable[bytes], role: str = "") -> None:
        """Send messages now: a program change, a pedal; system messages go to the port that leads. With a `role` all go
        through its port."""
        self._send(said.Send(tuple(messages), role))

    def sound_step(self, step: PlannedStep, touch: Touch, guide: bool = False, seconds: float | None = None) -> None:
        """Sound a step's voicing, the hands as loud as `touch` says, or quietly as a guide."""
        self._send(said.Strike(voiced(step, touch, guide), touch.channel, touch.held, seconds))

    def lead(self, song: int, sixteenth: int) -> None:
        """Tell the copies that follow where we are: the song of the set (from 0) and the sixteenth in it."""
        self._leads = said.Lead(song, sixteenth)
        self._send(self._leads)

    def sense(self, on: bool) -> None:
        """Let the instrument notice when we vanish (active sensing), or not; it does unless told otherwise."""
        self._sensing = said.Sensing(on)
        self._send(self._sensing)

    def cue(self) -> None:
        """Leave the loop or vamp when it comes to its end."""
        self._send(said.Cue())

    def silence(self) -> None:
        """Stop playing; nothing sounds on."""
        self._send(said.Silence())
