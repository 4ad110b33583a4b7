"""Songs built by hand, for tests that need no song file."""

from dataclasses import replace
from fractions import Fraction

from engine.chord.model import DEGREE_FIFTHS, Chord, Tone
from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.planning.twelve_keys import KeyRow
from engine.song.model import Bar, Event, Section, SetList, SetSong, Song, Step
from engine.theory.meter import Meter
from engine.theory.pitch import NoteName, note_name, spelled

FOUR = Meter(4, 4)


def chord(symbol: str) -> Chord:
    """A chord good enough for a screen: root and a major or minor seventh chord."""
    size = 2 if symbol[1:2] in ("b", "#") else 1
    root, quality = note_name(symbol[:size]), symbol[size:]
    third = "b3" if quality.startswith("m") and not quality.startswith("maj") else "3"
    tones = tuple(Tone(d, root.up(DEGREE_FIFTHS[d])) for d in ("1", third, "5", "b7"))
    return Chord(symbol, root, root, quality, tones)


def section(name: str, *bars: str, until: str = "", cue: str = "", endings: dict[int, int] | None = None) -> Section:
    """A section of bars written as chords with spaces between; `endings` maps bars (from 1) to their pass."""
    written = []
    for number, text in enumerate(bars, 1):
        symbols = text.split()
        length = Fraction(4, len(symbols))
        events = tuple(Event(1 + i * length, length, symbol, chord(symbol)) for i, symbol in enumerate(symbols))
        ending = (endings or {}).get(number, 0)
        written.append(Bar(FOUR, events, ending=(ending,) if ending else ()))
    return Section(name, tuple(written), cue=cue, until=until)


def song(title: str, *sections: Section, roadmap: tuple[str, ...] = (), key: str = "C", tempo: float = 120.0) -> Song:
    names = roadmap or tuple(part.name for part in sections)
    return Song(title, key, FOUR, tempo, roadmap=names, sections=sections, count="one bar")


def unfold(song: Song) -> tuple[Step, ...]:
    """The roadmap written out, without repeats inside sections: a bar with an ending belongs to that pass alone."""
    steps: list[Step] = []
    parts = {part.name: part for part in song.sections}
    for place, name in enumerate(song.roadmap):
        part, pass_ = parts[name], song.roadmap[: place + 1].count(name)
        first = True
        for number, bar in enumerate(part.bars, 1):
            if bar.ending and pass_ not in bar.ending:
                continue
            for index, event in enumerate(bar.events):
                steps.append(
                    Step(
                        len(steps), name, pass_, song.roadmap.count(name), number, len(part.bars), event.beat,
                        event.beats, event.symbol, event.chord, event.mark, part.cue, part.until, song.key, bar.meter,
                        (name, number, index), first,
                    )
                )  # fmt: skip
                first = False
    return tuple(steps)


HARBOUR = song(
    "Harbour Steps",
    section("Intro", "Ebmaj7", "Bb7"),
    section("Verse", "Ebmaj7", "Cm7 F7", "Fm7", "Bb7", cue="drums out"),
    section("Bridge", "Abmaj7", "Abm7", "Gm7", "C7"),
    section("Vamp", "Fm7", "Bb7", until="cue"),
    section("Tag", "Ebmaj7"),
    roadmap=("Intro", "Verse", "Verse", "Bridge", "Verse", "Vamp", "Tag"),
    key="Eb",
    tempo=92.0,
)
LAMPS = song("Two Lamps", section("A", "Am7", "Dm7"), section("B", "Gm7", "C7"), key="Am", tempo=140.0)
FERRY = song("Slow Ferry", section("Verse", "Dmaj7", "Gmaj7", endings={2: 1}), key="D", tempo=66.0)


def harbour_set(*songs: Song) -> SetList:
    places = tuple(SetSong(f"songs/{i}.toml", each) for i, each in enumerate(songs or (HARBOUR, LAMPS, FERRY)))
    return SetList("Harbour Room", songs=places)


def grip(step: Step, low: int = 48, before: PlannedStep | None = None) -> PlannedStep:
    """A plain grip: root in the left hand, the other tones above middle C."""
    if step.chord is None:
        return PlannedStep(step, "shell", (), (), (), (), 0.0, ())
    was = {note.finger: note.key for note in before.right} if before else {}
    root = low + (step.chord.root.pc - low) % 12
    left = (_note(root, step.chord.root, "1", 5, None),)
    upper = sorted((60 + (tone.pc - 60) % 12, tone.name, tone.degree) for tone in step.chord.tones[1:])
    right = tuple(
        _note(k, n, d, finger, was.get(finger)) for (k, n, d), finger in zip(upper, (1, 2, 4, 5), strict=False)
    )
    return PlannedStep(step, "shell", left, right, (), (), 2.0 + step.bar, (("travel", 2.0),))


def _note(key: int, name: NoteName, degree: str, finger: int, was: int | None) -> PlannedNote:
    move = "press" if was is None else "hold" if was == key else "slide"
    return PlannedNote(key, spelled(key, name), degree, finger, move, was)


def plan_of(steps: tuple[Step, ...]) -> Plan:
    planned: list[PlannedStep] = []
    for step in steps:
        planned.append(grip(step, before=planned[-1] if planned else None))
    total = sum(step.effort for step in planned)
    return Plan(tuple(planned), total, total, True)


def in_hands(row: KeyRow) -> KeyRow:
    """A key as the planner would find it for the hands: the higher above the song's own, the easier."""
    return replace(row, effort=40.0 - row.semitones % 12, widest=180.0)
