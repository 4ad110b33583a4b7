"""A song written as TOML, made to be read and edited by hand."""

import re
from fractions import Fraction

from engine.song.abc_writing import tune_text
from engine.song.instrument import write_midi
from engine.song.model import Bar, Event, Pin, Section, Song
from engine.song.repeats import closes_ending, opens_ending
from engine.song.roadmap import read_roadmap, write_roadmap
from engine.song.section_tempo import tempo_of
from engine.song.section_voicing import WORDS
from engine.theory.key import read_key, spelled_in_key
from engine.theory.meter import Meter, shared_evenly

BARS_A_LINE = 4
"""Bars in a line that is written. Source: common practice of lead sheets."""


def write_song(song: Song) -> str:
    """Return a song file; reading it gives the same song (lines, columns, source and doubts aside)."""
    lines = [
        f"title  = {quoted(song.title)}",
        f"key    = {quoted(song.key)}",
        f'meter  = "{song.meter}"',
        f"tempo  = {song.tempo:g}" if song.tempo == float(f"{song.tempo:g}") else f"tempo  = {song.tempo!r}",
    ]
    lines += [f"feel   = {quoted(song.feel)}"] if song.feel != "straight" else []
    lines += [f"count  = {quoted(song.count)}"] if song.count != "one bar" else []
    names = tuple(section.name for section in song.sections)
    lines += _groove(song)
    lines += [f"tune_is = {quoted(song.tune_is)}"] if song.tune_is != "theirs" else []
    lines += [f"bass = {str(song.bass == 'yes').lower()}"] if song.bass != "set" else []
    lines += [f"roadmap = {roadmap_value(song.roadmap, names)}"] if song.roadmap != names else []
    lines += [f"note   = {quoted(song.note)}"] if song.note else []
    lines += _melody(song) + _voicing(song)
    lines += ["", "[midi]", *write_midi(song.midi)] if write_midi(song.midi) else []
    for section in song.sections:
        lines += _section(section, song)
    for pin in song.pins:
        lines += ["", "[[pins]]", *(f"{name} = {value}" for name, value in pin_values(pin, song.key).items())]
    return "\n".join(lines) + "\n"


def quoted(text: str) -> str:
    """Return a TOML string of a text on one line."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    signs = {"\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}
    return (
        '"' + "".join(signs.get(sign) or (f"\\u{ord(sign):04x}" if _control(sign) else sign) for sign in escaped) + '"'
    )


def _control(sign: str) -> bool:
    return ord(sign) < 32 or ord(sign) == 127


def roadmap_value(played: tuple[str, ...], names: tuple[str, ...]) -> str:
    """Return the roadmap as TOML: in words, or as a list where a name among `names` would be misread in words."""
    words = write_roadmap(played)
    if read_roadmap(words, names) == (played, ()):
        return quoted(words)
    return "[" + ", ".join(quoted(name) for name in played) + "]"


def bare(name: str) -> str:
    """Return a section's name as a TOML key, in quotes where it needs them."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else quoted(name)


def _groove(part: Song | Section) -> list[str]:
    return [f"{name} = {quoted(value)}" for name in ("comp", "left_hand") if (value := getattr(part, name))]


def _melody(song: Song) -> list[str]:
    if song.melody is None:
        return []
    low, high = (pitch(key, song.key) for key in song.melody)
    return ["", "[melody]", f'lowest = "{low}"', f'highest = "{high}"']


def _voicing(song: Song) -> list[str]:
    method = [f"method = {quoted(song.method)}"] if song.method != "auto" else []
    sound = [f"sound = {quoted(song.sound)}"] if song.sound != "piano" else []
    colour = [f"colour = {quoted(song.colour)}"] if song.colour != "off" else []
    texture = [f"texture = {quoted(song.texture)}"] if song.texture != "auto" else []
    hands = [f"hands = {quoted(song.hands)}"] if song.hands != "both" else []
    lines = [*method, *sound, *colour, *texture, *hands]
    return ["", "[voicing]", *lines] if lines else []


def pitch(key: int, tonic: str) -> str:
    """Name a key (MIDI number) as the music in `tonic` would: Ab3 in Eb, G#3 in E; "" is as in C."""
    return spelled_in_key(key, read_key(tonic).signature if tonic else 0)


def _section(section: Section, song: Song) -> list[str]:
    lines = ["", f"[sections.{bare(section.name)}]"]
    for word in ("cue", "key", "until"):
        value = getattr(section, word)
        lines += [f"{word} = {quoted(value)}"] if value else []
    lines += [f"tempo = {tempo_of(song, section):.10g}"] if section.pace != 1 else []
    lines += _groove(section)
    lines += _section_voicing(section)
    lines += [f"pickup = {_beats(section.pickup)}"] if section.pickup else []
    lines += [f"tune_is = {quoted(section.tune_is)}"] if section.tune_is else []
    return [*lines, 'bars = """', *write_bars(section.bars, song.meter), '"""', *_tune(section, song)]


def _section_voicing(section: Section) -> list[str]:
    own = section.voicing
    lines = [f"{name} = {quoted(getattr(own, name))}" for name in WORDS if getattr(own, name)]
    return lines + ([f"bass = {str(own.bass).lower()}"] if own.bass is not None else [])


def _tune(section: Section, song: Song) -> list[str]:
    if not section.tune:
        return []
    meters = [bar.meter for bar in section.bars]
    text = tune_text(section.tune, section.key or song.key, song.meter, section.pickup, meters)
    return ['tune = """', text, '"""']


def _beats(beats: Fraction) -> str:
    if beats.denominator == 1:
        return str(beats)
    return f"{float(beats):g}" if Fraction(f"{float(beats):g}") == beats else f'"{beats}"'


def write_bars(bars: tuple[Bar, ...], meter: Meter, a_line: int = BARS_A_LINE) -> list[str]:
    """Return the bars in lines of `a_line` bars; `meter` is the song's, a bar in another says so."""
    texts = [_bar(bars, place, meter) for place in range(len(bars))]
    lines: list[str] = []
    for start in range(0, len(texts), a_line):
        line = "".join(texts[start : start + a_line])
        opening = "" if line.startswith("||:") or line.startswith("[") else "| "
        lines.append((opening + line).rstrip())
    return lines


def _bar(bars: tuple[Bar, ...], place: int, meter: Meter) -> str:
    bar = bars[place]
    start = "||: " if bar.repeat_start else ""
    if opens_ending(bars, place):
        start += f"[{','.join(str(turn) for turn in bar.ending)}. "
    odd = f"({bar.meter}) " if bar.meter != meter else ""
    return start + odd + write_events(bar) + " " + _end(bars, place)


def _end(bars: tuple[Bar, ...], place: int) -> str:
    bar = bars[place]
    if bar.repeat_times:
        times = f" x{bar.repeat_times}" if not bar.ending and bar.repeat_times != 2 else ""
        return f":||{times} "
    return "|| " if closes_ending(bars, place) else "| "


def write_events(bar: Bar) -> str:
    """Return the chords of one bar with the beats they need."""
    length = sum((event.beats for event in bar.events), Fraction(0))
    shares = {event.beats for event in bar.events}
    if len(shares) == 1 and shared_evenly(len(bar.events), length):
        return " ".join(map(_word, bar.events))
    for unit in (Fraction(1), Fraction(1, 3)):
        if (unit == 1 or bar.meter.compound) and all((event.beats / unit).denominator == 1 for event in bar.events):
            return " ".join(_word(event) + " /" * int(event.beats / unit - 1) for event in bar.events)
    return " ".join(f"{_word(event)}({event.beats} beats)" for event in bar.events)


def _word(event: Event) -> str:
    return event.symbol + (f"({event.mark})" if event.mark else "")


def pin_values(pin: Pin, tonic: str = "") -> dict[str, str]:
    """Return the keys of a [[pins]] table and their values as TOML; `tonic` is the key that spells the notes."""
    values = {"section": quoted(pin.section), "bar": str(pin.bar), "beat": _beats(pin.beat)}
    for name, keys in (("left", pin.left), ("right", pin.right)):
        if keys is not None:
            values[name] = quoted(" ".join(pitch(key, tonic) for key in keys))
    if pin.left is None and pin.right is None:
        values["free"] = "true"
    if pin.left_fingers or pin.right_fingers:
        hands = (" ".join(map(str, fingers)) for fingers in (pin.left_fingers, pin.right_fingers))
        values["fingers"] = quoted(" / ".join(hands))
    return values
