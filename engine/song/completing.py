"""What may follow what is typed in a song's file: chord symbols, names of sections, the words of a value, keys."""

import re

from engine.chord.completing import completed_symbols
from engine.comp_names import COMP_NAMES, HELD
from engine.song.groove import LEFT_HAND_CHOICES
from engine.song.header import COUNTS, FEELS, SONG_KEYS, VOICING
from engine.song.reader import SECTION_KEYS
from engine.song.whose_tune import WHOSE

WORDS: dict[str, tuple[str, ...]] = {
    **VOICING, "feel": FEELS, "count": COUNTS, "comp": (*COMP_NAMES, HELD),
    "left_hand": LEFT_HAND_CHOICES, "tune_is": WHOSE,
}  # fmt: skip
_TABLES = ("melody", "voicing", "midi", "sections", "pins")
_KEY = re.compile(r"^[ \t]*([A-Za-z_]+)[ \t]*=[ \t]*", re.MULTILINE)
_HEADER = re.compile(r"^[ \t]*\[+[ \t]*([A-Za-z_]+)(?:[ \t]*\.[ \t]*([^\]\n]+?))?[ \t]*\]", re.MULTILINE)


def completions(text: str, offset: int) -> tuple[int, tuple[str, ...]]:
    """Return where the word before an offset begins, and what it may become; the text may have faults.

    The likeliest comes first; () where nothing is known to follow.
    """
    before = text[:offset]
    key = next(reversed([*_KEY.finditer(before)]), None)
    if key and _is_open(before[key.end() :]):
        return _in_value(text, before, key[1])
    word = re.search(r"(?:^|\n)[ \t]*([a-z_]+)\Z", before)
    if word is None:
        return offset, ()
    return word.start(1), _going_on(word[1], _keys(before))


def _is_open(value: str) -> bool:
    """Tell whether a value that is being written is a text whose quotes are still open."""
    for mark in ('"""', "'''"):
        if value.startswith(mark):
            return mark not in value[3:]
    return value[:1] in ('"', "'") and value[0] not in value[1:] and "\n" not in value


def _in_value(text: str, before: str, name: str) -> tuple[int, tuple[str, ...]]:
    if name == "bars":
        word = re.search(r"[^\s|:(\[\"']*\Z", before)
        start = word.start() if word else len(before)
        return start, completed_symbols(before[start:])
    part = re.search(r"[^,\n\"']*\Z", before)
    start = part.start() if part else len(before)
    start += len(before[start:]) - len(before[start:].lstrip())
    if name == "roadmap":
        names = [found[2].strip("\"'") for found in _HEADER.finditer(text) if found[1] == "sections" and found[2]]
        return start, _going_on(before[start:], tuple(names))
    return start, _going_on(before[start:], WORDS.get(name, ()))


def _keys(before: str) -> tuple[str, ...]:
    """Return the keys of the table that is being written."""
    table = next(reversed([*_HEADER.finditer(before)]), None)
    if table is None:
        return tuple(key for key in SONG_KEYS if key not in _TABLES)
    return {"sections": SECTION_KEYS, "voicing": tuple(VOICING)}.get(table[1], ())


def _going_on(typed: str, words: tuple[str, ...]) -> tuple[str, ...]:
    """Return the words that begin so; capitals do not matter."""
    return tuple(word for word in words if word.lower().startswith(typed.lower()) and word != typed)
