"""A player's own comping rhythms out of a TOML file: a table for each, strokes as [beat, length] for each hand.

    ["pier walk"]
    left  = [[1, 4]]
    right = [[1, 1.5], [2.5, 0.5, "accent"]]

Beats count from 1 as in a chart (quarters, dotted quarters in compound meters) and go on past the bar: 5 is the first
beat of a second bar. A hand that is left out plays what the other plays.
"""

from fractions import Fraction
from typing import Any

from engine.comp_names import HELD, plain_name
from engine.performance.rhythms import FIGURE, Figure, Rhythm, Stroke
from engine.song.fields import Sheet, Table, read_table
from engine.song.source_positions import Path

KEYS = ("left", "right", "thirds", "anticipates", "source")
LOUD = {"soft": -1, "plain": 0, "accent": 1}
"""The third word of a stroke."""
MOST_BEATS = 32
"""Beats beyond which a rhythm is taken for a slip (own choice)."""


def read_rhythms(text: str, source: str) -> tuple[Rhythm, ...]:
    """Read a player's rhythms.

    Raises:
        ChartError: with every fault of the file, in its order.
    """
    table, sheet = read_table(text, source)
    found = [_rhythm(sheet, table, name) for name in table]
    sheet.done(source)
    return tuple(rhythm for rhythm in found if rhythm is not None)


def _rhythm(sheet: Sheet, table: Table, name: str) -> Rhythm | None:
    path: Path = (name,)
    given = sheet.table(table, path)
    if plain_name(name) in ("", HELD):
        sheet.at_key(path, f'a rhythm called "{name}"', "call it otherwise")
    sheet.unknown(given, path, KEYS, "a rhythm")
    hands = {hand: _strokes(sheet, given, (*path, hand)) for hand in ("left", "right") if hand in given}
    if not hands:
        sheet.at_key(path, "a rhythm without strokes", "write right = [[1, 1.5], [2.5, 0.5]]")
        return None
    left, right = (hands.get(hand, next(iter(hands.values()))) for hand in ("left", "right"))
    thirds, early = (sheet.truth(given, (*path, word)) for word in ("thirds", "anticipates"))
    words = sheet.line(given, (*path, "source")) or "the player's own"
    return Rhythm(plain_name(name), _bars(left, right), thirds, early, words)


def _strokes(sheet: Sheet, given: Table, path: Path) -> tuple[Stroke, ...]:
    value = given[str(path[-1])]
    if not isinstance(value, list):
        sheet.at_value(path, f"{path[-1]} is no list of strokes", "write [[1, 1.5], [2.5, 0.5]]")
        return ()
    read = [_stroke(sheet, stroke, (*path, number)) for number, stroke in enumerate(value)]
    return tuple(sorted((stroke for stroke in read if stroke is not None), key=lambda stroke: stroke.place))


def _stroke(sheet: Sheet, value: Any, path: Path) -> Stroke | None:
    """Return a stroke from [beat, length] or [beat, length, "accent"]."""
    hint = 'write [beat, length], as in [2.5, 0.5] or [1, 1, "accent"]; a third is "1/3"'
    if not isinstance(value, list) or len(value) not in (2, 3):
        sheet.at_value(path, "this is no stroke", hint)
        return None
    loud = LOUD.get(value[2]) if len(value) == 3 and isinstance(value[2], str) else None if len(value) == 3 else 0
    before = len(sheet.faults)
    beat, length = (sheet.beats({"stroke": number}, (*path, "stroke"), Fraction(1)) for number in value[:2])
    if len(sheet.faults) > before:
        return None
    if loud is None or not 1 <= beat < MOST_BEATS + 1 or not 0 < length <= MOST_BEATS:
        sheet.at_value(path, "this is no stroke", hint)
        return None
    return Stroke(beat - 1, length, loud)


def _bars(left: tuple[Stroke, ...], right: tuple[Stroke, ...]) -> tuple[Figure, ...]:
    """Return the strokes cut into bars."""
    last = max((stroke.place for stroke in left + right), default=Fraction(0))
    return tuple(Figure(_in_bar(left, bar), _in_bar(right, bar)) for bar in range(int(last // FIGURE) + 1))


def _in_bar(hand: tuple[Stroke, ...], bar: int) -> tuple[Stroke, ...]:
    return tuple(
        Stroke(stroke.place - bar * FIGURE, stroke.length, stroke.accent)
        for stroke in hand
        if stroke.place // FIGURE == bar
    )
