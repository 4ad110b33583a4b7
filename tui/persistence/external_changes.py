"""What other programs do to the open set's files: noticed, and taken up when the player says so."""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from engine.song.model import SetList
from tui.persistence.set_file import SetFile, check_readable
from tui.session import rehearsal as stand
from tui.session.band import with_our_band
from tui.session.changes import logged
from tui.session.merging import Choose, Clash, Merged, Songs, Value, changes, differences, merged
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.session import Session
from tui.session.song_names import named


class ExternalChanges:
    """Compares the files with the session; `turn` is held by whoever reads or writes them, `save_soon` tries again to
    save what could not be saved."""

    def __init__(
        self,
        session: Session,
        path: Path | None,
        file: SetFile,
        turn: asyncio.Lock,
        save_soon: Callable[[], None],
    ) -> None:
        self._session, self._path, self._file, self._turn, self._save_soon = session, path, file, turn, save_soon

    def look(self) -> None:
        """Notice that another program changed the set's file or a song's; the player decides when to take it up.

        What could not be saved is tried again: the disk may have room by now.
        """
        if "saving" in self._session.notices:
            self._save_soon()
        names = () if "changed" in self._session.notices else self._file.changed_outside()
        if names:
            took = "was changed elsewhere: w takes it" if len(names) == 1 else "were changed elsewhere: w takes them"
            more = ", ..." if len(names) > 2 else ""
            self._session.notice("changed", f"{' and '.join(names[:2])}{more} {took} up")

    async def at_stake(self) -> tuple[Clash, ...]:
        """Return what was decided here and would be lost by taking the files as they stand.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more.
        """
        async with self._turn:
            fresh, _ = await self._fresh()
            return differences(fresh.songs, self._merged(fresh, lambda clash: True).set_list.songs)

    async def gone(self) -> tuple[str, ...]:
        """Return the titles of the songs that the set's file has lost: dropped there, or the file is half-written.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more.
        """
        async with self._turn:
            fresh, _ = await self._fresh()
            ours = {place.file for place in self._session.now.songs}
            return tuple(place.song.title for place in self._file.gone(fresh) if place.file in ours)

    async def merge(self, choose: Choose) -> tuple[Clash, ...]:
        """Take up what stands in the files now and keep what was decided here; or return what is still to be chosen.

        Undo then takes back what was decided here, and never what the other program did.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more; what is open stays.
        """
        async with self._turn:
            fresh, text = await self._fresh()
            given_up: set[Value] = set()

            def chosen(clash: Clash) -> bool | None:
                choice = choose(clash)
                if choice is False:
                    given_up.add(clash.value)
                return choice

            both = self._merged(fresh, chosen)
            if both.clashes:
                return both.clashes
            self._file.decided -= given_up
            before = self._session.now
            ours = _at_same_song(before, self._merged(fresh, lambda clash: True).set_list)
            now = _at_same_song(ours, both.set_list)
            if changes(ours.set_list.songs, both.set_list.songs):
                now = logged(ours, now, "the choice between yours and the file's")
            self._take_up(fresh, text, now)
            return ()

    async def reload(self) -> None:
        """Take what stands in the files now, and nothing else; undo brings the old songs back.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more; what is open stays.
        """
        async with self._turn:
            fresh, text = await self._fresh()
            before = self._session.now
            files = [place.file for place in fresh.songs]
            same = before.here is not None and before.here.file in files
            song = files.index(before.here.file) if before.here is not None and same else 0
            self._file.decided = frozenset()
            now = replace(before, set_list=fresh, song=song, step=before.step if same else 0, loop=None)
            self._take_up(fresh, text, logged(before, now, "reload"))

    def _merged(self, fresh: SetList, choose: Choose) -> Merged:
        base: Songs = self._file.base
        fresh = with_our_band(self._file.band, self._session.now.set_list, fresh)
        return merged(base, self._session.now.set_list, fresh, choose, self._file.decided)

    async def _fresh(self) -> tuple[SetList, str]:
        """Return the set as its file has it now, and the file's text."""
        if self._path is None:
            raise NotThere("this set has no file")
        fresh, text = await asyncio.to_thread(_read_whole, self._path)
        check_readable(self._session.now.set_list, fresh)
        return stand.opened(fresh, self._session.unfold).set_list, text

    def _take_up(self, fresh: SetList, text: str, now: Rehearsal) -> None:
        self._file.taken_up(fresh, text)
        self._file.stamp()
        for subject in ("changed", "saving", "bar"):
            self._session.notices.pop(subject, None)
        before = self._session.now
        now = stand.unfolded(now, self._session.unfold, now.song)
        same = stand.name_here(before) == stand.name_here(now)
        self._session.become(stand.found_again(now, before.steps) if same else stand.within(now))


def _read_whole(path: Path) -> tuple[SetList, str]:
    """Return a set and its file's text, both of one moment."""
    from tui.persistence import store

    text = store.read_text(path)
    fresh = store.set_of(text, path)
    if store.read_text(path) != text:
        raise NotThere(f"{path.name} is being written: once more")
    return fresh, text


def _at_same_song(now: Rehearsal, set_list: SetList) -> Rehearsal:
    """Return the rehearsal with another version of its set; the open song stays open where it is still there."""
    name, names = stand.name_here(now), list(named(set_list.songs))
    if name in names:
        return replace(now, set_list=set_list, song=names.index(name))
    return replace(now, set_list=set_list, song=min(now.song, max(len(names) - 1, 0)), step=0, loop=None)
