"""What a player has played, as a Standard MIDI File that lines up with the song's bars.

Source of the format: Standard MIDI Files 1.0 (MIDI Association), format 0: one track.
"""

import io
import math

from engine.formats.midi_file import key_signature, time_signature
from engine.formats.midi_texts import plain_name
from engine.formats.midi_ticks import TICKS
from engine.performance.events import Timed
from engine.song.model import Song


def take_file(messages: tuple[Timed, ...], song: Song | None, downbeat: float | None = None) -> bytes:
    """Return the file's bytes.

    Args:
        messages: what was played, in seconds, in the order of time.
        song: gives title, tempo, meter and key; without one a quarter lasts half a second.
        downbeat: seconds at which a bar began; the first message begins the first bar without one.
    """
    from mido import Message, MetaMessage, MidiFile, MidiTrack

    file = MidiFile(type=0, ticks_per_beat=TICKS)
    track = MidiTrack()
    quarter = 0.5
    track.append(MetaMessage("track_name", name=(plain_name(song.title) if song else "") or "Take"))
    if song is not None:
        meter = song.meter
        quarter = meter.beat_seconds(song.tempo) / float(meter.beat_quarters)
        track.append(time_signature(meter))
        track.append(MetaMessage("key_signature", key=key_signature(song.key)))
    track.append(MetaMessage("set_tempo", tempo=round(quarter * 1_000_000)))
    begin = _begin(messages, downbeat, quarter * float(song.meter.bar_quarters) if song else 0.0)
    before = 0
    for seconds, data in messages:
        tick = max(round((seconds - begin) / quarter * TICKS), before)
        track.append(Message.from_bytes(data, time=tick - before))
        before = tick
    track.append(MetaMessage("end_of_track"))
    file.tracks.append(track)
    written = io.BytesIO()
    file.save(file=written)
    return written.getvalue()


def _begin(messages: tuple[Timed, ...], downbeat: float | None, bar: float) -> float:
    """Return the second at which the file begins: a bar line not after the first message."""
    first = messages[0][0] if messages else 0.0
    if downbeat is None or not bar:
        return first
    return downbeat - math.ceil((downbeat - first) / bar - 1e-9) * bar
