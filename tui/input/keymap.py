"""Which key does what: every deed has a name of its own, and a table gives the keys of a name.

Names are dotted (`stand.forward`); the player's own file may give a name other keys, called as Textual calls them.
No stage action lies on Esc (a terminal reports it late), needs shift or two keys at once.
"""

from collections.abc import Iterable, Mapping

from textual.binding import Binding, BindingType

from tui.input.commands import SCREENS, Deed

STAGE: dict[str, str] = {
    "stand.forward": "space,right,pagedown,enter",
    "stand.back": "left,backspace,pageup",
    "stand.section": "down",
    "stand.section_back": "up",
    "stand.jump": "j",
    "stand.bars": "1,2,3,4,5,6,7,8,9",
    "stand.top": "home,0",
    "stand.ending": "end,e",
    "stand.return": "z",
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
    "keys.singer": "s,right",
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
