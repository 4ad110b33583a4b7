"""How well a folder of MusicXML comes in: python -m tests.outside.lead_sheets FOLDER.

Prints how many files give songs, how many chord symbols are carried, how many songs are played in music21's order, how
many doubts are listed, and why files are refused. Without a folder music21's own corpus is read.
"""

import sys
import warnings
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from engine.errors import EngineError
from engine.formats.import_result import Imported, NotImported
from engine.formats.musicxml_in.reader import chart_of, parts_of, read_parts, song_from_musicxml, walk
from engine.formats.musicxml_in.xml import score_tree
from engine.song.model import Step
from engine.song.unfolding import unfold

ENDINGS = (".mxl", ".musicxml", ".xml")


@dataclass(slots=True)
class Count:
    """What was found so far; `other` and `refused` say which files and why."""

    files: int = 0
    silent: int = 0
    songs: int = 0
    events: int = 0
    carried: int = 0
    compared: int = 0
    turned: int = 0
    equal: int = 0
    doubts: Counter[str] = field(default_factory=Counter)
    other: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)


def count(folder: Path) -> Count:
    """Return the counts over every MusicXML file in a folder and those in it."""
    found = Count()
    for path in sorted(path for path in folder.rglob("*") if path.suffix in ENDINGS):
        found.files += 1
        _take(found, path)
    return found


def _take(found: Count, path: Path) -> None:
    data = path.read_bytes()
    try:
        song = song_from_musicxml(data, path.stem)
    except NotImported as error:
        if "no chord symbols" in error.found:
            found.silent += 1
            _orders(path, found, ())
        else:
            found.refused.append(f"{path.name}: {error}")
        return
    except EngineError as error:
        found.refused.append(f"{path.name}: {error}")
        return
    found.songs += 1
    found.doubts.update({"songs with doubts": bool(song.doubts), "doubts": len(song.doubts)})
    _orders(path, found, song.doubts)
    wanted, kept = carried(song, data)
    found.events += wanted
    found.carried += kept
    if wanted != kept:
        found.lost.append(f"{path.name}: {kept} of {wanted}")


def _orders(path: Path, found: Count, doubts: tuple[str, ...]) -> list[int]:
    """Compare the playing order of a file with music21's, chords or none, and return ours."""
    root = score_tree(path.read_bytes())
    measures = max((part for part, _ in read_parts(root)), key=lambda part: sum(len(bar.chords) for bar in part))
    _, order, more = walk(measures)
    theirs = order_of_music21(path)
    if theirs:
        found.compared += 1
        found.turned += theirs != sorted(set(theirs))
        found.equal += theirs == order
        found.other += [] if theirs == order else [_differing(path, order, theirs, (*doubts, *more))]
    return order


def _differing(path: Path, ours: list[int], theirs: list[int], doubts: tuple[str, ...]) -> str:
    at = next((place for place, (one, other) in enumerate(zip(ours, theirs, strict=False)) if one != other), -1)
    said = "doubted" if doubts else "silent"
    return f"{path.name}: {len(ours)} and {len(theirs)} measures, first other at {at} ({said})"


def carried(song: Imported, data: bytes) -> tuple[int, int]:
    """Return how many chord symbols a file has as it is played, and how many chords the song strikes for them.

    A bar strikes what is written in it, and goes on with the chord before it where none is written on its first beat.
    """
    root = score_tree(data)
    measures, _ = chart_of(root)
    _, order, _ = walk(measures)
    parts = max(parts_of(root), key=lambda part: len(list(part.iter("harmony"))))
    written = [list(measure.iter("harmony")) for measure in parts.iter("measure")]
    bars = _bars(song)
    wanted = sum(len(written[at]) for at in order)
    kept = 0
    for at, struck in zip(order, bars, strict=False):
        goes_on = not measures[at].chords or measures[at].chords[0][0] > 0
        kept += min(len(written[at]), len(struck) - goes_on)
    return wanted, kept


def _bars(song: Imported) -> list[list[Step]]:
    """Return the steps of each bar as played."""
    bars: list[list[Step]] = []
    for step in unfold(song.song):
        before = bars[-1][-1] if bars else None
        if before and before.written[:2] == step.written[:2] and step.beat > before.beat:
            bars[-1].append(step)
        else:
            bars.append([step])
    return bars


def order_of_music21(path: Path) -> list[int]:
    """Return music21's playing order of the part with the most chord symbols; [] where it gives none."""
    import music21

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            parts = music21.converter.parse(path, forceSource=True).parts
            part = max(parts, key=lambda one: len(one.recurse().getElementsByClass("ChordSymbol")))
            bars = list(part.getElementsByClass("Measure"))
            for number, bar in enumerate(bars):
                bar.number, bar.numberSuffix = number, None
            order = music21.repeat.Expander(part).process().getElementsByClass("Measure")
            return [bar.number for bar in order]
        except Exception:  # whatever fails in the other library, it gives no order
            return []


def main(folder: Path) -> None:
    """Print the counts of a folder."""
    found = count(folder)
    rows = [
        ("files", found.files), ("without chord symbols", found.silent), ("songs", found.songs),
        ("refused", len(found.refused)), ("chord symbols as played", found.events), ("carried", found.carried),
        ("orders that music21 gives", found.compared),
        ("  that turn back", found.turned), ("  equal to ours", found.equal),
        ("songs with doubts", found.doubts["songs with doubts"]), ("doubts", found.doubts["doubts"]),
    ]  # fmt: skip
    for name, value in rows:
        print(f"{name:<28}{value:>8}")
    for title, lines in (("not all carried", found.lost), ("another order", found.other), ("refused", found.refused)):
        for line in lines:
            print(f"{title}: {line}")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        import music21

        main(Path(music21.__file__).parent / "corpus")
