"""The text of a new song's file, and what a new section of it begins with."""

from engine.song.writing import bare, quoted
from engine.theory.meter import Meter

USUAL_ROADMAP = "Intro, Verse x2, Chorus, Verse, Chorus"
BARS = 4
"""Bars that each section begins with."""


def song_text(title: str, key: str, meter: Meter, tempo: float, roadmap: tuple[str, tuple[str, ...]]) -> str:
    """Return the file of a new song: every section stands on the key's own chord until its chords are written.

    `roadmap` is what is played, in words, and the names of its sections.
    """
    played, names = roadmap
    head = f"""\
title   = {quoted(title)}
key     = {quoted(key)}
meter   = "{meter}"
tempo   = {tempo:g}
feel    = "straight"           # straight or swing
count   = "one bar"            # one bar, two bars, none or a number of beats
roadmap = {quoted(played)}     # x3 means three times in all
"""
    return head + "".join("\n" + section_text(name, key) for name in names)


def section_text(name: str, chord: str) -> str:
    """Return a new section that stands on one chord."""
    bars = "| " + " | ".join([chord, *["%"] * (BARS - 1)]) + " ||"
    return f'[sections.{bare(name)}]\ncue  = ""\nbars = """\n{bars}\n"""\n'
