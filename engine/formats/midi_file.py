"""A planned song as a Standard MIDI File: tempo, meters, keys, sections, chord names, one track for each hand.

Source of the format: Standard MIDI Files 1.0 (MIDI Association): format 1, tempo in whole microseconds a quarter,
meters over powers of two, key signatures from seven flats to seven sharps.
"""

import io
import unicodedata
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from engine.performance.count_in import count_in
from engine.performance.events import Timed, wire
from engine.performance.play_along import beats_to_bar
from engine.performance.rendering import count_in_notes, hand_notes
from engine.performance.sound_settings import Touch, entry, song_touch
from engine.planning.model import Plan, PlannedStep
from engine.song.model import Song, Step
from engine.song.section_tempo import tempo_of
from engine.theory.key import MOST_SIGNS, read_key
from engine.theory.meter import Meter

if TYPE_CHECKING:
    from mido import MetaMessage, MidiTrack

TICKS = 960
"""Ticks a quarter: thirds, fifths and sixteenths are whole. Source: common practice."""

CLOCKS = 24
"""MIDI clocks a quarter, in which the metronome's beat is told. Source: Standard MIDI Files 1.0, time signature."""

PLAIN = {"♭": "b", "♯": "#", "Δ7": "maj7", "Δ": "maj7", "ø7": "m7b5", "ø": "m7b5", "°": "dim"}
"""Texts in MIDI files have no agreed alphabet beyond ASCII, so signs are written out."""

LETTERS = str.maketrans(
    {"ø": "o", "Ø": "O", "ß": "ss", "æ": "ae", "Æ": "Ae", "œ": "oe", "Œ": "Oe", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D",
     "þ": "th", "Þ": "Th", "ð": "d", "♭": "b", "♯": "#", "–": "-", "—": "-", "’": "'"}
)  # fmt: skip
"""Letters of names that no accent can be taken from, as they are written without (common practice)."""

_At = tuple[int, "MetaMessage"]


def midi_file(song: Song, plan: Plan, counted: bool = False, touch: Touch | None = None) -> bytes:
    """Return the file's bytes: a track of time and keys, chord names as lyrics, right hand, left hand.

    With `counted` a track of clicks comes before the music. Channels are those of the touch, as when the song is played
    live; without one the song's own `[midi]` table tells channel, program, bank and volume. A time off by rounding is
    off by less than a millisecond in five minutes at tempos up to 400.
    """
    from mido import MidiFile

    touch = touch or song_touch(song)
    clock = _Ticks(song, plan, counted)
    file = MidiFile(type=1, ticks_per_beat=TICKS)
    file.tracks.append(_conductor(song, plan.steps, clock))
    file.tracks.append(_chords(plan.steps, clock))
    file.tracks.append(_hand("right", plan, song, touch, clock))
    file.tracks.append(_hand("left", plan, song, touch, clock))
    if counted and clock.count:
        file.tracks.append(_messages("Count-in", wire(count_in_notes(clock.clicks)), clock.in_count, clock.end))
    written = io.BytesIO()
    file.save(file=written)
    return written.getvalue()


def key_signature(key: str) -> str:
    """Return a key as the format can carry it: Eb, C#m; one of more than seven signs is respelled (G# is Ab).

    Raises:
        ValueError: not a key.
    """
    named = read_key(key)
    while abs(named.signature) > MOST_SIGNS:
        named = named.up(-12 if named.signature > 0 else 12)
    return str(named)


def plain(text: str) -> str:
    """Return a text in ASCII: signs written out, accents dropped."""
    for sign, letters in PLAIN.items():
        text = text.replace(sign, letters)
    return unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().strip()


def plain_name(text: str) -> str:
    """Return a title or a section's name in ASCII: its letters are letters, never a chord's signs."""
    return unicodedata.normalize("NFKD", text.translate(LETTERS)).encode("ascii", "ignore").decode().strip()


class _Ticks:
    """Where seconds of the music fall in ticks of the file; a change of meter may change the length of a quarter."""

    def __init__(self, song: Song, plan: Plan, counted: bool) -> None:
        self.steps = plan.steps
        first = plan.steps[0].step.meter if plan.steps else song.meter
        tempo = tempo_of(song, plan.steps[0].step) if plan.steps else song.tempo
        self.clicks = count_in(first, tempo, song.feel, song.count, beats_to_bar(plan.steps)) if counted else ()
        self._quarter = first.beat_seconds(tempo) / float(first.beat_quarters)
        beats = sum(click.lasts for click in self.clicks) / first.beat_seconds(tempo)
        self.count = round(beats * float(first.beat_quarters) * TICKS)
        self.seconds: list[float] = [0.0]
        self.ticks: list[int] = [self.count]
        quarters = Fraction(0)
        for step in plan.steps:
            quarters += step.step.beats * step.step.meter.beat_quarters
            self.seconds.append(self.seconds[-1] + float(step.step.beats) * step.step.beat_seconds(song.tempo))
            self.ticks.append(self.count + round(quarters * TICKS))

    @property
    def end(self) -> int:
        """The tick at which the music ends."""
        return self.ticks[-1]

    def in_count(self, seconds: float) -> int:
        """Return the tick of a moment in seconds from the first click."""
        return round(seconds / self._quarter * TICKS)

    def in_music(self, seconds: float) -> int:
        """Return the tick of a moment in seconds from the end of the count."""
        index = min(max(bisect_right(self.seconds, seconds + 1e-9) - 1, 0), max(len(self.steps) - 1, 0))
        if index + 1 >= len(self.seconds):
            return self.end
        part = (seconds - self.seconds[index]) / (self.seconds[index + 1] - self.seconds[index])
        return round(self.ticks[index] + part * (self.ticks[index + 1] - self.ticks[index]))


def _conductor(song: Song, steps: tuple[PlannedStep, ...], clock: _Ticks) -> "MidiTrack":
    from mido import MetaMessage

    line: list[_At] = [(0, MetaMessage("track_name", name=plain_name(song.title) or "Song"))]
    line += _meters(song, steps, clock)
    first = steps[0].step if steps else None
    tempo, key = _microseconds(first, song), (first and first.key) or song.key
    line.append((0, MetaMessage("set_tempo", tempo=tempo)))
    line.append((0, MetaMessage("key_signature", key=key_signature(key))))
    for tick, step in zip(_starts(clock), (planned.step for planned in steps), strict=True):
        if tempo != (tempo := _microseconds(step, song)):
            line.append((tick, MetaMessage("set_tempo", tempo=tempo)))
        if key != (key := step.key or song.key):
            line.append((tick, MetaMessage("key_signature", key=key_signature(key))))
        if step.section_start:
            again = f" {step.pass_} of {step.passes}" if step.passes > 1 else ""
            line.append((tick, MetaMessage("marker", text=plain_name(step.section) + again)))
    return _track(line, clock.end)


def _microseconds(step: Step | None, song: Song) -> int:
    """Return the length of a quarter at a step, in a song without steps that of its meter."""
    meter = step.meter if step else song.meter
    beat = step.beat_seconds(song.tempo) if step else meter.beat_seconds(song.tempo)
    return round(beat / float(meter.beat_quarters) * 1_000_000)


def _meters(song: Song, steps: tuple[PlannedStep, ...], clock: _Ticks) -> list[_At]:
    """Return the meters where they change; a count or pickup of no whole number of bars gets a short bar in front."""
    first = steps[0].step.meter if steps else song.meter
    bar = round(first.bar_quarters * TICKS)
    lead = clock.count + round(beats_to_bar(steps) * first.beat_quarters * TICKS)
    short = lead % bar
    line = [(0, _meter(_short_meter(Fraction(short, TICKS), first)))] if short else []
    line.append((short, _meter(first)))
    before = first
    for tick, planned in zip(_starts(clock), steps, strict=True):
        if planned.step.meter != before:
            before = planned.step.meter
            line.append((tick, _meter(before)))
    return line


def _short_meter(quarters: Fraction, meter: Meter) -> Meter:
    """Return a meter that lasts so many quarters, over the same note value or the next shorter one that fits."""
    lower = meter.lower
    while (quarters * lower / 4).denominator != 1 and lower < 64:
        lower *= 2
    return Meter(max(round(quarters * lower / 4), 1), lower)


def _meter(meter: Meter) -> "MetaMessage":
    from mido import MetaMessage

    clocks = round(CLOCKS * meter.beat_quarters)
    # A count's short bar may be over a note so short that its beat has no whole clocks.
    return MetaMessage(
        "time_signature", numerator=meter.upper, denominator=meter.lower, clocks_per_click=max(clocks, 1)
    )


def _chords(steps: tuple[PlannedStep, ...], clock: _Ticks) -> "MidiTrack":
    from mido import MetaMessage

    line: list[_At] = [(0, MetaMessage("track_name", name="Chords"))]
    for tick, planned in zip(_starts(clock), steps, strict=True):
        line.append((tick, MetaMessage("lyrics", text=plain(planned.step.symbol) or "N.C.")))
    return _track(line, clock.end)


def _hand(hand: str, plan: Plan, song: Song, touch: Touch, clock: _Ticks) -> "MidiTrack":
    channel = touch.channel_of(hand)
    # What a channel is to sound like is said once, in the track that comes first.
    called = () if hand == "left" and channel == touch.channel else entry(replace(touch, channel=channel))
    notes = tuple((0.0, data) for data in called) + wire(hand_notes(plan, hand, song.tempo, song.feel, touch))
    return _messages(f"{hand.capitalize()} hand", notes, clock.in_music, clock.end)


def _messages(name: str, messages: tuple[Timed, ...], tick: Callable[[float], int], end: int) -> "MidiTrack":
    from mido import Message, MetaMessage

    line = [(0, MetaMessage("track_name", name=name))]
    return _track(line + [(tick(seconds), Message.from_bytes(data)) for seconds, data in messages], end)


def _track(line: list[_At], end: int) -> "MidiTrack":
    """Return a track from messages at ticks; of one tick the order stays."""
    from mido import MetaMessage, MidiTrack

    track, at = MidiTrack(), 0
    for tick, message in [*sorted(line, key=lambda entry: entry[0]), (end, MetaMessage("end_of_track"))]:
        track.append(message.copy(time=max(tick - at, 0)))
        at = max(tick, at)
    return track


def _starts(clock: _Ticks) -> list[int]:
    """Return the tick at which each step begins."""
    return clock.ticks[:-1]
