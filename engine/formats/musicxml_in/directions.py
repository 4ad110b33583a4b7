"""What is written over the measures: rehearsal marks, words, tempo, swing, segno, coda and jumps.

Source: MusicXML 4.0 (W3C), <direction> and <sound>; the words are common practice.
"""

import re
from fractions import Fraction
from xml.etree.ElementTree import Element

from engine.chord.symbol import is_silence
from engine.comp_names import COMP_NAMES, LEFT_HAND_NAMES
from engine.formats.chart_text.lines import section_label
from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.xml import text_of

LONGEST_WORDS = 60
"""Characters of words that are kept (own choice)."""

UNITS = {"whole": 4.0, "half": 2.0, "quarter": 1.0, "eighth": 0.5, "16th": 0.25}
"""Note value -> quarters."""

JUMPS = {
    "dacapo": r"\bd\.?\s?c\.?(?=\s|$|\)|al\b|al(?:coda|fine))|\bda ?capo\b",
    "dalsegno": r"\bd\.?\s?s\.?(?=\s|$|\)|al\b|al(?:coda|fine))|\bdal? ?segno\b",
}
MARK_WORDS = ("push", "stop", "ring", "hold")
"""Words that are marks of the chord they stand over."""
TO_CODA = r"\bto\s+(?:the\s+)?coda\b"
UNTIL = r"[(\[]?(?:vamp\s+)?(?:un)?till?\s+(?P<what>[^)\]]{1,40})[)\]]?"
COMP = r"comp:\s*(?P<name>.{1,40})"
LEFT_HAND = r"left hand:\s*(?P<name>.{1,40})"
FEEL = r"[(\[]?(?P<feel>swing|straight)(?:\s+feel)?[)\]]?"
"""What is written for the ways of the form, a vamp's end, rhythm and feel, as patterns. Source: common practice."""


def take_direction(measure: Measure, item: Element, here: Fraction) -> None:
    """Take a <direction> that stands `here`, in quarters from the measure's start."""
    for sort in item.findall("direction-type"):
        for sign in sort:
            if sign.tag == "rehearsal":
                measure.rehearsal = measure.rehearsal or _line(sign)
            elif sign.tag == "words" and is_silence(_line(sign)):
                _silence(measure, here)
            elif sign.tag == "words" and _line(sign).lower() in MARK_WORDS:
                measure.marks.append((here, _line(sign).lower()))
            elif sign.tag == "words":
                _words(measure, _line(sign))
            elif sign.tag in ("segno", "coda"):
                setattr(measure, sign.tag, sign.tag)
            elif sign.tag == "metronome":
                measure.tempo = measure.tempo or _metronome(sign)
    sound = item.find("sound")
    if sound is not None:
        take_sound(measure, sound)


def _silence(measure: Measure, here: Fraction) -> None:
    """Take a written N.C. as one, unless a chord stands in the same place."""
    if all(place != here for place, _ in measure.chords):
        measure.chords.append((here, "N.C."))


def _line(element: Element) -> str:
    """Return the text of an element on one line that can be printed."""
    words = " ".join((element.text or "").split())
    return "".join(sign for sign in words if sign.isprintable())[:LONGEST_WORDS]


def _metronome(sign: Element) -> float:
    unit = UNITS.get(text_of(sign, "beat-unit"))
    found = re.search(r"\d{1,3}(?:\.\d+)?", text_of(sign, "per-minute"))
    if not unit or not found:
        return 0.0
    dotted = 1.5 if sign.find("beat-unit-dot") is not None else 1.0
    return float(found[0]) * unit * dotted


def take_sound(measure: Measure, item: Element) -> None:
    """Take a <sound>: tempo, swing and the ways of the form."""
    try:
        tempo = float(item.get("tempo") or 0)
    except ValueError:
        tempo = 0.0
    if 5 <= tempo <= 1000:
        measure.tempo = tempo
    swing = item.find("swing")
    measure.swing = measure.swing or (swing is not None and swing.find("straight") is None)
    measure.segno = item.get("segno") or measure.segno
    measure.coda = item.get("coda") or measure.coda
    measure.to_coda = item.get("tocoda") or measure.to_coda
    measure.fine = measure.fine or item.get("fine") is not None
    if item.get("dacapo") == "yes":
        measure.jump = "dacapo"
    elif item.get("dalsegno"):
        measure.jump, measure.target = "dalsegno", item.get("dalsegno") or ""


def _words(measure: Measure, words: str) -> None:
    """Take written words: a jump where no sound says so, swing, or a remark."""
    jump = next((name for name, pattern in JUMPS.items() if re.search(pattern, words, re.IGNORECASE)), "")
    if jump:
        measure.jump = measure.jump or jump
    elif re.search(TO_CODA, words, re.IGNORECASE):
        measure.to_coda = measure.to_coda or "coda"
    elif re.fullmatch(r"[(\[]?(al\s+)?fine\.?[)\]]?", words, re.IGNORECASE):
        measure.fine = True
    elif re.fullmatch(r"[(\[]?coda\.?[)\]]?", words, re.IGNORECASE):
        measure.coda = measure.coda or "coda"
    elif (named := section_label(words)) and not re.fullmatch(r".?.?", named[0]):
        measure.section = measure.section or named[0]
    elif found := re.fullmatch(UNTIL, words, re.IGNORECASE):
        measure.until = measure.until or found["what"].strip()
    elif (found := re.fullmatch(COMP, words, re.IGNORECASE)) and found["name"].lower() in COMP_NAMES:
        measure.comp = measure.comp or found["name"].lower()
    elif (found := re.fullmatch(LEFT_HAND, words, re.IGNORECASE)) and found["name"].lower() in LEFT_HAND_NAMES:
        measure.left_hand = measure.left_hand or found["name"].lower()
    elif found := re.fullmatch(FEEL, words, re.IGNORECASE):
        measure.swing = measure.swing or found["feel"].lower() == "swing"
    elif words:
        measure.swing = measure.swing or bool(re.search(r"\b(swing|shuffle)\b", words, re.IGNORECASE))
        measure.words.append(words)
