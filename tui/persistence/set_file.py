"""The set's own file beside the rehearsal: what of it was changed here, and whether another program changed it.

Writing is never blind: the file is read as it is now, only what was decided here is changed in it, and it is put in its
place whole. A value that another program changed too is not written over; the player says later whose holds.
"""

import asyncio
import contextlib
from collections import Counter
from collections.abc import AsyncIterator
from pathlib import Path

from engine.errors import EngineError
from engine.song.model import SetList, SetSong
from tui.persistence.set_changes import Entry, Slots, Unopened, changed_text, slots, text_with_band
from tui.session.band import band, with_our_band
from tui.session.merging import Clash, Merged, Value, changes, merged, put_back
from tui.session.rehearsal import NotThere
from tui.session.song_numbers import missing_words

Stamps = dict[Path, tuple[int, int]]
"""When each file was changed last (nanoseconds), and its size in bytes."""

PATIENCE, BETWEEN = 2.0, 0.02
"""Seconds that we wait for another copy's writing in the same folder, and between two looks."""

TRIES = 5
"""How often a file is taken up anew that another program writes at the same time."""


@contextlib.asynccontextmanager
async def turn(path: Path) -> AsyncIterator[None]:
    """Keep other copies from writing in a file's folder; one that holds it for seconds is not waited for."""
    from tui.persistence import store

    handle = store.hold(path.parent)
    waited = 0.0
    while handle is None and waited < PATIENCE:
        await asyncio.sleep(BETWEEN)
        waited += BETWEEN
        handle = store.hold(path.parent)
    try:
        yield
    finally:
        if handle is not None:
            store.release(handle)


class SetFile:
    """The file of an open set; with `path` None, or a song on its own, nothing is ever written.

    `base` are the songs, and `band` who plays along, as both the file and the rehearsal knew them last, `decided` what
    was decided here since the set was opened, `behind` is True while the file has something that the rehearsal has not
    taken up.

    Every saving starts from the text that the set was opened with, not from what was saved last: so what is written
    does not depend on the way there, and what is undone leaves no trace.
    """

    def __init__(self, path: Path | None, set_list: SetList) -> None:
        self.path = path
        self.writing = False
        self.decided: frozenset[Value] = frozenset()
        self.opened(set_list)

    def opened(self, set_list: SetList, text: str | None = None) -> None:
        """Begin anew with a set as it was just read from the file, and the file's text if it is known."""
        self._slots = self._saved = slots(set_list)
        self.band = self._first_band = band(set_list)
        self._names = {place.file for place in set_list.songs}
        self.base: tuple[SetSong, ...] = set_list.songs
        self.behind = self._stale = False
        self._opened_text = self._text = text
        self._stamps: Stamps | None = None

    def taken_up(self, set_list: SetList, text: str) -> None:
        """Go on with a set as the files have it now. What was decided here before can still be undone to the letter
        where nobody else wrote the set's own file, but only a song's."""
        before = self._opened_text if text == self._text != self._opened_text else None
        self.opened(set_list, text)
        if before is None or self.path is None:
            return
        from tui.persistence import store

        first = store.set_of(before, self.path)
        if first.missing == set_list.missing:
            self._opened_text, self._slots, self._first_band = before, slots(first), band(first)

    @property
    def kept(self) -> bool:
        """True when there is a set file that tonight's changes go into."""
        return self.path is not None and bool(self._slots)

    async def watch(self) -> None:
        """Remember the files as they are now, to notice what other programs do to them."""
        self.stamp()
        if self.path is not None and self.kept:
            from tui.persistence import store

            with contextlib.suppress(EngineError, OSError):
                text = await asyncio.to_thread(store.read_text, self.path)
                if self._text is None:
                    # Nothing has been saved here yet.
                    self._opened_text = self._text = text

    def stamp(self, *files: Path) -> None:
        """Take files as they are now for known; without names all of them."""
        now = self._stamped()
        self._stamps = {**(self._stamps or now), **{file: now[file] for file in files if file in now}} if files else now

    def watch_too(self, name: str) -> None:
        """Notice from now on what other programs do to a song's file, by the name that the set has for it."""
        from tui.persistence import store

        if self.path is not None:
            self._names.add(name)
            self.stamp(store.song_path(self.path, name))

    def is_known(self, file: Path) -> bool:
        """Tell whether a file is as it was when it was last looked at."""
        return self._stamps is not None and self._stamped().get(file) == self._stamps.get(file)

    def unsaved(self, set_list: SetList) -> bool:
        """Tell whether a set has changes that the file lacks, or may lack since a song's own file was written."""
        return (self.kept and self._stale) or (slots(set_list), band(set_list)) != (self._saved, self.band)

    async def save(self, set_list: SetList) -> tuple[Clash, ...]:
        """Write tonight's changes; return those that clash with another program's and are therefore not written.

        Raises:
            EngineError: the file cannot be read or written, or is no set any more; it is as it was.
        """
        if self.path is None or not self.kept:
            self._saved, self.band = slots(set_list), band(set_list)
            return ()
        self.writing = True
        try:
            async with turn(self.path):
                for _ in range(TRIES):
                    clashes = await self._written(self.path, set_list)
                    if clashes is not None:
                        return clashes
            raise NotThere(f"{self.path.name} is being written by another program")
        finally:
            self.writing = False

    async def _written(self, path: Path, set_list: SetList) -> tuple[Clash, ...] | None:
        """Save once; None when another program wrote the file at the same time."""
        from tui.persistence import store

        text = await asyncio.to_thread(store.read_text, path)
        opened = text if self._opened_text is None else self._opened_text
        before, wanted = await self._first(path, opened), slots(set_list)
        then, players = self._first_band, band(set_list)
        clashes: tuple[Clash, ...] = ()
        if self.behind or (self._text is not None and text != self._text):
            self.behind = True
            fresh = await asyncio.to_thread(store.open_set, path)
            self.check_whole(path, fresh)
            both = self.with_theirs(set_list, fresh)
            opened, before, wanted, clashes = text, slots(fresh), slots(both.set_list), both.clashes
            then, players = band(fresh), band(both.set_list)
        changed = await asyncio.to_thread(changed_text, opened, before, wanted)
        changed = await asyncio.to_thread(text_with_band, changed, then, players)
        if await asyncio.to_thread(store.read_text, path) != text:
            return None
        if changed != text:
            await asyncio.to_thread(store.save, path, changed)
        self._opened_text, self._text, self._saved = opened, changed, slots(set_list)
        self.band = band(set_list)
        new = {place.file for place in set_list.songs} - self._names
        self._names |= new
        self.decided |= changes(self.base, set_list.songs) - {clash.value for clash in clashes}
        self.base = put_back(self.base, set_list.songs, clashes) if clashes else set_list.songs
        # A song that came back by undo was in the folder all the time.
        self.stamp(path, *(store.song_path(path, name) for name in new))
        return clashes

    def gone(self, fresh: SetList) -> tuple[SetSong, ...]:
        """Return the songs that the file had when both sides knew it last, and that `fresh` has not."""
        there = Counter([*(place.file for place in fresh.songs), *(name for name, _ in fresh.missing)])
        gone = []
        for place in self.base:
            # A set may have a song twice.
            if there[place.file]:
                there[place.file] -= 1
            else:
                gone.append(place)
        return tuple(gone)

    def check_whole(self, path: Path, fresh: SetList) -> None:
        """Refuse to write into a file that has lost songs: another program may be in the middle of writing it.

        Raises:
            NotThere: saying how many are gone.
        """
        gone = self.gone(fresh)
        if gone:
            count = f"{len(gone)} songs" if len(gone) > 1 else gone[0].song.title
            raise NotThere(f"{path.name} was changed elsewhere and lacks {count}: w looks at it")

    def copy_text(self, set_list: SetList, folder: Path) -> str:
        """Return the set as it stands on the stand, for a folder: in another one the songs' files are named in full.

        Raises:
            EngineError: the set's text is not known.
        """
        from engine.song.file_edits import with_files
        from tui.persistence import store

        if self.path is None or self._opened_text is None:
            raise NotThere("this set has no file to copy")
        text = changed_text(self._opened_text, self._slots, slots(set_list))
        text = text_with_band(text, self._first_band, band(set_list))
        path = self.path
        if folder.resolve() == path.resolve().parent:
            return text
        return with_files(text, lambda file: str(store.song_path(path, file).resolve()))

    def copied(self, set_list: SetList) -> None:
        """Take what stands on the stand for saved: it is kept in a copy."""
        self._saved, self.band, self._stale = slots(set_list), band(set_list), False

    def song_written(self) -> None:
        """Take notice that a song's own file says something else by now."""
        self._stale = True

    async def _first(self, path: Path, opened: str) -> Slots:
        """Return the entries that the text which the set was opened with has over the songs' files as they are now."""
        if self._stale:
            from tui.persistence import store

            first = slots(await asyncio.to_thread(store.set_of, opened, path))
            lost = any(
                isinstance(new, Unopened) and isinstance(old, Entry)
                for old, new in zip(self._slots, first, strict=False)
            )
            if len(first) == len(self._slots) and not lost:
                self._slots = first
            self._stale = False
        return self._slots

    def with_theirs(self, ours: SetList, fresh: SetList) -> Merged:
        """Return what was decided here put into the set as the file has it now; what clashes stays as the file has it.

        Raises:
            NotThere: a song that is open can no longer be read.
        """
        check_readable(ours, fresh)
        return merged(self.base, ours, with_our_band(self.band, ours, fresh), lambda clash: None)

    def changed_outside(self) -> tuple[str, ...]:
        """Return the names of the files that another program changed."""
        if self.path is None or self.writing:
            return ()
        if self.behind:
            return (self.path.name,)
        files = self._stamped()
        if self._stamps is None:
            self._stamps = files
        return tuple(sorted({file.name for file in files if files[file] != self._stamps.get(file)}))

    def _stamped(self) -> Stamps:
        if self.path is None:
            return {}
        from tui.persistence import store

        found = {}
        names = self._names if self.kept else set()
        for file in [self.path, *(store.song_path(self.path, name) for name in names)]:
            with contextlib.suppress(OSError, ValueError):
                status = file.stat()
                found[file] = (status.st_mtime_ns, status.st_size)
        return found


def check_readable(ours: SetList, fresh: SetList) -> None:
    """Refuse a set as it is in the file now when a song that is open cannot be read in it any more.

    Raises:
        NotThere: saying which song, and why.
    """
    open_ = {place.file for place in ours.songs}
    for name, why in fresh.missing:
        if name in open_:
            raise NotThere(f"not taken up: {missing_words(name, why)}")
