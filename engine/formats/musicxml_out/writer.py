"""Songs as MusicXML scores: a grand staff of both planned hands with fingering, or a chart in slashes for a horn.

Source: MusicXML 4.0 (W3C). Uncompressed, one part.
"""

from collections.abc import Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from engine.formats.musicxml_out.directions import printable
from engine.formats.musicxml_out.measures import measures
from engine.formats.musicxml_out.part import Piece, Scoring, add_piece
from engine.formats.musicxml_out.slashes import add_slashes, chart_measures, slash_lengths
from engine.formats.musicxml_out.staves import add_hands, hand_lengths
from engine.formats.sheets.written import written_for
from engine.planning.model import Plan
from engine.song.model import Song
from engine.theory.key import between, read_key

HEAD = (
    '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"'
    ' "http://www.musicxml.org/dtds/partwise.dtd">\n'
)

KEYBOARD = Scoring("Keyboard", (("G", "2"), ("F", "4")), hand_lengths, add_hands)


def musicxml(song: Song, plan: Plan) -> bytes:
    """Return a MusicXML file of the song as planned, section after section in the order of its roadmap.

    A repeat inside a section stays a repeat where every turn is played alike; otherwise its turns are written out.
    """
    return set_musicxml(song.title, [(song, plan)])


def set_musicxml(title: str, entries: Sequence[tuple[Song, Plan]]) -> bytes:
    """Return a file of several songs in one part, each as `musicxml` writes it, on a new page under its title."""
    return _score(title, [Piece(song, measures(song, plan)) for song, plan in entries], KEYBOARD)


def chart_musicxml(title: str, songs: Sequence[Song], horn: str) -> bytes:
    """Return a file of songs as a horn in the key of `horn` reads them: symbols over slashes, in its written pitch.

    Raises:
        KeyError: there is no such horn.
    """
    pieces = []
    for song in songs:
        copy = written_for(song, horn)
        pieces.append(Piece(copy, chart_measures(copy), transposed=_transposed(song, copy)))
    name = "in " + horn.replace("b", "♭")
    return _score(title, pieces, Scoring(name, (("G", "2"),), slash_lengths, add_slashes))


def _transposed(song: Song, copy: Song) -> dict[str, int]:
    """Return the fifths from the sounding to the written pitch of each section: keys of their own may be respelled."""
    return {
        old.name: between(read_key(old.key or song.key), read_key(new.key or copy.key))
        for old, new in zip(song.sections, copy.sections, strict=True)
    }


def _score(title: str, pieces: Sequence[Piece], scoring: Scoring) -> bytes:
    score = Element("score-partwise", {"version": "4.0"})
    SubElement(SubElement(score, "work"), "work-title").text = printable(title)
    encoding = SubElement(SubElement(score, "identification"), "encoding")
    SubElement(encoding, "software").text = "stillhand"
    part = SubElement(SubElement(score, "part-list"), "score-part", {"id": "P1"})
    SubElement(part, "part-name").text = scoring.name
    music = SubElement(score, "part", {"id": "P1"})
    for piece in _in_a_row(pieces):
        add_piece(music, piece, scoring)
    indent(score)
    return (HEAD + tostring(score, encoding="unicode") + "\n").encode("utf-8")


def _in_a_row(pieces: Sequence[Piece]) -> Sequence[Piece]:
    """Return the songs of a set, each told its title and what feel it follows; a song alone needs neither."""
    if len(pieces) < 2:
        return pieces
    feels = ["straight", *(piece.song.feel for piece in pieces)]
    return [replace(piece, title=piece.song.title, feel=feel) for piece, feel in zip(pieces, feels, strict=False)]
