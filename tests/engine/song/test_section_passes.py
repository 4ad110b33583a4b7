"""Passes of a section in a row, and which of them is played."""

import pytest

from engine.song.reader import read_song
from engine.song.section_passes import pass_of, stretches
from engine.song.unfolding import unfold

SONG = unfold(
    read_song(
        """
        title = "Five Parts"
        key = "C"
        meter = "4/4"
        tempo = 100
        roadmap = "Intro, Verse x2, Bridge, Verse"
        [sections.Intro]
        bars = "| C | F |"
        [sections.Verse]
        bars = "| C | Am |"
        [sections.Bridge]
        bars = "| F | G |"
        """,
        "five.toml",
    )
)


def test_passes_in_a_row_are_one_stretch() -> None:
    assert [(part.name, part.passes) for part in stretches(SONG)] == [
        ("Intro", 1),
        ("Verse", 2),
        ("Bridge", 1),
        ("Verse", 1),
    ]


@pytest.mark.parametrize(("index", "turn"), [(0, (1, 1)), (2, (1, 2)), (3, (1, 2)), (4, (2, 2)), (9, (1, 1))])
def test_the_pass_counts_within_its_stretch(index: int, turn: tuple[int, int]) -> None:
    assert pass_of(SONG, index) == turn
