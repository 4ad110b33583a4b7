"""A song as played: repeats, endings and the roadmap unrolled into one step after another."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from engine.song.model import Bar, Section, Song, Step


@dataclass(frozen=True, slots=True)
class _Played:
    """A written bar as played: its place from 0, and which time of how many through its repeat."""

    place: int
    turn: int
    turns: int


def unfold(song: Song) -> tuple[Step, ...]:
    """Return the steps of a song in the order of its roadmap.

    A pickup takes the last beats of what is played before it, so that the bars still add up.
    """
    sections = {section.name: section for section in song.sections}
    passes = Counter(song.roadmap)
    begun: Counter[str] = Counter()
    steps: list[Step] = []
    for name in song.roadmap:
        begun[name] += 1
        section = sections[name]
        _give_way(steps, section.pickup)
        steps.extend(_pass(song, section, begun[name], passes[name]))
    return tuple(replace(step, index=index) for index, step in enumerate(steps))


def _pass(song: Song, section: Section, number: int, passes: int) -> Iterator[Step]:
    first = True
    counted = 0 if section.pickup else 1
    for played in turns(section.bars):
        bar = section.bars[played.place]
        for event_number, event in enumerate(bar.events):
            yield Step(
                index=0,
                section=section.name,
                pass_=number,
                passes=passes,
                bar=played.place + counted,
                bars=len(section.bars) - 1 + counted,
                beat=event.beat,
                beats=event.beats,
                symbol=event.symbol,
                chord=event.chord,
                mark=event.mark,
                cue=section.cue,
                until=section.until,
                key=section.key or song.key,
                meter=bar.meter,
                written=(section.name, played.place, event_number),
                section_start=first,
                turn=played.turn,
                turns=played.turns,
                pace=section.pace,
                comp=section.comp or song.comp,
                left_hand=section.left_hand or song.left_hand,
            )
            first = False


def turns(bars: tuple[Bar, ...]) -> Iterator[_Played]:
    """Yield the bars in playing order, repeats taken and endings chosen."""
    place = 0
    while place < len(bars):
        end = _repeat_end(bars, place) if bars[place].repeat_start else None
        if end is None:
            yield _Played(place, 1, 1)
            place += 1
            continue
        times = max(bar.repeat_times for bar in bars[place:end])
        for turn in range(1, times + 1):
            yield from (
                _Played(inside, turn, times)
                for inside in range(place, end)
                if not bars[inside].ending or turn in bars[inside].ending
            )
        place = end


def _repeat_end(bars: tuple[Bar, ...], start: int) -> int | None:
    """Return the place after the repeat that starts at `start`, its last ending included; None when none closes it."""
    closer = next((place for place in range(start, len(bars)) if bars[place].repeat_times), None)
    if closer is None:
        return None
    end = closer + 1
    if bars[closer].ending:
        times = bars[closer].repeat_times
        while end < len(bars) and bars[end].ending and not bars[end].repeat_start and _goes_on(bars, end, times):
            end += 1
    return end


def _goes_on(bars: tuple[Bar, ...], place: int, times: int) -> bool:
    """True while the bar belongs to an ending of the same repeat."""
    return max(bars[place].ending) <= times


def _give_way(steps: list[Step], pickup: Fraction) -> None:
    """Shorten what was played before by the length of a pickup."""
    left = pickup
    while left and steps:
        last = steps[-1]
        if last.beats > left:
            steps[-1] = replace(last, beats=last.beats - left)
            return
        left -= last.beats
        steps.pop()
