"""Planned songs as a Standard MIDI File: tempo, meters, keys, sections, chord names, one track for each hand.

Source of the format: Standard MIDI Files 1.0 (MIDI Association): format 1, tempo in whole microseconds a quarter,
meters over powers of two, key signatures from seven flats to seven sharps.
"""

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from engine.formats.midi_texts import plain, plain_name
from engine.formats.midi_ticks import TICKS, Ticks
from engine.performance.events import Timed, wire
from engine.performance.play_along import beats_to_bar
from engine.performance.rendering import count_in_notes, hand_notes
from engine.performance.sound_settings import Touch, entry, put_back, song_touch
from engine.planning.model import Plan, PlannedStep
from engine.song.model import Song, Step
from engine.song.section_passes import pass_of
from engine.theory.key import MOST_SIGNS, read_key
from engine.theory.meter import Meter

if TYPE_CHECKING:
    from mido import MetaMessage, MidiTrack

CLOCKS = 24
"""MIDI clocks a quarter, in which the metronome's beat is told. Source: Standard MIDI Files 1.0, time signature."""

GAP_BARS = 2
"""Bars of silence between two songs of a set, in the meter and tempo in which the first one ends (own choice)."""

Entry = tuple[Song, Plan, Touch | None]
"""A song with its plan and how it sounds; without a touch the song's own `[midi]` table tells it."""

_At = tuple[int, "MetaMessage"]


def midi_file(song: Song, plan: Plan, counted: bool = False, touch: Touch | None = None) -> bytes:
    """Return a song's file: a track of time and keys, chord names as lyrics, right hand, left hand.

    With `counted` a track of clicks comes before the music. Channels are those of the touch, as when the song is played
    live; without one the song's own `[midi]` table tells channel, program, bank and volume. A time off by rounding is
    off by less than a millisecond in five minutes at tempos up to 400.
    """
    return set_midi_file(song.title, [(song, plan, touch)], counted)


def set_midi_file(title: str, entries: Sequence[Entry], counted: bool = False) -> bytes:
    """Return a file of several songs on the same tracks, one after the other as `midi_file` has each of them alone.

    Each begins with its title as a marker, its own tempo, meter, key, sound and count; `GAP_BARS` bars are silent
    before the next.
    """
    from mido import MetaMessage

    time, chords, right, left, clicks = (list[_At]() for _ in range(5))
    called: dict[int, Touch] = {}
    start = end = 0
    for number, (song, plan, touch) in enumerate(entries, 1):
        one = _Played(song, plan, touch or song_touch(song), Ticks(song, plan, counted, start))
        if len(entries) > 1:
            time.append((start, MetaMessage("marker", text=plain_name(song.title) or f"Song {number}")))
        time += _time(one)
        chords += _chords(one)
        right += _hand(one, "right", called)
        left += _hand(one, "left", called)
        clicks += _messages(wire(count_in_notes(one.clock.clicks)), one.clock.in_count)
        called |= {one.touch.channel_of(hand): one.touch for hand in ("left", "right")}
        end = one.clock.end
        start = end + _gap(one)
    named = [(plain_name(title) or "Song", time), ("Chords", chords), ("Right hand", right), ("Left hand", left)]
    return _file(named + ([("Count-in", clicks)] if clicks else []), end)


def key_signature(key: str) -> str:
    """Return a key as the format can carry it: Eb, C#m; one of more than seven signs is respelled (G# is Ab).

    Raises:
        ValueError: not a key.
    """
    named = read_key(key)
    while abs(named.signature) > MOST_SIGNS:
        named = named.up(-12 if named.signature > 0 else 12)
    return str(named)


@dataclass(frozen=True, slots=True)
class _Played:
    """A song of the file: how it sounds, and where on the file's clock."""

    song: Song
    plan: Plan
    touch: Touch
    clock: Ticks


def _file(tracks: Sequence[tuple[str, list[_At]]], end: int) -> bytes:
    """Return the bytes of named tracks that all end together."""
    from mido import MetaMessage, MidiFile

    file = MidiFile(type=1, ticks_per_beat=TICKS)
    for name, line in tracks:
        file.tracks.append(_track([(0, MetaMessage("track_name", name=name)), *line], end))
    written = io.BytesIO()
    file.save(file=written)
    return written.getvalue()


def _gap(one: _Played) -> int:
    """Return the ticks between a song and the next."""
    meter = one.plan.steps[-1].step.meter if one.plan.steps else one.song.meter
    return round(GAP_BARS * meter.bar_quarters * TICKS)


def _time(one: _Played) -> list[_At]:
    """Return a song's meters, tempos, keys and sections."""
    from mido import MetaMessage

    song, steps, clock = one.song, one.plan.steps, one.clock
    line = _meters(song, steps, clock)
    first = steps[0].step if steps else None
    played = tuple(planned.step for planned in steps)
    tempo, key = _microseconds(first, song), (first and first.key) or song.key
    line.append((clock.start, MetaMessage("set_tempo", tempo=tempo)))
    line.append((clock.start, MetaMessage("key_signature", key=key_signature(key))))
    for place, (tick, step) in enumerate(zip(clock.steps, played, strict=True)):
        if tempo != (tempo := _microseconds(step, song)):
            line.append((tick, MetaMessage("set_tempo", tempo=tempo)))
        if key != (key := step.key or song.key):
            line.append((tick, MetaMessage("key_signature", key=key_signature(key))))
        if step.section_start:
            present, passes = pass_of(played, place)
            again = f" {present} of {passes}" if passes > 1 else ""
            line.append((tick, MetaMessage("marker", text=plain_name(step.section) + again)))
    return line


def _microseconds(step: Step | None, song: Song) -> int:
    """Return the length of a quarter at a step, in a song without steps that of its meter."""
    meter = step.meter if step else song.meter
    beat = step.beat_seconds(song.tempo) if step else meter.beat_seconds(song.tempo)
    return round(beat / float(meter.beat_quarters) * 1_000_000)


def _meters(song: Song, steps: tuple[PlannedStep, ...], clock: Ticks) -> list[_At]:
    """Return the meters where they change; a count or pickup of no whole number of bars gets a short bar in front."""
    first = steps[0].step.meter if steps else song.meter
    bar = round(first.bar_quarters * TICKS)
    lead = clock.count + round(beats_to_bar(steps) * first.beat_quarters * TICKS)
    short = lead % bar
    line = [(clock.start, time_signature(_short_meter(Fraction(short, TICKS), first)))] if short else []
    line.append((clock.start + short, time_signature(first)))
    before = first
    for tick, planned in zip(clock.steps, steps, strict=True):
        if planned.step.meter != before:
            before = planned.step.meter
            line.append((tick, time_signature(before)))
    return line


def _short_meter(quarters: Fraction, meter: Meter) -> Meter:
    """Return a meter that lasts so many quarters, over the same note value or the next shorter one that fits."""
    lower = meter.lower
    while (quarters * lower / 4).denominator != 1 and lower < 64:
        lower *= 2
    return Meter(max(round(quarters * lower / 4), 1), lower)


def time_signature(meter: Meter) -> "MetaMessage":
    """Return the message of a meter."""
    from mido import MetaMessage

    clocks = round(CLOCKS * meter.beat_quarters)
    # A count's short bar may be over a note so short that its beat has no whole clocks.
    return MetaMessage(
        "time_signature", numerator=meter.upper, denominator=meter.lower, clocks_per_click=max(clocks, 1)
    )


def _chords(one: _Played) -> list[_At]:
    from mido import MetaMessage

    return [
        (tick, MetaMessage("lyrics", text=plain(planned.step.symbol) or "N.C."))
        for tick, planned in zip(one.clock.steps, one.plan.steps, strict=True)
    ]


def _hand(one: _Played, hand: str, called: Mapping[int, Touch]) -> list[_At]:
    """Return what a hand plays; `called` tells what songs before called up, by channel."""
    touch = one.touch
    channel = touch.channel_of(hand)
    # What a channel is to sound like is said once, in the track that comes first.
    told = hand == "right" or channel != touch.channel
    sound = entry(put_back(replace(touch, channel=channel), called.get(channel))) if told else ()
    notes = wire(hand_notes(one.plan, hand, one.song.tempo, one.song.feel, touch))
    return _messages((*((0.0, data) for data in sound), *notes), one.clock.in_music)


def _messages(messages: Sequence[Timed], tick: Callable[[float], int]) -> list[_At]:
    from mido import Message

    return [(tick(seconds), Message.from_bytes(data)) for seconds, data in messages]


def _track(line: list[_At], end: int) -> "MidiTrack":
    """Return a track from messages at ticks; of one tick the order stays."""
    from mido import MetaMessage, MidiTrack

    track, at = MidiTrack(), 0
    for tick, message in [*sorted(line, key=lambda entry: entry[0]), (end, MetaMessage("end_of_track"))]:
        track.append(message.copy(time=max(tick - at, 0)))
        at = max(tick, at)
    return track
