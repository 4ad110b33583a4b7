"""The hardest shifts of a set and tonight's plan as text of at most 80 columns and as JSON."""

from collections.abc import Mapping
from textwrap import wrap
from types import MappingProxyType
from typing import Any

from engine.planning.move_words import moves_in_words
from engine.practice.difficulty import HandTime
from engine.practice.log import Memory
from engine.practice.model import Hands, Meeting
from engine.practice.practice_plan import Evening, Spot, Turn
from engine.practice.ranking import TOP, HardShift, Ranking
from engine.theory.meter import beats_figure

WIDTH = 80
Memories = Mapping[str, Memory]
NOTHING: Memories = MappingProxyType({})


def shifts_text(title: str, ranking: Ranking, top: int = TOP, memories: Memories = NOTHING) -> str:
    """Return the hardest shifts to be read, each with its places, its time, its moves and how far practice has come."""
    if not ranking.shifts:
        return f"{title}: no finger has to move from one chord to the next"
    lines = [f"{title}: the hardest shifts, by time needed against time there is", ""]
    for number, hard in enumerate(ranking.shifts[:top], 1):
        lines += _shift_lines(number, hard, memories.get(hard.shift.sign))
    return "\n".join([*lines, *(wrap(coverage_words(ranking, top), WIDTH))])


def coverage_words(ranking: Ranking, top: int = TOP) -> str:
    """Say how much of the set's difficulty the hardest shifts carry."""
    count, shown = len(ranking.shifts), min(top, len(ranking.shifts))
    if not ranking.tight:
        share = f"All {count} shifts have at least twice the time they need"
    else:
        these = f"These {shown} carry" if shown > 1 else "The hardest one carries"
        share = f"{these} {ranking.covered(top):.0%} of the set's difficulty (time beyond half of what there "
        share += f"is): {ranking.tight} of {count} different shifts have less than twice the time they need"
    met = f"{ranking.played - ranking.still} shifts are played in all"
    return f"{share}. {met}; {ranking.still} times the hands already hold the next chord."


def time_words(hard: HardShift) -> str:
    """Return `0.62 s of 0.91 s`, and in words when the hands come late."""
    late = ", too little" if hard.load > 1 else ""
    return f"{hard.needs:.2f} s of {hard.tightest.available:.2f} s{late}"


def place_words(place: Meeting) -> str:
    """Return where a shift is met: `Ropewalk, Verse bar 3 beat 2, 168`."""
    beat = beats_figure(place.beat)
    seam = ", back to the top of the vamp" if place.seam else ""
    return f"{place.title}, {place.section} bar {place.bar} beat {beat}, {place.tempo:g}{seam}"


def practised_words(memory: Memory) -> str:
    """Return `best clean 92 in 14 tries, last on 2026-03-02`."""
    tries = f"{memory.tries} {'try' if memory.tries == 1 else 'tries'}"
    best = f"best clean {memory.best:g} in {tries}" if memory.best else f"no clean try yet in {tries}"
    return f"{best}, last on {memory.seen.date()}"


def evening_text(evening: Evening, ranking: Ranking) -> str:
    """Return tonight's plan to be read: when each turn begins, its shift by rank, and where on the ladder."""
    lines = [f"Tonight, {evening.minutes:g} minutes:", ""]
    for turn in evening.turns:
        lines.append(_turn_line(turn, ranking))
    return "\n".join(lines) if evening.turns else "Tonight: no time, or nothing to practise"


def _turn_line(turn: Turn, ranking: Ranking) -> str:
    start = f"  {int(turn.start)}:{round(turn.start * 60) % 60:02}".rjust(7)
    if turn.spot is None:
        return f"{start}      pause, {turn.minutes:g} minutes: let the hands rest"
    spot, names = turn.spot, " > ".join(turn.spot.hard.tightest.symbols)
    ladder = f"{spot.tempo:g} to {spot.goal:g}"
    place = spot.hard.tightest
    words = f"{start} {_rank(spot, ranking):>3}. {names:<20} {ladder:<11} {place.title}, {place.section} {place.bar}"
    return words if len(words) <= WIDTH else words[: WIDTH - 3] + "..."


def _rank(spot: Spot, ranking: Ranking) -> int:
    return next(number for number, hard in enumerate(ranking.shifts, 1) if hard.shift == spot.hard.shift)


def evening_json(evening: Evening, ranking: Ranking) -> dict[str, Any]:
    """Return tonight's plan as JSON values; `start` and `minutes` in minutes, `rank` null in a pause."""
    turns = [
        {
            "start": turn.start,
            "minutes": turn.minutes,
            "rank": _rank(turn.spot, ranking) if turn.spot else None,
            "sign": turn.spot.hard.shift.sign if turn.spot else None,
            "tempo": turn.spot.tempo if turn.spot else None,
            "goal": turn.spot.goal if turn.spot else None,
        }
        for turn in evening.turns
    ]
    return {"minutes": evening.minutes, "turns": turns}


def _shift_lines(number: int, hard: HardShift, memory: Memory | None) -> list[str]:
    places = len(hard.met)
    names = " > ".join(hard.tightest.symbols)
    if hard.tightest.inside:
        (left, _), (now, _) = hard.shift.before, hard.shift.after
        names = f"{hard.tightest.symbols[0]}, in its {hard.steps[1].step.left_hand if left != now else 'tune'}"
    often = f", met {places} times" if places > 1 else ""
    head = f"{number:>3}. {names:<22} {hard.load:>4.0%}  {time_words(hard)}{often}"
    lines = [head, *_indented(place_words(hard.tightest))]
    others = [title for title in hard.songs if title != hard.tightest.title]
    if others:
        lines += _indented("also in " + ", ".join(others))
    for hand, name in (("left", "LH"), ("right", "RH")):
        lines += _indented(f"{name} {moves_in_words(hard.steps[1], hand)}")
    if memory:
        lines += _indented(practised_words(memory))
    return [*lines, ""]


def _indented(words: str) -> list[str]:
    return wrap(words, WIDTH, initial_indent=" " * 5, subsequent_indent=" " * 8)


def shifts_json(title: str, ranking: Ranking, top: int | None = None, memories: Memories = NOTHING) -> dict[str, Any]:
    """Return the ranking as JSON values: seconds, MIDI numbers, bars and beats from 1."""
    return {
        "title": title,
        "shifts": [
            _shift_json(number, hard, memories.get(hard.shift.sign))
            for number, hard in enumerate(ranking.shifts[:top], 1)
        ],
        "different": len(ranking.shifts),
        "played": ranking.played,
        "held": ranking.still,
        "tight": ranking.tight,
        "difficulty": ranking.difficulty,
        "covered": {"top": TOP, "share": ranking.covered(TOP)},
    }


def _shift_json(number: int, hard: HardShift, memory: Memory | None) -> dict[str, Any]:
    return {
        "rank": number,
        "sign": hard.shift.sign,
        "symbols": list(hard.tightest.symbols),
        "needed": hard.needs,
        "available": hard.tightest.available,
        "load": hard.load,
        "difficulty": hard.difficulty,
        "hands": {name: _hand_json(hand) for name, hand in zip(("left", "right"), hard.hands, strict=True)},
        "before": _hands_json(hard.shift.before),
        "after": _hands_json(hard.shift.after),
        "moves": {hand: moves_in_words(hard.steps[1], hand) for hand in ("left", "right")},
        "places": [_place_json(place) for place in hard.met],
        "practised": _memory_json(memory) if memory else None,
    }


def _memory_json(memory: Memory) -> dict[str, Any]:
    return {
        "tries": memory.tries,
        "clean": memory.clean,
        "best": memory.best or None,
        "seen": memory.seen.isoformat(timespec="seconds"),
        "evenings": [{"date": str(day), "best": best or None, "tries": tries} for day, best, tries in memory.evenings],
    }


def _hands_json(hands: Hands) -> dict[str, list[dict[str, int]]]:
    return {
        name: [{"midi": key, "finger": finger} for key, finger in zip(grip.keys, grip.fingers, strict=True)]
        for name, grip in zip(("left", "right"), hands, strict=True)
    }


def _hand_json(hand: HandTime) -> dict[str, float]:
    return {
        "seconds": hand.seconds,
        "aim": hand.aim,
        "re-form": hand.reform,
        "land": hand.land,
        "cross": hand.cross,
        "farthest": hand.farthest,
    }


def _place_json(place: Meeting) -> dict[str, Any]:
    return {
        "song": place.title,
        "section": place.section,
        "pass": place.pass_,
        "bar": place.bar,
        "beat": float(place.beat),
        "symbols": list(place.symbols),
        "tempo": place.tempo,
        "available": place.available,
    }
