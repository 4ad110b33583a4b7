"""What the planner is asked and what it answers, as values that screens, commands and MIDI read."""

from dataclasses import dataclass, replace
from fractions import Fraction

from engine.song.model import Pin, Step, TuneNote
from engine.theory.pulses import in_beats, pulses


@dataclass(frozen=True, slots=True)
class SectionWish:
    """What one section asks for itself; None where the song's holds."""

    section: str
    method: str | None = None
    texture: str | None = None
    hands: str | None = None
    sound: str | None = None
    bass: bool | None = None

    @property
    def given(self) -> dict[str, str | bool]:
        """What is asked for, by the names that `Request` has for it."""
        wishes = {name: getattr(self, name) for name in ("method", "texture", "hands", "sound", "bass")}
        return {name: value for name, value in wishes.items() if value is not None}


@dataclass(frozen=True, slots=True)
class HeldTune:
    """What somebody else's tune holds over a written chord (`Step.written`) at any of its passes: MIDI numbers,
    ascending."""

    written: tuple[str, int, int]
    notes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OwnTune:
    """The notes of the player's own tune that sound over a written chord (`Step.written`), onsets in beats from its
    start, as `engine.song.tune.tune_over` has them."""

    written: tuple[str, int, int]
    notes: tuple[TuneNote, ...]


@dataclass(frozen=True, slots=True)
class Request:
    """How to plan a song.

    `reach` is thumb to little finger in millimetres, (left, right); `hands` both, left or right; `sound` piano, pad
    or organ; `texture` lean, even, full or auto, what each section holds; `bass` True when a bass player owns the low
    register. `share_passes` gives a section one fingering; `prove` takes time to prove how good the plan is, and often
    betters it; `loop` leads the last chord back to the first, each step planned for itself. `colour` lets free fingers
    add tensions, unless a `guitar` adds its own.
    `melody` is the range of a tune that the right hand keeps below; `floor` and `ceiling` are the lowest and highest
    key; `sections` what sections ask for themselves; `tune` what the hands stay below and clear of; `own_tune` what the
    right hand has on top."""

    method: str = "auto"
    texture: str = "auto"
    bass: bool = False
    hands: str = "both"
    reach: tuple[float, float] = (200.0, 200.0)
    sound: str = "piano"
    share_passes: bool = True
    prove: bool = False
    loop: bool = False
    colour: bool = False
    guitar: bool = False
    melody: tuple[int, int] | None = None
    floor: int | None = None
    ceiling: int | None = None
    pins: tuple[Pin, ...] = ()
    sections: tuple[SectionWish, ...] = ()
    tune: tuple[HeldTune, ...] = ()
    own_tune: tuple[OwnTune, ...] = ()

    def within(self, section: str) -> "Request":
        """Return what holds inside a section: its own wishes over the song's."""
        own = next((wish.given for wish in self.sections if wish.section == section), {})
        return replace(self, **own) if own else self  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class PlannedNote:
    """One key under one finger. `move` is hold, press, slide or refinger; `left_from` the key it left, if any."""

    key: int
    name: str
    degree: str
    finger: int
    move: str
    left_from: int | None


@dataclass(frozen=True, slots=True)
class PlannedStroke:
    """One stroke of a left hand's pattern, or a note of the player's own tune: the notes struck, their moves counted
    from the hand's position before. `place` and `until` are in pulses from the start of the bar (see
    `engine.theory.pulses`; a tune's note may sound on after it); `hand` is the position it is taken in, all keys under
    fingers, ascending."""

    place: Fraction
    until: Fraction
    notes: tuple[PlannedNote, ...]
    hand: tuple[PlannedNote, ...]


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A step with its voicing, keys ascending in each hand, and the method and texture it is from. `lifted_*` are
    (finger, key) that leave the keyboard. A left hand that plays a pattern has its `strokes`, and in `left` the
    position in which it begins. A right hand with the player's own tune has in `tune` the notes of it that begin here,
    and says with `tune_on_top` that its top key is what the tune has as the chord begins."""

    step: Step
    method: str
    left: tuple[PlannedNote, ...]
    right: tuple[PlannedNote, ...]
    lifted_left: tuple[tuple[int, int], ...]
    lifted_right: tuple[tuple[int, int], ...]
    effort: float
    terms: tuple[tuple[str, float], ...]
    warnings: tuple[str, ...] = ()
    texture: str = ""
    strokes: tuple[PlannedStroke, ...] = ()
    tune: tuple[PlannedStroke, ...] = ()
    tune_on_top: bool = False

    @property
    def keys(self) -> tuple[int, ...]:
        """All sounding keys, ascending."""
        return tuple(sorted({note.key for note in self.left + self.right}))

    def written(self, stroke: PlannedStroke) -> tuple[Fraction, Fraction]:
        """Return where a stroke of this step begins and ends as it is written, straight, in beats from the start of
        the bar."""
        parts, thirds = pulses(self.step.meter), self.step.meter.compound
        return in_beats(stroke.place, parts, thirds=thirds), in_beats(stroke.until, parts, thirds=thirds)

    @property
    def left_behind(self) -> tuple[PlannedNote, ...]:
        """The left hand as the next chord finds it: in the last position of its pattern."""
        return self.strokes[-1].hand if self.strokes else self.left

    @property
    def right_behind(self) -> tuple[PlannedNote, ...]:
        """The right hand as the next chord finds it: on the last note of its own tune."""
        return self.tune[-1].hand if self.tune else self.right

    @property
    def positions(self) -> tuple[tuple[PlannedNote, ...], ...]:
        """The positions of the left hand in their order, more than one where a pattern has it jump."""
        return tuple(dict.fromkeys(stroke.hand for stroke in self.strokes)) or (self.left,)

    @property
    def touched(self) -> frozenset[int]:
        """Every key that is struck or held at any moment of the step."""
        return frozenset(self.keys).union(*self.at_once)

    @property
    def at_once(self) -> tuple[tuple[int, ...], ...]:
        """What may be down together, keys ascending: all, or each position of the right hand with each stroke of a
        pattern."""
        rights = [{note.key for note in hand} for hand in (self.right, *(stroke.hand for stroke in self.tune))]
        lefts = [{note.key for note in notes} for notes in ([one.notes for one in self.strokes] or [self.left])]
        return tuple(dict.fromkeys(tuple(sorted(right | left)) for right in rights for left in lefts))


@dataclass(frozen=True, slots=True)
class Plan:
    """A planned song. `effort` is the sum over the steps; `free` the optimum with every pass planned apart; `bound`
    what no plan can go below, `free` or more; `exact` True only when `effort` is proved to be the optimum: all of it
    of the voicings considered, in the textures held. `pins_cost` is what the player's pins add to the effort."""

    steps: tuple[PlannedStep, ...]
    effort: float
    free: float
    exact: bool
    bound: float = 0.0
    pins_cost: float = 0.0

    @property
    def gap(self) -> float:
        """(effort - free) / free, what sharing the passes costs at most; 0.0 for an empty plan."""
        return (self.effort - self.free) / self.free if self.free > 0 else 0.0
