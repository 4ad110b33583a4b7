"""What stands over a measure: sections and their words, tempo, feel, titles of songs, chord symbols.

Source: MusicXML 4.0 (W3C), <direction>, <sound> and <harmony>.
"""

from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.harmony import harmony
from engine.planning.model import PlannedStep
from engine.song.model import Step
from engine.theory.meter import Meter

TITLE_SIZE = "16"
"""Points of a song's title inside a set (own choice)."""


def printable(text: str) -> str:
    """Return a text without what XML cannot hold. Source: XML 1.0 (W3C), Char."""
    return "".join(
        sign
        for sign in text
        if sign in "\t\n\r" or " " <= sign < "\ud800" or "\ue000" <= sign < "\ufffe" or sign > "\uffff"
    )


def add_words(measure: Element, words: str) -> Element:
    """Append words above the staff and return their direction."""
    found = SubElement(measure, "direction", {"placement": "above"})
    SubElement(SubElement(found, "direction-type"), "words").text = printable(words)
    return found


def add_title(measure: Element, title: str) -> None:
    """Append a song's title where it begins inside a set."""
    add_words(measure, title).find("direction-type/words").attrib.update(  # type: ignore[union-attr]
        {"font-size": TITLE_SIZE, "font-weight": "bold"}
    )


def add_section(measure: Element, first: Step) -> None:
    """Append a section's name as a rehearsal mark, then what is said about it."""
    mark = SubElement(measure, "direction", {"placement": "above"})
    SubElement(SubElement(mark, "direction-type"), "rehearsal").text = printable(first.section)
    for words in filter(None, (first.cue, first.until and f"till {first.until}")):
        add_words(measure, words)


def add_tempo(measure: Element, tempo: float, meter: Meter, feel: str = "") -> None:
    """Append a metronome mark, a feel in front of it; the tempo for programs that play the score counts quarters,
    whatever the mark counts."""
    found = add_words(measure, feel) if feel else SubElement(measure, "direction", {"placement": "above"})
    mark = SubElement(SubElement(found, "direction-type"), "metronome")
    SubElement(mark, "beat-unit").text = "quarter"
    if meter.compound:
        SubElement(mark, "beat-unit-dot")
    SubElement(mark, "per-minute").text = f"{tempo:g}"
    sound = SubElement(found, "sound", {"tempo": f"{tempo * (1.5 if meter.compound else 1):g}"})
    if feel:
        _swing(sound, feel)


def _swing(sound: Element, feel: str) -> None:
    """Say a feel to programs that play the score: swung eighths are as 2 to 1."""
    swing = SubElement(sound, "swing")
    if feel == "straight":
        SubElement(swing, "straight")
        return
    for name, value in (("first", "2"), ("second", "1"), ("swing-type", "eighth")):
        SubElement(swing, name).text = value


def add_symbol(measure: Element, one: PlannedStep) -> None:
    """Append a step's chord symbol, and the word that it comes early, for which there is no standard sign."""
    measure.append(harmony(printable(one.step.symbol), one.step.chord))
    if one.step.mark == "push":
        add_words(measure, one.step.mark)
