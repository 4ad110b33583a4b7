"""A spot going round and round: counted in and clicked at the ladder's tempo, listened to on a connected keyboard."""

from bisect import bisect_left
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

from engine.planning.model import Plan, PlannedStep
from engine.practice.practice_plan import bounds
from engine.practice.ranking import HardShift
from engine.song.model import Song
from tui.playback.sound import Sound
from tui.screens.practice.listening import Heard, hear
from tui.screens.practice.running import of_hands

if TYPE_CHECKING:
    from engine.performance.play_along import Ride


GUIDES = {
    "first": "the first chord", "rhythm": "every chord, in the song's rhythm",
    "alternate": "every other round; then you alone", "other": "the hand that you leave out",
}  # fmt: skip
"""What sounds while a spot goes round, beside the click, and how that is said."""


class Round:
    """At most one spot goes round. `heard` is the try as it is heard, None while nothing goes round; `steps` are the
    spot's chords, `present` which of them sounds now, `tempo` what they go at."""

    def __init__(self, sound: Sound) -> None:
        self.sound = sound
        self.guide = "first"
        """What sounds: one of GUIDES."""
        self.heard: Heard | None = None
        self.held: tuple[int, ...] = ()
        self.steps: tuple[PlannedStep, ...] = ()
        self.present = 0
        self.tempo = 0.0
        self._first = 0
        self._listens = False

    @property
    def on(self) -> bool:
        return self.heard is not None

    def connect(self, wanted: str) -> None:
        """Listen to the keyboard that the player's settings name, else to the only one there is. Ports are known a
        moment after the clock has started; until then nothing is listened to."""
        if self._listens:
            return
        seen = self.sound.clock.ports()
        found = [name for name in seen.inputs if "through" not in name.lower()] if seen else []
        name = wanted or (found[0] if len(found) == 1 else "")
        if name:
            self._listens = True
            self.sound.clock.open(name, role="in")

    def begin(self, hard: HardShift, song: Song, plan: Plan, tempo: float, hands: str = "both") -> None:
        """Count in and go round a spot at a tempo, until `stop`; `hands` are those that practise. It does not begin
        where they play nothing."""
        from engine.performance.play_along import play_along

        first, last = bounds(hard.tightest, len(plan.steps))
        ride = replace(self._ride(song, hands), first=first, last=last)
        steps = tuple(of_hands(step, hands) for step in plan.steps)
        # A bar without chord asks for nothing, nor does one in which the hand that practises rests.
        numbers = [number for number in range(first, last + 1) if steps[number].keys]
        if not numbers:
            return
        sounded = plan if ride.hand != "both" else replace(plan, steps=steps)
        self.sound.play(play_along(replace(song, tempo=tempo), sounded, ride))
        self.steps, self.present, self.tempo, self._first = plan.steps[first : last + 1], 0, tempo, first
        place = hard.tightest
        # Inside a pattern no chord is found anew whose time could be taken.
        gives = inf if place.inside else place.available * place.tempo / tempo
        # A vamp's seam is heard when its first chord comes again.
        numbers += [place.index] if place.seam and steps[place.index].keys else []
        shift = len(numbers) - 1 if place.seam else min(bisect_left(numbers, place.index), len(numbers) - 1)
        self.heard = Heard(tuple(steps[number] for number in numbers), shift, gives)

    def _ride(self, song: Song, hands: str) -> "Ride":
        """Return what sounds; with both hands at work no hand is left out."""
        from engine.performance.play_along import Ride

        guide, other = self.guide, {"left": "right", "right": "left"}.get(hands)
        if self.sound.guide == "none" or (guide == "other" and other is None):
            return Ride(self.sound.touch(song), guide="none", loop=True)
        if guide == "first":
            return Ride(self.sound.touch(song), guide="first", loop=True)
        hand = other if guide == "other" and other is not None else "both"
        return Ride(self.sound.touch(song), loop=True, alternate=guide == "alternate", hand=hand)

    def step(self, index: int) -> None:
        """Follow the clock to a step of the song."""
        if 0 <= index - self._first < len(self.steps):
            self.present = index - self._first

    def stop(self) -> None:
        """End it; nothing sounds on."""
        if self.heard is not None:
            self.heard = None
            self.sound.hush()

    def moved(self, held: tuple[int, ...]) -> bool:
        """Take what is held now; tell whether it is to be listened to once the hand is still."""
        if self.heard is None or held == self.held:
            return False
        self.held = held
        return True

    def listen(self, held: tuple[int, ...], at: float) -> bool:
        """Judge what has been held still since `at` seconds; tell whether that was news."""
        if self.heard is None or held != self.held:
            return False
        before, self.heard = self.heard, hear(self.heard, held, at)
        return self.heard is not before

    @property
    def late(self) -> float | None:
        """Seconds by which the shift took longer than it may in the try that was heard to its end, else None."""
        heard = self.heard
        return None if heard is None or heard.clean is None else round(heard.took - heard.available, 2)

    @property
    def words(self) -> str:
        return self.heard.words if self.heard and self.held else ""
