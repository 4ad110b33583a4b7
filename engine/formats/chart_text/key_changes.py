"""Headings on the way: a key or a meter that is not the song's, and holds from there on."""

from engine.formats.chart_text.chart import Chart
from engine.formats.chart_text.lines import Line
from engine.theory.meter import Meter
from engine.theory.meter import meter as read_meter


def turn(chart: Chart, line: Line) -> None:
    """Take a key or a meter that holds from the section that begins here, or that comes next."""
    songs = {"key": chart.head.key, "meter": chart.head.meter}
    for way, value in line.turns:
        chart.turns.pop(way, None)
        if value == songs[way]:
            continue
        if chart.parts:
            unused(chart, way)
            chart.waiting[way] = line.number, value
            chart.turns[way] = value
        else:
            chart.doubts.append(f"line {line.number}: {way} {value} was left out, {songs[way]} stands before it")
    if chart.parts and not chart.parts[-1].bars:
        chart.parts[-1].turns = dict(chart.turns)


def unused(chart: Chart, *ways: str) -> None:
    """Say of keys and meters that no bar came after them."""
    for way in ways or tuple(chart.waiting):
        if way in chart.waiting:
            number, value = chart.waiting.pop(way)
            chart.doubts.append(f"line {number}: {way} {value} was left out, no bars follow it")


def meter_now(chart: Chart) -> Meter:
    """Return the meter of the section that is gathered now."""
    return read_meter(chart.turns.get("meter") or chart.head.meter or "4/4")
