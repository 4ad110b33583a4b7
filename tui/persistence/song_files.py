"""The songs' own files: a bar or the key of them written anew, and written back when that is undone."""

import asyncio
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from engine.errors import ChartError, EngineError
from engine.song.model import MANNER, SetSong, Song, Step
from tui.persistence.set_file import TRIES, turn
from tui.session.file_edits import BarEdit, Edit, KeyEdit, TextEdit
from tui.session.rehearsal import NotThere


@dataclass(frozen=True, slots=True)
class WrittenBar:
    """A bar as a song's own file has it: its chords, `key` and meter there, and the very text between its bar lines."""

    chords: str
    key: str
    meter: str
    text: str


@dataclass(eq=False)
class BarTaken(EngineError):
    """Another program changed the bar meanwhile; `text` is what stands there now."""

    where: str
    text: str

    def __str__(self) -> str:
        return f"{self.where} was changed elsewhere and is now {self.text}"


class SongFiles:
    """The files of the songs of a set; `held` are the edits that stand in them now."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self.held: tuple[Edit, ...] = ()

    def of(self, file: str) -> Path:
        """Return where a song's file lies.

        Raises:
            NotThere: the set was not opened from a file.
        """
        from tui.persistence import store

        if self.path is None:
            raise NotThere("this song has no file")
        return store.song_path(self.path, file)

    def text(self, file: str) -> str:
        """Return the text of a song's file.

        Raises:
            EngineError: it cannot be read.
        """
        from tui.persistence import store

        return store.read_text(self.of(file))

    def song(self, file: str) -> Song:
        """Return a song as its file has it.

        Raises:
            EngineError: it cannot be read.
        """
        from tui.persistence import store

        return store.open_song(self.of(file))

    def bar(self, file: str, step: Step) -> WrittenBar:
        """Return the bar of a step as the song's file has it.

        Raises:
            EngineError: the file cannot be read, or has no such bar any more.
        """
        from engine.song.reader import read_song
        from engine.song.writer import bar_text, write_events
        from tui.persistence import store

        path = self.of(file)
        text = store.read_text(path)
        song = read_song(text, path.name)
        section = next((part for part in song.sections if part.name == step.section), None)
        place = step.written[1]
        if section is None or place >= len(section.bars):
            raise NotThere("the song's file has no such bar any more")
        bar = section.bars[place]
        return WrittenBar(
            write_events(bar), section.key or song.key, str(bar.meter), bar_text(text, step.section, step.bar)
        )

    async def write(self, edit: Edit) -> tuple[Edit, Song | None]:
        """Write a bar anew that still is as `edit` has it before, the key, or the whole text; return the edit as
        written, and the song, None for a whole text that has faults.

        Raises:
            BarTaken: the bar is no longer what it was.
            EngineError: the file would have faults, or cannot be written; it is then as it was.
        """
        path = self.of(edit.file)
        async with turn(path):
            for _ in range(TRIES):
                done = await self._written(path, edit)
                if done is not None:
                    return done
        raise NotThere(f"{path.name} is being written by another program")

    async def _written(self, path: Path, edit: Edit) -> tuple[Edit, Song | None] | None:
        from engine.song.reader import read_song
        from engine.song.writer import bar_text
        from tui.persistence import store

        text = await asyncio.to_thread(store.read_text, path)
        changed = await _changed(text, edit)
        try:
            song = await asyncio.to_thread(read_song, changed, str(path))
        except ChartError:
            if not isinstance(edit, TextEdit):
                raise
            # What was mended by hand and is undone has its faults again.
            song = None
        if await asyncio.to_thread(store.read_text, path) != text:
            return None
        if changed != text:
            await asyncio.to_thread(store.save, path, changed)
        new = bar_text(changed, edit.section, edit.bar) if isinstance(edit, BarEdit) else changed
        return replace(edit, new=new), song


async def _changed(text: str, edit: Edit) -> str:
    """Return the text of a song's file after an edit."""
    from engine.song.writer import bar_text, replace_bar

    if isinstance(edit, KeyEdit):
        return await asyncio.to_thread(_in_key, text, edit)
    if isinstance(edit, TextEdit):
        if text not in (edit.old, edit.new):
            raise BarTaken("the song's file", "another text")
        return edit.new
    found = bar_text(text, edit.section, edit.bar)
    if found not in (edit.old, edit.new):
        raise BarTaken(f"{edit.section} bar {edit.bar}", found)
    return await asyncio.to_thread(replace_bar, text, edit.section, edit.bar, edit.new)


def _in_key(text: str, edit: KeyEdit) -> str:
    """Return the text that the edit foresaw, or what is there by now in that key."""
    from engine.song.file_transposing import in_key
    from engine.song.reader import read_song

    return edit.new if text == edit.old else in_key(text, read_song(edit.new, edit.file).key)


def turned_round(edit: Edit) -> Edit:
    """Return the edit that takes one back."""
    return replace(edit, old=edit.new, new=edit.old)


def next_edit(held: tuple[Edit, ...], wanted: tuple[Edit, ...]) -> tuple[Edit, tuple[Edit, ...]]:
    """Return what is to be written first so that the files hold `wanted`, and what they hold then."""
    if held != wanted[: len(held)]:
        return turned_round(held[-1]), held[:-1]
    return wanted[len(held)], wanted[: len(held) + 1]


def over(song: Song, place: SetSong) -> SetSong:
    """Return a song of the set with the bars that its file has now; a pin that has lost its chord is left out."""
    from engine.song.parts import differences, with_parts
    from engine.song.transposing import transpose

    old = place.song
    was = dict(zip(MANNER, place.own_manner, strict=False)).get("parts", old.parts)
    fresh = with_parts(transpose(song, old.key), differences(was, old.parts))
    chords = chord_places(fresh)
    pins = tuple(pin for pin in old.pins if pin.place in chords)
    bars = replace(old, sections=fresh.sections, roadmap=fresh.roadmap, meter=fresh.meter, pins=pins)
    own = tuple(pin.place for pin in song.pins)
    tonights = replace(bars, doubts=fresh.doubts)
    head = song.key, song.tempo, song.note
    return replace(place, song=tonights, steps=(), own_pins=own, own_manner=song.manner, own=head)


def chord_places(song: Song) -> set[tuple[str, int, Fraction]]:
    """Return where the chords of a song stand, as pins name it: section, bar, beat."""
    return {
        (part.name, number, event.beat)
        for part in song.sections
        for number, bar in enumerate(part.bars, 0 if part.pickup else 1)
        for event in bar.events
    }
