"""Which notes sound, kept where it outlives the process that plays them: in a small file that is mapped into memory.

A process that is killed says nothing any more. Whoever silences the instrument in its place reads here which note-offs
it still owes: some instruments ignore the controllers that end all notes.
"""

import contextlib
import mmap
import tempfile
from pathlib import Path

from engine.performance.events import note_off

KEYS, CHANNELS = 128, 16


class SoundBook:
    """One byte for each key of each channel, 1 while it sounds. A book without a file is this process's alone."""

    def __init__(self, path: str = "") -> None:
        if path:
            with open(path, "r+b") as file:
                self._bytes = mmap.mmap(file.fileno(), KEYS * CHANNELS)
        else:
            self._bytes = mmap.mmap(-1, KEYS * CHANNELS)

    def write(self, channel: int, key: int, sounds: bool) -> None:
        """Note that a key (0 to 127) of a channel (1 to 16) is about to sound, or has been released."""
        self._bytes[(channel - 1) * KEYS + key] = int(sounds)

    @property
    def sounding(self) -> tuple[tuple[int, int], ...]:
        """The (channel, key) pairs that sound, in order."""
        whole = bytes(self._bytes)
        return tuple((at // KEYS + 1, at % KEYS) for at, sounds in enumerate(whole) if sounds)

    def note_offs(self) -> tuple[bytes, ...]:
        """Return the note-offs that are owed."""
        return tuple(note_off(key, channel) for channel, key in self.sounding)

    def clear(self) -> None:
        """All has been released."""
        self._bytes[:] = bytes(KEYS * CHANNELS)


def new_book_file() -> str:
    """Make the file of a book and return its path, "" where none can be made."""
    try:
        with tempfile.NamedTemporaryFile(prefix="stillhand-sounds-", delete=False) as file:
            file.write(bytes(KEYS * CHANNELS))
            return file.name
    except OSError:
        return ""


def opened_book(path: str) -> SoundBook:
    """Return the book of a file, or one of our own where that cannot be had."""
    try:
        return SoundBook(path)
    except (OSError, ValueError):
        return SoundBook()


def remove_book_file(path: str) -> None:
    """Remove it; the last of the processes does."""
    if path:
        with contextlib.suppress(OSError):
            Path(path).unlink()
