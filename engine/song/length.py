"""How long a song is: its bars as played, its seconds, and its form in one line."""

from fractions import Fraction

from engine.song.model import Song, Step
from engine.song.roadmap import write_roadmap
from engine.song.unfolding import unfold


def played_bars(steps: tuple[Step, ...]) -> int:
    """Return how many bars are played, pickups aside: a bar begins where a step stands on its first beat."""
    return sum(1 for step in steps if step.beat == 1 and step.bar > 0)


def seconds(song: Song, steps: tuple[Step, ...]) -> float:
    """Return the seconds of a song at its tempo; a vamp counts as it is written, holds as their beats."""
    beats: dict[float, Fraction] = {}
    for step in steps:
        beat = step.beat_seconds(song.tempo)
        beats[beat] = beats.get(beat, Fraction(0)) + step.beats
    return sum(beat * float(count) for beat, count in beats.items())


def clock(duration: float) -> str:
    """Return seconds as minutes and seconds, 73.4 as 1:13; over an hour 1:02:10."""
    minutes, last = divmod(round(duration), 60)
    hours, rest = divmod(minutes, 60)
    return f"{hours}:{rest:02}:{last:02}" if hours else f"{minutes}:{last:02}"


def length_words(song: Song, steps: tuple[Step, ...]) -> str:
    """Return how long a song is as played: "34 bars, 1:13"."""
    count = played_bars(steps)
    return f"{count} bar{'' if count == 1 else 's'}, {clock(seconds(song, steps))}"


def form(song: Song) -> str:
    """Return the form in one line: "Intro, Verse x2, Tag x3: 34 bars, 1:13 at 112"."""
    return f"{write_roadmap(song.roadmap)}: {length_words(song, unfold(song))} at {song.tempo:g}"
