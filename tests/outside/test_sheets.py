"""Printed sheets of real songs, kept outside the repository: nearly all stand on one page, in letters to be read."""

import pytest

from engine.formats.sheets.cue_sheet import FOOT, SHIFTS, best, shifts_height
from engine.formats.sheets.grid import fits
from engine.formats.sheets.paper import SMALLEST, Paper
from tests.outside.real_songs import FILES, songs

HEAD = 52.0
"""Millimetres of a head with all its remarks and a roadmap of one row."""


@pytest.mark.skipif(not FILES, reason="the reference progressions are not beside this repository")
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_nineteen_in_twenty_songs_stand_on_one_page_in_ten_points_or_more(size):
    paper = Paper(size)
    paper.turn()
    room = paper.bottom - FOOT - shifts_height(SHIFTS) - paper.left - HEAD
    # Every second song on each paper: both together are all of them.
    good, found = 0, songs()[size == "letter" :: 2]
    for song in found:
        chosen, lines, between = best(paper, song, room)
        height = sum(line.height + between for line in lines)
        good += chosen.points >= SMALLEST and height <= room + 0.1 and fits(lines, chosen, paper.measure)
    assert good >= 0.95 * len(found) > 45
