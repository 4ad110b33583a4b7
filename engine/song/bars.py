"""Bars from signs: chords shared over the beats, `%`, beats with `/`, one-bar meters and marks.

Repeats and endings are framed afterwards (`engine.song.repeats`).
"""

from collections.abc import Callable
from dataclasses import replace
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate

from engine.errors import SymbolError
from engine.song.model import Event
from engine.song.roadmap import MOST_TIMES
from engine.song.section_draft import Draft, Struck, Word, WrittenBar
from engine.song.signs import LONGEST, MARKS, Sign, signs
from engine.theory.meter import Meter, beats_figure, shared_evenly
from engine.theory.meter import meter as read_meter

MOST_BARS = 2000
"""Bars in one section beyond which a file is taken for a slip. No published source: no song is so long."""

Time = tuple[Fraction, Fraction]
"""The beat on which a chord begins, and how many it lasts."""


def read_bars(text: str, draft: Draft) -> None:
    """Read the bars of `text` into `draft`; every fault is collected, none stops the reading."""
    for sign in signs(text):
        _STEPS[sign.kind](draft, sign, text)
    _end_bar(draft, Sign("bar", "", len(text)), text)
    for last, what in ((draft.opens, "a repeat opens"), (draft.ending, "an ending begins")):
        if last:
            draft.fault(last, f"{what} and no bar follows", "write its bars or take the sign out")


def _bar_line(draft: Draft, sign: Sign, text: str) -> None:
    _end_bar(draft, sign, text)
    if sign.kind == "open":
        if draft.opens:
            draft.fault(sign, "two repeats open at the same bar", "take one ||: out")
        draft.opens = sign
    draft.line_sign = sign


def _ending(draft: Draft, sign: Sign, text: str) -> None:
    _end_bar(draft, replace(sign, kind="bar"), text)
    if draft.ending:
        draft.fault(sign, "two endings begin at the same bar", "write [1,2. for an ending of two passes")
    draft.ending = sign
    draft.line_sign = None


def _end_bar(draft: Draft, sign: Sign, text: str) -> None:
    if draft.struck or draft.again or draft.bar_meter:
        _close_bar(draft, sign)
    elif sign.kind in ("close", "double"):
        _mark_last(draft, sign)
    elif draft.line_sign and sign.text and sign.kind == "bar" and draft.line_sign.kind in ("bar", "double", "open"):
        between = text[draft.line_sign.offset : sign.offset]
        if "\n" not in between and sign.text == "|":
            draft.fault(sign, "a bar with nothing in it", "write % for the bar before again, or N.C. for no chord")


def _mark_last(draft: Draft, sign: Sign) -> None:
    """Give a bar line without a bar before it, as in `| :||`, to the last bar."""
    if draft.bars and not draft.ending and not draft.opens:
        last = draft.bars[-1]
        closes = sign if sign.kind == "close" else last.closes
        draft.bars[-1] = replace(last, closes=closes, double=last.double or sign.kind == "double")
    elif sign.kind == "close":
        draft.fault(sign, "a repeat closes and no bar stands before it", "write its bars or take :|| out")


def _close_bar(draft: Draft, sign: Sign) -> None:
    meter = draft.bar_meter or draft.meter
    first = draft.struck[0].sign if draft.struck else draft.again
    offset = first.offset if first else sign.offset
    length = draft.pickup if draft.pickup and not draft.bars else _whole(meter)
    if draft.again and draft.struck:
        draft.fault(draft.again, "% beside other chords", "let % stand alone in its bar")
        events: tuple[Event, ...] = ()
    elif draft.again:
        events = _bar_again(draft, draft.again, meter)
    elif not draft.struck:
        draft.fault(sign, f"a bar of {meter} with nothing in it", "write a chord, % or N.C. in it")
        events = ()
    else:
        events = _events(draft, meter, length)
    if len(draft.bars) < MOST_BARS:
        closes = sign if sign.kind == "close" else None
        double = sign.kind in ("double", "open")
        draft.bars.append(WrittenBar(meter, events, offset, draft.opens, draft.ending, closes, None, double=double))
    elif not draft.full:
        draft.full = True
        draft.fault(offset, f"more than {MOST_BARS} bars in one section", "make sections of it")
    draft.struck, draft.again, draft.bar_meter, draft.opens, draft.ending = [], None, None, None, None


def _bar_again(draft: Draft, sign: Sign, meter: Meter) -> tuple[Event, ...]:
    if not draft.bars or (draft.pickup and len(draft.bars) == 1):
        draft.fault(sign, "% and no bar stands before it in this section", "write the chords out")
        return ()
    before = draft.bars[-1]
    if before.meter.beats != meter.beats:
        draft.fault(sign, f"% in {meter}, and the bar before has {before.meter}", "write the chords out")
        return ()
    line, column = draft.at(sign.offset)
    return tuple(replace(event, line=line, column=column) for event in before.events)


def _events(draft: Draft, meter: Meter, length: Fraction) -> tuple[Event, ...]:
    events: list[Event] = []
    for struck, time in zip(draft.struck, _times_of(draft, meter, length), strict=True):
        if struck.sign.kind == "beat" and not struck.mark and events:
            events[-1] = replace(events[-1], beats=events[-1].beats + time[1])
        else:
            event = _event(draft, struck, events, time)
            if event:
                events.append(event)
    return tuple(events)


def _event(draft: Draft, struck: Struck, before: list[Event], time: Time) -> Event | None:
    """Read one struck chord."""
    line, column = draft.at(struck.sign.offset)
    if struck.sign.kind == "beat":
        last = before[-1] if before else _last_event(draft)
        if not last:
            draft.fault(struck.sign, "/ and no chord before it", "begin the bar with a chord or N.C.")
            return None
        return Event(*time, last.symbol, last.chord, struck.mark, line, column)
    try:
        symbol, chord = draft.read(struck.sign.text)
        draft.words.append(Word(line, column, struck.sign.text, chord))
    except SymbolError as error:
        word = struck.sign.text if len(struck.sign.text) <= LONGEST else f"{struck.sign.text[:LONGEST]}..."
        draft.fault_at((line, column), f"{word} is no chord symbol", error.hint)
        # The bar keeps its beats, so that only the symbol is reported.
        symbol, chord = struck.sign.text, None
    return Event(*time, symbol, chord, struck.mark, line, column)


def _last_event(draft: Draft) -> Event | None:
    return next((bar.events[-1] for bar in reversed(draft.bars) if bar.events), None)


def _times_of(draft: Draft, meter: Meter, length: Fraction) -> tuple[Time, ...]:
    """Return the time of every chord and slash; a bar that does not add up is shared evenly all the same."""
    struck = draft.struck
    count = len(struck)
    if any(item.beats for item in struck):
        return _times_from(meter.beats - length + 1, _given_beats(draft, meter, length))
    slashes = any(item.sign.kind == "beat" for item in struck)
    if not _adds_up(meter, length, count, slashes):
        symbols = [] if slashes else [item.sign.text for item in struck]
        draft.fault(struck[0].sign, *_sum_fault(count, symbols, meter, length))
    return _even_times(meter, length, count)


# A chart has few kinds of bars and many bars; fractions are slow.


@lru_cache(maxsize=256)
def _whole(meter: Meter) -> Fraction:
    return Fraction(meter.beats)


@lru_cache(maxsize=1024)
def _adds_up(meter: Meter, length: Fraction, count: int, slashes: bool) -> bool:
    thirds = meter.compound and count == length * 3
    return count == length or thirds or (not slashes and shared_evenly(count, length))


@lru_cache(maxsize=1024)
def _even_times(meter: Meter, length: Fraction, count: int) -> tuple[Time, ...]:
    return _times_from(meter.beats - length + 1, [length / count] * count)


def _times_from(beat: Fraction, shares: list[Fraction]) -> tuple[Time, ...]:
    return tuple(zip(accumulate(shares, initial=beat), shares, strict=False))


def _given_beats(draft: Draft, meter: Meter, length: Fraction) -> list[Fraction]:
    shares = [item.beats or Fraction(1) for item in draft.struck]
    if sum(shares) != length:
        place = draft.struck[0].sign
        found = f"the bar adds up to {_number(Fraction(sum(shares)))}, {meter} has {_number(length)}"
        draft.fault(place, found, "mend the beats in brackets; a chord or / without them has one beat")
    return shares


def _sum_fault(count: int, symbols: list[str], meter: Meter, length: Fraction) -> tuple[str, str]:
    """Return what is wrong and how to mend it; `symbols` are the chords of a bar without slashes."""
    owner = f"the pickup has {_number(length)}" if length != meter.beats else f"{meter} has {_number(length)}"
    if symbols:
        example = _with_beats(symbols, length * 3 if meter.compound else length)
        return f"{count} chords do not share the bar evenly, {owner}", f"show their beats, as in {example}"
    missing = length - count
    mend = f"add {_number(missing, '/')}" if missing > 0 else f"take {_number(-missing)} out or add a bar line"
    return f"the bar adds up to {_number(Fraction(count))}, {owner}", mend


def _with_beats(symbols: list[str], places: Fraction) -> str:
    """Return chords with the slashes that fill a bar of so many places; too many chords with beats in brackets."""
    if len(symbols) < places:
        first, *others = symbols
        return " ".join([first, *"/" * int(places - len(symbols)), *others])
    return f"{symbols[0]}(0.5 beats) {symbols[1]}(0.5 beats)"


def _number(beats: Fraction, unit: str = "beat") -> str:
    figure = beats_figure(beats)
    return f"{figure} {unit}" if beats == 1 or unit == "/" else f"{figure} {unit}s"


def _chord(draft: Draft, sign: Sign, _text: str) -> None:
    draft.struck.append(Struck(sign))


def _again(draft: Draft, sign: Sign, _text: str) -> None:
    if draft.again:
        draft.fault(sign, "% twice in one bar", "let % stand alone in its bar")
    draft.again = sign


def _meter(draft: Draft, sign: Sign, _text: str) -> None:
    if draft.struck or draft.again or draft.bar_meter:
        draft.fault(sign, f"({sign.text}) inside a bar", "write the meter at the beginning of its bar")
        return
    try:
        draft.bar_meter = read_meter(sign.text)
    except ValueError:
        draft.fault(sign, f"({sign.text}) is no meter", "write it as (3/4) or (6/8)")


def _mark(draft: Draft, sign: Sign, _text: str) -> None:
    if not draft.struck:
        draft.fault(sign, f"({sign.text}) with no chord before it", "write it after the chord it belongs to")
        return
    # Spaced after beats, the word belongs to the chord that lasts; glued to a beat, the chord is struck again there.
    chord = draft.struck[-1]
    if not sign.glued:
        chord = next((item for item in reversed(draft.struck) if item.sign.kind == "chord"), chord)
    if chord.mark:
        draft.fault(sign, f"({sign.text}) after ({chord.mark})", "one word for a chord: keep the one that matters")
    chord.mark = sign.text


def _beats(draft: Draft, sign: Sign, _text: str) -> None:
    try:
        beats = Fraction(sign.text.replace(" ", ""))
    except (ValueError, ZeroDivisionError):
        beats = Fraction(0)
    if beats <= 0 or not draft.struck:
        draft.fault(sign, f"({sign.text} beats)", "write it after a chord, as in C(1.5 beats)")
        return
    draft.struck[-1].beats = beats


def _times(draft: Draft, sign: Sign, _text: str) -> None:
    last = draft.bars[-1] if draft.bars else None
    number = int(sign.text[1:].strip()[:4])
    if draft.struck or draft.again or last is None or not last.closes or last.times:
        draft.fault(sign, f"{sign.text} without a repeat before it", "write it straight after :||")
    elif not 1 <= number <= MOST_TIMES:
        draft.fault(sign, sign.text, f"a repeat is played 1 to {MOST_TIMES} times in all")
    else:
        draft.bars[-1] = replace(last, times=sign)


def _bracket(draft: Draft, sign: Sign, _text: str) -> None:
    word = sign.text[1:-1].strip().lower()
    near = get_close_matches(word, MARKS, n=1)
    hint = f"did you mean ({near[0]})?" if near else "in brackets go a meter, or push, stop, ring, hold"
    draft.fault(sign, f"{sign.text} stands alone", hint)


def _stray(draft: Draft, sign: Sign, _text: str) -> None:
    hint = "an ending is written [1. or [2." if sign.text == "[" else "take it out"
    draft.fault(sign, f"{sign.text} belongs to no sign", hint)


_STEPS: dict[str, Callable[[Draft, Sign, str], None]] = {
    "bar": _bar_line, "double": _bar_line, "open": _bar_line, "close": _bar_line, "ending": _ending, "times": _times,
    "again": _again, "beat": _chord, "chord": _chord, "meter": _meter, "beats": _beats, "mark": _mark,
    "bracket": _bracket, "stray": _stray,
}  # fmt: skip
