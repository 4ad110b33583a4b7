"""The patterns of a left hand as data: in which pulse of a chord it strikes which tone.

A row has a word for each pulse of a chord, from its beginning: `1` the bass, `5` the fifth (over a written bass the
chord's root or fifth that lies nearest to a fifth above it), `8` the octave, `10` the third above the octave, `1+8`
struck together, `chord` third and seventh or the triad, `walk` a chord tone, `lead` a half or a whole step from the
next bass; `-` goes on sounding. Commas divide a pulse. Source: common practice.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from engine.comp_names import HELD
from engine.hand.keyboard import OCTAVE as OCTAVE_MM
from engine.planning.model import Request
from engine.song.model import Step
from engine.song.signs import ALONE
from engine.theory.pulses import in_pulses, pulses

BASS, FIFTH, OCTAVE, TENTH, BOTH, CHORD, WALK, LEAD = "1", "5", "8", "10", "1+8", "chord", "walk", "lead"
"""What a stroke may be."""

ROWS: dict[str, tuple[str, ...]] = {
    "root and fifth": ("1", "1 -", "1 - 5", "1 - 5 -", "1 - - 5 -"),
    "octaves": ("1+8", "1+8 -", "1+8 - -", "1+8 - 1+8 -", "1+8 - - 1+8 -"),
    "1-5-8": ("1,5", "1,5 8", "1 5 8", "1 5 8 5", "1 5 8 5 8"),
    "1-5-10": ("1,5", "1,5 10", "1 5 10", "1 5 10 5", "1 5 10 5 10"),
    "stride": ("1", "1 chord", "1 chord chord", "1 chord 5 chord", "1 chord chord 5 chord"),
    "walking": ("1", "1 lead", "1 walk lead", "1 walk walk lead", "1 walk walk walk lead"),
}  # fmt: skip
"""Pattern -> its row for a chord of one to five pulses; five are three and two. A longer chord begins anew."""

SHORT: dict[str, str] = {"root and fifth": "1 5", "octaves": "1+8 1+8", "1-5-8": "1,5 8,5", "1-5-10": "1,5 10,5"}
"""Rows of a chord that fills a bar of two pulses, as in 2/4: two in a bar."""

OF_THREE: dict[str, tuple[str, str]] = {
    "1-5-8": ("1,5,8", "1,5,8"), "1-5-10": ("1,5,10", "1,5,10"), "stride": ("1,-,chord", "5,-,chord"),
}  # fmt: skip
"""What fills a dotted pulse, the first, third ... and the second, fourth ...; a stride only in bars of two."""

ENDING: dict[str, str] = {"octaves": "1+8", "1-5-8": "1,5 8", "1-5-10": "1,5 10"}
"""How a song's last chord begins, which is then held; where none is named, with its bass."""

RINGING = ("1-5-8", "1-5-10")
"""Patterns whose keys are held while the hand stays over them, as in any broken chord."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A stroke of `tone`, `place` and `until` in pulses from the start of the bar in which its chord begins."""

    place: Fraction
    until: Fraction
    tone: str


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern over one chord: its name and tones in their order; `ahead` is the pitch class of the next chord's
    bass, None where a line leads nowhere; `sound` as in a `Request`."""

    name: str
    tones: tuple[str, ...]
    ahead: int | None = None
    sound: str = "piano"


def asked_for(step: Step) -> bool:
    """Return whether a step asks for a pattern."""
    return step.left_hand not in ("", HELD)


def refused(request: Request) -> str:
    """Return why the left hand plays no pattern, "" where it may."""
    if request.hands == "right":
        return "the right hand plays alone"
    return "the bass player has the low notes" if request.bass else ""


def pattern_of(steps: Sequence[Step], visit: int, request: Request) -> Pattern | None:
    """Return the pattern of a step, None where the chord is held; `request` is that of its section."""
    step = steps[visit]
    if not asked_for(step) or step.chord is None or refused(request):
        return None
    following = visit + 1 if visit + 1 < len(steps) else 0 if request.loop else None
    ahead = steps[following].chord if following is not None else None
    slots = slots_at(steps, visit, request)
    walks = any(slot.tone == LEAD for slot in slots)
    tones = tuple(WALK if slot.tone == LEAD and ahead is None else slot.tone for slot in slots)
    return Pattern(step.left_hand, tones, ahead.bass.pc if ahead and walks else None, request.sound)


def slots_at(steps: Sequence[Step], visit: int, request: Request) -> tuple[Slot, ...]:
    """Return the strokes of a step's pattern in its song."""
    ends = visit + 1 == len(steps) and not request.loop
    return slots_of(steps[visit], ends, request.reach[0] >= OCTAVE_MM)


def slots_of(step: Step, last: bool = False, reached: bool = True) -> tuple[Slot, ...]:
    """Return the strokes of a step's pattern, those of its beginning alone where it is held or ends the song.

    `reached`: the hand spans an octave, else octaves are broken."""
    parts = pulses(step.meter)
    begin, end = (in_pulses(beat, parts) for beat in (step.beat - 1, step.beat - 1 + step.beats))
    marks = [begin, *(Fraction(pulse) for pulse in range(int(begin) + 1, -(-end.numerator // end.denominator))), end]
    count = len(marks) - 1
    if step.mark in ALONE:
        words = [BOTH if step.left_hand == "octaves" else BASS]
    elif last:
        words = ENDING.get(step.left_hand, BASS).split()[:count]
    else:
        words = _row(step.left_hand, count, len(parts), step.meter.compound)
    words = words + ["-"] * (count - len(words))
    return _timed(words if reached else _broken(words), marks)


def _broken(words: Sequence[str]) -> list[str]:
    """Return octaves one key after the other: in the next pulse, where that is free, else in half a pulse each."""
    found = list(words)
    for number, word in enumerate(words):
        free = words[number + 1 : number + 2] == ["-"]
        if word == BOTH:
            found[number : number + 1 + free] = [BASS, OCTAVE] if free else [f"{BASS},{OCTAVE}"]
    return found


def _row(name: str, count: int, bar: int, compound: bool) -> list[str]:
    if compound and name in OF_THREE and (name != "stride" or bar == 2):
        return [OF_THREE[name][number % 2] for number in range(count)]
    if count == bar == 2 and name in SHORT:
        return SHORT[name].split()
    rows = ROWS[name]
    if name == "walking" and count > len(rows):
        return [BASS, *[WALK] * (count - 2), LEAD]
    if count > len(rows):
        return rows[3].split() + _row(name, count - 4, bar, compound)
    return rows[count - 1].split()


def _timed(words: Sequence[str], marks: Sequence[Fraction]) -> tuple[Slot, ...]:
    """Return the words of each pulse between `marks` as strokes, each lasting until the next."""
    found: list[tuple[Fraction, str]] = []
    for word, start, end in zip(words, marks, marks[1:], strict=False):
        told = word.split(",")
        found += [(start + (end - start) * number / len(told), tone) for number, tone in enumerate(told)]
    struck = [(place, tone) for place, tone in found if tone != "-"]
    ends = [*(place for place, _ in struck[1:]), marks[-1]]
    return tuple(Slot(place, until, tone) for (place, tone), until in zip(struck, ends, strict=True))
