"""The sheets as PDF files: one song, the set list, or all that a sub needs."""

from collections.abc import Sequence

from engine.formats.sheets.cue_sheet import Sheet, draw_cue_sheet
from engine.formats.sheets.paper import Paper
from engine.formats.sheets.set_page import draw_set_list, next_words
from engine.formats.sheets.written import written_for
from engine.planning.model import Plan
from engine.song.model import SetList, Song

Entry = tuple[Song, Plan | None]
"""A song with its plan; without one no hard shifts are printed."""


def sheets(set_list: SetList, entries: Sequence[Entry], horn: str = "") -> tuple[Sheet, ...]:
    """Return the set's songs as sheets that know their place in it; for a horn in its written pitch, without hands."""
    songs = [written_for(song, horn) if horn else song for song, _ in entries]
    found = []
    numbers, total = set_list.numbers_of(len(songs)), max(len(songs), set_list.total)
    for at, (song, (_, plan)) in enumerate(zip(songs, entries, strict=True)):
        alone = len(songs) == 1
        place = "" if alone else f"{set_list.title}, {numbers[at]} of {total}"
        after = next_words(songs[at + 1]) if at + 1 < len(songs) else "" if alone else "last song"
        found.append(Sheet(song, None if horn else plan, horn, place, after))
    return tuple(found)


def cue_sheet_pdf(sheet: Sheet, paper: str = "a4") -> bytes:
    """Return one song's cue sheet as a PDF file; `paper` is a4 or letter."""
    document = Paper(paper, sheet.song.title)
    draw_cue_sheet(document, sheet)
    return document.data()


def set_list_pdf(set_list: SetList, entries: Sequence[Entry], paper: str = "a4", horn: str = "") -> bytes:
    """Return the set list alone, in large letters, as a PDF file."""
    document = Paper(paper, set_list.title)
    draw_set_list(document, set_list, [sheet.song for sheet in sheets(set_list, entries, horn)], horn)
    return document.data()


def bundle_pdf(set_list: SetList, entries: Sequence[Entry], paper: str = "a4", horn: str = "") -> bytes:
    """Return the set list and every song's cue sheet as one PDF file."""
    document = Paper(paper, set_list.title)
    found = sheets(set_list, entries, horn)
    draw_set_list(document, set_list, [sheet.song for sheet in found], horn)
    for sheet in found:
        draw_cue_sheet(document, sheet)
    return document.data()
