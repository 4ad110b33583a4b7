"""Where seconds of a song fall in ticks of a MIDI file."""

from bisect import bisect_right
from fractions import Fraction

from engine.performance.count_in import count_in
from engine.performance.play_along import beats_to_bar
from engine.planning.model import Plan
from engine.song.model import Song
from engine.song.section_tempo import tempo_of

TICKS = 960
"""Ticks a quarter: thirds, fifths and sixteenths are whole. Source: common practice."""


class Ticks:
    """The ticks of one song's count and steps, the first of them at `start`; a change of meter may change the length of
    a quarter."""

    def __init__(self, song: Song, plan: Plan, counted: bool, start: int = 0) -> None:
        self.start = start
        first = plan.steps[0].step.meter if plan.steps else song.meter
        tempo = tempo_of(song, plan.steps[0].step) if plan.steps else song.tempo
        self.clicks = count_in(first, tempo, song.feel, song.count, beats_to_bar(plan.steps)) if counted else ()
        self._quarter = first.beat_seconds(tempo) / float(first.beat_quarters)
        beats = sum(click.lasts for click in self.clicks) / first.beat_seconds(tempo)
        self.count = round(beats * float(first.beat_quarters) * TICKS)
        self._seconds: list[float] = [0.0]
        self._ticks: list[int] = [start + self.count]
        quarters = Fraction(0)
        for step in plan.steps:
            quarters += step.step.beats * step.step.meter.beat_quarters
            self._seconds.append(self._seconds[-1] + float(step.step.beats) * step.step.beat_seconds(song.tempo))
            self._ticks.append(start + self.count + round(quarters * TICKS))

    @property
    def steps(self) -> list[int]:
        """The tick at which each step begins."""
        return self._ticks[:-1]

    @property
    def end(self) -> int:
        """The tick at which the music ends."""
        return self._ticks[-1]

    def in_count(self, seconds: float) -> int:
        """Return the tick of a moment in seconds from the first click."""
        return self.start + round(seconds / self._quarter * TICKS)

    def in_music(self, seconds: float) -> int:
        """Return the tick of a moment in seconds from the end of the count."""
        index = min(max(bisect_right(self._seconds, seconds + 1e-9) - 1, 0), max(len(self._ticks) - 2, 0))
        if index + 1 >= len(self._seconds):
            return self.end
        part = (seconds - self._seconds[index]) / (self._seconds[index + 1] - self._seconds[index])
        return round(self._ticks[index] + part * (self._ticks[index + 1] - self._ticks[index]))
