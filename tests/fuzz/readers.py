"""Every reader as a function of bytes: it gives a value or the reader's own error, and what it gives holds together.

`LAWS` are what `python -m tests.fuzz` tries, `seeds` what it begins with.
"""

import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from engine.chord.house_rules import HouseRules
from engine.chord.numbers import number_of, symbol_of_number
from engine.chord.symbol import read_symbol
from engine.errors import ChartError, SymbolError
from engine.formats.chart_text.reader import song_from_text
from engine.formats.import_file import song_from_file
from engine.formats.import_result import Imported, NotImported
from engine.practice.log import line_of, read_log, remembered
from engine.song.reader import read_song, song_from_chart
from engine.song.set_list import read_set
from engine.song.unfolding import unfold
from tests.engine.formats import scores
from tui.persistence.player_reader import read_player
from tui.persistence.player_writer import write_player
from tui.persistence.saved_state import Session, load_player, load_session, save_session

SETS = Path(__file__).resolve().parents[2] / "setlists"
RULES = (
    HouseRules(),
    HouseRules(names="german", o="dim7", two="no third", sus="9sus"),
    HouseRules(names="solfege", plus="maj7", maj="maj7", lower_minor=True),
)
KEYS = ("C", "Eb", "F#m", "Cb", "Ebm")


def symbol(data: bytes) -> None:
    """A chord symbol under one of three house rules; as a number it comes back."""
    text = data[1:].decode("utf-8", "replace")
    with suppress(SymbolError):
        chord = read_symbol(text, RULES[data[0] % 3 if data else 0])
        if chord is not None:
            assert read_symbol(symbol_of_number(number_of(chord, "Eb"), "Eb")).tones[0] == chord.tones[0]  # type: ignore[union-attr]


def number(data: bytes) -> None:
    """A number chord: what it stands for can be read."""
    text = data[1:].decode("utf-8", "replace")
    choice = data[0] if data else 0
    with suppress(SymbolError):
        read_symbol(symbol_of_number(text, KEYS[choice % 5], 6 if choice > 127 else 1))


def chart(data: bytes) -> None:
    """A typed line of bars."""
    with suppress(ChartError):
        unfold(song_from_chart(data.decode("utf-8", "replace")))


def song(data: bytes) -> None:
    """A song file; one without faults can be played."""
    with suppress(ChartError):
        unfold(read_song(data.decode("utf-8", "replace"), "song"))


def set_list(data: bytes) -> None:
    """A set file whose songs are those of the demo set."""

    def load(file: str) -> str:
        if "\0" in file:
            raise OSError(file)
        return (SETS / "songs" / "ropewalk.toml").read_text() if "missing" not in file else _missing(file)

    with suppress(ChartError):
        read_set(data.decode("utf-8", "replace"), "set", load)


def _missing(file: str) -> str:
    raise OSError(file)


def text(data: bytes) -> None:
    """Pasted text: the song file it makes can be read."""
    with suppress(NotImported, ChartError):
        _opens(song_from_text(data.decode("utf-8", "replace")))


def file(data: bytes) -> None:
    """Anything named as a lead sheet: MusicXML, compressed or not, or text."""
    with suppress(NotImported, ChartError):
        _opens(song_from_file(data))


def packed(data: bytes) -> None:
    """A compressed lead sheet, by what it holds, or by its own bytes."""
    file(data if data[:2] == b"PK" else scores.packed(data))


def _opens(found: Imported) -> None:
    """Hold an import to what it promises: its text is a song file, and the song in it is the one shown."""
    again = read_song(found.text, "imported")
    assert [section.name for section in again.sections] == [section.name for section in found.song.sections]
    assert len(unfold(again)) == len(unfold(found.song))


def log(data: bytes) -> None:
    """A practice log: each try comes back as it was written, and an evening can be planned."""
    found = read_log(data.decode("utf-8-sig", "replace"))
    for one in found.tries:
        assert read_log(line_of(one)).tries
    for memory in remembered(found.tries).values():
        memory.due(datetime(2026, 3, 2, 20, 30))
        memory.kept(datetime(2026, 3, 2, 20, 30))


def session(data: bytes) -> None:
    """The session's file: what could be read can be kept."""
    (_home() / "session.json").write_bytes(data)
    found = load_session()
    save_session(found)
    assert isinstance(found, Session)
    _empty()


def player(data: bytes) -> None:
    """The player's file: whatever could be used is written so that it is read again."""
    with suppress(ValueError):
        found = read_player(data.decode("utf-8", "replace"))
        again = read_player(write_player(found))
        assert write_player(again) == write_player(found)
    (_home() / "player.toml").write_bytes(data)
    load_player()
    _empty()


def _home() -> Path:
    if "STILLHAND_HOME" not in os.environ:
        os.environ["STILLHAND_HOME"] = tempfile.mkdtemp()
    return Path(os.environ["STILLHAND_HOME"])


def _empty() -> None:
    for place in _home().iterdir():
        place.unlink()


LAWS: dict[str, Callable[[bytes], None]] = {
    law.__name__: law
    for law in (symbol, number, chart, song, set_list, text, file, packed, log, session, player)
}  # fmt: skip
"""Reader -> what must hold for any bytes: it returns, or breaks its promise by any exception at all."""

SYMBOLS = ("C", "Ebmaj7#11/G", "F#m7b5", "Bb13(b9)", "Caddb9no3", "G7alt", "Csus2/4", "C6/9", "Cm/maj7", "N.C.", "Co7")
SCORES = (
    scores.score(
        scores.measure("C", "Am"), scores.measure(scores.harmony("Bb", "dominant", scores.degree(9, -1, "add")))
    ),
    scores.score(
        scores.measure("C", before=scores.bar_line("forward") + scores.mark("Verse")),
        scores.measure("F", before=scores.bar_line(ending="1"), after=scores.bar_line("backward", "1", "stop")),
        scores.measure("G", before=scores.bar_line(ending="2"), after=scores.words("D.S. al Coda")),
        scores.measure("C", before=scores.sound(coda="coda") + scores.words("To Coda") + scores.sound(tempo="90")),
    ),
    scores.score(scores.measure("C", quarters=3), first=scores.attributes(-3, "3/4", "minor")),
)  # fmt: skip
TEXTS = (
    "Title: Pier\nKey: Eb\nTempo 96\n\n[Verse] x2\n| Ebmaj7 | Cm7 F7 | Fm7 / / Bb7 | % |\n"
    "\nChorus:\nAb   Bb   Cm\nla la la\n",
    "Verse\n1 6- 2-7 5/7\n\n||: 1 | 4 :|| [1. 5 | [2. 1 ||\n",
    "{title: Pier}\n[C]Over the [G/B]pier, [Am7]slowly\n",
)  # fmt: skip
LINES = (
    '{"when": "2026-03-02T20:30:00", "shift": "a>b", "tempo": 60, "clean": true, "chords": ["C", "F"], "song": "x"}\n',
    '{"when": "2026-03-02T20:31:00+01:00", "taken back": "last"}\n{"when": "2026-03-02T20:30:00", "caution": "seen"}\n',
)  # fmt: skip
PLAYER = """reach = [200, 21.5]
port_out = "x"
program = 4
guide = true
pedal = "controller 64"
[keys]
"stand.next" = "n"
[[singers]]
name = "A"
lowest = "G3"
highest = "C5"
"""


def seeds(reader: str) -> list[bytes]:
    """Return what the search for a reader begins with."""
    songs = [path.read_bytes() for path in sorted((SETS / "songs").glob("*.toml"))]
    bars = [b"| Dm7 / G7(push) | [1. Cmaj7 % :|| N.C. | C/E (stop) |", b"||: Abmaj7 | Abm6 x3 :|| F7 C7b9 | 1/2 |"]
    found: dict[str, list[bytes]] = {
        "symbol": [b"\0" + symbol.encode() for symbol in SYMBOLS] + [b"\1Fis7", b"\2Re-", b"\2Sol b7"],
        "number": [b"\0" + text.encode() for text in ("1", "6-", "b7maj7", "V7/ii", "5/7", "ii7b5")],
        "chart": bars,
        "song": songs,
        "set_list": [(SETS / "harbour-room.toml").read_bytes()],
        "text": [text.encode() for text in TEXTS],
        "file": [*SCORES, TEXTS[0].encode("utf-16"), TEXTS[0].encode()],
        "packed": [*SCORES, scores.packed(SCORES[0])],
        "log": [line.encode() for line in LINES] + ["".join(LINES).encode()],
        "session": [b'{"path": "/a/b.toml", "song": 1, "step": 3, "more": {"stand": {"loop": [1, 2]}}}\n'],
        "player": [PLAYER.encode()],
    }
    return found[reader]
