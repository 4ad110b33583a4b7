"""One measure of a MusicXML part, as far as a song needs it."""

from dataclasses import dataclass, field
from fractions import Fraction

from engine.theory.key import Key
from engine.theory.meter import Meter


@dataclass(frozen=True, slots=True)
class Sung:
    """A note of the melody: where in its measure and how long, in quarters, its key (MIDI number), tied to the next."""

    at: Fraction
    lasts: Fraction
    note: int
    tied: bool


@dataclass(slots=True)
class Measure:
    """One written measure while it is read. `backward` is 0 without a repeat at its end, else how often in all.

    `pickup` is True for one that leads into a section inside the song; `section` is a section's
    name in words, `until` what a vamp waits for, `comp` a comping rhythm and `left_hand` a left
    hand's pattern by name, `lyrics` the words sung, syllables joined.
    `tempo` is written there (0.0: none), in quarters a minute; `pace` the beats a minute that hold, as a song counts.
    """

    number: str
    meter: Meter
    key: Key
    length: Fraction = Fraction(0)
    pickup: bool = False
    chords: list[tuple[Fraction, str]] = field(default_factory=list)
    marks: list[tuple[Fraction, str]] = field(default_factory=list)
    notes: list[int] = field(default_factory=list)
    sung: list[int] = field(default_factory=list)
    tune: list[Sung] = field(default_factory=list)
    lyrics: str = ""
    section: str = ""
    rehearsal: str = ""
    words: list[str] = field(default_factory=list)
    until: str = ""
    comp: str = ""
    left_hand: str = ""
    tempo: float = 0.0
    pace: float = 0.0
    swing: bool = False
    forward: bool = False
    backward: int = 0
    after_jump: bool = False
    ending: tuple[int, ...] = ()
    ending_stops: bool = False
    double: bool = False
    segno: str = ""
    coda: str = ""
    to_coda: str = ""
    fine: bool = False
    jump: str = ""
    target: str = ""
