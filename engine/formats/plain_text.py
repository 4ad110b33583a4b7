"""The printed sheets as plain text, for any printer: at most 80 columns, a form feed between pages."""

from collections.abc import Sequence
from textwrap import wrap

from engine.formats.sheets.cue_sheet import SHIFTS, Sheet
from engine.formats.sheets.roadmap import (
    bar_words,
    beginning,
    ending,
    legs,
    pickup_words,
    played_sections,
    told_meters,
)
from engine.planning.model import PlannedNote, PlannedStep
from engine.planning.move_words import moves_in_words
from engine.practice.ranking import HardShift, rank
from engine.practice.report import time_words
from engine.song.groove import left_hand_words
from engine.song.length import length_words
from engine.song.model import Bar, Section, SetList, Song
from engine.song.repeats import opens_ending
from engine.song.section_tempo import tempo_of
from engine.song.tune import sung_range
from engine.song.unfolding import unfold
from engine.song.writing import pitch, write_events

WIDTH = 80
NEW_PAGE = "\f"


def cue_text(sheet: Sheet) -> str:
    """Return a song's cue sheet."""
    song = sheet.song
    written = f" (written for {sheet.horn})" if sheet.horn else ""
    key = f"key {song.key}{written}"
    head = [_ends(song.title.upper(), key), *_wrapped("", _facts(song)), *_remarks(sheet)]
    sections = played_sections(song)
    meters = told_meters(sections, song.meter)
    chart = [
        line
        for section, told in zip(sections, meters, strict=True)
        for line in ("", *_heading(section, song), *_chart(section.bars, told))
    ]
    hard = rank([(song, sheet.plan)]).shifts[:SHIFTS] if sheet.plan is not None else ()
    shifts = ["", "Hardest shifts", *(line for one in hard for line in _shift(one))] if hard else []
    foot = ["", _ends(sheet.place, sheet.after)] if sheet.place or sheet.after else []
    return "\n".join([*head, *chart, *shifts, *foot]) + "\n"


def set_text(set_list: SetList, songs: Sequence[Song]) -> str:
    """Return the set list: number, title, key, tempo and note of each song."""
    when = ", ".join(word for word in (set_list.date, set_list.place) if word)
    lines = [*_wrapped("", set_list.title.upper()), *_wrapped("", when), ""]
    for number, song in zip(set_list.numbers_of(len(songs)), songs, strict=True):
        lines.append(_ends(f"{number:>3}  {song.title}", f"{song.key:<4} {song.tempo:>5g}"))
        lines += _wrapped("", song.note_line, "     ")
    return "\n".join(lines) + "\n"


def bundle_text(set_list: SetList, found: Sequence[Sheet]) -> str:
    """Return the set list and every song's cue sheet, each on a page of its own."""
    pages = [set_text(set_list, [sheet.song for sheet in found]), *map(cue_text, found)]
    return NEW_PAGE.join(pages)


def _facts(song: Song) -> str:
    beat = "dotted quarter" if song.meter.compound else "quarter"
    count = "no count" if song.count == "none" else f"count {song.count}"
    return f"{song.meter}, {beat} = {song.tempo:g}, {song.feel}, {count}, {length_words(song, unfold(song))}"


def _remarks(sheet: Sheet) -> list[str]:
    song = sheet.song
    lines = _wrapped("starts", beginning(song)) + _wrapped("ends", ending(song))
    sung = sung_range(song)
    if sung and not sheet.horn:
        low, high = (pitch(key, song.key) for key in sung)
        lines += _wrapped("sung", f"{low} to {high}")
    lines += [line for words in left_hand_words(song) for line in _wrapped("played", words)]
    lines += _wrapped("note", song.note_line)
    found = legs(unfold(song))
    return lines + _wrapped(
        "roadmap", ", ".join(f"{leg.name} {f'{leg.times} x ' if leg.times > 1 else ''}{leg.bars}" for leg in found)
    )


def _heading(section: Section, song: Song) -> list[str]:
    told = [section.cue] if section.cue else []
    told += [f"tempo {tempo_of(song, section):g}"] if section.pace != 1 else []
    told += [f"in {section.key}"] if section.key else []
    told += [f"till {section.until}"] if section.until else []
    told += [pickup_words(section)] if section.pickup else []
    told += left_hand_words(section)
    words = f" ({'; '.join(told)})" if told else ""
    return wrap(section.name + words, WIDTH, subsequent_indent="  ")


def _chart(bars: tuple[Bar, ...], meters: Sequence[str]) -> list[str]:
    """Return the bars, four on a line with bar under bar, or two, or one, where they are too wide for that."""
    for count in (4, 2, 1):
        texts = [_bar(bars, meters[place], place, place % count == 0) for place in range(len(bars))]
        rows = [texts[start : start + count] for start in range(0, len(texts), count)]
        widths = [max((len(row[at]) for row in rows if at < len(row)), default=0) for at in range(count)]
        lines = ["  " + "".join(text.ljust(width) for text, width in zip(row, widths, strict=False)) for row in rows]
        lines = [line.rstrip() + _close(bars, min((at + 1) * count, len(bars)) - 1) for at, line in enumerate(lines)]
        if count == 1 or max(map(len, lines), default=0) <= WIDTH:
            return [piece for line in lines for piece in wrap(line, WIDTH, subsequent_indent="    ", initial_indent="")]
    return []


def _bar(bars: tuple[Bar, ...], told: str, place: int, first: bool) -> str:
    """Return a bar with what opens it and the meter that is `told`, not its closing line; the bar before closes here
    unless it ends a line."""
    bar, before = bars[place], bars[place - 1] if place else None
    if before is not None and before.repeat_times and not first:
        start = _close(bars, place - 1).strip()
    else:
        start = "||:" if bar.repeat_start else "|"
    ending = f"[{','.join(map(str, bar.ending))}. " if opens_ending(bars, place) else ""
    meter = f"({told}) " if told else ""
    return f"{start} {ending}{meter}{write_events(bar)} "


def _close(bars: tuple[Bar, ...], place: int) -> str:
    bar = bars[place]
    if bar.repeat_times:
        return " :||" + (f" x{bar.repeat_times}" if bar.repeat_times > 2 and not bar.ending else "")
    return " ||" if place == len(bars) - 1 else " |"


def _shift(one: HardShift) -> list[str]:
    before, after = one.steps
    place = one.tightest
    lines = _wrapped("", f"{' > '.join(place.symbols)}  {bar_words(place.section, place.bar)}: {time_words(one)}", "  ")
    for hand, name in (("left", "LH"), ("right", "RH")):
        if _notes(before, hand) or _notes(after, hand):
            words = f"{name}  {_grip(before, hand)} > {_grip(after, hand)}: {moves_in_words(after, hand)}"
            lines += _wrapped("", words, "      ")
    return lines


def _notes(step: PlannedStep, hand: str) -> tuple[PlannedNote, ...]:
    return step.left if hand == "left" else step.right


def _grip(step: PlannedStep, hand: str) -> str:
    return " ".join(f"{note.finger}:{note.name}" for note in _notes(step, hand)) or "rests"


def _ends(left: str, right: str) -> str:
    """Return one line with a text at each end, or two lines where they do not fit beside each other."""
    gap = WIDTH - len(left) - len(right)
    return f"{left}{' ' * gap}{right}".rstrip() if gap >= 2 else f"{left[:WIDTH]}\n{right[:WIDTH]}"


def _wrapped(label: str, words: str, indent: str = "") -> list[str]:
    start = f"{label:<9}" if label else indent
    later = " " * 9 if label else indent + "  "
    return wrap(start + words, WIDTH, subsequent_indent=later) if words else []
