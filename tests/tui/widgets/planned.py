"""Planned steps made by hand for the pictures' tests, and what every picture owes."""

from fractions import Fraction

from rich.cells import cell_len

from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.song.model import Step
from engine.theory.meter import Meter
from engine.theory.pitch import key_number
from tui.widgets.cells import Rows, row_text


def note(name: str, finger: int, move: str = "press", left_from: str = "") -> PlannedNote:
    return PlannedNote(key_number(name), name, "1", finger, move, key_number(left_from) if left_from else None)


def place(
    symbol: str = "C",
    section: str = "Verse",
    bar: int = 1,
    turn: int = 1,
    of: int = 1,
    start: bool = False,
    beat: int = 1,
) -> Step:
    return Step(
        0, section, turn, of, bar, 8, Fraction(beat), Fraction(4), symbol, None, "", "", "", "Eb", Meter(4, 4),
        (section, bar, 0), start,
    )  # fmt: skip


def planned(
    step: Step,
    left: tuple[PlannedNote, ...] = (),
    right: tuple[PlannedNote, ...] = (),
    lifted: tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]] = ((), ()),
    effort: float = 1.0,
) -> PlannedStep:
    return PlannedStep(step, "shell", left, right, lifted[0], lifted[1], effort, ())


TONIC = planned(place("Ebmaj7"), (note("Eb2", 5), note("G2", 3)), (note("G3", 1), note("D4", 3), note("F4", 4)))
SIXTH = planned(
    place("Cm7/Bb", bar=2),
    (note("C2", 5, "slide", "Eb2"), note("G2", 1, "refinger", "G2")),
    (note("G3", 1, "hold", "G3"), note("Eb4", 3, "slide", "D4"), note("Bb4", 5)),
    ((), ((4, 65),)),
)
WIDE = planned(place("C"), (note("C1", 5), note("G1", 1)), (note("E6", 1), note("C7", 5)))


def plan_of(*steps: PlannedStep) -> Plan:
    return Plan(steps, sum(step.effort for step in steps), 0.0, False)


def exactly(rows: Rows, width: int, height: int) -> bool:
    """Tell whether each row has `width` cells that fill `width` columns."""
    return len(rows) == max(0, height) and all(
        len(row) == max(0, width) and cell_len(row_text(row)) == max(0, width) for row in rows
    )
