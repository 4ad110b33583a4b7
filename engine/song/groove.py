"""The comping rhythm and the left hand's pattern that a song, a section or a song's entry in a set asks for by name."""

from difflib import get_close_matches

from engine.comp_names import COMP_NAMES, HELD, LEFT_HAND_NAMES, plain_name
from engine.song.fields import Sheet, Table
from engine.song.model import Section, Song
from engine.song.source_positions import Path

LEFT_HAND_CHOICES = (HELD, *LEFT_HAND_NAMES)


def read_comp(sheet: Sheet, table: Table, path: Path) -> str:
    """Return a rhythm's name, "" for none. One that is not ours may be the player's own: only a near miss is noted."""
    name = plain_name(sheet.line(table, path))
    near = get_close_matches(name, COMP_NAMES, n=1, cutoff=0.7)
    if name and name not in (*COMP_NAMES, HELD) and near:
        remark = f"is no rhythm of the trade: did you mean {near[0]}, or is it one of your own?"
        sheet.notes.append((*sheet.places.value(*path), name, remark))
    return name


def read_left_hand(sheet: Sheet, table: Table, path: Path) -> str:
    """Return the name of a left hand's pattern, "" for none given."""
    given = table.get(str(path[-1]))
    if given is None:
        return ""
    plain = {**table, str(path[-1]): plain_name(given) if isinstance(given, str) else given}
    return sheet.word(plain, path, LEFT_HAND_CHOICES)


def left_hand_words(part: Song | Section) -> tuple[str, ...]:
    """Return what sheets and scores say of a left hand's pattern, `left hand: stride`; nothing where none is said."""
    return (f"left hand: {part.left_hand}",) if part.left_hand else ()
