"""Where tonight's plan stands: which turn it is, and how much of its time is left."""

from dataclasses import dataclass, replace

from engine.practice.practice_plan import Evening, Turn


@dataclass(frozen=True, slots=True)
class Turns:
    """A plan being played. `turn` counts from 0, `began` is when it began in seconds of any clock that only goes
    forward."""

    evening: Evening
    turn: int = 0
    began: float = 0.0

    @property
    def now(self) -> Turn | None:
        """The present turn, None when the plan is through."""
        turns = self.evening.turns
        return turns[self.turn] if self.turn < len(turns) else None

    def left(self, at: float) -> float:
        """Return the seconds left of the present turn, 0.0 when its time is over."""
        return max(0.0, self.now.minutes * 60 - (at - self.began)) if self.now else 0.0

    def next(self, at: float) -> "Turns":
        """Return the plan at its next turn."""
        return replace(self, turn=min(self.turn + 1, len(self.evening.turns)), began=at)
