"""The size that a chart is set in."""

from engine.formats.sheets.cue_sheet import best
from engine.formats.sheets.paper import SMALLEST, Paper
from engine.song.reader import song_from_chart

PLAIN = "| Bbmaj7 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 |"
DENSE = "| Bbmaj7 Bdim7 Cm7 C#dim7 | Dm7 G7#5#9 Cm9 F13b9 | Bbmaj7/D Dbdim7 Cm7/F F7b9sus4 | Bb6/9 G7alt Cmaj7 F7alt |"
ROOM = 150.0
"""Millimetres for the chart of an ordinary song."""


def set_in(*rows: str):
    return best(Paper(), song_from_chart("\n".join(rows)), ROOM)


def test_one_dense_row_does_not_shrink_the_song():
    size, found, _ = set_in(PLAIN, PLAIN, DENSE, PLAIN)
    assert size == set_in(PLAIN, PLAIN, PLAIN, PLAIN)[0]
    assert [len(line.cells) for line in found] == [4, 4, 1, 1, 1, 1, 4]


def test_where_most_rows_are_dense_the_type_is_smaller_before_the_form_is_lost():
    size, found, _ = set_in(DENSE, DENSE, DENSE, DENSE)
    assert size.points < set_in(PLAIN, PLAIN, PLAIN, PLAIN)[0].points
    assert size.points >= SMALLEST
    assert [cell.bar for line in found for cell in line.cells] == list(
        song_from_chart("\n".join([DENSE] * 4)).sections[0].bars
    )


def test_a_chart_that_no_page_holds_is_set_so_that_it_can_be_read():
    size, found, between = set_in(*[PLAIN] * 60)
    assert size.points >= SMALLEST
    assert sum(line.height + between for line in found) > ROOM
