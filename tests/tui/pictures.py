"""Draw every screen as the README shows it: python -m tests.tui.pictures [NAME...] [--to FOLDER]

Runs the real program in a pseudo-terminal, in a fresh home, and draws what a terminal would show into PNG files.
"""

import argparse
import os
import tempfile
from pathlib import Path

from tests.tui.picture import draw_screen
from tests.tui.terminal import ROOT, Terminal
from tui.persistence import store

# Name -> (columns, rows, keys in turn with the words to wait for after each).
SCREENS: dict[str, tuple[int, int, tuple[tuple[str, str], ...]]] = {
    "stand": (100, 30, ((" ", ""), (" ", ""))),
    "stand-80x24": (80, 24, ((" ", "bar 2"),)),
    "stand-200x60": (200, 60, ((" ", ""),)),
    "stand-60x20": (60, 20, ((" ", ""),)),
    "stand-leader": (120, 36, (("v", ""), (" ", ""))),
    "set": (80, 24, (("s", "hardest"),)),
    "bars": (100, 30, (("b", "effort"),)),
    "keys": (100, 30, (("y", "widest"),)),
    "shed": (80, 24, (("a", "Enter"), ("\r", "space"))),
    "sound": (80, 24, (("m", "SOUND"),)),
    "help": (80, 24, (("?", "back"),)),
}

SETTLED = 1.5
"""Seconds without a byte after which a screen is taken to be finished."""


def draw(name: str, folder: Path) -> Path:
    """Draw one screen; return its file."""
    width, height, keys = SCREENS[name]
    with tempfile.TemporaryDirectory() as home:
        _been_here(home)
        truecolor = {"COLORTERM": "truecolor", "STILLHAND_HOME": home}
        with Terminal(size=(width, height), **truecolor) as terminal:
            terminal.wait_for("Low Tide Lantern")
            terminal.read(4.0)
            for key, words in keys:
                terminal.press(key)
                if words:
                    terminal.wait_for(words, 40.0)
                terminal.read(SETTLED)
            path = folder / f"{name}.png"
            draw_screen(terminal.screen, path)
    return path


def _been_here(home: str) -> None:
    """Let the program think that the lines for newcomers have been read."""
    before = os.environ.get("STILLHAND_HOME")
    os.environ["STILLHAND_HOME"] = home
    try:
        store.save_session(store.Session(path=None, song=0, step=0, more={"toured": 99}))
    finally:
        os.environ.pop("STILLHAND_HOME")
        os.environ.update({"STILLHAND_HOME": before} if before else {})


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", default=[])
    parser.add_argument("--to", type=Path, default=ROOT / ".pictures")
    asked = parser.parse_args()
    asked.to.mkdir(exist_ok=True)
    for name in asked.names or SCREENS:
        print(draw(name, asked.to))


if __name__ == "__main__":
    main()
