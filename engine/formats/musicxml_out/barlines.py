"""Bar lines with repeat signs and endings. Source: MusicXML 4.0 (W3C), <barline>."""

from xml.etree.ElementTree import Element, SubElement

from engine.formats.musicxml_out.measures import Measure


def add_left(element: Element, measure: Measure) -> None:
    """Append the bar line before a measure where it is no plain one."""
    if not (measure.repeat or measure.opens):
        return
    line = SubElement(element, "barline", {"location": "left"})
    if measure.repeat:
        SubElement(line, "bar-style").text = "heavy-light"
    if measure.opens:
        _ending(line, measure, "start")
    if measure.repeat:
        SubElement(line, "repeat", {"direction": "forward"})


def add_right(element: Element, measure: Measure, last: bool) -> None:
    """Append the bar line after a measure where it is no plain one; `last` ends a song."""
    if not (measure.times or measure.closes or measure.last):
        return
    line = SubElement(element, "barline", {"location": "right"})
    SubElement(line, "bar-style").text = "light-heavy" if measure.times or last else "light-light"
    if measure.closes:
        _ending(line, measure, "stop" if measure.times else "discontinue")
    if measure.times:
        about = {"direction": "backward"} | ({"times": str(measure.times)} if measure.times > 2 else {})
        SubElement(line, "repeat", about)


def _ending(line: Element, measure: Measure, way: str) -> None:
    numbers = ",".join(map(str, measure.ending))
    SubElement(line, "ending", {"number": numbers, "type": way}).text = f"{numbers}." if way == "start" else None
