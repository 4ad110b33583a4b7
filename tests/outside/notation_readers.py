"""Three general libraries that read MusicXML, each asked the same: which keys are struck when, in quarters, as written
(no repeat taken). Ties go on, and are not struck again."""

import base64
import io
from collections import defaultdict
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

Struck = dict[Fraction, set[int]]

FINEST = 96
"""Parts of a quarter that a library's floating numbers are rounded to."""


def by_verovio(data: bytes, _folder: Path) -> Struck:
    """Return what an engraver plays from the score it draws."""
    verovio, mido = pytest.importorskip("verovio"), pytest.importorskip("mido")
    toolkit = verovio.toolkit()
    toolkit.setOptions({"expandNever": True})
    assert toolkit.loadData(data.decode("utf-8"))
    file = mido.MidiFile(file=io.BytesIO(base64.b64decode(toolkit.renderToMIDI())))
    found: Struck = defaultdict(set)
    for track in file.tracks:
        ticks = 0
        for message in track:
            ticks += message.time
            if message.type == "note_on" and message.velocity:
                found[_place(ticks / file.ticks_per_beat)].add(message.note)
    return dict(found)


def by_partitura(data: bytes, folder: Path) -> Struck:
    partitura = pytest.importorskip("partitura")
    path = folder / "score.musicxml"
    path.write_bytes(data)
    part = partitura.load_musicxml(str(path))[0]
    # Quarters count from the first bar line: a pickup is before 0.
    begin = float(part.quarter_map(part.first_point.t))
    found: Struck = defaultdict(set)
    for note in part.notes_tied:
        found[_place(float(part.quarter_map(note.start.t)) - begin)].add(note.midi_pitch)
    return dict(found)


def by_music21(data: bytes, _folder: Path) -> Struck:
    music21 = pytest.importorskip("music21")
    return struck(music21.converter.parse(data.decode("utf-8"), format="musicxml"))


def struck(score: object) -> Struck:
    """Return the keys of a music21 score by when they are struck."""
    music21 = pytest.importorskip("music21")
    found: Struck = defaultdict(set)
    for note in score.flatten().notes:  # type: ignore[attr-defined]
        if (
            isinstance(note, music21.harmony.Harmony)
            or not note.pitches
            or (note.tie and note.tie.type in ("stop", "continue"))
        ):
            continue
        found[_place(note.offset)] |= {pitch.midi for pitch in note.pitches}
    return dict(found)


def _place(quarters: float) -> Fraction:
    return Fraction(quarters).limit_denominator(FINEST)


READERS: dict[str, Callable[[bytes, Path], Struck]] = {
    "verovio": by_verovio, "partitura": by_partitura, "music21": by_music21,
}  # fmt: skip
