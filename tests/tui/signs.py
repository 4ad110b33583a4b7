"""How high the signs of the stand are: measured on the picture, in rows of the window and in millimetres.

Millimetres are those of a screen 170 mm high, a laptop of 14 inches, filled by the window.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from engine.planning.lineup import request_for
from engine.planning.model import Plan
from engine.planning.planner import plan
from engine.song.model import SetList
from engine.song.unfolding import unfold
from tui.persistence import store
from tui.screens.stand.picture import stand_parts
from tui.screens.stand.view import View
from tui.session import rehearsal as stand
from tui.widgets.cells import Rows
from tui.widgets.moves import SCREEN

SIZES = ((60, 20), (80, 24), (100, 30), (120, 36), (200, 60))

_UPPER, _LOWER = set("▀▘▝▛▜▚▞▌▐█▙▟"), set("▄▖▗▙▟▚▞▌▐█▛▜")
"""Characters with ink in the upper, and in the lower half of their cell."""


@cache
def opener() -> tuple[SetList, Plan]:
    """Return the demo set, and the plan of its first song."""
    set_list = store.open_set(Path(__file__).parents[2] / "setlists" / "harbour-room.toml")
    song = set_list.songs[0].song
    return set_list, plan(unfold(song), request_for(song, set_list, (200.0, 200.0)))


@dataclass(frozen=True, slots=True)
class Sign:
    """A kind of sign: how many pixels (half rows) of ink its smallest one has, in a window of so many rows."""

    name: str
    pixels: int
    window: int

    @property
    def rows(self) -> float:
        return self.pixels / 2

    @property
    def millimetres(self) -> float:
        return self.rows * SCREEN / self.window


def ink_runs(rows: Rows, *roles: str) -> list[int]:
    """Return the heights in pixels of what is inked in these roles, from top to bottom; a free half row parts two."""
    lines = [any(role in roles and char in ink for char, role in row) for row in rows for ink in (_UPPER, _LOWER)]
    runs, high = [], 0
    for inked in [*lines, False]:
        if inked:
            high += 1
        elif high:
            runs.append(high)
            high = 0
    return runs


def signs(set_list: SetList, planned: Plan, width: int, height: int) -> list[Sign]:
    """Return the least height of each sign that is read while playing, over all steps of a song."""
    now = stand.opened(set_list, unfold)
    least: dict[str, int] = {}
    for step in range(len(planned.steps) - 1):
        view = View(stand.jumped(now, 0, step), planned)
        parts = stand_parts(view, width, height)
        drawn = {name: part.draw(part.state, part.width, part.height) for name, part in parts.items()}
        for name, high in _measured(drawn).items():
            least[name] = min(high, least.get(name, high))
    return [Sign(name, high, height) for name, high in least.items()]


def _measured(drawn: dict[str, Rows]) -> dict[str, int]:
    chords, moves, keyboard = drawn["chords"], drawn["moves"], drawn["keyboard"]
    found = {
        "chord": max(ink_runs(chords, "chord"), default=0),
        "next chord": max(ink_runs(chords, "next"), default=0),
        "chord after": max(ink_runs(chords, "after"), default=0),
        "finger on its way": min(ink_runs(moves, "left", "right"), default=0),
        "note it goes to": (ink_runs(moves, "left sign", "right sign") or [0])[-1],
        "finger on its key": min(_figures(keyboard), default=0),
    }
    return {name: high for name, high in found.items() if high}


def _figures(rows: Rows) -> list[int]:
    """Return the heights of the finger numbers on the keys, each key by itself."""
    roles = ("left", "right", "left open", "right open")
    heights = []
    for role in roles:
        inked = {x for row in rows for x, (char, one) in enumerate(row) if one == role and char in _UPPER | _LOWER}
        groups: list[list[int]] = []
        for x in sorted(inked):
            if groups and x == groups[-1][-1] + 1:
                groups[-1].append(x)
            else:
                groups.append([x])
        for group in groups:
            heights += ink_runs([row[group[0] : group[-1] + 1] for row in rows], role)
    return heights
