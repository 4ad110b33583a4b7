"""The player's own file: reach, ports, pedal, theme, singers. What cannot be used is left out and said."""

from dataclasses import dataclass, fields, replace
from typing import Any

from engine.answer_names import ANSWERS
from engine.comp_names import RESTRIKES
from engine.hand.reach import reach_mm
from engine.performance.pedal import read_switch
from engine.song.instrument import RANGES
from engine.song.source_positions import Places, places
from engine.song.toml import read_toml
from engine.song.writing import pitch, quoted
from engine.theory.pitch import key_number
from tui.session.rehearsal import LAYOUTS

NO_PORT = "none"
"""In place of a port: nothing sounds. Without a word it is the built-in sound that does."""

THEMES = ("dark", "light", "plain")
NOTATIONS = ("letters", "signs", "numbers")
"""How chords are shown: plain letters (Bbmaj7), signs for the qualities (B♭Δ7), or as numbers of the key (♭7maj7)."""

FIRST_LINE = "# What holds for every set: your hands, ports and screen. Edit it as you like.\n"

GUIDES = ("step", "none", "first", "early")
"""What sounds besides the click when a song is counted in or played along (see performance/play_along)."""
LATENCIES = (-500, 500)
"""Milliseconds that may lie between a click and its answer as it comes in."""

SOUNDS_BY_SONG = "song"
"""In place of a program's number: the program that belongs to what the song's file says of its sound."""


@dataclass(frozen=True, slots=True)
class Singer:
    """A singer: the range and the part of it where most of a tune lies well, as MIDI numbers."""

    name: str
    lowest: int
    highest: int
    low_ease: int | None = None
    high_ease: int | None = None


@dataclass(frozen=True, slots=True)
class Player:
    """What holds for every set.

    `reach` is in millimetres (left, right), None while not measured; `register` the lowest and highest key that may be
    played (MIDI numbers), None for the whole piano. `port_out`, `port_in`, `lead`, `follow`, `click_out` and `thru`
    are ports by name; with `both` the built-in sound sounds beside the port; `latency` is in milliseconds;
    `pedal`, `pedal_back` and `pedal_cue` switches (see performance/pedal). `program` is "" (left alone), "song", or a
    number from 1 as printed on instruments; `bank` (14 bits) and `volume` are None where left alone. `hands_step`
    follows what is played; `answers` is what counts as the planned chord; `sensing` lets the instrument notice when we
    vanish. `keys` are (binding, keys) of the player's own; `notes` says what could not be used.
    """

    reach: tuple[float, float] | None = None
    register: tuple[int, int] | None = None
    port_out: str = ""
    port_in: str = ""
    lead: str = ""
    follow: str = ""
    both: bool = False
    click_out: str = ""
    click_volume: int | None = None
    thru: str = ""
    latency: int | None = None
    pedal: str = ""
    pedal_back: str = ""
    pedal_cue: str = ""
    channel: int = 1
    program: str = ""
    bank: int | None = None
    volume: int | None = None
    theme: str = "dark"
    notation: str = "letters"
    layout: str = "player"
    count_in: bool = True
    guide: str = GUIDES[0]
    click: bool = True
    restrike: str = "bar"
    hands_step: bool = False
    answers: str = ANSWERS[0]
    sensing: bool = True
    singers: tuple[Singer, ...] = ()
    keys: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


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
    known = {field.name for field in fields(Player)} - {"notes"}
    for name in table:
        if name not in known:
            notes.add(f"{name} means nothing here", name)
    return replace(player, notes=tuple(notes.lines))


def changed_player(text: str, before: Player, after: Player) -> str:
    """Return a player's file with the settings in which `after` differs from `before`; all else stays as it is
    written: comments, order, and what cannot be understood.

    Raises:
        ValueError: the text is not valid TOML.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(text)
    except TOMLKitError as error:
        raise ValueError(str(error)) from None
    fresh = tomlkit.parse(write_player(after))
    for name in SETTINGS:
        if getattr(after, name) == getattr(before, name):
            continue
        if name in fresh:
            document[name] = fresh[name]
        elif name in document:
            del document[name]
    return tomlkit.dumps(document)


def write_player(player: Player) -> str:
    """Return the player's file; reading it gives the same player (notes aside)."""
    usual = Player()
    lines = [FIRST_LINE.rstrip()]
    if player.reach:
        lines += ["# millimetres from thumb to little finger, left and right", f"reach = [{_mm(player)}]"]
    if player.register:
        low, high = (pitch(key, "") for key in player.register)
        lines += ["# the lowest and highest key that may be played", f'register = ["{low}", "{high}"]']
    for name in PLAIN:
        value = getattr(player, name)
        if value != getattr(usual, name):
            number = name == "program" and value.isdecimal()
            lines.append(f"{name} = {value if number else _toml(value)}")
    if player.keys:
        lines += ["", "[keys]", *(f"{quoted(name)} = {quoted(keys)}" for name, keys in player.keys)]
    for singer in player.singers:
        lines += ["", "[[singers]]", f"name = {quoted(singer.name)}"]
        for name in ("lowest", "highest", "low_ease", "high_ease"):
            key = getattr(singer, name)
            lines += [f'{name} = "{pitch(key, "")}"'] if key is not None else []
    return "\n".join(lines) + "\n"


def _mm(player: Player) -> str:
    return ", ".join(f"{hand:g}" if float(f"{hand:g}") == hand else repr(hand) for hand in player.reach or ())


def _toml(value: object) -> str:
    return quoted(value) if isinstance(value, str) else str(value).lower()


def _reach(table: dict[str, Any], notes: Notes) -> tuple[float, float] | None:
    value = table.get("reach")
    if value is None:
        return None
    hands = value if isinstance(value, list) else [value, value]
    try:
        if len(hands) != 2 or any(isinstance(hand, bool) for hand in hands):
            raise ValueError("no reach: write one value, or [left, right]")
        left, right = (reach_mm(hand) for hand in hands)
        return left, right
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


PLAIN = tuple(
    field.name for field in fields(Player) if field.name not in ("reach", "register", "singers", "keys", "notes")
)
"""Settings of one value each, in the order in which they are written."""

SETTINGS = tuple(field.name for field in fields(Player) if field.name != "notes")
"""The keys of the player's file."""
