"""Repeats, endings and codas mended where a file leaves out or contradicts what a band needs to play them.

Whatever changes how often or where something is played is a doubt.
Source of the signs: MusicXML 4.0 (W3C), <barline>, <ending> and <repeat>.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.measures import GRID

LONGEST_GAP = 8
"""Measures that may lie between the end of a bracket and the repeat sign it belongs to (own choice)."""
MOST_TIMES = 16
"""Times that words over a repeat sign may ask for (own choice)."""

_TIMES = re.compile(
    r"(?:play\s+)?(?:[x×]\s?(?P<after>\d{1,2})|(?P<before>\d{1,2})\s?(?:[x×]|times))(?:\s+in\s+all)?\.?|(?P<word>\w+)\s+times",
    re.IGNORECASE,
)
_WORDS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}


@dataclass(slots=True)
class _Bracket:
    """An ending's bracket over measures `start` to `end`, both included."""

    start: int
    end: int
    passes: tuple[int, ...]


def mend_endings(measures: Sequence[Measure]) -> list[str]:
    """Draw brackets on to their repeat sign, number them on, add signs that are missing; return the doubts."""
    _joined(measures)
    doubts = _drawn_on(measures)
    for group in _groups(_brackets(measures)):
        doubts += _numbered(measures, group)
    return doubts + _signed(measures)


def _brackets(measures: Sequence[Measure]) -> list[_Bracket]:
    found: list[_Bracket] = []
    open_ = False
    for at, measure in enumerate(measures):
        if measure.ending:
            found.append(_Bracket(at, at, measure.ending))
            open_ = True
        elif open_ and found:
            found[-1].end = at
        if measure.ending_stops or measure.backward:
            open_ = False
    return found


def _joined(measures: Sequence[Measure]) -> None:
    """Let a bracket that begins again with its own numbers, as on a new line of the page, go on as one."""
    for one, after in pairwise(_brackets(measures)):
        last = measures[one.end]
        if one.passes == after.passes and after.start == one.end + 1 and not last.backward:
            measures[after.start].ending, last.ending_stops = (), False


def _drawn_on(measures: Sequence[Measure]) -> list[str]:
    """Let a bracket that stops before its repeat sign last until the sign, where the next ending follows there."""
    doubts: list[str] = []
    brackets = _brackets(measures)
    starts = {bracket.start: bracket for bracket in brackets}
    for bracket in brackets:
        if measures[bracket.end].backward:
            continue
        for at in range(bracket.end + 1, min(bracket.end + 1 + LONGEST_GAP, len(measures))):
            if measures[at].forward or at in starts:
                break
            if measures[at].backward:
                following = starts.get(at + 1)
                if following:
                    measures[bracket.end].ending_stops, measures[at].ending_stops = False, True
                    number = measures[bracket.start].number
                    doubts.append(f"measure {number}: the ending stops before its repeat sign, taken up to it")
                break
    return doubts


def _groups(brackets: list[_Bracket]) -> list[list[_Bracket]]:
    """Return the brackets that follow each other without a measure between."""
    groups: list[list[_Bracket]] = []
    for bracket in brackets:
        if groups and groups[-1][-1].end + 1 == bracket.start:
            groups[-1].append(bracket)
        else:
            groups.append([bracket])
    return groups


def _numbered(measures: Sequence[Measure], group: list[_Bracket]) -> list[str]:
    """Number endings on from 1 where two of them claim one pass, as 1 and 1, or 2 and 2."""
    passes = [number for bracket in group for number in bracket.passes]
    if len(group) < 2 or len(set(passes)) == len(passes):
        return []
    for number, bracket in enumerate(group, 1):
        measures[bracket.start].ending = (number,)
    written = " and ".join(",".join(map(str, bracket.passes)) for bracket in group)
    return [f"measure {measures[group[0].start].number}: endings {written}, read one after another from 1"]


def _signed(measures: Sequence[Measure]) -> list[str]:
    """Let an ending go back where its sign is missing and the next ending follows."""
    doubts: list[str] = []
    passes: tuple[int, ...] = ()
    for measure, after in pairwise(measures):
        passes = measure.ending or passes
        if measure.ending_stops and passes and not measure.backward and max(passes) + 1 in after.ending:
            measure.backward = 2
            doubts.append(f"measure {measure.number}: ending {passes[-1]} has no repeat sign, taken as one")
        if measure.ending_stops or measure.backward:
            passes = ()
    return doubts


def mend_times(measures: Sequence[Measure]) -> list[str]:
    """Play a repeat as often as words at its end say: x3, play 3 times; return the doubts.

    Words that say what the repeat sign says too are no remark and go.
    """
    doubts: list[str] = []
    for measure in measures:
        told = {words: _told_times(words) for words in measure.words} if measure.backward else {}
        for words, times in told.items():
            if measure.backward == 2 and 2 < times <= MOST_TIMES:
                measure.backward = times
                doubts.append(f"measure {measure.number}: {words!r} read as a repeat of {times} times in all")
            elif times and times == measure.backward:
                measure.words.remove(words)
    return doubts


def _told_times(words: str) -> int:
    """Return how many times in all words ask for, 0 where they speak of something else."""
    found = _TIMES.fullmatch(words.strip(" ()[]"))
    return int(found["after"] or found["before"] or _WORDS.get((found["word"] or "").lower(), 0)) if found else 0


def mend_pickups(measures: Sequence[Measure]) -> None:
    """Join what a section's pickup cut off the measure before it: two short measures at a rehearsal mark that fill one.

    Where repeats, endings or jumps lead there or away, other measures meet, and both stay as they are.
    """
    for before, first in pairwise(measures):
        whole = first.meter.bar_quarters
        ways = before.backward or before.ending or before.jump or before.fine or before.to_coda
        if not first.rehearsal or before.meter != first.meter or before.length + first.length != whole:
            continue
        if (
            before.length
            and first.length
            and (first.length * GRID).denominator == 1
            and not (ways or first.forward or first.ending or first.segno or first.coda)
        ):
            before.length, first.pickup = whole, True


def mend_codas(measures: Sequence[Measure]) -> None:
    """Tell the coda from the way to it: two signs and no words mean that the first one is To Coda."""
    signs = [measure for measure in measures if measure.coda]
    for measure in signs:
        if measure.to_coda:
            measure.coda = ""
    signs = [measure for measure in signs if measure.coda]
    if len(signs) >= 2 and not any(measure.to_coda for measure in measures):
        signs[0].to_coda, signs[0].coda = signs[-1].coda, ""
