"""Plans written by hand: grips as `finger key` pairs, so that these tests need no planner."""

from collections.abc import Sequence
from fractions import Fraction

from engine.hand.grip import Grip
from engine.hand.moves import lifted, moves
from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.practice.model import Shift
from engine.song.model import Song, Step
from engine.theory.meter import Meter

FOUR = Meter(4, 4)
REST = Grip((), ())


def grip(text: str) -> Grip:
    """Return a grip of `5:48 1:55`, finger and MIDI key, low to high."""
    pairs = [pair.split(":") for pair in text.split()]
    return Grip(tuple(int(key) for _, key in pairs), tuple(int(finger) for finger, _ in pairs))


def shift(left: str, right: str, left_after: str, right_after: str) -> Shift:
    return Shift((grip(left), grip(right)), (grip(left_after), grip(right_after)))


def step(index: int, symbol: str, beats: Fraction = Fraction(4), at: Fraction = Fraction(0), mark: str = "") -> Step:
    bar, beat = divmod(at, 4)
    return Step(
        index, "Verse", 1, 1, int(bar) + 1, 8, 1 + beat, beats, symbol, None, mark, "", "", "C", FOUR,
        ("Verse", int(bar) + 1, index), index == 0,
    )  # fmt: skip


Chord = tuple[str, float, str, str] | tuple[str, float, str, str, str]
"""(symbol, beats, left, right, mark)."""


def plan_of(chords: Sequence[Chord]) -> Plan:
    steps: list[PlannedStep] = []
    at, before = Fraction(0), (REST, REST)
    for index, (symbol, beats, left, right, *mark) in enumerate(chords):
        hands = grip(left), grip(right)
        written = step(index, symbol, Fraction(beats), at, mark[0] if mark else "")
        steps.append(
            PlannedStep(
                written, "shell", _notes(before[0], hands[0]), _notes(before[1], hands[1]),
                lifted(before[0], hands[0]), lifted(before[1], hands[1]), 1.0, (),
            )
        )  # fmt: skip
        at, before = at + Fraction(beats), hands
    return Plan(tuple(steps), float(len(steps)), float(len(steps)), True)


def _notes(before: Grip, after: Grip) -> tuple[PlannedNote, ...]:
    return tuple(
        PlannedNote(move.key, str(move.key), "1", move.finger, move.kind, move.left_from)
        for move in moves(before, after)
    )


def song(title: str = "Ropewalk", tempo: float = 120.0) -> Song:
    return Song(title, "C", FOUR, tempo)


TWO_FIVE: tuple[Chord, ...] = (
    ("Dm7", 2, "5:38", "1:60 3:65"),
    ("G7", 2, "5:43", "1:59 3:65"),
    ("Cmaj7", 4, "5:36", "1:59 3:64"),
)
"""A two-five-one in shells at half a second a beat in the usual song of these tests."""
