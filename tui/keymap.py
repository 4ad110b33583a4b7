"""Which key does what: every binding has a name of its own, and a table gives the keys of a name.

Names are dotted (`stand.forward`); the player's own file may give a name other keys, called as Textual calls them.
No stage action lies on Esc (a terminal reports it late), needs shift or two keys at once.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from textual.binding import Binding, BindingType


@dataclass(frozen=True, slots=True)
class Deed:
    """Something a key does on a screen: its dotted name, the screen's action, and words for the help."""

    name: str
    action: str
    words: str
    short: str = ""
    """One word for the key line, "" to leave it to the help."""


STAND: tuple[Deed, ...] = (
    Deed("stand.forward", "forward", "next chord; at the end the next song", "next"),
    Deed("stand.back", "back", "chord before", "back"),
    Deed("stand.section", "section(1)", "next section"),
    Deed("stand.section_back", "section(-1)", "section before"),
    Deed("stand.jump", "ask('jump')", "go to a section by its letter, or to a bar", "jump"),
    Deed("stand.bars", "bars", "so many bars back; 2 c is two bars before C"),
    Deed("stand.top", "top", "top of the song"),
    Deed("stand.ending", "ending", "last ending"),
    Deed("stand.cue", "cue", "give the cue: leave the vamp when its round is through", "cue"),
    Deed("stand.song", "song(1)", "next song", "song"),
    Deed("stand.song_back", "song(-1)", "top of the song, then the song before"),
    Deed("stand.find", "ask('find')", "open a song by part of its title"),
    Deed("stand.key", "ask('key')", "tonight's key, by name or half steps", "key"),
    Deed("stand.tempo", "ask('tempo')", "tonight's tempo: figure, nudge, or tap this key", "tempo"),
    Deed("stand.note", "ask('note')", "write a note for this bar or this song", "note"),
    Deed("stand.other", "ask('other')", "other voicings of the coming chord, with their price"),
    Deed("stand.count", "count", "count in and go through the first chord softly", "count in"),
    Deed(
        "stand.along",
        "along",
        "in time, from here or round the loop; again to stop",
        "in time",
    ),
    Deed("stand.climb", "climb", "loop or section on a tempo ladder; again to stop"),
    Deed("stand.hear", "hear", "sound each chord as you step, or not"),
    Deed("stand.silence", "silence", "silence: nothing sounds on"),
    Deed("stand.undo", "undo", "undo a jump, a key, a tempo, a note, a pin, a bar", "undo"),
    Deed("stand.redo", "redo", "redo"),
    Deed("stand.layout", "layout", "layout: player, leader, split"),
    Deed("stand.numbers", "numbers", "chords as numbers of the key, or by name"),
    Deed("stand.theme", "theme", "dark, light, without colour"),
    Deed("stand.lock", "lock", "lock the stand for the stage, or unlock it"),
    Deed("stand.reload", "reload", "take up files changed elsewhere, and keep your own"),
    Deed("stand.set", "show('set')", "the set: order, keys, tempos", "set"),
    Deed("stand.chart", "show('chart')", "the song in bars", "bars"),
    Deed("stand.keys", "show('keys')", "the twelve keys compared"),
    Deed("stand.shed", "show('shed')", "the shed: the hardest shifts, practised"),
    Deed("stand.sound", "show('sound')", "ports and sound"),
    Deed("stand.help", "show('help')", "all keys", "help"),
    Deed("stand.quit", "quit", "quit; the place is kept", "quit"),
)

SET: tuple[Deed, ...] = (
    Deed("set.down", "move(1)", "song below", "down"),
    Deed("set.up", "move(-1)", "song above", "up"),
    Deed("set.open", "open", "open this song on the stand", "open"),
    Deed("set.later", "carry(1)", "move the song later", "later"),
    Deed("set.earlier", "carry(-1)", "move the song earlier", "earlier"),
    Deed("set.key", "ask('key')", "tonight's key", "key"),
    Deed("set.tempo", "ask('tempo')", "tonight's tempo", "tempo"),
    Deed("set.add", "ask('add')", "add a song file", "add"),
    Deed("set.drop", "drop", "drop the song from the set", "drop"),
    Deed("set.undo", "undo", "undo", "undo"),
    Deed("set.redo", "redo", "redo"),
    Deed("set.help", "show('help')", "all keys", "help"),
    Deed("set.close", "close", "back to the stand", "stand"),
)

CHART: tuple[Deed, ...] = (
    Deed("chart.right", "move(1)", "next chord"),
    Deed("chart.left", "move(-1)", "chord before"),
    Deed("chart.down", "line(1)", "next bar", "bar"),
    Deed("chart.up", "line(-1)", "bar before"),
    Deed("chart.hardest", "hardest", "the next hardest shift", "hardest"),
    Deed("chart.pin", "pin", "pin the voicing as it stands, or unpin it", "pin"),
    Deed("chart.other", "other", "other voicings with their price; up and down choose", "others"),
    Deed("chart.edit", "edit", "edit the bar in the song's own file, read as you type", "edit"),
    Deed("chart.loop", "loop", "mark a loop's start, then its end; again to clear", "loop"),
    Deed("chart.undo", "undo", "undo", "undo"),
    Deed("chart.redo", "redo", "redo"),
    Deed("chart.open", "open", "go on from here on the stand", "from here"),
    Deed("chart.help", "show('help')", "all keys", "help"),
    Deed("chart.close", "close", "back to the stand", "stand"),
)

KEYS: tuple[Deed, ...] = (
    Deed("keys.down", "move(1)", "key below", "down"),
    Deed("keys.up", "move(-1)", "key above", "up"),
    Deed("keys.take", "take", "take this key for tonight", "tonight"),
    Deed("keys.keep", "keep", "take this key for good, in the song's own file", "for good"),
    Deed("keys.help", "show('help')", "all keys", "help"),
    Deed("keys.close", "close", "back to the stand", "stand"),
)

SOUND: tuple[Deed, ...] = (
    Deed("sound.down", "move(1)", "line below", "down"),
    Deed("sound.up", "move(-1)", "line above", "up"),
    Deed("sound.more", "change(1)", "next value", "change"),
    Deed("sound.less", "change(-1)", "value before"),
    Deed("sound.take", "take", "take this port, play the test chord, switch", "take"),
    Deed("sound.silence", "silence", "silence everything on all channels", "silence"),
    Deed("sound.help", "show('help')", "all keys", "help"),
    Deed("sound.close", "close", "back to the stand", "stand"),
)

SHED: tuple[Deed, ...] = (
    Deed("shed.down", "move(1)", "easier shift", "down"),
    Deed("shed.up", "move(-1)", "harder shift"),
    Deed("shed.ride", "ride", "round the spot at the ladder's tempo; again to end", "round"),
    Deed("shed.clean", "verdict('clean')", "that was clean: keep the try, a notch up", "clean"),
    Deed("shed.stopped", "verdict('stopped')", "stopped: keep the try, a notch down", "stopped"),
    Deed("shed.take_back", "take_back", "take back the last verdict: a slip of the finger"),
    Deed("shed.faster", "nudge(1)", "a notch faster without a try"),
    Deed("shed.slower", "nudge(-1)", "a notch slower without a try"),
    Deed("shed.tonight", "tonight", "tonight's plan of interleaved spots; again to leave it", "tonight"),
    Deed("shed.minutes", "minutes(30)", "tonight's plan of ten to ninety minutes"),
    Deed("shed.next", "next", "next spot of tonight's plan", "next"),
    Deed("shed.narrow", "narrow", "a narrower version for the hands, or the plan's again", "narrower"),
    Deed("shed.keep", "keep", "keep the narrower version for tonight"),
    Deed("shed.hear", "hear", "hear the chord the shift leads to"),
    Deed("shed.open", "open", "open the spot on the stand, looped", "open"),
    Deed("shed.help", "show('help')", "all keys", "help"),
    Deed("shed.close", "close", "back to the stand", "stand"),
)

HELP: tuple[Deed, ...] = (
    Deed("help.down", "move(1)", "further down", "down"),
    Deed("help.up", "move(-1)", "further up", "up"),
    Deed("help.close", "close", "back", "back"),
)

SCREENS: dict[str, tuple[Deed, ...]] = {
    "stand": STAND, "set": SET, "chart": CHART, "keys": KEYS, "sound": SOUND, "shed": SHED, "help": HELP,
}  # fmt: skip

STAGE: dict[str, str] = {
    "stand.forward": "space,right,pagedown,enter",
    "stand.back": "left,backspace,pageup",
    "stand.section": "down",
    "stand.section_back": "up",
    "stand.jump": "j",
    "stand.bars": "1,2,3,4,5,6,7,8,9",
    "stand.top": "home,0",
    "stand.ending": "end,e",
    "stand.cue": "c",
    "stand.song": "full_stop",
    "stand.song_back": "comma",
    "stand.find": "slash,f",
    "stand.key": "k",
    "stand.tempo": "t",
    "stand.note": "n",
    "stand.other": "o",
    "stand.count": "g",
    "stand.along": "i",
    "stand.climb": "plus,equals_sign",
    "stand.hear": "p",
    "stand.silence": "x",
    "stand.undo": "u",
    "stand.redo": "r",
    "stand.layout": "v",
    "stand.numbers": "number_sign",
    "stand.theme": "d",
    "stand.lock": "l",
    "stand.reload": "w",
    "stand.set": "s",
    "stand.chart": "b",
    "stand.keys": "y",
    "stand.shed": "a",
    "stand.sound": "m",
    "stand.help": "question_mark,h",
    "stand.quit": "q",
    "set.down": "down",
    "set.up": "up",
    "set.open": "enter,space",
    "set.later": "right,pagedown",
    "set.earlier": "left,pageup",
    "set.key": "k",
    "set.tempo": "t",
    "set.add": "a",
    "set.drop": "delete,x",
    "set.undo": "u",
    "set.redo": "r",
    "set.help": "question_mark,h",
    "set.close": "s,q,escape",
    "chart.right": "right",
    "chart.left": "left",
    "chart.down": "down,pagedown",
    "chart.up": "up,pageup",
    "chart.hardest": "w",
    "chart.pin": "p",
    "chart.other": "o",
    "chart.edit": "e",
    "chart.loop": "l",
    "chart.undo": "u",
    "chart.redo": "r",
    "chart.open": "enter,space",
    "chart.help": "question_mark,h",
    "chart.close": "b,q,escape",
    "keys.down": "down",
    "keys.up": "up",
    "keys.take": "enter,space",
    "keys.keep": "tab,g",
    "keys.help": "question_mark,h",
    "keys.close": "y,q,escape",
    "sound.down": "down",
    "sound.up": "up",
    "sound.more": "right",
    "sound.less": "left",
    "sound.take": "enter,space",
    "sound.silence": "x",
    "sound.help": "question_mark,h",
    "sound.close": "m,q,escape",
    "shed.down": "down",
    "shed.up": "up",
    "shed.ride": "space",
    "shed.clean": "right,pagedown,c",
    "shed.stopped": "left,pageup,x",
    "shed.take_back": "u,backspace",
    "shed.faster": "plus,equals_sign",
    "shed.slower": "minus",
    "shed.tonight": "t",
    "shed.minutes": "1,2,3,4,5,6,7,8,9",
    "shed.next": "n",
    "shed.narrow": "v",
    "shed.keep": "k",
    "shed.hear": "p",
    "shed.open": "enter",
    "shed.help": "question_mark,h",
    "shed.close": "a,q,escape",
    "help.down": "down,space,pagedown",
    "help.up": "up,pageup",
    "help.close": "question_mark,h,q,escape,enter",
}

SIGNS: dict[str, str] = {
    "space": "space", "right": "→", "left": "←", "up": "↑", "down": "↓", "pagedown": "PgDn", "pageup": "PgUp",
    "enter": "Enter", "backspace": "Bksp", "full_stop": ".", "comma": ",", "slash": "/", "question_mark": "?",
    "number_sign": "#", "tab": "Tab",
    "escape": "Esc", "home": "Home", "end": "End", "delete": "Del", "plus": "+", "minus": "-", "equals_sign": "=",
}  # fmt: skip
"""Textual's name of a key -> what stands on it."""


def keys_of(name: str, own: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """Return the keys of a binding's name; `own` are the player's."""
    return tuple(key.strip() for key in (own or {}).get(name, STAGE[name]).split(",") if key.strip())


def deeds(screen: str, own: Mapping[str, str] | None = None) -> dict[str, str]:
    """Return key -> action of a screen; ctrl+q quits from the stand as it does in most programs."""
    found = {key: deed.action for deed in SCREENS[screen] for key in keys_of(deed.name, own)}
    return {"ctrl+q": "quit", **found} if screen == "stand" else found


def bindings(screen: str) -> list[BindingType]:
    """Return a screen's bindings, ready for its BINDINGS."""
    return [
        Binding(STAGE[deed.name], deed.action, deed.short or deed.words, show=bool(deed.short), id=deed.name)
        for deed in SCREENS[screen]
    ]


def faults(own: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is wrong with the player's own keys, in words: unknown names, a key with two meanings on a screen."""
    unknown = [f"{name}: no such key binding" for name in own if name not in STAGE]
    return (*unknown, *(fault for screen in SCREENS.values() for fault in _clashes(screen, own)))


def _clashes(deeds: Iterable[Deed], own: Mapping[str, str]) -> list[str]:
    taken: dict[str, str] = {}
    clashes = []
    for deed in deeds:
        for key in keys_of(deed.name, own):
            if key in taken:
                clashes.append(f"{sign(key)} is both {taken[key]} and {deed.name}")
            taken.setdefault(key, deed.name)
    return clashes


def sign(key: str, ascii_only: bool = False) -> str:
    """Return what stands on a key; without arrows its name, which nobody takes for a letter."""
    shown = SIGNS.get(key, key)
    return shown if shown.isascii() or not ascii_only else key.capitalize()


def key_line(screen: str, own: Mapping[str, str] | None = None, width: int = 200, ascii_only: bool = False) -> str:
    """Return the most used keys of a screen in one line, as many as fit: `space next  ← back  j jump  ? help`."""
    shown = [(keys_of(deed.name, own), deed.short) for deed in SCREENS[screen] if deed.short]
    words = [f"{sign(keys[0], ascii_only)} {short}" for keys, short in shown if keys]
    last = next((word for word in words if word.endswith(" help")), "")
    line = ""
    for word in words:
        if word != last and len(line) + len(word) + len(last) + 4 <= width:
            line += word + "  "
    return (line + last).strip()


def help_lines(
    screen: str, own: Mapping[str, str] | None = None, ascii_only: bool = False
) -> tuple[tuple[str, str], ...]:
    """Return (keys, words) of everything a screen can do."""
    return tuple(
        (" ".join(sign(key, ascii_only) for key in _short(keys_of(deed.name, own))), deed.words)
        for deed in SCREENS[screen]
    )


def _short(keys: tuple[str, ...]) -> tuple[str, ...]:
    return (f"{keys[0]}-{keys[-1]}",) if len(keys) > 4 and all(key.isdigit() for key in keys) else keys
