"""Sections with a tempo of their own: kept as a part of the song's, so that both change together for a night."""

from fractions import Fraction

from engine.song.model import Section, Song, Step

SLOWEST, FASTEST = 20.0, 400.0
"""Beats a minute, both allowed; tempos outside these are slips of the pen. Source: common practice, a metronome's marks
with room to spare."""


def pace_of(tempo: float, song_tempo: float) -> Fraction:
    """Return a section's tempo as a part of the song's, exact for what people write."""
    return Fraction(str(tempo)) / Fraction(str(song_tempo))


def tempo_of(song: Song, part: Section | Step) -> float:
    """Return the tempo of a section or a step, counted as the song's is, to a thousandth."""
    return song.tempo if part.pace == 1 else round(float(Fraction(str(song.tempo)) * part.pace), 3)
