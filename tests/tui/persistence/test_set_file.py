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
from tests.tui.evening import Evening, evening_on
from tests.tui.sets_in_files import SONG
from tui.persistence import store
from tui.persistence.set_changes import Entry, Unopened, slots
from tui.planning.client import NotPlanned
from tui.session import decisions
from tui.session.band import band

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
voicing = "rootless"     # thin
midi = { program = 4 }
# the end
"""
LISTED = """\
title = "Harbour Room"
songs = [  # tonight
  { file = "a.toml", key = 'D', pins = [ { section = "Verse", bar = 2, left = "D2  A2" } ] },  # Ines
  { file = "gone.toml" },
  { tempo   = 88.0, file = "b.toml", note = "softly", voicing = { sound = "pad" } },
  { file = "a.toml", midi = { program = 4 } }
]
"""
OWN_PIN = '[[pins]]\nsection = "Verse"\nbar = 3\nleft = "C3 G3"\n'
EXTRA = 'title = "Slow"\nkey = "F"\ntempo = 60\n[sections.Head]\nbars = "| Fmaj7 | C7 |"  # twice\n'

Deed = Callable[[Evening], Awaitable[None]]


def written(folder: Path, evening: str = SET) -> Path:
    """Write the set and its songs, with the set's line ends; return the set's path."""
    line_end = "\r\n" if "\r\n" in evening else "\n"
    texts = {"set": evening.replace("\r\n", "\n"), "a": SONG.replace("Pier", "Lamp") + OWN_PIN, "b": SONG, "c": EXTRA}
    for name, text in texts.items():
        (folder / f"{name}.toml").write_bytes(text.replace("\n", line_end).encode())
    return folder / "set.toml"


def files(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in folder.glob("*.toml")}


def _at(evening: Evening, index: int) -> int:
    return index % len(evening.session.now.songs)


def key(index: int, name: str) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(
            decisions.transposed(evening.session.now, _at(evening, index), name, evening.session.unfold)
        )

    return deed


def tempo(index: int, beats: float) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(decisions.retimed(evening.session.now, _at(evening, index), beats))

    return deed


def move(index: int, direction: int) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(decisions.moved_song(evening.session.now, _at(evening, index), direction))

    return deed


def drop(index: int) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(decisions.dropped_song(evening.session.now, _at(evening, index)))

    return deed


async def add(evening: Evening) -> None:
    evening.session.become(evening.files.with_song("c.toml"))


def played(index: int, value: tuple[str, str]) -> Deed:
    async def deed(evening: Evening) -> None:
        now, unfold = evening.session.now, evening.session.unfold
        evening.session.become(decisions.played(now, _at(evening, index), *value, unfold))

    return deed


def accompanied(name: str, value: bool | tuple[str, ...]) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(decisions.accompanied(evening.session.now, name, value))

    return deed


def note(where: str, words: str) -> Deed:
    async def deed(evening: Evening) -> None:
        evening.session.become(decisions.noted(evening.session.now, where, words))

    return deed


def pin(bar: int, there: bool) -> Deed:
    async def deed(evening: Evening) -> None:
        wanted = Pin("Verse", bar, Fraction(1), (41, 48), (56, 63)) if there else None
        evening.session.become(decisions.pinned(evening.session.now, wanted, "Verse", bar, Fraction(1)))

    return deed


def bar(chords: str) -> Deed:
    async def deed(evening: Evening) -> None:
        step = evening.session.now.steps[0]
        was = evening.files.songs.written(step)
        await evening.files.songs.rewrite(step, chords, was.text)

    return deed


def for_good(name: str) -> Deed:
    async def deed(evening: Evening) -> None:
        await evening.files.songs.keep_key(evening.session.now.song, name)

    return deed


NAMES = st.sampled_from(["C", "D", "Eb", "F#", "Am", "Bb"])
INDEX = st.integers(0, 3)
MANNERS = st.one_of(
    st.tuples(st.just("method"), st.sampled_from(["auto", "shell"])),
    st.tuples(st.just("texture"), st.sampled_from(["auto", "lean"])),
    st.tuples(st.just("hands"), st.sampled_from(["both", "left"])),
    st.tuples(st.just("sound"), st.sampled_from(["piano", "organ"])),
    st.tuples(st.just("colour"), st.just("on")),
    st.tuples(st.just("comp"), st.sampled_from(["bossa", "held"])),
    st.tuples(st.just("tune_is"), st.sampled_from(["mine", "theirs"])),
)
DEEDS = st.one_of(
    st.builds(key, INDEX, NAMES),
    st.builds(tempo, INDEX, st.sampled_from([60.0, 88.0, 100.0, 133.5])),
    st.builds(move, INDEX, st.sampled_from([-1, 1])),
    st.builds(drop, INDEX),
    st.just(add),
    st.builds(played, INDEX, MANNERS),
    st.builds(accompanied, st.sampled_from(["bass", "guitar"]), st.booleans()),
    st.builds(accompanied, st.just("horns"), st.sampled_from([(), ("Bb",), ("Bb", "Eb")])),
    st.builds(note, st.sampled_from(["", "Verse bar 2"]), st.sampled_from(["", "softly", 'say "now"'])),
    st.builds(pin, st.sampled_from([1, 2, 3]), st.booleans()),
    st.builds(bar, st.sampled_from(["Dm7b5", "Dm9 G13", "  F6"])),
    st.builds(for_good, NAMES),
)


SETS = st.sampled_from([SET, SET.replace("\n", "\r\n"), LISTED])


async def done(evening: Evening, deed: Deed, saves: bool) -> None:
    """Do something that may be refused, and write it at once or with what comes next."""
    try:
        await deed(evening)
    except EngineError:
        return
    if saves:
        await saved(evening)


async def saved(evening: Evening) -> None:
    await evening.files.songs.write_back()
    await evening.files.autosave.save()
    assert "saving" not in evening.session.notices
    assert "bar" not in evening.session.notices


async def undone(evening: Evening, moments: int, saves: bool = False) -> None:
    while len(evening.session.now.log) > moments:
        evening.session.undo()
        if saves:
            await saved(evening)
    await saved(evening)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(DEEDS, st.booleans()), min_size=1, max_size=6), SETS, st.booleans())
def test_all_undone_every_file_is_as_it_was(deeds: list[tuple[Deed, bool]], text: str, saves: bool) -> None:
    async def evening(path: Path) -> None:
        before = files(path.parent)
        evening = evening_on(path)
        await evening.start()
        for deed, at_once in deeds:
            await done(evening, deed, at_once)
        await saved(evening)
        await undone(evening, 0, saves)
        assert files(path.parent) == before
        await evening.close()
        assert files(path.parent) == before

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


@settings(max_examples=40, deadline=None)
@given(st.lists(DEEDS, max_size=3), st.lists(DEEDS, min_size=1, max_size=3), SETS)
def test_what_is_written_does_not_depend_on_the_way_there(first: list[Deed], more: list[Deed], text: str) -> None:
    async def evening(path: Path) -> None:
        evening = evening_on(path)
        await evening.start()
        for deed in first:
            await done(evening, deed, True)
        moments, before = len(evening.session.now.log), files(path.parent)
        for deed in more:
            await done(evening, deed, True)
        after = files(path.parent)
        further = len(evening.session.now.log) - moments
        await undone(evening, moments)
        assert files(path.parent) == before
        for _ in range(further):
            evening.session.redo()
        await saved(evening)
        assert files(path.parent) == after
        await evening.close()

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


def in_any_order(entry: Entry | Unopened) -> Entry | Unopened:
    if isinstance(entry, Unopened):
        return entry
    return replace(entry, pins=tuple(sorted(entry.pins, key=lambda pin: pin.place)))


@settings(max_examples=40, deadline=None)
@given(st.lists(DEEDS, min_size=1, max_size=6), SETS)
def test_what_is_written_opens_as_what_stands_on_the_stand(deeds: list[Deed], text: str) -> None:
    async def evening(path: Path) -> None:
        evening = evening_on(path)
        await evening.start()
        for deed in deeds:
            await done(evening, deed, True)
        opened = store.open_set(path)
        assert [(place.file, place.number) for place in opened.songs] == [
            (place.file, place.number) for place in evening.session.now.songs
        ]
        assert [in_any_order(entry) for entry in slots(opened)] == [
            in_any_order(entry) for entry in slots(evening.session.now.set_list)
        ]
        assert band(opened) == band(evening.session.now.set_list)
        assert [place.song.midi for place in opened.songs] == [place.song.midi for place in evening.session.now.songs]
        await evening.close()

    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(evening(written(Path(folder), text)))


async def test_a_songs_file_changed_elsewhere_meanwhile_does_not_hinder_that(tmp_path: Path) -> None:
    path = written(tmp_path)
    before = path.read_bytes()
    evening = evening_on(path)
    await evening.start()
    for deed in (key(0, "F"), tempo(1, 61.0), drop(2)):
        await done(evening, deed, True)
    path.with_name("b.toml").write_text(SONG.replace("100", "90") + '\n[sections.Tag]\nbars = "| C |"\n')
    assert await evening.files.others.merge(lambda clash: True) == ()
    assert len(evening.session.now.songs[1].song.sections) == 2
    await done(evening, tempo(1, 62.0), True)
    assert path.read_bytes() != before
    await undone(evening, 0)
    assert path.read_bytes() == before
    await evening.close()


async def test_what_is_saved_before_the_start_is_through_is_undone_to_the_letter_too(tmp_path: Path) -> None:
    path = written(tmp_path)
    before = path.read_bytes()
    evening = evening_on(path)
    await done(evening, key(0, "F"), True)
    assert path.read_bytes() != before
    await evening.start()
    await undone(evening, 0)
    assert path.read_bytes() == before
    await evening.close()


async def test_a_file_that_has_lost_songs_is_not_written_into(tmp_path: Path) -> None:
    path = written(tmp_path)
    evening = evening_on(path)
    await evening.start()
    half = path.read_text()[: path.read_text().index("[[songs]]\ntempo")]
    path.write_text(half)
    evening.session.become(decisions.retimed(evening.session.now, 0, 77.0))
    await evening.files.autosave.save()
    assert path.read_text() == half
    assert "lacks 2 songs" in evening.session.notices["saving"]
    path.write_text(SET)
    await evening.files.autosave.save()
    assert "tempo = 77" in path.read_text()
    assert "saving" not in evening.session.notices
    await evening.close()


async def test_nothing_is_lost_when_the_planner_does_not_start(tmp_path: Path) -> None:
    path = written(tmp_path)
    evening = Evening(store.open_set(path), path)
    evening.plans.planner._running = refused  # type: ignore[method-assign]
    evening.session.become(decisions.retimed(evening.session.now, 0, 77.0))
    await evening.close()
    assert "tempo = 77" in path.read_text()


async def refused() -> None:
    raise NotPlanned("the planner does not start")
