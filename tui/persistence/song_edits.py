"""Bars and keys of songs written anew in their own files, and written back when that is undone."""

import asyncio
import contextlib
from dataclasses import replace
from typing import TYPE_CHECKING

from engine.errors import EngineError
from engine.song.model import Song, Step
from tui.persistence.files import short_words
from tui.persistence.song_files import SongFiles, WrittenBar, next_edit, over
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.file_edits import BarEdit, Edit, KeyEdit
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.song_names import Name, named
from tui.widgets.lettering import pretty

if TYPE_CHECKING:
    from tui.session.desk import Desk


class BarWriting:
    """Keeps the songs' files as the rehearsal's `edits` say."""

    def __init__(self, desk: "Desk") -> None:
        self.desk = desk
        self.files = SongFiles(desk.path)

    async def written(self, step: Step) -> WrittenBar:
        """Return the bar of a step as the open song's own file has it.

        Raises:
            EngineError: the file cannot be read, or has no such bar any more.
        """
        return await self.files.bar(self._open_file(), step)

    async def rewrite(self, step: Step, chords: str, before: str) -> None:
        """Write other chords into the bar of a step in the open song's own file, where it still is as `before`.

        Raises:
            BarTaken: another program changed the bar meanwhile.
            EngineError: the file would have faults, or cannot be written; it is then as it was.
        """
        # Another song may be open by the time it is our turn.
        file = self._open_file()
        async with self.desk.files_turn:
            wanted = BarEdit(file, step.section, step.bar, before, chords)
            known = self.desk.file.is_known(self.files.of(wanted.file))
            edit, song = await self._write(wanted, known)
            edits = (*self.desk.now.edits, edit)
            self.files.held = edits
            kept = stand.remember(self.desk.now, f"{step.section} bar {step.bar}")
            self.desk.become(self._with_song(replace(kept, edits=edits), edit.file, song))

    async def keep_key(self, index: int, key: str) -> None:
        """Put a song's own file into a key for good, and play it so tonight; say what came of it."""
        place, name = self.desk.now.songs[index], list(named(self.desk.now.songs))[index]
        try:
            await self._keep_key(name, key)
        except EngineError as fault:
            self.desk.say(short_words(fault), alarm=True)
        else:
            self.desk.say(f"{place.song.title} is in {pretty(key)} for good")

    async def _keep_key(self, name: Name, key: str) -> None:
        from engine.song.file_transposing import in_key
        from engine.song.transposing import transpose
        from tui.persistence import store

        async with self.desk.files_turn:
            text = await asyncio.to_thread(store.read_text, self.files.of(name[0]))
            wanted = KeyEdit(name[0], text, await asyncio.to_thread(in_key, text, key))
            known = self.desk.file.is_known(self.files.of(name[0]))
            edit, song = await self._write(wanted, known)
            edits = (*self.desk.now.edits, edit)
            self.files.held = edits
            # Tempo, pins or the order may have been decided while the file was written.
            names = list(named(self.desk.now.songs))
            if name in names:
                index = names.index(name)
                old = self.desk.now.songs[index].song
                words = f"key {old.key} to {key} for good, {old.title}"
                moved = decisions.with_song(self.desk.now, index, transpose(old, key), self.desk.unfold, words)
            else:
                moved = stand.remember(self.desk.now, f"key {key} for good, {song.title}")
            self.desk.become(self._with_song(replace(moved, edits=edits), name[0], song))

    async def write_back(self) -> None:
        """Let the songs' files hold the bars that undo and redo have brought back."""
        async with self.desk.files_turn:
            with contextlib.suppress(EngineError):
                await self._write_back()

    async def _write_back(self) -> None:
        while self.files.held != self.desk.now.edits:
            edit, held = next_edit(self.files.held, self.desk.now.edits)
            known = self.desk.file.is_known(self.files.of(edit.file))
            try:
                _, song = await self._write(edit, known)
            except EngineError as fault:
                # The screen shows what the files hold, not what they were to hold.
                self.desk.trouble["bar"] = f"not written back: {short_words(fault)}"
                self.files.held = self.desk.now.edits
                self.desk.tell()
                song = await asyncio.to_thread(self.files.song, edit.file)
            else:
                self.files.held = held
                self.desk.trouble.pop("bar", None)
            self._show(edit.file, song)

    def _show(self, file: str, song: Song) -> None:
        """Show a song as its file has it where that is not what is shown already; what was said stays to be read."""
        now = self._with_song(self.desk.now, file, song)
        if any(one.song != other.song for one, other in zip(now.songs, self.desk.now.songs, strict=True)):
            said, alarm = self.desk.message, self.desk.alarm
            self.desk.become(now)
            if said:
                self.desk.say(said, alarm)

    async def _write(self, edit: Edit, known: bool) -> tuple[Edit, Song]:
        self.desk.file.writing = True
        try:
            written, song = await self.files.write(edit, self.desk.planner)
        finally:
            self.desk.file.writing = False
        self.desk.file.song_written()
        self.desk.keeping.save_soon()
        if known:
            # What another program changed in the file before stays noticed.
            self.desk.file.stamp(self.files.of(edit.file))
        return written, song

    def _with_song(self, now: Rehearsal, file: str, song: Song) -> Rehearsal:
        """Return the rehearsal with a song as its file has it now, and with what was decided for tonight."""
        songs = tuple(over(song, place) if place.file == file else place for place in now.songs)
        changed = replace(now, set_list=replace(now.set_list, songs=songs))
        return stand.found_again(stand.unfolded(changed, self.desk.unfold, now.song), now.steps)

    def _open_file(self) -> str:
        if self.desk.now.here is None:
            raise NotThere("no song is open")
        return self.desk.now.here.file
