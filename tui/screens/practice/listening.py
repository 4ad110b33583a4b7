"""A try judged by ear: the spot's chords found one after the other on a connected keyboard, in time or not."""

from dataclasses import dataclass, replace

from engine.performance.listening import judge
from engine.planning.model import PlannedStep

LATE = 1.25
"""How much longer than the time there is a shift may take and still count as clean (own choice)."""


@dataclass(frozen=True, slots=True)
class Heard:
    """A try so far. `steps` are the spot's chords, the shift leads to number `shift` (from 0) and has `available`
    seconds; `found` is when each chord so far was found, `wrong` True once a foreign key was held still."""

    steps: tuple[PlannedStep, ...]
    shift: int
    available: float
    found: tuple[float, ...] = ()
    wrong: bool = False

    @property
    def clean(self) -> bool | None:
        """None while chords are still to be found; then whether all came without a foreign key and the shift in
        time."""
        if len(self.found) < len(self.steps):
            return None
        return not self.wrong and self.took <= self.available * LATE

    @property
    def took(self) -> float:
        """Seconds from the chord before the shift to the chord after it; 0.0 before it was made."""
        return self.found[self.shift] - self.found[self.shift - 1] if len(self.found) > self.shift > 0 else 0.0

    @property
    def words(self) -> str:
        """What has been heard, for the player."""
        if not self.found:
            return f"listening for {self._name(0)}"
        if self.clean is not None:
            return f"found, the shift in {self.took:.2f} s" + (", with a foreign key" if self.wrong else "")
        return f"found {self._name(len(self.found) - 1)}, now {self._name(len(self.found))}"

    def _name(self, number: int) -> str:
        return self.steps[number].step.symbol


def hear(heard: Heard, held: tuple[int, ...], at: float) -> Heard:
    """Return the try after keys (MIDI numbers) have been held still; `at` is when the last of them went down.

    A chord counts when it is found where it is planned or elsewhere over the same bass; keys of the chord before may
    still be down.
    """
    if heard.clean is not None or not held:
        return heard
    number = len(heard.found)
    step = heard.steps[number]
    if any(judge(keys, frozenset(held)).accepted for keys in step.at_once):
        return replace(heard, found=(*heard.found, at))
    known = {key % 12 for one in heard.steps[max(number - 1, 0) : number + 1] for key in one.touched}
    # Before the first chord the player may look for it; that is no part of the try.
    foreign = number > 0 and any(key % 12 not in known for key in held)
    return replace(heard, wrong=heard.wrong or foreign)
