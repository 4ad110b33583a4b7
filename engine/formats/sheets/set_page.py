"""The set list in letters that can be read from the floor."""

from collections.abc import Sequence

from engine.formats.sheets.paper import POINT, Ink, Paper
from engine.formats.sheets.signs import printed, printed_key, tempo_sign
from engine.song.length import clock, seconds
from engine.song.model import SetList, Song
from engine.song.unfolding import unfold

MOST_POINTS = 42.0
"""Points of the largest letters (own choice)."""
LEAST_ROW = 10.0
"""Millimetres of a row below which songs go on another page: letters of some 24 points."""

ROOM_FOR_WORDS = 14.0
"""Millimetres of a row from which on there is room for tempo and notes under the title."""

WORDS = Ink(11, grey=70)


def draw_set_list(paper: Paper, set_list: SetList, songs: Sequence[Song], horn: str = "") -> None:
    """Draw the set list on a new page, or on as many as its songs need; `horn` names whose written keys they are."""
    top = paper.left + 18
    most = int((paper.bottom - top) / LEAST_ROW)
    numbered = tuple(zip(set_list.numbers_of(len(songs)), songs, strict=True))
    # Every page has the rows of the first, so that the last songs look like the others.
    row = min(30.0, (paper.bottom - top) / max(1, min(most, len(numbered))))
    for start in range(0, max(1, len(numbered)), most):
        page = numbered[start : start + most]
        paper.turn()
        if not start:
            paper.bookmark(set_list.title, 0)
        _head(paper, set_list, songs, horn)
        for place, (number, song) in enumerate(page):
            _row(paper, number, song, top + place * row, row)


def _head(paper: Paper, set_list: SetList, songs: Sequence[Song], horn: str) -> None:
    when = "  ·  ".join(word for word in (set_list.date, set_list.place) if word)
    title = f"{set_list.title}, written for {printed(horn)}" if horn else set_list.title
    paper.text(paper.left, paper.left + 5, title, Ink(18, bold=True), room=paper.inner - 50)
    music = sum(seconds(song, unfold(song)) for song in songs)
    count = f"{len(songs)} song{'' if len(songs) == 1 else 's'}, {clock(music)} of music"
    paper.text(paper.right, paper.left + 5, count, WORDS, align="right")
    paper.text(paper.left, paper.left + 11, when, WORDS, room=paper.inner)
    paper.line(paper.left, paper.left + 14, paper.right, paper.left + 14, thick=0.6)


def _row(paper: Paper, number: int, song: Song, y: float, height: float) -> None:
    words = 6.5 if height >= ROOM_FOR_WORDS else 0.0
    ink = Ink(min(MOST_POINTS, (height - words - 2.5) / POINT), bold=True)
    side = ink.size * POINT
    base = y + (height - words + ink.cap) / 2
    paper.text(paper.left + side * 1.15, base, str(number), Ink(ink.size * 0.7, grey=120), align="right")
    key = f"{printed(song.key)}"
    paper.text(paper.right, base, key, ink, room=side * 2.3, align="right")
    paper.text(paper.left + side * 1.5, base, song.title, ink, room=paper.inner - side * 4.2)
    if words:
        facts = [f"{tempo_sign(song.meter.compound)} = {song.tempo:g}", str(song.meter), song.feel]
        facts += [f"count {song.count}"] if song.count != "none" else ["no count"]
        facts += [song.note_line] if song.note else []
        paper.text(
            paper.left + side * 1.5,
            base + ink.size * POINT * 0.24 + 3.2,
            "  ·  ".join(facts),
            WORDS,
            room=paper.inner - side * 1.5,
        )


def next_words(song: Song) -> str:
    """Return the next song as the foot of a page names it."""
    return f"next: {song.title}, {printed_key(song.key)}, {song.tempo:g}"
