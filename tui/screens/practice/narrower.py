"""The narrower version of a shift: planned for a hand that reaches a white key less."""

from engine.planning.model import Plan, PlannedStep, Request
from engine.practice import strain
from engine.practice.ranking import HardShift
from tui.session.rehearsal import NotThere


def narrower_request(request: Request) -> Request:
    """Return the request for a hand that reaches a white key less.

    Raises:
        NotThere: the reach is the narrowest that holds a seventh.
    """
    narrow = strain.narrower(request)
    if narrow is None:
        raise NotThere("your reach is the narrowest that holds a seventh")
    return narrow


def narrower_steps(plan: Plan, hard: HardShift) -> tuple[PlannedStep, PlannedStep]:
    """Return the two chords of a shift as another plan has them.

    Raises:
        NotThere: they take the same keys.
    """
    steps = (plan.steps[hard.tightest.before], plan.steps[hard.tightest.index])
    if all(one.keys == other.keys for one, other in zip(steps, hard.steps, strict=True)):
        raise NotThere("this shift is as narrow already")
    return steps
