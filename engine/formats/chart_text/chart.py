"""A pasted chart while it is gathered, and the song file it becomes."""

from dataclasses import dataclass, field

from engine.chord.house_rules import CHOICES, DEFAULT_RULES, HouseRules
from engine.formats.chart_text.form import Part
from engine.formats.chart_text.headings import Head
from engine.formats.import_choices import Answers, Choice
from engine.song.roadmap import MOST_TIMES
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.song.writing import bare, quoted, roadmap_value

LONGEST_CUE = 40
"""Characters kept of words that become a section's name or cue (own choice)."""


@dataclass(slots=True)
class Chart:
    """A chart while it is gathered; `before` is the last bar's text, `proposed` says that its bars are a guess.

    `letter` is that of the last section where its name was a single one, `turns` are the key and meter that hold
    now, where they are not the song's; `form` is the order in words and its line, `ways` what waits for the next
    section, `unsung` the words that were left out, `waiting` the lines and values of turns that no
    bars have followed yet."""

    head: Head
    rules: HouseRules
    numbers: bool
    answers: Answers
    parts: list[Part] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    choices: list[Choice] = field(default_factory=list)
    before: str = ""
    proposed: bool = False
    letter: str = ""
    turns: dict[str, str] = field(default_factory=dict)
    form: str = ""
    form_line: int = 0
    ways: dict[str, str] = field(default_factory=dict)
    labelled_meter: bool = False
    unsung: list[str] = field(default_factory=list)
    waiting: dict[str, tuple[int, str]] = field(default_factory=dict)


def begin(chart: Chart, name: str, times: int = 1) -> Part:
    """Begin a section, with the ways that waited for it and in the key and meter that hold now."""
    part = Part(name, max(1, min(MOST_TIMES, times)), ways=dict(chart.ways), turns=dict(chart.turns))
    chart.ways.clear()
    chart.parts.append(part)
    chart.before = ""
    return part


def song_file(chart: Chart, parts: list[Part], order: list[str], key: str, name: str) -> tuple[str, dict[int, int]]:
    """Return the song file, and the pasted line of each of its lines of bars."""
    head = chart.head
    lines = [f"title  = {quoted(head.title or name or 'Pasted')}", f"key    = {quoted(key)}"]
    lines += [f'meter  = "{head.meter or "4/4"}"', f"tempo  = {_tempo(chart):g}"]
    lines += [f"feel   = {quoted(head.feel)}"] if head.feel == "swing" else []
    lines += [f"count  = {quoted(head.count)}"] if head.count else []
    lines += ["numbers = true"] if chart.numbers else []
    lines += [f"names  = {quoted(chart.rules.names)}"] if chart.rules.names != "english" else []
    names = [part.name for part in parts]
    lines += [f"roadmap = {roadmap_value(tuple(order), tuple(names))}"] if order != names else []
    house = {rule: getattr(chart.rules, rule) for rule in CHOICES if rule != "names"}
    house = {rule: said for rule, said in house.items() if said != getattr(DEFAULT_RULES, rule)}
    lines += ["", "[reading]", *(f"{rule} = {quoted(said)}" for rule, said in house.items())] if house else []
    places: dict[int, int] = {}
    for part in parts:
        lines += ["", f"[sections.{bare(part.name)}]"]
        lines += [f"cue = {quoted(part.cue)}"] if part.cue else []
        lines += [f"{way} = {quoted(value)}" for way, value in part.turns.items()]
        lines += ['until = "cue"'] if "until" in part.ways else []
        lines += ["pickup = 1"] if part.pickup else []
        lines.append('bars = """')
        for number, bars in part.bars:
            lines.append(bars.replace("\\", "/").replace('"', ""))
            places[len(lines)] = number
        lines.append('"""')
    return "\n".join(lines) + "\n", places


def _tempo(chart: Chart) -> float:
    if not chart.head.tempo:
        chart.doubts.append("no tempo is written, 120 was taken")
        return 120.0
    return min(FASTEST, max(SLOWEST, chart.head.tempo))
