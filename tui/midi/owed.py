"""Note-offs that are sent more than once after a death: a JACK server that has lost two clients at the same moment
stands still for half a second to a second, and what anybody sends in it is lost (measured with a bystander)."""

import time
from collections.abc import Iterable

from tui.midi.sound_book import SoundBook
from tui.midi.sounding import Output, SoundingPort

EVERY, LONG = 0.1, 2.0
"""Seconds between two times, and from the first to the last (the longest stand-still seen was 1.7)."""


class Owed:
    """What is to be sent again, and when. One for each process that silences."""

    def __init__(self) -> None:
        self._messages: tuple[bytes, ...] = ()
        self._ends = 0.0
        self.next: float | None = None
        """When something is due (monotonic seconds), None when nothing is any more."""

    def begin(self, messages: Iterable[bytes], now: float) -> None:
        """These have just been sent for the first time."""
        self._messages = tuple(messages)
        self._ends = now + LONG
        self.next = now + EVERY

    def due(self, now: float, sounding: Iterable[tuple[int, int]] = ()) -> tuple[bytes, ...]:
        """Return what is to be sent now; keys of `sounding` (channel, key) have been struck anew and are left alone."""
        if self.next is None or now < self.next:
            return ()
        self.next = now + EVERY if now + EVERY <= self._ends else None
        struck = set(sounding)
        return tuple(data for data in self._messages if ((data[0] & 0x0F) + 1, data[1]) not in struck)


def silence_for_good(outputs: Iterable[Output], book: SoundBook, owed: Iterable[bytes]) -> None:
    """Silence instruments again that have been silenced once after a death: the note-offs that were owed for as long as
    they may be lost, then the controllers once more unless somebody plays by then. This waits."""
    outputs, messages = tuple(outputs), Owed()
    messages.begin(owed, time.monotonic())
    while messages.next is not None:
        time.sleep(max(messages.next - time.monotonic(), 0.0))
        for data in messages.due(time.monotonic(), book.sounding):
            for output in outputs:
                output.send(data)
    for output in outputs if not book.sounding else ():
        SoundingPort(output, book).silence(everywhere=True)
