"""How long printing and importing take: forty songs to one PDF, to text, one to notation, 300 lead sheets in:
`python -m tests.bench.sheets`.

Prints a table of processor seconds, best of three. Planning is measured apart from drawing, since plans are usually
there already.
"""

import time
from collections.abc import Callable
from pathlib import Path
from xml.etree.ElementTree import Element, SubElement, tostring

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.formats.musicxml_out.writer import musicxml
from engine.formats.plain_text import bundle_text
from engine.formats.sheets.bundle import bundle_pdf, sheets
from engine.planning.planner import plan
from engine.song.unfolding import unfold
from tui.persistence import store

DEMO = Path(__file__).parents[2] / "setlists" / "harbour-room.toml"
SONGS = 40
LEAD_SHEETS = 300
MEASURES = 32


def lead_sheet(number: int) -> bytes:
    """Return a score of one staff: two chords and four sung notes a measure, a rehearsal mark every eight."""
    score = Element("score-partwise", {"version": "4.0"})
    part = SubElement(score, "part", {"id": "P1"})
    for place in range(MEASURES):
        measure = SubElement(part, "measure", {"number": str(place + 1)})
        if not place:
            SubElement(SubElement(measure, "attributes"), "divisions").text = "1"
            SubElement(SubElement(measure, "direction"), "sound", {"tempo": "120"})
        if place % 8 == 0:
            mark = SubElement(SubElement(measure, "direction"), "direction-type")
            SubElement(mark, "rehearsal").text = "ABCD"[place // 8]
        for beat in range(4):
            if beat % 2 == 0:
                harmony = SubElement(measure, "harmony")
                SubElement(SubElement(harmony, "root"), "root-step").text = "CDEFGAB"[(place + beat + number) % 7]
                SubElement(harmony, "kind").text = ("minor-seventh", "dominant", "major-seventh")[(place + beat) % 3]
            note = SubElement(measure, "note")
            pitch = SubElement(note, "pitch")
            SubElement(pitch, "step").text = "CDEFGAB"[(place + beat) % 7]
            SubElement(pitch, "octave").text = "4"
            SubElement(note, "duration").text = "1"
            SubElement(SubElement(note, "lyric"), "text").text = "la"
    return tostring(score)


def best(work: Callable[[], object]) -> float:
    """Return the processor seconds of the quickest of three runs."""
    taken = []
    for _ in range(3):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def main() -> None:
    demo = store.open_set(DEMO)
    start = time.process_time()
    planned = [(place.song, plan(unfold(place.song))) for place in demo.songs]
    print(f"{f'planning {len(planned)} songs, once':<44} {time.process_time() - start:8.2f} s")
    entries = [planned[number % len(planned)] for number in range(SONGS)]
    leads = [lead_sheet(number) for number in range(LEAD_SHEETS)]
    for name, work in (
        (f"{SONGS} songs to one PDF", lambda: bundle_pdf(demo, entries)),
        (f"{SONGS} songs to text", lambda: bundle_text(demo, sheets(demo, entries))),
        ("one song to notation", lambda: musicxml(*planned[0])),
        (
            f"{LEAD_SHEETS} lead sheets of {MEASURES} measures in",
            lambda: [song_from_musicxml(sheet) for sheet in leads],
        ),
    ):
        print(f"{name:<44} {best(work):8.2f} s")


if __name__ == "__main__":
    main()
