"""The head of a song file: title, key, meter, tempo, feel, count, melody, voicing, MIDI, and how chords are written."""

import re
from dataclasses import dataclass

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.method_names import HAND_CHOICES, METHOD_CHOICES, TEXTURE_CHOICES
from engine.song.chord_names import Wording
from engine.song.fields import Sheet, Table
from engine.song.groove import read_comp, read_left_hand
from engine.song.house_rules import read_rules
from engine.song.instrument import read_midi
from engine.song.model import Song
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.song.source_positions import Path
from engine.song.whose_tune import WHOSE, read_whose
from engine.theory.meter import Meter
from engine.theory.pitch import key_number

SONG_KEYS = (
    "title", "key", "meter", "tempo", "feel", "count", "roadmap", "note", "melody", "voicing", "midi", "sections",
    "pins", "names", "numbers", "minor_tonic", "reading", "comp", "left_hand", "tune_is", "bass",
)  # fmt: skip
FEELS = ("straight", "swing")
VOICING = {
    "method": METHOD_CHOICES, "sound": ("piano", "pad", "organ"), "colour": ("off", "on"),
    "texture": TEXTURE_CHOICES, "hands": HAND_CHOICES,
}  # fmt: skip
"""What a voicing table may say, the usual word first."""
BASS_CHOICES = ("set", "yes", "no")
"""Who a song is planned with at the bottom: as the set says, a bass player, or none."""
COUNTS = ("one bar", "two bars", "none")


@dataclass(frozen=True, slots=True)
class Head:
    """A song without its sections, and how its chords are to be read."""

    song: Song
    wording: Wording


def read_head(sheet: Sheet, table: Table) -> Head:
    """Read the head; every mistake becomes a fault of the sheet and the usual value takes its place."""
    key = sheet.key_name(table, ("key",))
    voicing = read_voicing(sheet, table, ("voicing",))
    song = Song(
        title=sheet.line(table, ("title",), needed='a title, as in title = "Low Tide Lantern"'),
        key=key,
        meter=sheet.meter(table, ("meter",), Meter(4, 4)),
        tempo=float(sheet.number(table, ("tempo",), 120.0, SLOWEST, FASTEST)),
        feel=sheet.word(table, ("feel",), FEELS),
        count=read_count(sheet, table, ("count",)),
        melody=_melody(sheet, table),
        note=sheet.lines(table, ("note",)),
        method=voicing["method"],
        sound=voicing.get("sound", "piano"),
        colour=voicing.get("colour", "off"),
        texture=voicing.get("texture", "auto"),
        hands=voicing.get("hands", "both"),
        midi=read_midi(sheet, table, ("midi",)),
        comp=read_comp(sheet, table, ("comp",)),
        left_hand=read_left_hand(sheet, table, ("left_hand",)),
        tune_is=read_whose(sheet, table, ("tune_is",)) or WHOSE[0],
        bass=read_bass(sheet, table, ("bass",)) or BASS_CHOICES[0],
    )
    return Head(song, _wording(sheet, table, key))


def read_voicing(sheet: Sheet, table: Table, path: Path) -> dict[str, str]:
    """Return the words of a voicing table (see `VOICING`); of a voicing given in one word its method."""
    if isinstance(table.get("voicing"), str):
        return {"method": sheet.word(table, path, METHOD_CHOICES)}
    voicing = sheet.table(table, path)
    sheet.unknown(voicing, path, tuple(VOICING), "[voicing]")
    return {name: sheet.word(voicing, (*path, name), words) for name, words in VOICING.items()}


def read_bass(sheet: Sheet, table: Table, path: Path) -> str:
    """Return whether a bass player is planned with: yes, no, set (as the set says), or "" where nothing is said."""
    if "bass" not in table:
        return ""
    if table["bass"] == BASS_CHOICES[0]:
        return BASS_CHOICES[0]
    return "yes" if sheet.truth(table, path) else "no"


def read_count(sheet: Sheet, table: Table, path: Path) -> str:
    """Return the count in words: one bar, two bars, none or a number of beats ("3")."""
    value = table.get("count", COUNTS[0])
    words = str(value).strip().lower()
    beats = re.fullmatch(r"(\d{1,2})(?:\s*beats?)?", words)
    if isinstance(value, bool) or not (words in COUNTS or (beats and 1 <= int(beats[1]) <= 32)):
        sheet.at_value(path, f"count is {words[:40]!r}", "write one bar, two bars, none or a number of beats to 32")
        return COUNTS[0]
    return beats[1] if beats else words


def _melody(sheet: Sheet, table: Table) -> tuple[int, int] | None:
    path: Path = ("melody",)
    melody = sheet.table(table, path)
    if "melody" not in table:
        return None
    sheet.unknown(melody, path, ("lowest", "highest"), "[melody]")
    ends = [_pitch(sheet, melody, (*path, name)) for name in ("lowest", "highest")]
    if ends[0] is None or ends[1] is None:
        return None
    if ends[0] > ends[1]:
        sheet.at_value((*path, "lowest"), "the lowest note lies above the highest", "change them round")
        return None
    return ends[0], ends[1]


def _pitch(sheet: Sheet, table: Table, path: Path) -> int | None:
    text = sheet.text(table, path, needed=f'the {path[-1]} note sung, as in {path[-1]} = "G3"').strip()
    if not text:
        return None
    try:
        key = key_number(text[:1].upper() + text[1:])
    except ValueError:
        key = -1
    if not 0 <= key <= 127:
        sheet.at_value(path, f"{text[:20]} is no note", "write a name and an octave, as in G3 (C4 is middle C)")
        return None
    return key


def _wording(sheet: Sheet, table: Table, key: str) -> Wording:
    tonic = sheet.number(table, ("minor_tonic",), 1, 1, 6)
    if tonic not in (1, 6):
        sheet.at_value(("minor_tonic",), f"minor_tonic is {tonic:g}", "write 1 or 6: what the minor tonic is called")
    rules: HouseRules = read_rules(sheet, table) if "names" in table or "reading" in table else DEFAULT_RULES
    return Wording(rules, sheet.truth(table, ("numbers",)), key or "C", 6 if tonic == 6 else 1)
