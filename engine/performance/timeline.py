"""A performance as a value, and what of it is due: `now` is passed in, nothing here looks at a clock.

A loop is played again until it is left (a practice loop, a vamp until its cue). Each pass starts a whole loop length
after the one before, counted from the beginning, so that no pass is late because of another.
"""

from dataclasses import dataclass, replace

from engine.performance.events import Timed

PAUSE = 1.0
"""Seconds of delay that are no lateness any more. Source: own choice."""

SAME = 1e-6
"""Seconds within which two moments that were added up in different ways are the same."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A moment that the screen wants to know: `kind` is beat (value: strength of a click), step (value: its index),
    pass (value: how often a loop has begun), rung (value: place in a tempo ladder) or end."""

    seconds: float
    kind: str
    value: int = 0


@dataclass(frozen=True, slots=True)
class Loop:
    """The stretch from `start` to `end` (seconds) is played until it is left."""

    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Performance:
    """Messages and marks in the order of time, loops that do not overlap, and the length of one pass in seconds."""

    messages: tuple[Timed, ...] = ()
    marks: tuple[Mark, ...] = ()
    loops: tuple[Loop, ...] = ()
    seconds: float = 0.0


@dataclass(frozen=True, slots=True)
class Playing:
    """A performance under way: `began` on the caller's clock, moved later by every pass of a loop.

    `message`, `mark` and `loop` are the indexes of what comes next, `passes` how often the next loop has been played.
    """

    performance: Performance
    began: float
    message: int = 0
    mark: int = 0
    loop: int = 0
    passes: int = 0

    @property
    def over(self) -> bool:
        """True when nothing is due any more."""
        return next_due(self) is None


def next_due(playing: Playing) -> float | None:
    """Return when something is due next, on the caller's clock; None when all has been played."""
    performance = playing.performance
    times = [messages[0] for messages in performance.messages[playing.message : playing.message + 1]]
    times += [mark.seconds for mark in performance.marks[playing.mark : playing.mark + 1]]
    times += [loop.end for loop in performance.loops[playing.loop : playing.loop + 1]]
    return playing.began + min(times) if times else None


def take_due(playing: Playing, now: float) -> tuple[Playing, tuple[bytes | Mark, ...]]:
    """Return what is due at one moment not later than `now`, in the order to send it, and the rest.

    Messages come before marks, so that no note waits for the screen. At the end of a loop that is played again a mark
    of kind pass comes alone: the caller then releases what sounds.
    """
    at = next_due(playing)
    if at is None or at > now:
        return playing, ()
    performance = playing.performance
    loops = performance.loops[playing.loop : playing.loop + 1]
    if loops and playing.began + loops[0].end <= at:
        return _again(playing, loops[0])
    message, mark = playing.message, playing.mark
    due: list[bytes | Mark] = []
    while message < len(performance.messages) and playing.began + performance.messages[message][0] <= at:
        due.append(performance.messages[message][1])
        message += 1
    while mark < len(performance.marks) and playing.began + performance.marks[mark].seconds <= at:
        due.append(performance.marks[mark])
        mark += 1
    return replace(playing, message=message, mark=mark), tuple(due)


def after_pause(playing: Playing, now: float) -> Playing:
    """Return the performance going on from where it stands when it is more than PAUSE late.

    The machine was suspended: nobody wants to hear the missing minutes played in an instant.
    """
    at = next_due(playing)
    if at is None or now - at <= PAUSE:
        return playing
    return replace(playing, began=playing.began + now - at)


def taken_over(playing: Playing, by: Performance, at: float) -> tuple[Playing, tuple[bytes, ...]] | None:
    """Return another performance of the same steps going on from the step that is due at `at`, and the note-ons of what
    it would be sounding by then; None when no step is due at that moment.

    The two may differ in key and tempo: the step is the same one in the order in which they are played.
    """
    marks = playing.performance.marks
    here = next((index for index in range(playing.mark, len(marks)) if marks[index].kind == "step"), None)
    if here is None or playing.began + marks[here].seconds > at:
        return None
    order = sum(mark.kind == "step" for mark in marks[:here])
    places = [index for index, mark in enumerate(by.marks) if mark.kind == "step"]
    if order >= len(places):
        return None
    seconds = by.marks[places[order]].seconds
    message = _first_from(seconds - SAME, [when for when, _ in by.messages])
    mark = _first_from(seconds - SAME, [mark.seconds for mark in by.marks])
    on = Playing(by, at - seconds, message, mark, playing.loop, playing.passes)
    ending = tuple((when, data) for when, data in by.messages[message:] if when <= seconds + SAME and not _on(data))
    return on, _sounding(by.messages[:message] + ending)


def _sounding(messages: tuple[Timed, ...]) -> tuple[bytes, ...]:
    """Return the note-ons that have no note-off yet."""
    down: dict[tuple[int, int], bytes] = {}
    for _, data in messages:
        if data[0] & 0xE0 == 0x80:
            down.pop((data[0] & 0x0F, data[1]), None)
            if _on(data):
                down[data[0] & 0x0F, data[1]] = data
    return tuple(down.values())


def _on(data: bytes) -> bool:
    return data[0] & 0xF0 == 0x90 and data[2] > 0


def leave_loop(playing: Playing) -> Playing:
    """Return the performance going on after the loop under way (or the next one) when it ends."""
    if playing.loop >= len(playing.performance.loops):
        return playing
    return replace(playing, loop=playing.loop + 1, passes=0)


def _again(playing: Playing, loop: Loop) -> tuple[Playing, tuple[Mark]]:
    performance = playing.performance
    passes = playing.passes + 1
    return (
        replace(
            playing,
            began=playing.began + loop.end - loop.start,
            message=_first_from(loop.start, [seconds for seconds, _ in performance.messages]),
            mark=_first_from(loop.start, [mark.seconds for mark in performance.marks]),
            passes=passes,
        ),
        (Mark(loop.end, "pass", passes),),
    )


def _first_from(start: float, times: list[float]) -> int:
    return next((index for index, seconds in enumerate(times) if seconds >= start), len(times))
