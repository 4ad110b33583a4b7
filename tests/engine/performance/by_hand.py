"""Plans written by hand, so that these tests need no planner."""

from fractions import Fraction
from typing import Any

from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.song.model import Step
from engine.theory.meter import Meter

FOUR = Meter(4, 4)


def written(index: int, beats: Fraction, at: Fraction, meter: Meter, **more: object) -> Step:
    bar, beat = divmod(at, meter.beats)
    facts: dict[str, object] = {
        "index": index, "section": "A", "pass_": 1, "passes": 1, "bar": int(bar) + 1, "bars": 8, "beat": 1 + beat,
        "beats": beats, "symbol": "C", "chord": None, "mark": "", "cue": "", "until": "", "key": "C", "meter": meter,
        "written": ("A", int(bar) + 1, index), "section_start": index == 0,
    }  # fmt: skip
    return Step(**{**facts, **more})  # type: ignore[arg-type]


def hand(keys: tuple[int, ...], before: tuple[int, ...]) -> tuple[PlannedNote, ...]:
    return tuple(
        PlannedNote(key, str(key), "1", 1 + i, "hold" if key in before else "press", None) for i, key in enumerate(keys)
    )


def plan_by_hand(*chords: tuple[Any, ...], meter: Meter = FOUR) -> Plan:
    """Return a plan: (beats, left keys, right keys, facts of the step) for each step."""
    steps: list[PlannedStep] = []
    at, left_before, right_before = Fraction(0), (), ()
    for index, (beats, left, right, *more) in enumerate(chords):
        facts = {"meter": meter, **(more[0] if more else {})}
        step = written(index, Fraction(beats), at, **facts)
        notes = hand(left, left_before), hand(right, right_before)
        steps.append(PlannedStep(step, "shell", *notes, (), (), 0.0, ()))
        at += Fraction(beats)
        left_before, right_before = left, right
    return Plan(tuple(steps), 0.0, 0.0, True)
