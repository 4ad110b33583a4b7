"""A plan as JSON (the contract of `stillhand plan --json`) and as text of at most 80 columns."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from textwrap import wrap
from typing import Any

from engine.planning.clarity import clarity
from engine.planning.explain import explained, hardest
from engine.planning.model import Plan, PlannedNote, PlannedStep, PlannedStroke
from engine.planning.shape_words import shape_words, strokes_words, tune_words
from engine.song.model import Song, Step
from engine.song.section_passes import stretches

WIDTH = 80
"""Columns of the plan as text."""

_MARKS = {"hold": "=", "press": "", "refinger": "~"}
LEGEND = "finger:note, then = holds, >2 <2 slides up, down two half steps, ~ takes over"


def plan_json(entries: Iterable[tuple[Song, Plan]]) -> dict[str, Any]:
    """Return the songs with their plans as JSON values: keys are MIDI numbers, beats are floats from 1."""
    return {"songs": [_song_json(song, plan) for song, plan in entries]}


def plan_text(song: Song, plan: Plan, explain: bool = False) -> str:
    """Return a plan to be read: a line or two for each step, more to `explain` it, no line wider than `WIDTH`.

    Each step shows bar.beat, the symbol, each hand's `finger:note` from low to high, and the effort of getting there.
    """
    unit = "dotted quarters" if song.meter.compound else "quarters"
    head = [f"{song.title} - {song.key}, {song.meter}, {song.tempo:g} {unit} a minute", LEGEND, ""]
    lines: list[str] = []
    hard = hardest(plan.steps)
    headings = _headings([planned.step for planned in plan.steps])
    for place, (before, step) in enumerate(zip([None, *plan.steps], plan.steps, strict=False)):
        lines += headings.get(place, []) + _step_lines(step)
        lines += _explained(before, step, place in hard) if explain else []
    return "\n".join(_cut(line) for line in [*head, *lines, "", *wrap(_verdict(plan), WIDTH)])


def _song_json(song: Song, plan: Plan) -> dict[str, Any]:
    return {
        "title": song.title,
        "key": song.key,
        "meter": str(song.meter),
        "tempo": _number(song.tempo),
        "steps": [_step_json(planned) for planned in plan.steps],
        "effort": plan.effort,
        "optimum": {
            "value": plan.effort,
            "free_value": plan.free,
            "bound": plan.bound,
            "gap": plan.gap,
            "exact": plan.exact,
            "over": "all states of the textures held",
            "pins_cost": plan.pins_cost,
        },
    }


def _step_json(planned: PlannedStep) -> dict[str, Any]:
    step = planned.step
    return {
        "index": step.index,
        "section": step.section,
        "pass": step.pass_,
        "bar": step.bar,
        "beat": float(step.beat),
        "beats": float(step.beats),
        "symbol": step.symbol,
        "method": planned.method,
        "texture": planned.texture,
        "words": shape_words(planned),
        "left": [_note_json(note) for note in planned.left],
        "right": [_note_json(note) for note in planned.right],
        "left_pattern": _pattern_json(planned),
        "right_tune": _strokes_json(planned, planned.tune) if planned.tune_on_top or planned.tune else None,
        "lifted": {"left": _lifted_json(planned.lifted_left), "right": _lifted_json(planned.lifted_right)},
        "effort": planned.effort,
        "terms": dict(planned.terms),
        "warnings": list(planned.warnings),
        "clarity": clarity(planned),
    }


def _note_json(note: PlannedNote) -> dict[str, Any]:
    return {
        "midi": note.key,
        "name": note.name,
        "degree": note.degree,
        "finger": note.finger,
        "move": note.move,
        "from": note.left_from,
    }


def _pattern_json(planned: PlannedStep) -> dict[str, Any] | None:
    """Return what the left hand plays stroke by stroke, null where it holds; beats are straight, as in the chart."""
    if not planned.strokes:
        return None
    return {"name": planned.step.left_hand, "strokes": _strokes_json(planned, planned.strokes)}


def _strokes_json(planned: PlannedStep, strokes: Sequence[PlannedStroke]) -> list[dict[str, Any]]:
    found = []
    for stroke in strokes:
        start, end = planned.written(stroke)
        notes = [_note_json(note) for note in stroke.notes]
        found.append({"beat": float(start + 1), "beats": float(end - start), "notes": notes})
    return found


def _lifted_json(lifted: Sequence[tuple[int, int]]) -> list[dict[str, int]]:
    return [{"finger": finger, "midi": key} for finger, key in lifted]


def _number(tempo: float) -> float | int:
    # 120, not 120.0: a tempo is written as musicians write it.
    return int(tempo) if float(tempo).is_integer() else tempo


def _headings(steps: Sequence[Step]) -> dict[int, list[str]]:
    """Return what stands over the first step of each pass: `[Verse] pass 2 of 3`, counted as on the stand, in a row."""
    found: dict[int, list[str]] = {}
    for stretch in stretches(steps):
        begun = 0
        for place in range(stretch.first, stretch.end):
            if steps[place].section_start:
                begun += 1
                turn = f" pass {begun} of {stretch.passes}" if stretch.passes > 1 else ""
                found[place] = [f"[{stretch.name}]{turn}"]
    return found


def _step_lines(planned: PlannedStep) -> list[str]:
    step = planned.step
    lines: list[str] = []
    place = f"{step.bar}.{_beat_words(step.beat)}"
    mark = f" ({step.mark})" if step.mark else ""
    below = planned.strokes[0].notes if planned.strokes else planned.left
    hands = [f"LH {_hand_words(below)}", f"RH {_hand_words(planned.right)}"]
    start, effort = f"{place:>7}  {step.symbol + mark:<13}", f"{planned.effort:8.1f}"
    room = WIDTH - len(start) - len(effort) - 2
    if len(hands[0]) <= 20 and 20 + len(hands[1]) <= room:
        lines.append(f"{start} {f'{hands[0]:<20}{hands[1]}':<{room}} {effort}")
    elif len(hands[0]) <= room:
        lines += [f"{start} {hands[0]:<{room}} {effort}", f"{'':{len(start)}} {hands[1]}"]
    else:
        lines += [f"{start} {'':<{room}} {effort}", *(f"{'':11}{hand}" for hand in hands)]
    words = [shape_words(planned), *([f"left in turn {strokes_words(planned)}"] if len(planned.strokes) > 1 else [])]
    words += [f"right in turn {tune_words(planned)}"] if any(one.hand != planned.right for one in planned.tune) else []
    lines += [line for said in words for line in wrap(said, WIDTH, initial_indent=" " * 11, subsequent_indent=" " * 13)]
    return lines + [line for warning in planned.warnings for line in _warning_lines(warning)]


def _explained(before: PlannedStep | None, step: PlannedStep, hard: bool) -> list[str]:
    indent = " " * 11
    return [
        line
        for words in explained(before, step, hard)
        for line in wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent + "  ")
    ]


def _warning_lines(warning: str) -> list[str]:
    return wrap(warning, WIDTH, initial_indent=" " * 9 + "! ", subsequent_indent=" " * 11)


def _beat_words(beat: Fraction) -> str:
    """1, 3, 2+1/2: the beat and how far into it."""
    whole, rest = divmod(beat, 1)
    return f"{whole}" if not rest else f"{whole}+{rest}"


def _hand_words(notes: Sequence[PlannedNote]) -> str:
    return " ".join(f"{note.finger}:{note.name}{_mark(note)}" for note in notes) or "-"


def _mark(note: PlannedNote) -> str:
    """Return the sign of a finger's way, the same as on the stand: `=`, `>3` up the keyboard, `<1` down it, `~`."""
    if note.left_from is not None and note.move == "slide":
        by = note.key - note.left_from
        return f"{'>' if by > 0 else '<'}{abs(by)}"
    return _MARKS.get(note.move, "")


def _verdict(plan: Plan) -> str:
    over = (plan.effort - plan.bound) / plan.bound if plan.bound else 0.0
    proof = "proved to be the least" if plan.exact else f"at most {max(over, 0.001):.1%} over the least"
    proof += f" of all voicings considered in the textures held ({_held(plan)})" if plan.steps else ""
    pins = f"; the pins cost {plan.pins_cost:.1f} of it" if plan.pins_cost > 0 else ""
    return f"effort {plan.effort:.1f}, {proof}{pins}"


def _held(plan: Plan) -> str:
    """Name the textures and methods that a plan holds, in the order they come: `lean shell, full spread`."""
    names = dict.fromkeys(f"{step.texture} {step.method}".strip() for step in plan.steps if step.method)
    return ", ".join(names) or "none"


def _cut(line: str) -> str:
    line = line.rstrip()
    return line if len(line) <= WIDTH else line[: WIDTH - 3] + "..."
