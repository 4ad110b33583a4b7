"""Set files: the songs of an evening in order, each with tonight's key, tempo, note, voicing and pins over its own."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from engine.errors import ChartError
from engine.song.fields import LONGEST_NOTE, Sheet, Table, read_table
from engine.song.groove import read_comp, read_left_hand
from engine.song.header import read_bass, read_voicing
from engine.song.instrument import over, read_midi
from engine.song.model import Pin, SetList, SetSong, Song
from engine.song.parts import read_parts, with_parts
from engine.song.pins import read_pins
from engine.song.reader import read_song
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.song.transposing import WRITTEN, transpose
from engine.song.whose_tune import read_whose

SET_KEYS = ("title", "date", "place", "note", "bass", "guitar", "horns", "reach", "songs")
SET_SONG_KEYS = (
    "file", "key", "tempo", "note", "voicing", "midi", "pins", "comp", "left_hand", "tune_is", "bass", "sections",
)  # fmt: skip
HORNS = tuple(WRITTEN)
"""The keys that instruments of the band may read in."""
MOST_SONGS = 500
"""Songs beyond which a set is taken for a slip (own choice)."""

Load = Callable[[str], str]
"""A song's file as named in the set -> its text; raises OSError."""
ReadReach = Callable[[str | float], float]
"""A reach in words or millimetres -> millimetres; raises ValueError."""


def _millimetres(value: str | float) -> float:
    return float(value)


def read_set(text: str, source: str, load: Load, read_reach: ReadReach = _millimetres) -> SetList:
    """Read a set file and the songs it names; a song that does not open is listed in `missing`.

    Raises:
        ChartError: with every fault of the set file itself.
    """
    table, sheet = read_table(text, source)
    sheet.unknown(table, (), SET_KEYS, "a set")
    opened, missing = _songs(sheet, table, load)
    set_list = SetList(
        title=sheet.line(table, ("title",), needed='a title, as in title = "Harbour Room"'),
        date=_date(sheet, table),
        place=sheet.line(table, ("place",)),
        note=sheet.line(table, ("note",), most=LONGEST_NOTE),
        bass=sheet.truth(table, ("bass",)),
        guitar=sheet.truth(table, ("guitar",)),
        horns=_horns(sheet, table),
        reach=_reach(sheet, table, read_reach),
        songs=opened,
        missing=missing,
        source=source,
    )
    sheet.done(source)
    return replace(set_list, doubts=tuple(sorted(sheet.notes)))


def _songs(sheet: Sheet, table: Table, load: Load) -> tuple[tuple[SetSong, ...], tuple[tuple[str, str], ...]]:
    opened: list[SetSong] = []
    missing: list[tuple[str, str]] = []
    entries = sheet.tables(table, ("songs",))
    if not entries and not sheet.faults:
        sheet.at_key(
            ("songs",), "there are no songs", 'write [[songs]] and file = "songs/low-tide-lantern.toml" under it'
        )
    if len(entries) > MOST_SONGS:
        sheet.at_key(("songs",), f"the set has {len(entries)} songs", f"at most {MOST_SONGS}: make two sets of it")
    for number, entry in enumerate(entries[:MOST_SONGS]):
        path = ("songs", number)
        sheet.unknown(entry, path, SET_SONG_KEYS, "a song of a set")
        file = sheet.text(entry, (*path, "file"), needed='the song\'s file, as in file = "songs/low-tide-lantern.toml"')
        tonight = _Tonight(sheet, entry, number)
        if not file:
            continue
        song = _loaded(file, load)
        if isinstance(song, str):
            missing.append((file, song))
        else:
            own = tuple(pin.place for pin in song.pins)
            tonights = tonight.over(song)
            head = song.key, song.tempo, song.note
            opened.append(SetSong(file, tonights, (), number + 1, own, song.manner, head))
    return tuple(opened), tuple(missing)


def _loaded(file: str, load: Load) -> Song | str:
    """Return the song, or why it does not open."""
    try:
        return read_song(load(file), file)
    except ChartError as error:
        return str(error)
    except OSError as error:
        return error.strerror or str(error) or "cannot be opened"


class _Tonight:
    """Tonight's own wishes for one song, read from its entry in the set."""

    def __init__(self, sheet: Sheet, entry: Table, number: int) -> None:
        self.sheet = sheet
        self.entry = entry
        self.path = ("songs", number)
        self.key = sheet.key_name(entry, (*self.path, "key"), needed=False)
        self.tempo = sheet.number(entry, (*self.path, "tempo"), 0.0, SLOWEST, FASTEST) if "tempo" in entry else 0.0
        self.note = sheet.lines(entry, (*self.path, "note"))
        self.midi = read_midi(sheet, entry, (*self.path, "midi"))
        self.tune_is = read_whose(sheet, entry, (*self.path, "tune_is"))
        self.comp = read_comp(sheet, entry, (*self.path, "comp"))
        self.left_hand = read_left_hand(sheet, entry, (*self.path, "left_hand"))
        self.bass = read_bass(sheet, entry, (*self.path, "bass"))
        self.parts = read_parts(sheet, entry, (*self.path, "sections")) if "sections" in entry else {}
        self.voicing: dict[str, str] = {}
        if "voicing" in entry:
            read = read_voicing(sheet, entry, (*self.path, "voicing"))
            given = entry["voicing"] if isinstance(entry["voicing"], dict) else read
            self.voicing = {name: word for name, word in read.items() if name in given}

    def over(self, song: Song) -> Song:
        """Return the song as played tonight: tonight's pins hold in tonight's key and win over the song's own."""
        pins = self._pins(song)
        if self.key and self.key != song.key:
            song = transpose(song, self.key)
        own = tuple(pin for pin in song.pins if pin.place not in {other.place for other in pins})
        return replace(
            with_parts(song, self.parts),
            tempo=float(self.tempo or song.tempo),
            note=self.note or song.note,
            pins=own + tuple(pin for pin in pins if (pin.left, pin.right) != (None, None)),
            method=self.voicing.get("method", song.method),
            sound=self.voicing.get("sound", song.sound),
            colour=self.voicing.get("colour", song.colour),
            texture=self.voicing.get("texture", song.texture),
            hands=self.voicing.get("hands", song.hands),
            midi=over(song.midi, self.midi),
            comp=self.comp or song.comp,
            left_hand=self.left_hand or song.left_hand,
            tune_is=self.tune_is or song.tune_is,
            bass=self.bass or song.bass,
        )

    def _pins(self, song: Song) -> tuple[Pin, ...]:
        path = (*self.path, "pins")
        return read_pins(self.sheet, self.sheet.tables(self.entry, path), path, song.sections, elsewhere=True)


def _date(sheet: Sheet, table: Table) -> str:
    """Return the date as written: a TOML date or any words."""
    value = table.get("date", "")
    if isinstance(value, str | bool | int | float | list | dict):
        return sheet.line(table, ("date",))
    return str(value)


def _horns(sheet: Sheet, table: Table) -> tuple[str, ...]:
    value = table.get("horns", [])
    if not isinstance(value, list):
        sheet.at_value(("horns",), "horns is not a list", 'write the keys they read in, as in horns = ["Bb", "Eb"]')
        return ()
    for number, horn in enumerate(value):
        if horn not in HORNS:
            sheet.at_value(("horns", number), f"{str(horn)[:20]!r} is no horn's key", f"write {', '.join(HORNS)}")
    return tuple(horn for horn in value if horn in HORNS)


def both_reaches(value: Any, read_reach: ReadReach) -> tuple[float, float]:
    """Return the reach of left and right hand in millimetres, of one value for both or of [left, right].

    Raises:
        ValueError, TypeError: it is neither, or `read_reach` cannot read it.
    """
    hands = value if isinstance(value, list) else [value, value]
    if len(hands) != 2 or any(isinstance(hand, bool) for hand in hands):
        raise ValueError("no reach: write one value, or [left, right]")
    return read_reach(hands[0]), read_reach(hands[1])


def _reach(sheet: Sheet, table: Table, read_reach: ReadReach) -> tuple[float, float] | None:
    """Return the reach of both hands in millimetres: one value for both, or [left, right]."""
    value = table.get("reach")
    if value is None:
        return None
    try:
        return both_reaches(value, read_reach)
    except (ValueError, TypeError) as error:
        told = str(error).partition(": ")[2] if str(error).startswith("no reach") else ""
        hint = 'write millimetres from thumb to little finger, or "a ninth"; [left, right] for two hands'
        sheet.at_value(("reach",), f"no reach{': ' + told if told else ''}", hint)
        return None
