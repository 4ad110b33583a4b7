"""A line of chords taken into a chart: bars with what stands before them, or bars proposed for chords over words."""

import re
from dataclasses import replace

from engine.formats.chart_text.bar_numbers import Counting, closing, uncounted
from engine.formats.chart_text.bars import LETTER, Mending, are_bars, mended, opens_with_bar
from engine.formats.chart_text.chart import LONGEST_CUE, Chart, begin
from engine.formats.chart_text.form import Part, take_ways
from engine.formats.chart_text.key_changes import meter_now
from engine.formats.chart_text.lines import Line, section_label
from engine.formats.import_choices import Choice

MOST_A_BAR = 4
"""Chords in a bar that is proposed (own choice)."""

_FIRST_BAR = re.compile(r":?\|+:?|\[\d")
_NAME_METER = re.compile(r"(?P<name>.+?)[\s(:]+(?P<meter>\d{1,2}/(?:2|4|8|16))\)?:?")


def take_bars(chart: Chart, line: Line) -> None:
    """Take a line of bars, and of what stands before its first bar line a section, its meter or a pickup."""
    if chart.parts and chart.parts[-1].turns != chart.turns and not section_label(line.text.split("|")[0]):
        begin(chart, chart.parts[-1].name)
    text = _uncounted(chart, line)
    first = _FIRST_BAR.search(text)
    before = _own_meter(chart, text[: first.start()].strip() if first else "")
    bars = text[first.start() :] if first else text
    later = bool(chart.parts and chart.parts[-1].bars)
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, line.number, chart.before)
    named, opening = _name_and_bar(before, mending)
    if opening:
        before, bars = named, f"| {opening} {bars}"
    next_letter = bool(chart.letter) and before == chr(ord(chart.letter) + 1)
    if not next_letter and opens_with_bar(before, bars, later, mending):
        before, bars = "", f"| {before} {bars}"
    label, pickup = _label(chart, before, line.number)
    if label:
        begin(chart, *label)
        chart.letter = before if len(before) == 1 else ""
    elif not chart.parts:
        begin(chart, "A")
    part = chart.parts[-1]
    if before:
        take_ways(part, re.sub(r"\bcoda\b", "", before, flags=re.IGNORECASE))
    mending.before = chart.before
    if pickup and part.bars:
        chart.doubts.append(f"line {line.number}: {pickup} before the first bar line was left out")
    elif pickup:
        bars = f"{_opening(chart, part, pickup, line.number)} {bars}"
    text = mended(bars, mending)
    chart.before = mending.before
    chart.doubts += mending.doubts
    if mending.words and not take_ways(part, mending.words):
        chart.doubts.append(f"line {line.number}: the words {mending.words[:40]!r} were left out")
    if text.strip():
        part.bars.append((line.number, text))
        part.counting.after(text)


def _own_meter(chart: Chart, before: str) -> str:
    """Take the meter from a section's name, as in `B 7/8 | Am |`; it holds for that section. Return the name."""
    found = _NAME_METER.fullmatch(before)
    if found and section_label(found["name"]):
        chart.turns["meter"] = found["meter"]
        if found["meter"] == (chart.head.meter or "4/4"):
            chart.turns.pop("meter")
        chart.labelled_meter = True
        return found["name"].strip()
    if chart.labelled_meter and section_label(before):
        chart.turns.pop("meter", None)
        chart.labelled_meter = False
    return before


def _uncounted(chart: Chart, line: Line) -> str:
    """Return the text of a line of bars without bar numbers, and with endings as signs."""
    part = chart.parts[-1] if chart.parts else None
    place = part.counting if part else Counting()
    ending = place.ending
    text = uncounted(line.text, chart.numbers, place)
    for told in place.told:
        if not any(doubt.endswith(told) for doubt in chart.doubts):
            chart.doubts.append(f"line {line.number}: {told}")
    if place.told and not part:
        part = begin(chart, "A")
        part.counting = place
    place.told.clear()
    if part and place.unclosed and place.ending == ending + 1 > 1 and part.bars:
        number, before = part.bars[-1]
        part.bars[-1] = (number, closing(before))
    return text


def _opening(chart: Chart, part: Part, chord: str, number: int) -> str:
    """Return the first bar that a chord before the first bar line makes: a pickup, or a bar of its own."""
    part.pickup = chart.answers.opening == "pickup"
    ways = ("a pickup of one beat", "a bar of its own")
    now, instead = ways if part.pickup else ways[::-1]
    doubt = f"line {number}: {chord} before the first bar line, read as {now}"
    other = replace(chart.answers, opening="bar" if part.pickup else "pickup")
    chart.doubts.append(doubt)
    chart.choices.append(Choice(doubt, instead, other))
    return chord if part.pickup else f"| {chord}"


def _name_and_bar(before: str, mending: Mending) -> tuple[str, str]:
    """Return a section's name and the bar that follows it, as in `A: Cm7 | F7`, or all of it and no bar."""
    words = before.split()
    for at in range(1, len(words)):
        name, bar = " ".join(words[:at]), " ".join(words[at:])
        if section_label(name) and not LETTER.fullmatch(name) and are_bars(bar, mending):
            return name, bar
    return before, ""


def _label(chart: Chart, before: str, number: int) -> tuple[tuple[str, int] | None, str]:
    """Return (section, pickup chord) of what stands before the first bar line."""
    words = re.sub(r"^(?:sign|segno)\b|\bto coda\b", "", before, flags=re.IGNORECASE).strip()
    if not words:
        return None, ""
    chord = words.strip("() ")
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, number)
    if words.startswith("(") and mending.reads(chord):
        return None, chord
    if mending.reads(chord) and not LETTER.fullmatch(words):
        return None, chord
    if section := section_label(words):
        return section, ""
    return (" ".join(words.strip(" :[]").split())[:LONGEST_CUE] or "A", 1), ""


def propose_bars(chart: Chart, line: Line) -> None:
    """Make bars of a line of chords over words."""
    part = chart.parts[-1] if chart.parts else begin(chart, "A")
    if part.turns != chart.turns:
        part = begin(chart, part.name)
    chart.proposed = True
    words = line.text.split()
    each = max(1, min(MOST_A_BAR, chart.answers.per_bar))
    bars = [" ".join(words[at : at + each]) for at in range(0, len(words), each)]
    mending = Mending(meter_now(chart), chart.rules, chart.numbers, line.number)
    text = mended(f"| {' | '.join(bars)} |", mending)
    chart.doubts += mending.doubts
    part.bars.append((line.number, text))
