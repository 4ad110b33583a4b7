"""Which keystroke does what: the usual ones of the command table, and the player's own over them."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tui.input.commands import COMMANDS, SCREENS, Command

SIGNS: dict[str, str] = {
    "space": "space", "right": "→", "left": "←", "up": "↑", "down": "↓", "pagedown": "PgDn", "pageup": "PgUp",
    "enter": "Enter", "backspace": "Bksp", "full_stop": ".", "comma": ",",
    "semicolon": ";", "apostrophe": "'", "slash": "/", "question_mark": "?",
    "number_sign": "#", "tab": "Tab", "f7": "F7", "f8": "F8", "f9": "F9",
    "escape": "Esc", "home": "Home", "end": "End", "delete": "Del", "plus": "+", "minus": "-", "equals_sign": "=",
}  # fmt: skip
"""Textual's name of a key -> what stands on it."""


@dataclass(frozen=True, slots=True)
class Keymap:
    """The keystrokes of every command; `own` are the player's, id to keystrokes as in the command table.

    `ascii_only` is for terminals that have no arrows: keys are then written by name.
    """

    own: Mapping[str, str] = field(default_factory=dict)
    ascii_only: bool = False

    def keys(self, id: str) -> tuple[str, ...]:
        """Return the keystrokes of a command."""
        return tuple(key.strip() for key in self.own.get(id, COMMANDS[id].keys).split(",") if key.strip())

    def command(self, screen: str, key: str) -> Command | None:
        """Return what a keystroke does on a screen; ctrl+q quits from the stand as it does in most programs."""
        if screen == "stand" and key == "ctrl+q":
            return COMMANDS["stand.quit"]
        return next((command for command in SCREENS[screen] if key in self.keys(command.id)), None)

    def sign(self, id: str) -> str:
        """Return what stands on the first key of a command."""
        return sign(self.keys(id)[0], self.ascii_only)

    def line(self, screen: str, width: int = 200) -> str:
        """Return the most used keys of a screen in one line, as many as fit: `space next  ← back  j jump  ? help`."""
        shown = [command for command in SCREENS[screen] if command.short and self.keys(command.id)]
        words = [f"{self.sign(command.id)} {command.short}" for command in shown]
        last = next((word for word in words if word.endswith(" help")), "")
        line = ""
        for word in words:
            if word != last and len(line) + len(word) + len(last) + 4 <= width:
                line += word + "  "
        return (line + last).strip()

    def clicked(self, screen: str, line: str, x: int) -> Command | None:
        """Return the command whose entry stands at column `x` of a line of keys as it is shown."""
        for command in SCREENS.get(screen, ()):
            if command.short and self.keys(command.id):
                word = f"{self.sign(command.id)} {command.short}"
                start = f" {line} ".find(f" {word} ")
                if start >= 0 and start <= x < start + len(word):
                    return command
        return None

    def help(self, screen: str) -> tuple[tuple[str, str], ...]:
        """Return (keys, words) of everything a screen can do."""
        return tuple(
            (" ".join(sign(key, self.ascii_only) for key in _short(self.keys(command.id))), command.words)
            for command in SCREENS[screen]
        )


def faults(own: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is wrong with the player's own keys, in words: unknown names, a key with two meanings on a screen."""
    unknown = [f"{id}: no such key binding" for id in own if id not in COMMANDS]
    return (*unknown, *(fault for screen in SCREENS.values() for fault in _clashes(screen, Keymap(own))))


def _clashes(commands: tuple[Command, ...], keymap: Keymap) -> list[str]:
    taken: dict[str, str] = {}
    clashes = []
    for command in commands:
        for key in keymap.keys(command.id):
            if key in taken:
                clashes.append(f"{sign(key)} is both {taken[key]} and {command.id}")
            taken.setdefault(key, command.id)
    return clashes


def sign(key: str, ascii_only: bool = False) -> str:
    """Return what stands on a key; without arrows its name, which nobody takes for a letter."""
    shown = SIGNS.get(key, key)
    return shown if shown.isascii() or not ascii_only else key.capitalize()


def _short(keys: tuple[str, ...]) -> tuple[str, ...]:
    return (f"{keys[0]}-{keys[-1]}",) if len(keys) > 4 and all(key.isdigit() for key in keys) else keys
