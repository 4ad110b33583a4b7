from pathlib import Path

import pytest

from engine.planning.planner import plan
from engine.song.model import SetList, Song
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.formats.two_lamps import TEXT

DEMO = Path(__file__).parents[4] / "setlists"


@pytest.fixture(scope="session")
def song() -> Song:
    return read_song(TEXT, "two-lamps.toml")


@pytest.fixture(scope="session")
def planned(song: Song):
    return song, plan(unfold(song))


@pytest.fixture(scope="session")
def demo() -> SetList:
    from tui.persistence import store

    return store.open_set(DEMO / "harbour-room.toml")
