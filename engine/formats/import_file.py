"""A file of unknown kind read as a song: MusicXML, compressed or not, ABC notation, or text."""

import re
from dataclasses import replace

from engine.formats.import_choices import AS_READ, Answers
from engine.formats.import_result import Imported, NotImported

_XML = re.compile(rb"(?:\xef\xbb\xbf)?\s*<[?!a-zA-Z]|\xff\xfe<\0|\xfe\xff\0<")


def song_from_file(data: bytes, name: str = "", answers: Answers = AS_READ) -> Imported:
    """Return the song in a file's bytes, whatever the file is called; `name` is its title if it has none.

    Raises:
        NotImported: nothing that a song can be read from.
        ChartError: bars in a text that cannot be read.
    """
    if data[:2] == b"PK" or _XML.match(data):
        from engine.formats.musicxml_in.reader import song_from_musicxml

        return song_from_musicxml(data, name, answers)
    from engine.formats.chart_text.reader import song_from_text

    text, doubt = _decoded(data)
    from engine.formats.abc.reader import is_abc, song_from_abc

    found = song_from_abc(text, name, answers) if is_abc(text) else song_from_text(text, name, answers)
    return replace(found, doubts=(doubt, *found.doubts)) if doubt else found


def _decoded(data: bytes) -> tuple[str, str]:
    """Return the text and what was doubtful about its letters."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace"), ""
    if b"\0" in data:
        raise NotImported("that is neither MusicXML nor text", "name a .musicxml, .mxl, .abc or .txt file")
    try:
        return data.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace"), "the text is not UTF-8, its accents may be wrong"
