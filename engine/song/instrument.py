"""What a song asks of the instrument on its MIDI port: the `[midi]` table of a song, and of a song's entry in a set."""

from engine.song.fields import Sheet, Table
from engine.song.model import Midi
from engine.song.source_positions import Path

RANGES = {"channel": (1, 16), "program": (1, 128), "bank": (0, 16383), "volume": (0, 127)}
"""Lowest and highest value of each key. Source: MIDI 1.0 Detailed Specification, channels, program change, bank select
(14 bits) and channel volume; channels and programs count from 1 as instruments print them."""

DRUMS = 10
"""The channel of percussion. Source: General MIDI System Level 1."""


def read_midi(sheet: Sheet, table: Table, path: Path) -> Midi:
    """Return what a `[midi]` table says; a value that cannot be sent becomes a fault, a strange one a note."""
    midi = sheet.table(table, path)
    sheet.unknown(midi, path, tuple(RANGES), "[midi]")
    values = {name: _value(sheet, midi, (*path, name)) for name in RANGES if name in midi}
    read = Midi(**values)
    # Tonight's bank may belong to the song's own program.
    if read.bank is not None and read.program is None and len(path) == 1:
        place = sheet.places.key(*path, "bank")
        sheet.notes.append((*place, "bank", "is taken up by instruments with a program only: write program too"))
    if read.channel == DRUMS:
        place = sheet.places.key(*path, "channel")
        sheet.notes.append((*place, "channel", "10 is where General MIDI has its drums, and our clicks"))
    return read


def over(own: Midi, tonight: Midi) -> Midi:
    """Return a song's own wishes with tonight's over them, value by value; a program of tonight's brings its bank."""
    bank = tonight.bank if tonight.program is not None or tonight.bank is not None else own.bank
    return Midi(
        channel=own.channel if tonight.channel is None else tonight.channel,
        program=own.program if tonight.program is None else tonight.program,
        bank=bank,
        volume=own.volume if tonight.volume is None else tonight.volume,
    )


def write_midi(midi: Midi) -> list[str]:
    """Return the lines of a `[midi]` table without its head; none when the song asks for nothing."""
    values = ((name, getattr(midi, name)) for name in RANGES)
    return [f"{name} = {value}" for name, value in values if value is not None]


def _value(sheet: Sheet, midi: Table, path: Path) -> int | None:
    """Return a whole number in range; `bank` may be [coarse, fine], the two numbers that manuals print."""
    name = str(path[-1])
    if name == "bank" and isinstance(midi["bank"], list):
        return _bank(sheet, midi["bank"], path)
    low, high = RANGES[name]
    value = midi[name]
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        words = "" if name != "bank" else ", or [coarse, fine] as in [87, 2]"
        sheet.at_value(path, f"{name} is {str(value)[:20]}", f"write a whole number from {low} to {high}{words}")
        return None
    return value


def _bank(sheet: Sheet, pair: list[object], path: Path) -> int | None:
    numbers = [half for half in pair if isinstance(half, int) and not isinstance(half, bool) and 0 <= half <= 127]
    if len(pair) != 2 or len(numbers) != 2:
        sheet.at_value(path, "bank is no pair of numbers", "write [coarse, fine], each from 0 to 127, as in [87, 2]")
        return None
    return numbers[0] << 7 | numbers[1]
