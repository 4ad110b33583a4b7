"""Note-offs that are sent more than once after a death: a JACK server that has lost two clients at the same moment
stands still for half a second to a second, and what anybody sends in it is lost (measured with a bystander)."""

import time
from collections.abc import Iterable

from tui.midi.sound_book import SoundBook
from tui.midi.sounding import Output, SoundingPort

EVERY, LONG = 0.1, 1.2
"""Seconds between two times, and from the first to the last (own choice: a little longer than the longest seen)."""


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


def silence_for_good(output: Output, book: SoundBook, again: bool = True) -> None:
    """Silence an instrument in a dead clock's place; `again` sends the note-offs for as long as they may be lost, and
    the controllers once more unless somebody plays by then. This waits."""
    port, owed = SoundingPort(output, book), Owed()
    messages = book.note_offs()
    port.silence(everywhere=True)
    if not again:
        return
    owed.begin(messages, time.monotonic())
    while owed.next is not None:
        time.sleep(max(owed.next - time.monotonic(), 0.0))
        for data in owed.due(time.monotonic(), book.sounding):
            output.send(data)
    if not book.sounding:
        port.silence(everywhere=True)
