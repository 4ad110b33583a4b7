"""What the player holds, compared with what is planned: found, elsewhere, missing, wrong, more, and how late.

Fingers of one chord do not land together, so nothing is judged before the hand has been still for a moment.
"""

from dataclasses import dataclass, replace
from enum import Enum

from engine.answer_names import ANSWERS
from engine.planning.model import PlannedStep
from engine.voicing.own import says

SETTLING = 0.05
"""Seconds without a new note after which a chord is judged. Source: own choice; in the recorded take of the tests
(Goebl 1999, see tests/engine/performance/takes) the fingers of a chord land within 43 ms on average and 75 ms at most,
two neighbours in time within 37 ms (95 %)."""


class Found(Enum):
    """How what is held answers the plan, from best to worst."""

    EXACT = "exact"
    ELSEWHERE = "elsewhere"  # the chord over its bass, in another place or order
    ADDED = "added"  # the chord with octaves or its root added, where the player allows that
    OWN = "own"  # another voicing that says the chord, where the player allows that
    TURNED = "turned"  # the chord over another bass
    EXTRA = "extra"  # all that was asked and more
    MISSING = "missing"  # part of it, nothing else
    WRONG = "wrong"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Answer:
    """The judgement: keys (MIDI numbers, ascending) that are right, missing and foreign to the chord."""

    found: Found
    right: tuple[int, ...] = ()
    missing: tuple[int, ...] = ()
    wrong: tuple[int, ...] = ()

    @property
    def accepted(self) -> bool:
        """True when the chord has been found: the planned keys, or what the player lets pass for them."""
        return self.found in (Found.EXACT, Found.ELSEWHERE, Found.ADDED, Found.OWN)


@dataclass(frozen=True, slots=True)
class Held:
    """The keys that are down, low to high, and when the newest went down (seconds; None before the first).

    `struck` are the keys that went down since the last step began, `whole` those that were down as the newest came.
    """

    keys: frozenset[int] = frozenset()
    newest: float | None = None
    struck: frozenset[int] = frozenset()
    whole: frozenset[int] = frozenset()


def press(held: Held, data: bytes, now: float) -> Held:
    """Return what is held after a MIDI message; what is not a note changes nothing."""
    if len(data) < 3 or data[0] & 0xE0 != 0x80:
        return held
    key = data[1]
    if data[0] & 0xF0 == 0x90 and data[2] > 0:
        keys = held.keys | {key}
        return replace(held, keys=keys, newest=now, struck=held.struck | {key}, whole=keys)
    return replace(held, keys=held.keys - {key})


def next_step(held: Held) -> Held:
    """Return the same hands with nothing struck for the step that begins now."""
    return replace(held, struck=frozenset())


def settled(held: Held, now: float) -> bool:
    """True when no note has come for SETTLING seconds."""
    return held.newest is not None and now - held.newest >= SETTLING


def judge(planned: tuple[int, ...], held: frozenset[int]) -> Answer:
    """Compare keys that are down with planned keys.

    ELSEWHERE has the same pitch classes over the same bass pitch class, TURNED over another. With more or fewer pitch
    classes than planned the answer is EXTRA or MISSING, with both WRONG.
    """
    asked = frozenset(planned)
    if not held:
        return Answer(Found.NOTHING, missing=tuple(sorted(asked)))
    right = tuple(sorted(asked & held))
    if asked == held:
        return Answer(Found.EXACT, right)
    wanted, sounding = _classes(asked), _classes(held)
    missing = tuple(key for key in sorted(asked - held) if key % 12 not in sounding)
    wrong = tuple(key for key in sorted(held - asked) if key % 12 not in wanted)
    if not missing and not wrong:
        same_bass = bool(asked) and min(asked) % 12 == min(held) % 12
        return Answer(Found.ELSEWHERE if same_bass else Found.TURNED, right)
    if missing and wrong:
        return Answer(Found.WRONG, right, missing, wrong)
    return Answer(Found.MISSING if missing else Found.EXTRA, right, missing, wrong)


def answered(step: PlannedStep, held: Held, answers: str = ANSWERS[0]) -> Answer:
    """Compare a hand that is still with a planned step, as strictly as `answers` (one of ANSWERS) says.

    A short chord is let go before the hand is still: then what was down as its last finger came answers too.
    """
    answer = _judged(step, held.keys, answers)
    if not answer.accepted and held.keys < held.whole:
        short = _judged(step, held.whole, answers)
        return short if short.accepted else answer
    return answer


def _judged(step: PlannedStep, held: frozenset[int], answers: str) -> Answer:
    """Compare keys that are down with a step: of a pattern with the stroke that they answer best."""
    ranks = list(Found)
    answer = min((judge(keys, held) for keys in step.at_once), key=lambda one: ranks.index(one.found))
    chord = step.step.chord
    if answer.accepted or answers == "planned" or not held or chord is None or not step.keys:
        return answer
    right = tuple(sorted(held))
    if _with_octaves_and_root(frozenset(step.keys), held, chord.root.pc):
        return Answer(Found.ADDED, right)
    if answers == "own" and says(chord, held, bass_wanted=step.keys[0] % 12 == chord.bass.pc):
        return Answer(Found.OWN, right)
    return answer


def _with_octaves_and_root(asked: frozenset[int], held: frozenset[int], root: int) -> bool:
    """True when all that was asked sounds and nothing else but the root: over the planned bass or the root, or over an
    octave of any note under the planned keys themselves."""
    added = _classes(held) - _classes(asked)
    whole = _classes(asked) <= _classes(held) and added <= {root}
    return whole and (min(held) % 12 in (min(asked) % 12, root) or asked <= held)


def hear_step(step: PlannedStep, held: Held, now: float, answers: str = ANSWERS[0]) -> Answer | None:
    """Return the judgement of a step (see `answered`), None while the hand is not still or has struck nothing since
    the step before.

    A step whose keys are all held over asks for nothing to be struck and is judged as soon as the hand is still.
    """
    if held.newest is None or not settled(held, now):
        return None
    answer = answered(step, held, answers)
    pressed = {note.key for note in step.left + step.right if note.move not in ("hold", "refinger")}
    if pressed and not held.struck:
        return None
    return answer


def lateness(due: float, held: Held) -> float | None:
    """Return the seconds by which the last note of the chord came after `due`; negative when it was early."""
    return None if held.newest is None else held.newest - due


def _classes(keys: frozenset[int]) -> frozenset[int]:
    return frozenset(key % 12 for key in keys)
