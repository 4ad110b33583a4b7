from pathlib import Path

import pytest

from engine.plan.planner import plan
from engine.song.model import SetList, Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold

DEMO = Path(__file__).parents[4] / "setlists"

TEXT = """
title = "Two Lamps"
key = "Eb"
meter = "4/4"
tempo = 112
feel = "swing"
count = "two bars"
roadmap = "Intro, Verse x2, Tag"
note = "start softly"

[melody]
lowest = "Bb3"
highest = "Eb5"

[sections.Intro]
cue = "piano alone"
bars = "| Abmaj7 | Bb9sus4 |"

[sections.Verse]
bars = "||: Ebmaj7 | Gm7 / / C7(push) [1. Fm7 Bb7 | Bb7 :|| [2. F#m7b5 B7 | Bb7 ||"

[sections.Tag]
bars = "||: Fm7 Bb7 :|| x3 Eb6(hold) ||"
"""


@pytest.fixture(scope="session")
def song() -> Song:
    return read_song(TEXT, "two-lamps.toml")


@pytest.fixture(scope="session")
def planned(song: Song):
    return song, plan(unfold(song))


@pytest.fixture(scope="session")
def demo() -> SetList:
    from tui import store

    return store.open_set(DEMO / "harbour-room.toml")
