"""The player's own file as it is read: what cannot be used is left out, and said with its line and column."""

from dataclasses import replace
from typing import Any

from engine.answer_names import ANSWERS
from engine.comp_names import RESTRIKES
from engine.hand.reach import reach_mm
from engine.performance.pedal import read_switch
from engine.song.instrument import RANGES
from engine.song.set_list import both_reaches
from engine.song.source_positions import Places, places
from engine.song.toml import read_toml
from engine.theory.pitch import key_number
from tui.persistence.player import GUIDES, NOTATIONS, SETTINGS, SOUNDS_BY_SONG, THEMES, Player, Singer
from tui.session.rehearsal import LAYOUTS

LATENCIES = (-500, 500)
"""Milliseconds that may lie between a click and its answer as it comes in."""


class Notes:
    """What cannot be used of a player's file, each with its line and column."""

    def __init__(self, text: str) -> None:
        self.lines: list[str] = []
        self._text = text
        self._places: Places | None = None

    def add(self, words: str, *path: str | int) -> None:
        """Note what is wrong with the value at a path."""
        self._places = self._places or places(self._text)
        line, column = self._places.value(*path)
        self.lines.append(f"line {line}, column {column}: {words}")


def read_player(text: str) -> Player:
    """Read a player's file; each value that cannot be used keeps its usual one and adds a line to `notes`.

    Raises:
        ValueError: not valid TOML.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    table = read_toml(text)
    notes = Notes(text)
    player = Player(
        reach=_reach(table, notes),
        register=_register(table, notes),
        port_out=_text(table, "port_out", notes),
        port_in=_text(table, "port_in", notes),
        lead=_text(table, "lead", notes),
        follow=_text(table, "follow", notes),
        both=_truth(table, "both", notes, usual=False),
        click_out=_text(table, "click_out", notes),
        click_volume=_number(table, "click_volume", notes, RANGES["volume"]),
        thru=_text(table, "thru", notes),
        latency=_number(table, "latency", notes, LATENCIES),
        pedal=_switch(table, "pedal", notes),
        pedal_back=_switch(table, "pedal_back", notes),
        pedal_cue=_switch(table, "pedal_cue", notes),
        channel=_number(table, "channel", notes) or 1,
        program=_program(table, notes),
        bank=_number(table, "bank", notes),
        volume=_number(table, "volume", notes),
        theme=_choice(table, "theme", THEMES, notes),
        notation=_choice(table, "notation", NOTATIONS, notes),
        layout=_choice(table, "layout", LAYOUTS, notes),
        count_in=_truth(table, "count_in", notes),
        guide=_guide(table, notes),
        click=_truth(table, "click", notes),
        restrike=_choice(table, "restrike", RESTRIKES, notes),
        hands_step=_truth(table, "hands_step", notes, usual=False),
        answers=_choice(table, "answers", ANSWERS, notes),
        sensing=_truth(table, "sensing", notes),
        singers=_singers(table, notes),
        keys=_keys(table, notes),
    )
    for name in table:
        if name not in SETTINGS:
            notes.add(f"{name} means nothing here", name)
    return replace(player, notes=tuple(notes.lines))


def _reach(table: dict[str, Any], notes: Notes) -> tuple[float, float] | None:
    value = table.get("reach")
    if value is None:
        return None
    try:
        return both_reaches(value, reach_mm)
    except (ValueError, TypeError) as error:
        notes.add(str(error), "reach")
        return None


def _register(table: dict[str, Any], notes: Notes) -> tuple[int, int] | None:
    """Return the outer keys that may be played; less than two octaves is no keyboard for two hands."""
    value = table.get("register")
    if value is None:
        return None
    try:
        low, high = (key_number(key) for key in value)
        if high - low < 24:
            raise ValueError
        return low, high
    except (ValueError, TypeError, AttributeError):
        words = 'register is no lowest and highest key two octaves apart, as in register = ["C2", "C7"]'
        notes.add(words, "register")
        return None


def _text(table: dict[str, Any], name: str, notes: Notes) -> str:
    value = table.get(name, "")
    if not isinstance(value, str):
        notes.add(f"{name} is not a text in quotes", name)
        return ""
    return value


def _truth(table: dict[str, Any], name: str, notes: Notes, usual: bool = True) -> bool:
    value = table.get(name, usual)
    if not isinstance(value, bool):
        notes.add(f"{name} is neither true nor false", name)
        return usual
    return value


def _guide(table: dict[str, Any], notes: Notes) -> str:
    """Return the guide; true and false are what older files say."""
    value = table.get("guide", True)
    if isinstance(value, bool):
        return GUIDES[0] if value else "none"
    return _choice(table, "guide", GUIDES, notes)


def _switch(table: dict[str, Any], name: str, notes: Notes) -> str:
    """Return a foot switch in words; words that are none are kept out and said."""
    words = _text(table, name, notes)
    try:
        if words:
            read_switch(words)
    except ValueError as fault:
        notes.add(f"{name}: {fault}", name)
        return ""
    return words


def _program(table: dict[str, Any], notes: Notes) -> str:
    value = table.get("program", "")
    if value in ("", SOUNDS_BY_SONG):
        return str(value)
    number = _number(table, "program", notes)
    if number is None:
        notes.lines[-1] += f', nor "{SOUNDS_BY_SONG}"'
    return "" if number is None else str(number)


def _number(table: dict[str, Any], name: str, notes: Notes, within: tuple[int, int] | None = None) -> int | None:
    """Return a number that MIDI can carry, or one `within` two others."""
    value, (least, most) = table.get(name), within or RANGES[name]
    if value is None or (isinstance(value, int) and not isinstance(value, bool) and least <= value <= most):
        return value
    notes.add(f"{name} is no number from {least} to {most}", name)
    return None


def _choice(table: dict[str, Any], name: str, choices: tuple[str, ...], notes: Notes) -> str:
    value = table.get(name, choices[0])
    if value not in choices:
        notes.add(f"{name} is none of {', '.join(choices)}", name)
        return choices[0]
    return str(value)


def _keys(table: dict[str, Any], notes: Notes) -> tuple[tuple[str, str], ...]:
    value = table.get("keys", {})
    if not isinstance(value, dict) or not all(isinstance(keys, str) for keys in value.values()):
        notes.add('[keys] holds "name" = "keys", each in quotes', "keys")
        return ()
    return tuple(value.items())


def _singers(table: dict[str, Any], notes: Notes) -> tuple[Singer, ...]:
    value = table.get("singers", [])
    if not isinstance(value, list):
        notes.add("each singer stands under a [[singers]] of its own", "singers")
        return ()
    singers = []
    for number, entry in enumerate(value):
        try:
            singers.append(_singer(entry))
        except (ValueError, TypeError, KeyError, AttributeError):
            notes.add('a singer has name, lowest and highest, as in lowest = "G3"', "singers", number)
    return tuple(singers)


def _singer(entry: dict[str, Any]) -> Singer:
    ease = [key_number(entry[name]) if name in entry else None for name in ("low_ease", "high_ease")]
    singer = Singer(str(entry["name"]), key_number(entry["lowest"]), key_number(entry["highest"]), *ease)
    if singer.lowest > singer.highest:
        raise ValueError(entry)
    return singer
