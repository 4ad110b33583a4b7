"""Measures once how long after a click the player's key comes in: eight clicks, any key with each."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from engine.performance.latency import CLICKS, latency_clicks, measured

if TYPE_CHECKING:
    from engine.performance.timeline import Performance
    from tui.midi.clock import ClockEvent


class LatencyCheck:
    """One measurement; `done` is told the milliseconds, None when none was found, and words for the player."""

    def __init__(self, play: "Callable[[Performance], None]", done: Callable[[int | None, str], None]) -> None:
        self._done = done
        self._clicks: list[float] = []
        self._struck: list[float] = []
        self._over = False
        play(latency_clicks())

    def hear(self, event: "ClockEvent") -> None:
        """Take the clicks as they come and the keys as they are struck."""
        if self._over:
            return
        if event.kind == "beat":
            self._clicks.append(event.seconds)
        elif event.kind == "in" and event.data[0] & 0xF0 == 0x90 and event.data[2]:
            self._struck.append(event.seconds)
        elif event.kind == "end":
            self._over = True
            self._done(*self._found())

    def _found(self) -> tuple[int | None, str]:
        if len(self._clicks) < CLICKS:
            return None, "not measured: it was stopped"
        found = measured(tuple(self._clicks), tuple(self._struck))
        if found is None:
            return None, "not measured: play one key with each click"
        if not found.even:
            return None, f"not measured: your keys scatter by {found.scatter * 1000:.0f} ms; once more"
        late = round(found.seconds * 1000)
        return late, f"latency {late} ms, taken into account from now on"
