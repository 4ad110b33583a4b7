"""Small MusicXML scores for the tests of importing, written by hand after the W3C's MusicXML 4.0 pages."""

import io
import zipfile

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.unfolding import unfold

DIRECTION = "<direction><direction-type>{}</direction-type></direction>"


def harmony(root: str, kind: str = "major", more: str = "", text: str = "") -> str:
    alter = {"b": "<root-alter>-1</root-alter>", "#": "<root-alter>1</root-alter>"}.get(root[1:], "")
    words = f' text="{text}"' if text else ""
    return f"<harmony><root><root-step>{root[0]}</root-step>{alter}</root><kind{words}>{kind}</kind>{more}</harmony>"


def degree(value: int, alter: int, sort: str) -> str:
    return (
        f"<degree><degree-value>{value}</degree-value><degree-alter>{alter}</degree-alter>"
        f"<degree-type>{sort}</degree-type></degree>"
    )


def note(quarters: int = 4, pitch: str = "C4") -> str:
    return (
        f"<note><pitch><step>{pitch[0]}</step><octave>{pitch[-1]}</octave></pitch>"
        f"<duration>{quarters}</duration></note>"
    )


def measure(*chords: str, before: str = "", after: str = "", quarters: int = 4) -> str:
    """Return a measure whose chords (roots or harmony elements) share it evenly."""
    share = quarters // max(1, len(chords))
    body = "".join((chord if chord.startswith("<") else harmony(chord)) + note(share) for chord in chords)
    return f'<measure number="1">{before}{body or note(quarters)}{after}</measure>'


def attributes(fifths: int = 0, time: str = "4/4", mode: str = "major", more: str = "") -> str:
    upper, lower = time.split("/")
    return (
        f"<attributes><divisions>1</divisions><key><fifths>{fifths}</fifths><mode>{mode}</mode></key>"
        f"<time><beats>{upper}</beats><beat-type>{lower}</beat-type></time>{more}</attributes>"
    )


def bar_line(repeat: str = "", ending: str = "", sort: str = "start", times: str = "", style: str = "") -> str:
    location = "left" if repeat == "forward" or (ending and sort == "start") else "right"
    lines = f"<bar-style>{style}</bar-style>" if style else ""
    brackets = f'<ending number="{ending}" type="{sort}"/>' if ending else ""
    turns = f' times="{times}"' if times else ""
    signs = f'<repeat direction="{repeat}"{turns}/>' if repeat else ""
    return f'<barline location="{location}">{lines}{brackets}{signs}</barline>'


def words(text: str) -> str:
    return DIRECTION.format(f"<words>{text}</words>")


def mark(text: str) -> str:
    return DIRECTION.format(f"<rehearsal>{text}</rehearsal>")


def sound(**attribute: str) -> str:
    return "<sound " + " ".join(f'{name}="{value}"' for name, value in attribute.items()) + "/>"


def score(*measures: str, first: str | None = None, title: str = "Pier", head: str = "") -> bytes:
    """Return a score of one part; `first` are the attributes of its first measure."""
    opening = attributes() if first is None else first
    music = "".join(measures).replace('<measure number="1">', f'<measure number="1">{opening}', 1)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
        '"http://www.musicxml.org/dtds/partwise.dtd">'
        f'<score-partwise version="4.0"><work><work-title>{title}</work-title></work>{head}'
        '<part-list><score-part id="P1"><part-name>Voice</part-name></score-part></part-list>'
        f'<part id="P1">{music}</part></score-partwise>'
    ).encode()


def second_part(data: bytes, *measures: str) -> bytes:
    """Return a score with another part of these measures."""
    return data.replace(b"</score-partwise>", f'<part id="P2">{"".join(measures)}</part></score-partwise>'.encode())


def packed(data: bytes, name: str = "score.musicxml", container: str | None = None) -> bytes:
    """Return a compressed score (.mxl)."""
    answer = io.BytesIO()
    with zipfile.ZipFile(answer, "w", zipfile.ZIP_DEFLATED) as archive:
        root = f'<container><rootfiles><rootfile full-path="{container or name}"/></rootfiles></container>'
        archive.writestr("META-INF/container.xml", root)
        archive.writestr(name, data)
    return answer.getvalue()


def played(data: bytes) -> str:
    """Return the chords of a score as they are played."""
    return " ".join(step.symbol for step in unfold(song_from_musicxml(data).song))
