"""Bars and keys of songs written anew in their own files, and written back when that is undone."""

import asyncio
import contextlib
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

from engine.errors import EngineError
from engine.song.bar_places import Moved, moved_song
from engine.song.model import MANNER, SetList, SetSong, Song, Step
from engine.song.parts import differences, with_parts
from tui.persistence.set_file import SetFile
from tui.persistence.song_files import SongFiles, WrittenBar, chord_places, next_edit, over
from tui.session import rehearsal as stand
from tui.session.band import with_our_band
from tui.session.bar_notes import bar_place
from tui.session.changes import logged
from tui.session.file_edits import BarEdit, Edit, KeyEdit, TextEdit
from tui.session.merging import merged
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.session import Session, in_a_line
from tui.session.song_names import Name, named


class SongEdits:
    """Keeps the songs' files as the rehearsal's `edits` say; `turn` is held by whoever reads or writes the files."""

    def __init__(
        self,
        session: Session,
        path: Path | None,
        file: SetFile,
        turn: asyncio.Lock,
        save_soon: Callable[[], None],
    ) -> None:
        self._session, self._file, self._turn, self._save_soon = session, file, turn, save_soon
        self.files = SongFiles(path)
        self._path = path
        self.copied = ""
        """The bars that were copied last, with `|` between them."""

    def written(self, step: Step) -> WrittenBar:
        """Return the bar of a step as the open song's own file has it.

        Raises:
            EngineError: the file cannot be read, or has no such bar any more.
        """
        return self.files.bar(self._open_file(), step)

    async def rewrite(self, step: Step, chords: str, before: str) -> None:
        """Write other chords into the bar of a step in the open song's own file, where it still is as `before`.

        Raises:
            BarTaken: another program changed the bar meanwhile.
            EngineError: the file would have faults, or cannot be written; it is then as it was.
        """
        # Another song may be open by the time it is our turn.
        file = self._open_file()
        async with self._turn:
            wanted = BarEdit(file, step.section, step.bar, before, chords)
            edit, song = await self._write(wanted, self._file.is_known(self.files.of(file)))
            now = self._session.now
            self._log(replace(now, edits=(*now.edits, edit)), edit, song, bar_place(step))

    async def change(self, file: str, change: Callable[[str], str], words: str, moved: Moved | None = None) -> str:
        """Write a song's own file as `change` makes it of what stands there; return the song's title.

        `words` say what was changed; `moved` tells where the bars went, so that tonight's pins and notes go with them.

        Raises:
            EngineError: the change cannot be made, or the file not be written; it is as it was.
        """
        before = await asyncio.to_thread(self.files.text, file)
        return await self.rewrite_text(file, before, await asyncio.to_thread(change, before), words, moved)

    async def rewrite_text(self, file: str, before: str, text: str, words: str = "", moved: Moved | None = None) -> str:
        """Write a song's own file anew, where it still is as `before`; return the song's title.

        `words` and `moved` as for `change`.

        Raises:
            BarTaken: another program changed the file meanwhile.
            ChartError: the text has faults; the file is as it was.
            EngineError: it cannot be written.
        """
        from engine.song.reader import read_song

        title = read_song(text, file).title
        async with self._turn:
            edit, _ = await self._write(TextEdit(file, before, text), self._file.is_known(self.files.of(file)))
            read_again = await self._read_again(file)
            now = self._session.now
            kept = replace(now, edits=(*now.edits, edit))
            self.files.held = kept.edits
            fresh = read_again(kept)
            fresh = _gone_along(now, fresh, file, moved) if moved else fresh
            self._session.become(logged(now, fresh, words or f"edit {title}"))
        return title

    async def _read_again(self, file: str) -> Callable[[Rehearsal], Rehearsal]:
        """Read all songs as their files have them now; return what puts them into a rehearsal.

        Where the set's own file cannot be read or lacks songs, another program may be writing it: then only the song
        of `file` is put in.
        """
        if self._path is None:
            return lambda now: now
        from tui.persistence import store

        try:
            fresh = await asyncio.to_thread(store.open_set, self._path)
            self._file.check_whole(self._path, fresh)
        except EngineError:
            with contextlib.suppress(EngineError):
                return partial(self._with_song, file=file, song=await asyncio.to_thread(self.files.song, file))
            return lambda now: now
        return partial(self._with_set, fresh=fresh)

    def _with_set(self, now: Rehearsal, fresh: SetList) -> Rehearsal:
        """Return the rehearsal with all songs of a set that was just read, and with what was decided for tonight."""
        fresh = stand.opened(fresh, self._session.unfold).set_list
        fresh = with_our_band(self._file.band, now.set_list, fresh)
        both = merged(self._file.base, now.set_list, fresh, lambda clash: True, self._file.decided).set_list
        there = replace(now, set_list=both, song=min(now.song, max(len(both.songs) - 1, 0)))
        return stand.found_again(stand.unfolded(there, self._session.unfold, there.song), now.steps)

    async def keep_key(self, index: int, key: str) -> str:
        """Put a song's own file into a key for good, and play it so tonight; return the song's title.

        Raises:
            EngineError: the file cannot be put there, or written; it is then as it was.
        """
        from engine.song.transposing import transpose
        from tui.persistence import song_keys, store

        title, name = self._session.now.songs[index].song.title, list(named(self._session.now.songs))[index]
        async with self._turn:
            path = self.files.of(name[0])
            text = await asyncio.to_thread(store.read_text, path)
            wanted = KeyEdit(name[0], text, await asyncio.to_thread(song_keys.text_in_key, text, key))
            edit, song = await self._write(wanted, self._file.is_known(path))
            await asyncio.to_thread(song_keys.remember, text, edit.new)
            # Tempo, pins or the order may have been decided while the file was written.
            now = self._session.now
            kept = replace(now, edits=(*now.edits, edit))
            place = named(now.songs).get(name)
            words = f"key {place.song.key if place else ''} to {key} for good, {title}"
            if place is not None:
                songs = tuple(
                    replace(one, song=transpose(one.song, key), steps=()) if one is place else one for one in now.songs
                )
                kept = replace(kept, set_list=replace(now.set_list, songs=songs))
            self._log(kept, edit, song, words)
        return title

    def _log(self, now: Rehearsal, edit: Edit, song: Song | None, words: str) -> None:
        """Go on with a rehearsal in which a song's file was written anew."""
        assert song is not None, "only a whole text may have faults"
        self.files.held = now.edits
        self._session.become(logged(self._session.now, self._with_song(now, edit.file, song), words))

    async def write_back(self) -> None:
        """Let the songs' files hold the bars that undo and redo have brought back."""
        async with self._turn:
            with contextlib.suppress(EngineError):
                await self._write_back()

    async def _write_back(self) -> None:
        while self.files.held != self._session.now.edits:
            edit, held = next_edit(self.files.held, self._session.now.edits)
            try:
                _, song = await self._write(edit, self._file.is_known(self.files.of(edit.file)))
            except EngineError as fault:
                # The screen shows what the files hold, not what they were to hold.
                self._session.notice("bar", f"not written back: {in_a_line(fault)}")
                self.files.held = self._session.now.edits
                song = await asyncio.to_thread(self.files.song, edit.file)
            else:
                self.files.held = held
                self._session.notices.pop("bar", None)
            if song is None or isinstance(edit, TextEdit):
                read_again = await self._read_again(edit.file)
                self._session.become(read_again(self._session.now))
            else:
                self._show(edit.file, song)

    def _show(self, file: str, song: Song) -> None:
        """Show a song as its file has it where that is not what is shown already; what was said stays to be read."""
        session = self._session
        now = self._with_song(session.now, file, song)
        if any(one.song != other.song for one, other in zip(now.songs, session.now.songs, strict=True)):
            said, alarm = session.message, session.alarm
            session.become(now)
            if said:
                session.say(said, alarm)

    async def _write(self, edit: Edit, known: bool) -> tuple[Edit, Song | None]:
        self._file.writing = True
        try:
            written, song = await self.files.write(edit)
        finally:
            self._file.writing = False
        self._file.song_written()
        self._save_soon()
        if known:
            # What another program changed in the file before stays noticed.
            self._file.stamp(self.files.of(edit.file))
        return written, song

    def _with_song(self, now: Rehearsal, file: str, song: Song) -> Rehearsal:
        """Return the rehearsal with a song as its file has it now, and with what was decided for tonight."""
        songs = tuple(over(song, place) if place.file == file else place for place in now.songs)
        changed = replace(now, set_list=replace(now.set_list, songs=songs))
        return stand.found_again(stand.unfolded(changed, self._session.unfold, now.song), now.steps)

    def _open_file(self) -> str:
        if self._session.now.here is None:
            raise NotThere("no song is open")
        return self._session.now.here.file


def _gone_along(before: Rehearsal, fresh: Rehearsal, file: str, moved: Moved) -> Rehearsal:
    """Return the rehearsal whose pins and notes for tonight have gone with the bars of a song's file."""
    ours = named(before.songs)

    def along(name: Name, place: SetSong) -> SetSong:
        if name[0] != file or name not in ours:
            return place
        old = ours[name]
        then, there = moved_song(old.song, moved), chord_places(place.song)
        pins = tuple(pin for pin in then.pins if pin.place in there)
        was = dict(zip(MANNER, old.own_manner, strict=False)).get("parts", old.song.parts)
        parts = {(moved(part, 1) or (part, 1))[0]: told for part, told in differences(was, old.song.parts).items()}
        return replace(place, song=with_parts(replace(place.song, pins=pins, note=then.note), parts))

    songs = tuple(along(name, place) for name, place in named(fresh.songs).items())
    return replace(fresh, set_list=replace(fresh.set_list, songs=songs))
