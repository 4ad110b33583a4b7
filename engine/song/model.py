"""A song as written (sections of bars) and as played (one step after another).

All times are in beats of the meter (see `engine.theory.meter`), as Fractions; beats in a bar count from 1.
"""

import json
from dataclasses import dataclass, field
from fractions import Fraction

from engine.chord.model import Chord
from engine.theory.meter import Meter


@dataclass(frozen=True, slots=True)
class Event:
    """One written chord in a bar: `chord` is None for N.C.; `mark` is "", push, stop, ring or hold.

    `line` and `column` (from 1) are the symbol's place in its file; 0 where there is no file.
    """

    beat: Fraction
    beats: Fraction
    symbol: str
    chord: Chord | None
    mark: str = ""
    line: int = 0
    column: int = 0


@dataclass(frozen=True, slots=True)
class Bar:
    """A written bar. `repeat_times`: how often in all a repeat that ends here is played, 0 where none does.

    `ending`: the passes that play the bar, () for all of them.
    """

    meter: Meter
    events: tuple[Event, ...]
    repeat_start: bool = False
    repeat_times: int = 0
    ending: tuple[int, ...] = ()
    line: int = 0


@dataclass(frozen=True, slots=True)
class TuneNote:
    """One note of a tune: `onset` in beats from the start of its section (or of a step), `length` in beats, `note` a
    MIDI number."""

    onset: Fraction
    length: Fraction
    note: int


@dataclass(frozen=True, slots=True)
class SectionVoicing:
    """How a section is voiced where it asks for something else than the song; "" and None where the song's holds.

    `bass` False plans it without the bass player ("piano alone").
    """

    method: str = ""
    texture: str = ""
    hands: str = ""
    sound: str = ""
    bass: bool | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """A named run of written bars. `pickup` is the length in beats of an incomplete first bar (0: none).

    `pace`: its tempo as a part of the song's, 1/2 is half as fast; `comp` is its own comping rhythm and `left_hand`
    its left hand's pattern by name, "" that of the song. `tune`: its melody over the bars as written, each once,
    repeats not taken; `tune_is`: mine (the player has it), theirs, or "" as the song says.
    """

    name: str
    bars: tuple[Bar, ...]
    cue: str = ""
    pickup: Fraction = Fraction(0)
    key: str = ""
    until: str = ""
    pace: Fraction = Fraction(1)
    comp: str = ""
    tune: tuple[TuneNote, ...] = ()
    tune_is: str = ""
    voicing: SectionVoicing = SectionVoicing()
    left_hand: str = ""

    @property
    def manner(self) -> dict[str, str]:
        """How it is played where that is not as the song is: values by name, those of the bass player yes and no."""
        voiced = {name: getattr(self.voicing, name) for name in ("method", "texture", "hands", "sound")}
        bass = {None: "", True: "yes", False: "no"}[self.voicing.bass]
        own = {**voiced, "bass": bass, "comp": self.comp, "tune_is": self.tune_is, "left_hand": self.left_hand}
        return {name: value for name, value in own.items() if value}


@dataclass(frozen=True, slots=True)
class Pin:
    """A voicing the player insists on at a section's bar and beat (both from 1). Keys are MIDI numbers, ascending."""

    section: str
    bar: int
    beat: Fraction
    left: tuple[int, ...] | None
    right: tuple[int, ...] | None
    left_fingers: tuple[int, ...] = ()
    right_fingers: tuple[int, ...] = ()

    @property
    def place(self) -> tuple[str, int, Fraction]:
        """Section, bar and beat: two pins at one place contradict each other."""
        return self.section, self.bar, self.beat


@dataclass(frozen=True, slots=True)
class Midi:
    """What an instrument is sent when the song is entered: `channel` and `program` from 1, `bank` of 14 bits, `volume`
    to 127; None leaves what the player's own settings say."""

    channel: int | None = None
    program: int | None = None
    bank: int | None = None
    volume: int | None = None


MANNER = ("method", "texture", "hands", "sound", "colour", "comp", "tune_is", "left_hand", "bass", "parts")
"""The values of a song that say how it is played, and that a set may have otherwise for one evening."""


@dataclass(frozen=True, slots=True)
class Song:
    """A song file's content.

    `key` as written (Eb, Cm); `tempo` in quarters a minute, dotted quarters in compound meters; `count` in words;
    `roadmap` the section names as played, with passes written out (("Verse", "Verse", "Bridge")); `melody` the lowest
    and highest note sung, MIDI numbers; `doubts` are (line, column, symbol, reading); `comp` a comping rhythm
    and `left_hand` a left hand's pattern by name, "" for chords that are held; `tune_is` theirs (someone else has it)
    or mine; `bass` says whether a bass player is planned with: yes, no, or as the set says (set).
    """

    title: str
    key: str
    meter: Meter
    tempo: float
    feel: str = "straight"
    count: str = "one bar"
    roadmap: tuple[str, ...] = ()
    sections: tuple[Section, ...] = ()
    melody: tuple[int, int] | None = None
    method: str = "auto"
    sound: str = "piano"
    colour: str = "off"
    texture: str = "auto"
    hands: str = "both"
    pins: tuple[Pin, ...] = ()
    doubts: tuple[tuple[int, int, str, str], ...] = ()
    note: str = ""
    source: str = ""
    midi: Midi = Midi()
    comp: str = ""
    tune_is: str = "theirs"
    left_hand: str = ""
    bass: str = "set"

    @property
    def parts(self) -> str:
        """What its sections say of how they are played, as JSON: section, name, value; "" where none says anything."""
        own = {part.name: part.manner for part in self.sections if part.manner}
        return json.dumps(own, ensure_ascii=False, sort_keys=True) if own else ""

    @property
    def manner(self) -> tuple[str, ...]:
        """How it is played: the values that `MANNER` names."""
        return tuple(getattr(self, name) for name in MANNER)

    @property
    def note_line(self) -> str:
        """The note in one line."""
        return "; ".join(line.strip() for line in self.note.splitlines() if line.strip())


@dataclass(frozen=True, slots=True)
class Step:
    """One chord as played: `written` identifies the written event (section, bar, event index), the same at every pass.

    `section_start` is True on the first step of a section's pass; `key` is the sounding key there; `meter` the bar's.
    `bar` counts written bars of the section from 1 (0 for a pickup bar); `bars` is how many it has.
    `pass_` counts how often the section has begun so far, `passes` how often in all; `turn` and `turns` count the same
    for the repeat signs inside the section (1 of 1 where there are none). `comp` is the rhythm it is played in and
    `left_hand` the pattern of the left hand by name, "" for chords that are held.
    """

    index: int
    section: str
    pass_: int
    passes: int
    bar: int
    bars: int
    beat: Fraction
    beats: Fraction
    symbol: str
    chord: Chord | None
    mark: str
    cue: str
    until: str
    key: str
    meter: Meter
    written: tuple[str, int, int]
    section_start: bool = False
    turn: int = 1
    turns: int = 1
    pace: Fraction = Fraction(1)
    comp: str = ""
    left_hand: str = ""

    @property
    def place(self) -> tuple[str, int, Fraction]:
        """Section, bar and beat, what a pin names; the same at every pass."""
        return self.section, self.bar, self.beat

    def beat_seconds(self, tempo: float) -> float:
        """Return the seconds of one beat here when the song has this tempo, see `engine.theory.meter.Meter`."""
        return self.meter.beat_seconds(tempo if self.pace == 1 else tempo * float(self.pace))

    def __hash__(self) -> int:
        # Enough to tell the steps of a song apart; a whole song is looked up at every plan.
        return hash((self.index, self.written, self.symbol, self.key))


@dataclass(frozen=True, slots=True)
class SetSong:
    """A song's place in a set: the song as played tonight (key and tempo already applied) and its file.

    `number` counts the set file's songs from 1, those that do not open included (0: not out of a set file).
    `own_pins` are the places that the song's own file pins, whether they are pinned tonight or not; `own_manner` how
    that file has the song played, in the order of `MANNER`; `own` are that file's key, tempo and note, None where
    they are not known.
    """

    file: str
    song: Song
    steps: tuple[Step, ...] = field(default=())
    number: int = 0
    own_pins: tuple[tuple[str, int, Fraction], ...] = ()
    own_manner: tuple[str, ...] = ()
    own: tuple[str, float, str] | None = None


@dataclass(frozen=True, slots=True)
class SetList:
    """A set file's content; `reach` in millimetres (left, right), None where the player's own holds.
    `missing` lists (file, why) of songs that could not be opened, `doubts` (line, column, what, remark) of the set."""

    title: str
    date: str = ""
    place: str = ""
    bass: bool = False
    guitar: bool = False
    horns: tuple[str, ...] = ()
    reach: tuple[float, float] | None = None
    songs: tuple[SetSong, ...] = ()
    missing: tuple[tuple[str, str], ...] = ()
    source: str = ""
    doubts: tuple[tuple[int, int, str, str], ...] = ()
    note: str = ""

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of the songs as the set's file counts them, with those that do not open; else from 1."""
        return tuple(place.number or at for at, place in enumerate(self.songs, 1))

    @property
    def total(self) -> int:
        """How many songs there are, with those that do not open."""
        return len(self.songs) + len(self.missing)

    def numbers_of(self, count: int) -> tuple[int, ...]:
        """Return the numbers of `count` songs to be printed: those of the set, or from 1 where they are others."""
        return self.numbers if count == len(self.songs) else tuple(range(1, count + 1))
