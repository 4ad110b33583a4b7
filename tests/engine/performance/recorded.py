"""A recorded take: what a pianist's keys did, chord by chord as the score has them."""

from dataclasses import dataclass
from pathlib import Path

from engine.performance.events import Timed, note_off, note_on

BALLADE = Path(__file__).parent / "takes" / "ballade.txt"
TICK = 0.5 / 480
"""Seconds of one tick of the recording (480 ticks at 500 000 microseconds a quarter)."""


@dataclass(frozen=True)
class Chord:
    """The keys that the score has sounding at one moment; `begins` to `ends` is from the first key pressed to the first
    of the next chord (seconds)."""

    keys: tuple[int, ...]
    struck: tuple[int, ...]
    begins: float
    ends: float


def take(path: Path = BALLADE) -> tuple[tuple[Chord, ...], tuple[Timed, ...]]:
    """Return the chords of a take and its messages in order."""
    notes: list[tuple[float, float, int, float, float]] = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            score, _, played = line.partition(":")
            beat, beats = map(float, score.split())
            for note in played.split(","):
                key, on, off = map(int, note.split())
                notes.append((beat, beats, key, on * TICK, off * TICK))
    messages = [(on, note_on(key)) for _, _, key, on, _ in notes] + [
        (off, note_off(key)) for _, _, key, _, off in notes
    ]
    return tuple(_chords(notes)), tuple(sorted(messages))


def _chords(notes: list[tuple[float, float, int, float, float]]) -> list[Chord]:
    moments = sorted({note[0] for note in notes})
    begins = [min(on for beat, _, _, on, _ in notes if beat == moment) for moment in moments]
    ends = [*begins[1:], max(off for *_, off in notes)]
    chords: list[Chord] = []
    for moment, first, last in zip(moments, begins, ends, strict=True):
        struck = sorted(key for beat, _, key, _, _ in notes if beat == moment)
        sounding = sorted({key for beat, beats, key, _, _ in notes if beat <= moment < beat + beats})
        chords.append(Chord(tuple(sounding), tuple(struck), first, last))
    return chords
