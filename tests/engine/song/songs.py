"""Songs for the tests of song files."""

from dataclasses import replace
from pathlib import Path

from engine.errors import ChartError, Fault
from engine.song.model import Song
from engine.song.reader import read_song

DEMO = Path(__file__).parents[3] / "setlists"
LANTERN = '''\
title  = "Low Tide Lantern"
key    = "Eb"                 # sounding
meter  = "4/4"
tempo  = 92
feel   = "swing"
count  = "two bars"
roadmap = "Intro, Verse x2, Bridge, Verse, Tag x3"

[melody]
lowest = "G3"
highest = "C5"

[voicing]
method = "shell"
sound  = "pad"

[sections.Intro]
pickup = 1
bars = "Bb7 | Ebmaj7 | Bb7sus4 ||"

[sections.Verse]
cue  = "drums out second time"
bars = """
| Ebmaj7 | Cm7 F7 | Fm7 / / Bb7(push) | Bb9sus4 Bb7 |
||: Abmaj7 | Abm6  [1. Gm7 C7b9 | Fm7 Bb7 :|| [2. Gm7b5 | C7alt (hold) ||
"""

[sections.Bridge]
key  = "Ab"
bars = "| Abmaj7 | (3/4) Dbmaj7 / Eb7 | Abmaj7 |"

[sections.Tag]
until = "cue"
bars = "| Fm7 Bb7 |"

[[pins]]
section = "Verse"
bar = 3
beat = 1
left  = "F2 C3"
right = "Ab3 Eb4"
fingers = "5 1 / 1 4"
'''


def short(bars: str, head: str = "") -> str:
    """Return a song file of one section; its bars begin on line 5, column 9, the head's lines come after."""
    return f'title = "Pier"\nkey = "C"\ntempo = 100\n[sections.A]\nbars = "{bars}"\n{head}'


def faults(text: str) -> tuple[Fault, ...]:
    try:
        read_song(text, "pier.toml")
    except ChartError as error:
        return error.faults
    return ()


def said(text: str) -> str:
    return "\n".join(str(fault) for fault in faults(text))


def music(song: Song) -> Song:
    """Return the song without the places of its signs in the file."""
    sections = tuple(
        replace(
            section,
            bars=tuple(
                replace(bar, line=0, events=tuple(replace(event, line=0, column=0) for event in bar.events))
                for bar in section.bars
            ),
        )
        for section in song.sections
    )
    return replace(song, sections=sections, source="", doubts=())
