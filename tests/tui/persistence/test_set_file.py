"""What is undone leaves no trace: the set's file and the songs' own files are then as they were, to the letter."""

import asyncio
import tempfile
from collections.abc import Awaitable, Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import EngineError
from engine.song.model import Pin
from tests.tui.sets_in_files import SONG, desk_on
from tui.persistence import store
from tui.persistence.set_changes import Entry, slots
from tui.session import decisions
from tui.session.desk import Desk

SET = """\
# our evening
title = "Harbour Room"   # upstairs
reach = ["a ninth", 210]

# Ines sings this one
[[songs]]
file = "a.toml"
key  = 'D'               # for Ines
  [[songs.pins]]         # the old way
  section = "Verse"
  bar = 2
  left = "D2  A2"

[[songs]]
file = "gone.toml"
tempo = 1e2


[[songs]]
tempo   = 88.0
file = "b.toml"
note = "softly"
pins = [ { section = "Verse", bar = 1, right = "F4 A4 C5" } ]

[[songs]]
file = "a.toml"          # again, as an encore
key = "C"                # its own key, all the same
# the end
"""
LISTED = """\
title = "Harbour Room"
songs = [  # tonight
  { file = "a.toml", key = 'D', pins = [ { section = "Verse", bar = 2, left = "D2  A2" } ] },  # Ines
  { file = "gone.toml" },
  { tempo   = 88.0, file = "b.toml", note = "softly" }, { file = "a.toml" }
]
"""
EXTRA = 'title = "Slow"\nkey = "F"\ntempo = 60\n[sections.Head]\nbars = "| Fmaj7 | C7 |"  # twice\n'

Deed = Callable[[Desk], Awaitable[None]]


def written(folder: Path, evening: str = SET) -> Path:
    """Write the set and its songs, with the set's line ends; return the set's path."""
    line_end = "\r\n" if "\r\n" in evening else "\n"
    texts = {"set": evening.replace("\r\n", "\n"), "a": SONG.replace("Pier", "Lamp"), "b": SONG, "c": EXTRA}
    for name, text in texts.items():
        (folder / f"{name}.toml").write_bytes(text.replace("\n", line_end).encode())
    return folder / "set.toml"


def files(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in folder.glob("*.toml")}


def _at(desk: Desk, index: int) -> int:
    return index % len(desk.now.songs)


def key(index: int, name: str) -> Deed:
    async def deed(desk: Desk) -> None:
        desk.become(decisions.transposed(desk.now, _at(desk, index), name, desk.unfold))

    return deed


def tempo(index: int, beats: float) -> Deed:
    async def deed(desk: Desk) -> None:
        desk.become(decisions.retimed(desk.now, _at(desk, index), beats))

    return deed


def move(index: int, direction: int) -> Deed:
    async def deed(desk: Desk) -> None:
        desk.become(decisions.moved_song(desk.now, _at(desk, index), direction))

    return deed


def drop(index: int) -> Deed:
    async def deed(desk: Desk) -> None:
        desk.become(decisions.dropped_song(desk.now, _at(desk, index)))

    return deed


async def add(desk: Desk) -> None:
    desk.become(desk.with_file("c.toml"))


def note(where: str, words: str) -> Deed:
    async def deed(desk: Desk) -> None:
        desk.become(decisions.noted(desk.now, where, words))

    return deed


def pin(bar: int, there: bool) -> Deed:
    async def deed(desk: Desk) -> None:
        wanted = Pin("Verse", bar, Fraction(1), (41, 48), (56, 63)) if there else None
        desk.become(decisions.pinned(desk.now, wanted, "Verse", bar, Fraction(1)))

    return deed


def bar(chords: str) -> Deed:
    async def deed(desk: Desk) -> None:
        step = desk.now.steps[0]
        was = await desk.bars.written(step)
        await desk.bars.rewrite(step, chords, was.text)

    return deed


def for_good(name: str) -> Deed:
    async def deed(desk: Desk) -> None:
        await desk.bars.keep_key(desk.now.song, name)

    return deed


NAMES = st.sampled_from(["C", "D", "Eb", "F#", "Am", "Bb"])
INDEX = st.integers(0, 3)
DEEDS = st.one_of(
    st.builds(key, INDEX, NAMES),
    st.builds(tempo, INDEX, st.sampled_from([60.0, 88.0, 100.0, 133.5])),
    st.builds(move, INDEX, st.sampled_from([-1, 1])),
    st.builds(drop, INDEX),
    st.just(add),
    st.builds(note, st.sampled_from(["", "Verse bar 2"]), st.sampled_from(["", "softly", 'say "now"'])),
    st.builds(pin, st.sampled_from([1, 2, 3]), st.booleans()),
    st.builds(bar, st.sampled_from(["Dm7b5", "Dm9 G13", "  F6"])),
    st.builds(for_good, NAMES),
)


SETS = st.sampled_from([SET, SET.replace("\n", "\r\n"), LISTED])


async def done(desk: Desk, deed: Deed, saves: bool) -> None:
    """Do something that may be refused, and write it at once or with what comes next."""
    try:
        await deed(desk)
    except EngineError:
        return
    if saves:
        await saved(desk)


async def saved(desk: Desk) -> None:
    await desk.bars.write_back()
    await desk.keeping.save()
    assert "saving" not in desk.trouble
    assert "bar" not in desk.trouble


async def undone(desk: Desk, moments: int, saves: bool = False) -> None:
    while len(desk.now.past) > moments:
        desk.undo()
        if saves:
            await saved(desk)
    await saved(desk)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(DEEDS, st.booleans()), min_size=1, max_size=6), SETS, st.booleans())
def test_all_undone_every_file_is_as_it_was(deeds: list[tuple[Deed, bool]], text: str, saves: bool) -> None:
    async def evening(path: Path) -> None:
        before = files(path.parent)
        desk = desk_on(path)
        await desk.start()
        for deed, at_once in deeds:
            await done(desk, deed, at_once)
        await saved(desk)
        await undone(desk, 0, saves)
        assert files(path.parent) == before
        await desk.close()
        assert files(path.parent) == before

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


@settings(max_examples=40, deadline=None)
@given(st.lists(DEEDS, max_size=3), st.lists(DEEDS, min_size=1, max_size=3), SETS)
def test_what_is_written_does_not_depend_on_the_way_there(first: list[Deed], more: list[Deed], text: str) -> None:
    async def evening(path: Path) -> None:
        desk = desk_on(path)
        await desk.start()
        for deed in first:
            await done(desk, deed, True)
        moments, before = len(desk.now.past), files(path.parent)
        for deed in more:
            await done(desk, deed, True)
        after = files(path.parent)
        further = len(desk.now.past) - moments
        await undone(desk, moments)
        assert files(path.parent) == before
        for _ in range(further):
            desk.redo()
        await saved(desk)
        assert files(path.parent) == after
        await desk.close()

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


def in_any_order(entry: Entry | None) -> Entry | None:
    return entry and replace(entry, pins=tuple(sorted(entry.pins, key=lambda pin: pin.place)))


@settings(max_examples=40, deadline=None)
@given(st.lists(DEEDS, min_size=1, max_size=6), SETS)
def test_what_is_written_opens_as_what_stands_on_the_stand(deeds: list[Deed], text: str) -> None:
    async def evening(path: Path) -> None:
        desk = desk_on(path)
        await desk.start()
        for deed in deeds:
            await done(desk, deed, True)
        opened = store.open_set(path)
        assert [(place.file, place.number) for place in opened.songs] == [
            (place.file, place.number) for place in desk.now.songs
        ]
        assert [in_any_order(entry) for entry in slots(opened)] == [
            in_any_order(entry) for entry in slots(desk.now.set_list)
        ]
        await desk.close()

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


async def test_a_songs_file_changed_elsewhere_meanwhile_does_not_hinder_that(tmp_path: Path) -> None:
    path = written(tmp_path)
    before = path.read_bytes()
    desk = desk_on(path)
    await desk.start()
    for deed in (key(0, "F"), tempo(1, 61.0), drop(2)):
        await done(desk, deed, True)
    path.with_name("b.toml").write_text(SONG.replace("100", "90") + '\n[sections.Tag]\nbars = "| C |"\n')
    assert await desk.others.merge(lambda clash: True) == ()
    assert len(desk.now.songs[1].song.sections) == 2
    await done(desk, tempo(1, 62.0), True)
    assert path.read_bytes() != before
    await undone(desk, 0)
    assert path.read_bytes() == before
    await desk.close()


async def test_what_is_saved_before_the_start_is_through_is_undone_to_the_letter_too(tmp_path: Path) -> None:
    path = written(tmp_path)
    before = path.read_bytes()
    desk = desk_on(path)
    await done(desk, key(0, "F"), True)
    assert path.read_bytes() != before
    await desk.start()
    await undone(desk, 0)
    assert path.read_bytes() == before
    await desk.close()
