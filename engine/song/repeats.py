"""Frames of repeats and endings over written bars, and what a band would ask about them.

`x3` means three times in all. `:||` without `||:` goes back to the bar after the last repeat, or to
the section's first. A single `[1.` ending is left out the second time.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from engine.song.model import Bar
from engine.song.section_draft import Draft, WrittenBar
from engine.song.signs import Sign


@dataclass(slots=True)
class _Frame:
    """A repeat being read: where it starts, its endings (sign, passes, closed) so far and the bars that close it."""

    start: int
    opens: Sign | None
    endings: list[tuple[Sign, tuple[int, ...], bool]] = field(default_factory=list)
    closers: list[int] = field(default_factory=list)
    times: int = 0


@dataclass(slots=True)
class _Framing:
    draft: Draft
    starts: set[int] = field(default_factory=set)
    times: dict[int, int] = field(default_factory=dict)
    endings: dict[int, tuple[int, ...]] = field(default_factory=dict)
    frame: _Frame | None = None
    passes: tuple[int, ...] = ()
    restart: int = 0


def framed(draft: Draft) -> tuple[Bar, ...]:
    """Return the bars of a draft with repeats and endings; faults go to the draft."""
    work = _Framing(draft, restart=1 if draft.pickup else 0)
    for number, bar in enumerate(draft.bars):
        _before(work, number, bar)
        work.endings[number] = work.passes
        _after(work, number, bar)
    if work.frame:
        _finish(work, len(draft.bars))
    return tuple(
        Bar(
            meter=bar.meter,
            events=bar.events,
            repeat_start=number in work.starts,
            repeat_times=work.times.get(number, 0),
            ending=work.endings[number],
            line=draft.at(bar.offset)[0],
        )
        for number, bar in enumerate(draft.bars)
    )


def _before(work: _Framing, number: int, bar: WrittenBar) -> None:
    if work.frame and (bar.opens or (work.frame.closers and not work.passes and not bar.ending)):
        _finish(work, number)
    if bar.opens:
        work.frame = _Frame(number, bar.opens)
    if not bar.ending:
        return
    if work.frame is None:
        work.frame = _Frame(min(work.restart, number), None)
    passes = _passes(bar.ending.text)
    if not passes:
        work.draft.fault(bar.ending, f"{bar.ending.text} names no pass", "write [1. or [1,2. or [1-3.")
    work.passes = passes or (1,)
    work.frame.endings.append((bar.ending, work.passes, False))


def _after(work: _Framing, number: int, bar: WrittenBar) -> None:
    if bar.closes:
        if work.frame is None:
            work.frame = _Frame(min(work.restart, number), None)
        _close(work, work.frame, number, bar)
    elif bar.double and work.passes and work.frame:
        _finish(work, number + 1)


def _close(work: _Framing, frame: _Frame, number: int, bar: WrittenBar) -> None:
    frame.closers.append(number)
    if bar.times and work.passes:
        work.draft.fault(
            bar.times, f"{bar.times.text} after an ending", "say it with the endings: [1,2. and [3. play three times"
        )
    elif bar.times:
        frame.times = int(bar.times.text[1:].strip())
    if work.passes:
        sign, passes, _ = frame.endings[-1]
        frame.endings[-1] = (sign, passes, True)
        work.passes = ()
    else:
        _finish(work, number + 1)


def _finish(work: _Framing, restart: int) -> None:
    """End the frame: check it and write its numbers down."""
    frame = work.frame
    work.frame, work.passes, work.restart = None, (), restart
    if frame is None:
        return
    if not frame.closers:
        _unclosed(work.draft, frame)
        return
    total = frame.times or 2
    if frame.endings:
        total = _check_endings(work.draft, frame)
    work.starts.add(frame.start)
    for closer in frame.closers:
        work.times[closer] = total


def _unclosed(draft: Draft, frame: _Frame) -> None:
    if frame.opens:
        draft.fault(frame.opens, "the repeat ||: is never closed", "write :|| after its last bar")
    elif frame.endings:
        sign = frame.endings[0][0]
        draft.fault(sign, f"{sign.text} stands in no repeat", "frame the bars with ||: and :||")


def _check_endings(draft: Draft, frame: _Frame) -> int:
    """Return how often the frame is played; fault what is missing, doubled or never reached."""
    seen: dict[int, Sign] = {}
    for sign, passes, _ in frame.endings:
        for number in passes:
            if number in seen:
                draft.fault(sign, f"ending {number} is written twice", "give each pass one ending")
            seen[number] = sign
    highest = max(seen)
    for number in range(1, highest):
        if number not in seen:
            draft.fault(seen[highest], f"ending {highest} without ending {number}", f"write [{number}. before it")
    for (_, _, closed), (sign, _, _) in zip(frame.endings, frame.endings[1:], strict=False):
        if not closed:
            draft.fault(sign, f"ending {sign.text} is never played", "close the ending before it with :||")
    last, _, closed = frame.endings[-1]
    if closed and len(frame.endings) > 1:
        draft.fault(last, f"the last ending {last.text} repeats as well", "end it with || so that the song goes on")
    # One ending alone: it is left out the last time.
    return highest + 1 if closed and len(frame.endings) == 1 else max(highest, 2)


def _passes(text: str) -> tuple[int, ...]:
    """Read `[1.`, `[1,2.`, `[1-3.`: the passes that play the ending, or () when it names none from 1 to 99."""
    found: set[int] = set()
    for part in text.strip("[]. \n").split(","):
        ends = re.fullmatch(r"\s*(\d{1,2})\s*(?:-\s*(\d{1,2})\s*)?", part)
        if not ends:
            return ()
        found.update(range(int(ends[1]), int(ends[2] or ends[1]) + 1))
    return tuple(sorted(found)) if found and min(found) >= 1 else ()


def opens_ending(bars: Sequence[Bar], place: int) -> bool:
    """Return whether an ending begins at the bar `place` (from 0): the sign is written once, at its first bar."""
    before = bars[place - 1] if place else None
    ending = bars[place].ending
    return bool(ending) and (before is None or before.ending != ending or before.repeat_times > 0)


def closes_ending(bars: Sequence[Bar], place: int) -> bool:
    """Return whether an ending ends with the bar `place` (from 0)."""
    after = bars[place + 1] if place + 1 < len(bars) else None
    bar = bars[place]
    return bool(bar.ending) and (after is None or after.ending != bar.ending or bar.repeat_times > 0)
