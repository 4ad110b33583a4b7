"""A clock that plays nothing: it remembers what it was asked for, and says what a test has it say."""

import time
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from engine.performance.following import Place
from engine.performance.sound_settings import Touch
from engine.performance.timeline import Performance
from engine.planning.model import PlannedStep
from engine.song.model import SetList
from tests.tui.showing import Player, stand_app
from tui.app import StandApp
from tui.midi.clock import ClockEvent
from tui.midi.port_list import PortsSeen
from tui.persistence import store
from tui.persistence.player import Player as Settings


class PretendedClock:
    """Stands in for `tui.midi.clock.Clock`."""

    process_id = 1
    ready = True
    status = "plays through Loft Organ"
    seen = PortsSeen(("Loft Organ", "Network 1"), ("Stage Keys", "Network 2"), "")

    def __init__(self) -> None:
        self.played: list[Performance] = []
        self.exchanged: list[Performance] = []
        self.sent: list[bytes] = []
        self.sent_to: list[tuple[str, bytes]] = []
        self.led: list[tuple[int, int]] = []
        self.opened: list[tuple[str, str | None]] = []
        self.done: list[str] = []

    def ports(self) -> PortsSeen | None:
        return self.seen

    def play(self, performance: Performance, delay: float = 0.0) -> None:
        self.played.append(performance)

    def go_on(self, performance: Performance) -> None:
        self.exchanged.append(performance)

    def send(self, messages: Iterable[bytes], role: str = "") -> None:
        told = list(messages)
        self.sent += told
        self.sent_to += [(role, data) for data in told]

    def lead(self, song: int, sixteenth: int) -> None:
        self.led.append((song, sixteenth))

    def open(self, name: str | None, role: str = "out") -> None:
        self.opened.append((role, name))

    def mute(self) -> None:
        self.done.append("mute")

    def sound(
        self,
        keys: Sequence[int],
        velocity: int | Sequence[int] = 76,
        channel: int = 1,
        legato: bool = False,
        seconds: float | None = None,
    ) -> None:
        self.done.append("sound")

    def sound_step(self, step: PlannedStep, touch: Touch, guide: bool = False, seconds: float | None = None) -> None:
        self.done.append("sound_step")

    def sense(self, on: bool) -> None:
        self.done.append("sense")

    def cue(self) -> None:
        self.done.append("cue")

    def silence(self) -> None:
        self.done.append("silence")

    def panic(self) -> None:
        self.done.append("panic")

    def close(self, seconds: float = 1.5) -> None:
        self.done.append("close")


def app_with_clock(set_list: SetList | None = None, **options: Any) -> tuple[StandApp, PretendedClock]:
    app, clock = stand_app(set_list, **options), PretendedClock()
    app.sound._clock = clock  # type: ignore[assignment]
    return app, clock


def set_up(**settings: Any) -> tuple[StandApp, PretendedClock]:
    """Return the stand with the player's settings as they are found at the start."""
    store.save_player(replace(Settings(), port_in="Stage Keys", **settings))
    return app_with_clock()


async def says(
    pilot: Player, kind: str, value: int = 0, at: float = 0.0, place: Place | None = None, words: str = ""
) -> None:
    """Let the clock say something, as it does from its thread."""
    pilot.app._heard(ClockEvent(kind, at or time.monotonic(), value, text=words, place=place))
    await pilot.pause()


async def plays(pilot: Player, *messages: bytes, still: float = 0.1) -> None:
    """Let the player's keyboard say something, and the hand be still afterwards."""
    for data in messages:
        pilot.app._heard(ClockEvent("in", time.monotonic(), data=data))
    await pilot.pause(still)
