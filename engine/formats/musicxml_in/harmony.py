"""A MusicXML harmony as a chord symbol: 33 kinds, degrees added, altered and left out, inversions, numerals.

Source: MusicXML 4.0 (W3C), <harmony>, <kind> and <degree>.
"""

from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from engine.chord.formula import ORDER
from engine.chord.model import Chord
from engine.chord.numbers import symbol_of_number
from engine.chord.quality import quality_of
from engine.chord.symbol import is_silence, read_symbol
from engine.errors import SymbolError
from engine.formats.musicxml_in.polychords import as_one, stories
from engine.formats.musicxml_in.xml import text_of, whole
from engine.theory.key import Key, degree_fifths
from engine.theory.pitch import LETTERS, NoteName

KINDS: dict[str, str] = {
    "major": "", "minor": "m", "augmented": "aug", "diminished": "dim", "dominant": "7", "major-seventh": "maj7",
    "minor-seventh": "m7", "diminished-seventh": "dim7", "augmented-seventh": "7#5", "half-diminished": "m7b5",
    "major-minor": "m(maj7)", "major-sixth": "6", "minor-sixth": "m6", "dominant-ninth": "9", "major-ninth": "maj9",
    "minor-ninth": "m9", "dominant-11th": "11", "major-11th": "maj11", "minor-11th": "m11", "dominant-13th": "13",
    "major-13th": "maj13", "minor-13th": "m13", "suspended-second": "sus2", "suspended-fourth": "sus4",
    "Neapolitan": "", "Italian": "7(no5)", "French": "7b5", "German": "7", "pedal": "(no3,no5)", "power": "5",
    "Tristan": "m7b5", "other": "(no3,no5)", "none": "",
}  # fmt: skip
"""Kind -> normal spelling of the quality. Source: MusicXML 4.0, kind-value, all 33 of them."""

ALSO = {"minor-major": "major-minor", "dominant-seventh": "dominant", "min": "minor", "maj": "major"} | {
    kind.lower(): kind for kind in KINDS
}
"""Kinds as some programs misspell them -> as the W3C spells them. Source: files seen in the wild."""

FUNCTIONAL = {
    "Neapolitan": "the Neapolitan sixth, read as a major triad over its third",
    "Italian": "the Italian sixth, read as a seventh chord without its fifth",
    "French": "the French sixth, read as a seventh chord with a flat fifth",
    "German": "the German sixth, read as a seventh chord",
    "Tristan": "the Tristan chord, read as the half-diminished chord on the same keys",
    "pedal": "a pedal point, read as its bass alone",
}
"""Kinds that name a function or an effect -> how they are read: by the keys that sound. Source: common practice."""

CHAINS: dict[int, tuple[str, ...]] = {
    1: ("1",), 3: ("b3", "3"), 5: ("b5", "5", "#5"), 7: ("bb7", "b7", "7"), 9: ("b9", "9", "#9"),
    11: ("11", "#11"), 13: ("b13", "13"),
}  # fmt: skip
"""Degree number -> its tones from low to high, a semitone apart."""
PLAIN = {1: "1", 3: "3", 5: "5", 7: "b7", 9: "9", 11: "11", 13: "13"}
"""Degree number -> the tone that an added degree without alteration means: those of a dominant chord."""

LOWERED_IN_MINOR = (3, 6, 7)
"""Degrees that a minor key has a half step lower than a major one."""


@dataclass(frozen=True, slots=True)
class Harmony:
    """A chord symbol in plain English letters, and what was doubtful about it ("" if nothing)."""

    symbol: str
    doubt: str = ""


def read_harmony(element: Element, key: Key, shift: int = 0) -> Harmony:
    """Return the chord symbol of a <harmony> in a key; `shift` is the fifths from written to sounding pitch.

    Of chords over chords the one that has the tones of both, or the first where that has no name.
    """
    several = stories(element)
    if len(several) < 2:
        return _one(element, key, shift)
    upper, lower = _one(several[0], key, shift), _one(several[1], key, shift)
    # Numerals one over the other are something else: V of II.
    named = len(several) == 2 and all(story.find("root") is not None for story in several)
    together = as_one(upper.symbol, lower.symbol) if named else None
    if together is None:
        return replace(upper, doubt="; ".join(filter(None, (upper.doubt, "a chord over a chord, only the first read"))))
    return Harmony(together, f"{upper.symbol} over {lower.symbol}, read as the one chord of their tones")


def _one(element: Element, key: Key, shift: int) -> Harmony:
    kind = element.find("kind")
    value = (kind.text or "").strip() if kind is not None else "major"
    value = value if value in KINDS else ALSO.get(value.lower(), value)
    words = (kind.get("text") or "").strip() if kind is not None else ""
    if value == "none" and element.find("root") is not None and words:
        # Some programs write the kind as its text.
        value, words = (words, "") if words in KINDS else ("other", words)
    if value == "none" or is_silence(words):
        return Harmony("N.C.")
    root = _root(element, key)
    if root is None:
        numeral = _function(element, key)
        if numeral is None:
            return Harmony("N.C.", "a chord without a root")
        root = numeral.root
        if kind is None or value == "other":
            return Harmony(f"{root.up(shift)}{numeral.quality}")
    quality, doubt = _quality(element, value, words)
    bass = _bass(element) or _inversion(element, value, root, quality)
    doubt = "; ".join(filter(None, (doubt, FUNCTIONAL.get(value, ""))))
    under = f"/{bass.up(shift)}" if bass and bass != root else ""
    return Harmony(f"{root.up(shift)}{quality}{under}", doubt)


def _note(element: Element | None, step: str, alter: str) -> NoteName | None:
    letter = text_of(element, step).upper()
    if len(letter) != 1 or letter not in LETTERS:
        return None
    sharps = max(-2, min(2, whole(text_of(element, alter))))
    return NoteName(LETTERS.index(letter) - 1 + 7 * sharps)


def _root(element: Element, key: Key) -> NoteName | None:
    named = _note(element.find("root"), "root-step", "root-alter")
    numeral = element.find("numeral")
    number = whole(text_of(numeral, "numeral-root"))
    if named or not 1 <= number <= 7:
        return named
    own = numeral.find("numeral-key") if numeral is not None else None
    minor, tonic = key.minor, key.tonic
    if own is not None:
        minor = "minor" in text_of(own, "numeral-mode")
        tonic = NoteName(max(-7, min(7, whole(text_of(own, "numeral-fifths")))) + (3 if minor else 0))
    sharps = max(-2, min(2, whole(text_of(numeral, "numeral-alter"))))
    lowered = minor and number in LOWERED_IN_MINOR
    return tonic.up(degree_fifths(number) + 7 * (sharps - lowered))


def _function(element: Element, key: Key) -> Chord | None:
    """Return the chord of a <function>, as older files have it: a Roman numeral in the key."""
    try:
        return read_symbol(symbol_of_number(text_of(element, "function"), str(key.tonic)))
    except (SymbolError, ValueError):
        return None


def _quality(element: Element, value: str, words: str) -> tuple[str, str]:
    """Return the quality in normal spelling and what was doubtful."""
    changes = element.findall("degree")
    worded = _worded(words)
    if worded is not None and (value not in KINDS or "alt" in words.lower() or (value == "other" and not changes)):
        return worded, "" if value in KINDS else f"the kind {value!r} is unknown, its text {words} was read"
    if value not in KINDS:
        return "", f"the kind {value[:40]!r} is unknown, read as a major triad"
    if value == "other" and not changes:
        return "", f"a chord of no known kind ({words or 'no text'}), read as a major triad"
    degrees, doubt = _changed(_degrees(KINDS[value]), changes)
    quality = quality_of(degrees)
    try:
        if _degrees(quality) == degrees:
            return quality, doubt
    except SymbolError:
        pass
    return KINDS[value], f"its changed degrees make no chord that has a name, read as {KINDS[value] or 'a triad'}"


def _worded(words: str) -> str | None:
    """Return the normal spelling of a kind's text, or None if it cannot be read."""
    try:
        chord = read_symbol(f"C{words}") if words else None
    except SymbolError:
        return None
    return chord.quality if chord and str(chord.root) == "C" and not chord.slash else None


def _degrees(quality: str) -> tuple[str, ...]:
    chord = read_symbol(f"C{quality}")
    return chord.degrees if chord else ()


def _changed(degrees: tuple[str, ...], changes: list[Element]) -> tuple[tuple[str, ...], str]:
    """Return the degrees after the added, altered and subtracted ones, in the order of the file."""
    found = set(degrees)
    doubts: list[str] = []
    for change in changes:
        value, alter = whole(text_of(change, "degree-value")), whole(text_of(change, "degree-alter"))
        number = {2: 9, 4: 11, 6: 13, 8: 1, 10: 3, 12: 5, 14: 7}.get(value, value)
        sort = text_of(change, "degree-type")
        present = _present(found, number)
        if number not in CHAINS:
            doubts.append(f"degree {value} is unknown")
            continue
        # Altering moves the tone that the kind brought; adding counts from a dominant chord's own tones.
        base = present[0] if sort == "alter" and present else PLAIN[number]
        at = (CHAINS[number].index(base) if base in CHAINS[number] else 0) + alter
        if sort in ("subtract", "alter"):
            found -= set(present)
        if sort == "subtract":
            continue
        if number == 5 and alter:
            # Some programs add the altered fifth where they mean it in place of the perfect one.
            found.discard("5")
        if 0 <= at < len(CHAINS[number]):
            found.add(CHAINS[number][at])
        else:
            doubts.append(f"degree {value} altered by {alter} is unknown")
    return _named(found), "; ".join(doubts)


def _present(found: set[str], number: int) -> list[str]:
    names = {*CHAINS.get(number, ()), *({"4"} if number == 11 else {"6"} if number == 13 else ())}
    return sorted(names & found)


def _named(found: set[str]) -> tuple[str, ...]:
    """Return degrees by the names they have in this chord: a fourth for the third, a sixth beside no seventh."""
    if not found & {"3", "b3", "4"} and "11" in found and "9" not in found:
        found = found - {"11"} | {"4"}
    if "13" in found and not found & {"b7", "7", "bb7"}:
        found = found - {"13"} | {"6"}
    if "6" in found and found & {"b7", "7"}:
        found = found - {"6"} | {"13"}
    return tuple(degree for degree in ORDER if degree in found | {"1"})


def _bass(element: Element) -> NoteName | None:
    return _note(element.find("bass"), "bass-step", "bass-alter")


def _inversion(element: Element, kind: str, root: NoteName, quality: str) -> NoteName | None:
    """Return the bass of an inversion that is only counted: 1 the third (or fourth), 2 the fifth, 3 the seventh."""
    number = whole(text_of(element, "inversion"), 1 if kind == "Neapolitan" else 0)
    families = {1: ("3", "b3", "4", "9"), 2: ("5", "b5", "#5"), 3: ("7", "b7", "bb7", "6"), 4: ("9", "b9", "#9")}
    chord = read_symbol(f"{root}{quality}") if number in families else None
    tone = chord.tone(*families[number]) if chord else None
    return tone.name if tone else None
