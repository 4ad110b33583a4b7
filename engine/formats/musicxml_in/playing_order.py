"""Measures in playing order: repeats, endings, D.C., D.S., segno, coda and fine unrolled.

After a jump back the repeats are not taken and the last ending is played, unless the file says otherwise
(MusicXML 4.0, after-jump; common practice).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.formats.musicxml_in.measure import Measure

MOST_PLAYED = 4000
"""Measures as played beyond which a file's jumps go round in circles (own choice)."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A repeat: measures `start` to before `end`, played `times`; `closers` are the measures with the sign; `endings`
    says of a measure which passes play it; `plain` is False for a frame that a chart cannot write with its signs."""

    start: int
    end: int
    times: int
    closers: tuple[int, ...]
    endings: dict[int, tuple[int, ...]]
    plain: bool

    def inside(self, turn: int) -> list[int]:
        """Return the measures of one pass."""
        return [at for at in range(self.start, self.end) if not self.endings.get(at) or turn in self.endings[at]]

    def played(self) -> list[int]:
        """Return the measures of all passes."""
        return [at for turn in range(1, self.times + 1) for at in self.inside(turn)]


def frames_of(measures: Sequence[Measure], pickup: bool) -> list[Frame]:
    """Return the repeats in order; a sign that closes without one that opens goes back to the last repeat's end."""
    frames: list[Frame] = []
    at = 0
    restart = 1 if pickup and len(measures) > 1 and not _short_end(measures) else 0
    while at < len(measures):
        closer = _closer(measures, at)
        if closer is None:
            break
        opens = [place for place in range(at, closer + 1) if measures[place].forward]
        start = opens[-1] if opens else max(at, restart)
        frame = _frame(measures, min(start, closer), closer)
        frames.append(frame)
        at = restart = frame.end
    return frames


def _short_end(measures: Sequence[Measure]) -> bool:
    """True when the first repeat's last measure lacks just what the pickup has: then the pickup is repeated too."""
    closer = _closer(measures, 0)
    if closer is None:
        return False
    last = measures[closer]
    return 0 < last.length == last.meter.bar_quarters - measures[0].length


def _closer(measures: Sequence[Measure], start: int) -> int | None:
    return next((place for place in range(start, len(measures)) if measures[place].backward), None)


def _frame(measures: Sequence[Measure], start: int, closer: int) -> Frame:
    endings: dict[int, tuple[int, ...]] = {}
    order: list[tuple[int, ...]] = []
    closers = [closer]
    passes: tuple[int, ...] = ()
    at = start
    while at < len(measures):
        measure = measures[at]
        if at > closer and (measure.forward or not (passes or measure.ending)):
            break
        if measure.ending:
            passes = measure.ending
            order.append(passes)
        if passes:
            endings[at] = passes
        if at > closer and measure.backward:
            closers.append(at)
        stops = measure.ending_stops and passes
        if stops or measure.backward:
            if at >= closer and not passes:
                at += 1
                break
            passes = ()
        at += 1
    numbers = [number for one in order for number in one]
    closed = bool(endings.get(closers[-1])) and closers[-1] == at - 1
    times = max(numbers, default=0) + (1 if len(order) == 1 and closed else 0)
    times = max(2, times) if order else measures[closer].backward
    return Frame(start, at, times, tuple(closers), endings, _plain(order, endings, closers, at))


def _plain(order: list[tuple[int, ...]], endings: dict[int, tuple[int, ...]], closers: list[int], end: int) -> bool:
    """True when the endings are numbered on from 1 and each but the last goes back."""
    numbers = [number for one in order for number in one]
    if not order:
        return len(closers) == 1
    closed = [place for place in closers if endings.get(place)]
    going_on = len(order) == 1 or end - 1 not in closers
    return numbers == list(range(1, len(numbers) + 1)) and len(closed) == max(1, len(order) - 1) and going_on


def playing_order(measures: Sequence[Measure], frames: list[Frame]) -> tuple[list[int], list[str]]:
    """Return the measures as played, by their places from 0, and the doubts about jumps."""
    return _Player(measures, frames).play()


class _Player:
    """Walks through the measures as a band would."""

    def __init__(self, measures: Sequence[Measure], frames: list[Frame]) -> None:
        self.measures = measures
        self.frames = {at: frame for frame in frames for at in range(frame.start, frame.end)}
        self.turn: dict[int, int] = {frame.start: 1 for frame in frames}
        self.jumped: set[int] = set()
        self.doubts: list[str] = []
        self.order: list[int] = []

    def play(self) -> tuple[list[int], list[str]]:
        """Return the measures as played, by their places, and the doubts."""
        at: int | None = 0
        while at is not None and at < len(self.measures):
            if len(self.order) >= MOST_PLAYED:
                self.doubts.append(f"the jumps go round in circles, cut after {MOST_PLAYED} measures")
                break
            frame = self.frames.get(at)
            if frame and frame.endings.get(at) and self.turn[frame.start] not in frame.endings[at]:
                at += 1
                continue
            self.order.append(at)
            at = self._next(at, frame)
        if not self.order:
            self.doubts.append("no pass plays any ending, the measures were taken one after another")
            self.order = list(range(len(self.measures)))
        return self.order, self.doubts

    def _next(self, at: int, frame: Frame | None) -> int | None:
        measure = self.measures[at]
        if self.jumped and measure.fine:
            return None
        if self.jumped and measure.to_coda and (coda := self._coda(at)) is not None:
            return coda
        if frame and at in frame.closers and self.turn[frame.start] < frame.times:
            self.turn[frame.start] += 1
            return frame.start
        if measure.jump and at not in self.jumped:
            return self._jump(at)
        return at + 1

    def _jump(self, at: int) -> int:
        measure = self.measures[at]
        target = 0 if measure.jump == "dacapo" else self._segno(at)
        if target is None:
            self.doubts.append(f"measure {measure.number}: D.S. and no sign to go back to, the song goes on")
            return at + 1
        self.jumped.add(at)
        for frame in self.frames.values():
            again = any(self.measures[closer].after_jump for closer in frame.closers)
            self.turn[frame.start] = 1 if again else self._last_pass(frame)
        return target

    def _last_pass(self, frame: Frame) -> int:
        """Return the pass that a repeat is played in after a jump: its last, or the one that meets Fine or To Coda."""
        leaving = (at for at, passes in frame.endings.items() if passes and self._leaves(at))
        found = next(leaving, None)
        return frame.times if found is None else max(frame.endings[found])

    def _leaves(self, at: int) -> bool:
        return self.measures[at].fine or bool(self.measures[at].to_coda)

    def _segno(self, at: int) -> int | None:
        places = [place for place in range(at + 1) if self.measures[place].segno]
        named = [place for place in places if self.measures[place].segno == self.measures[at].target]
        return (named or places)[-1] if places else None

    def _coda(self, at: int) -> int | None:
        places = [place for place in range(at + 1, len(self.measures)) if self.measures[place].coda]
        named = [place for place in places if self.measures[place].coda == self.measures[at].to_coda]
        if not places:
            self.doubts.append(f"measure {self.measures[at].number}: To Coda and no coda follows, the song goes on")
        return (named or places)[0] if places else None
