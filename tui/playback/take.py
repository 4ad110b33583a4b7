"""A take: what comes in from the player's keyboard while it is recorded, kept as a MIDI file."""

import asyncio
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from tui.persistence import files
from tui.persistence.folders import data_folder

if TYPE_CHECKING:
    from engine.performance.events import Timed
    from engine.song.model import Song
    from tui.midi.clock import ClockEvent

MOST = 200_000
"""Messages of one take at most: some hours of playing."""

STRONGEST = 3
"""What the clock marks the first beat of a bar with (see performance/count_in)."""


class Take:
    """At most one is recorded at a time; `say` is told where it was kept, or why not. Notes, pedals and controllers are
    recorded as the program hears them, bends and pressure are not."""

    def __init__(self, say: Callable[..., None]) -> None:
        self._say = say
        self._song: Song | None = None
        self._messages: list[Timed] | None = None
        self._downbeat: float | None = None

    @property
    def on(self) -> bool:
        return self._messages is not None

    def begin(self, song: "Song | None") -> None:
        """Record from now on; `song` gives the file its title, tempo and bars."""
        self._song, self._messages, self._downbeat = song, [], None

    def hear(self, event: "ClockEvent") -> None:
        """Record what is played, and where the bars of a song that is played in time begin."""
        if self._messages is None:
            return
        if event.kind == "in" and len(self._messages) < MOST:
            self._messages.append((event.seconds, event.data))
        elif event.kind == "beat" and event.value == STRONGEST and self._downbeat is None:
            self._downbeat = event.seconds

    async def end(self) -> None:
        """End it and keep it, if anything was played."""
        messages, self._messages = self._messages, None
        if messages is None:
            return
        if not messages:
            self._say("the take is empty: nothing came in")
            return
        from engine.formats.take_file import take_file

        content = take_file(tuple(messages), self._song, self._downbeat)
        path = take_path(self._song.title if self._song else "", datetime.now())
        try:
            await asyncio.to_thread(files.save, path, content)
        except files.StoreError as fault:
            self._say(f"TAKE NOT KEPT: {fault.found}, {fault.hint}", alarm=True)
        else:
            self._say(f"take kept: {path}")


def take_path(title: str, now: datetime) -> Path:
    """Return a file for a take that is not there yet: the song's title and when it was played."""
    from engine.formats.midi_texts import plain_name

    letters = "".join(sign if sign.isalnum() or sign in " -" else "_" for sign in plain_name(title))[:60].strip()
    stem = f"{letters or 'take'} {now:%Y-%m-%d %H.%M.%S}"
    folder = data_folder() / "takes"
    names = (f"{stem}{f' {number}' if number else ''}.mid" for number in range(1000))
    return next(path for name in names if not (path := folder / name).exists())
