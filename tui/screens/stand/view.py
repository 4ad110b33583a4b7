"""All that the stand shows, as one frozen value."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.planning.model import Plan, PlannedStep
from tui.session.rehearsal import Rehearsal

if TYPE_CHECKING:
    from engine.performance.rhythms import Rhythm


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """All that the stand shows. `asked` is (question, keys) of an open prompt, `lamp` a beat light."""

    now: Rehearsal
    plan: Plan | None = None
    asked: tuple[str, str] | None = None
    message: str = ""
    alarm: bool = False
    status: str = ""
    trouble: str = ""
    keys: str = ""
    lamp: str = ""
    style: str = "words"
    ascii_only: bool = False
    coarse: bool = False
    held: tuple[int, ...] = ()
    planning: bool = False
    numbers: bool = False
    looks_ahead: bool = False
    time: str = ""
    """The time of day, and how long the set has taken against what it should; "" for none."""
    tried: PlannedStep | None = None
    """The coming chord in another voicing, while one is being chosen."""
    all_words: bool = False
    """True while all words of the place are shown, where the keyboard stands else."""
    words_key: str = ";"
    """What stands on the key that shows them."""
    rhythms: "tuple[Rhythm, ...]" = ()
    """The player's own comping rhythms."""
    horns: tuple[tuple[str, str, str], ...] = ()
    """(instrument's key, present chord as it reads it, coming chord)."""


def two_planned(view: View) -> tuple[PlannedStep | None, PlannedStep | None]:
    """Return the planned steps of now and next, where there is a plan."""
    steps = view.plan.steps if view.plan else ()
    return _at(steps, view.now.step), view.tried or _at(steps, view.now.coming)


def _at(steps: tuple[PlannedStep, ...], index: int | None) -> PlannedStep | None:
    return steps[index] if index is not None and index < len(steps) else None
