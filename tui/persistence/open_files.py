"""The files of the open set: saved after each decision, changed bar by bar, and compared with what others write."""

import asyncio
import contextlib
from pathlib import Path

from engine.song.model import SetList
from tui.persistence.autosave import Autosave
from tui.persistence.external_changes import ExternalChanges
from tui.persistence.set_file import SetFile
from tui.persistence.song_edits import SongEdits
from tui.session.decisions import with_order
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.session import Session


class OpenFiles:
    """One per run; follows the session. `path` is the set's file, None for a set that has none, `opened`
    the set as it was read from it."""

    def __init__(self, session: Session, path: Path | None, opened: SetList | None = None) -> None:
        self.path = path
        self._session = session
        turn = self.turn = asyncio.Lock()
        """Held by whoever reads or writes the files, so that one ends before the other begins."""
        self.set_file = SetFile(path, opened or session.now.set_list)
        self.autosave = Autosave(session, path, self.set_file, turn)
        self.songs = SongEdits(session, path, self.set_file, turn, self.autosave.save_soon)
        self.others = ExternalChanges(session, path, self.set_file, turn, self.autosave.save_soon)
        session.on_change.append(self._changed)

    @property
    def kept(self) -> bool:
        """True when what is decided is written into a set's file."""
        return self.set_file.kept

    def with_song(self, file: str) -> Rehearsal:
        """Return the rehearsal with a song file added at the end of the set; the name is as the set file would say it.

        Raises:
            EngineError: there is no such file, or it has faults.
        """
        from engine.song.model import SetSong
        from tui.persistence import store

        name, now = file.strip(), self._session.now
        if not name or self.path is None:
            raise NotThere("no song file was named" if self.path else "this set has no file of its own to add to")
        name = self._as_the_set_says(self.path, name)
        song = store.open_song(store.song_path(self.path, name))
        self.set_file.watch_too(name)
        own = tuple(pin.place for pin in song.pins)
        place = SetSong(name, song, self._session.unfold(song), 0, own, song.manner, (song.key, song.tempo, song.note))
        return with_order(now, (*now.songs, place), now.here, f"add {song.title}")

    def songs_to_add(self) -> tuple[tuple[str, str], ...]:
        """Return (file, title) of the songs that lie with the set and are not in it."""
        if self.path is None or not self.kept:
            return ()
        from tui.persistence.song_folder import song_files

        there = {place.file for place in self._session.now.songs}
        return tuple(song for song in song_files(self.path) if song[0] not in there)

    def with_new_song(self, title: str) -> tuple[Rehearsal, str]:
        """Write the file of a new song, with one section; return the rehearsal with it at the end, and its file.

        Raises:
            EngineError: it has no title, or cannot be written.
        """
        from engine.song.new_song import song_text
        from engine.theory.meter import Meter
        from tui.persistence import store
        from tui.persistence.song_folder import free_file

        title = " ".join(title.split())
        if self.path is None or not self.kept:
            raise NotThere("a new song wants a set to stand in: stillhand new SET SONG makes one")
        if not title or not title.isprintable():
            raise NotThere("write the song's title in one line")
        file = free_file(self.path, title)
        text = song_text(title, "C", Meter(4, 4), 100.0, ("Verse", ("Verse",)))
        store.set_of(text, self.path.parent / file)
        store.save(self.path.parent / file, text)
        return self.with_song(file), file

    def _as_the_set_says(self, path: Path, typed: str) -> str:
        """Return a file as the set's file would name it: what is typed may lie beside the set, in its songs folder,
        at home (~) or in the folder the program was started in."""
        from tui.persistence import store

        if store.is_there(store.song_path(path, typed)):
            return typed
        found = _as_typed(typed)
        if not store.is_there(found):
            return typed
        whole, folder = found.resolve(), path.resolve().parent
        return str(whole.relative_to(folder)) if whole.is_relative_to(folder) else str(whole)

    def copy_set(self, place: str) -> Path:
        """Write the set as it stands on the stand into another file as well, in its folder unless another is named.

        Raises:
            EngineError: it cannot be written, or there is such a file already.
        """
        if self.path is None or not self.kept:
            raise NotThere("this song stands in no set: there is nothing to copy")
        name = place.strip()
        if name.strip("./\\~ ") == "" or not name.isprintable():
            raise NotThere("write a file's name, as in friday.toml")
        name = name if name.endswith(".toml") else f"{name}.toml"
        return self._write_copy(name, self.path.resolve().parent / _as_typed(name))

    def save_copy(self, place: str) -> Path:
        """Write the set as it stands on the stand into another file, in place of its own; return it.

        Raises:
            EngineError: it cannot be written, or there is such a file already.
        """
        path = self._write_copy(place, _as_typed(place.strip()))
        self._session.notices.pop("saving", None)
        self.set_file.copied(self._session.now.set_list)
        return path

    def unsaved(self) -> tuple[str, ...]:
        """Return in words what is decided here and not in the set's file, a line each."""
        from tui.session.merging import differences

        lost = differences(self.set_file.base, self._session.now.songs)
        return tuple(f"  {clash.what}: {clash.ours}" for clash in lost)

    def _write_copy(self, place: str, path: Path) -> Path:
        from tui.persistence import store

        if not place.strip():
            raise NotThere("no file was named")
        if store.is_there(path):
            raise store.StoreError(path, "there is a file of that name already", "name another one")
        store.save(path, self.set_file.copy_text(self._session.now.set_list, path.parent))
        return path

    def _changed(self, before: Rehearsal, after: Rehearsal) -> None:
        if after.set_list is not before.set_list:
            self.autosave.save_soon()
        if after.edits != before.edits:
            self._session.tasks.start(self.songs.write_back())
        self.autosave.place_soon()
        if after.songs is not before.songs and self.path is not None and not self.kept:
            self._session.say("for now only: Tab in k keeps the key; a set keeps all (stillhand new)")

    async def start(self) -> None:
        """Remember the files as they are now, to notice what other programs do to them."""
        await self.set_file.watch()
        if self._session.now.log:
            # Decided between the first picture and now.
            self.autosave.save_soon()

    async def close(self) -> None:
        """Save what is not saved yet."""
        with contextlib.suppress(Exception):
            await self.songs.write_back()
        self.autosave.cancel()
        with contextlib.suppress(Exception):
            await self.autosave.save()
        self.autosave.save_place()


def _as_typed(name: str) -> Path:
    """Return the path that somebody typed; ~ is home, and ~somebody whom nobody knows a name like any other."""
    try:
        return Path(name).expanduser()
    except RuntimeError:
        return Path(name)
