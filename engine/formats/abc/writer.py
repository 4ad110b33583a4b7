"""A song written as an ABC notation file: its tune with the chords over it, or rests where it has no tune.

Source: the ABC music standard 2.1 (2011). Sections are parts A, B, C ... with their names in a note.
"""

from collections.abc import Iterator
from fractions import Fraction
from string import ascii_uppercase

from engine.song.abc_fields import default_unit
from engine.song.abc_writing import BARS_A_LINE, pieces, pitch_word, with_length
from engine.song.model import Bar, Section, Song
from engine.song.repeats import closes_ending, opens_ending
from engine.theory.key import read_key
from engine.theory.meter import Meter


def abc_file(song: Song) -> bytes:
    """Return the song as an .abc file in UTF-8."""
    return ("\n".join([*_head(song), *_body(song)]) + "\n").encode("utf-8")


def _head(song: Song) -> Iterator[str]:
    yield "%abc-2.1"
    yield "X:1"
    yield f"T:{song.title}"
    yield f"M:{song.meter}"
    yield f"L:{default_unit(song.meter)}"
    yield f"Q:{'3/8' if song.meter.compound else '1/4'}={song.tempo:g}"
    letters = _letters(song)
    if len(song.roadmap) > 1 and letters:
        yield "P:" + "".join(letters[name] for name in song.roadmap)
    yield f"K:{song.key}"


def _letters(song: Song) -> dict[str, str]:
    """Return a letter for each section, none where there are more than the alphabet has."""
    if len(song.sections) > len(ascii_uppercase):
        return {}
    return {section.name: letter for section, letter in zip(song.sections, ascii_uppercase, strict=False)}


def _body(song: Song) -> Iterator[str]:
    letters = _letters(song)
    key, meter = song.key, song.meter
    for section in song.sections:
        if section.name in letters and len(song.sections) > 1:
            yield f"P:{letters[section.name]}"
            yield f"N:{section.name}"
        own = section.key or song.key
        opening = f"[K:{own}] " if own != key else ""
        told, meter = _bars(section, song, meter)
        told[0] = opening + told[0]
        for at in range(0, len(told), BARS_A_LINE):
            yield "".join(told[at : at + BARS_A_LINE]).rstrip()
        key = own


def _bars(section: Section, song: Song, meter: Meter) -> tuple[list[str], Meter]:
    """Return the bars of a section with their bar lines, and the meter of the last."""
    signature = read_key(section.key or song.key).signature
    start = Fraction(0)
    told: list[str] = []
    for place, bar in enumerate(section.bars):
        length = section.pickup if section.pickup and place == 0 else Fraction(bar.meter.beats)
        change = f"[M:{bar.meter}] " if bar.meter != meter else ""
        meter = bar.meter
        words = " ".join(_words(section, bar, start, length, signature, default_unit(song.meter)))
        told.append(_opening(section.bars, place) + change + words + _closing(section.bars, place))
        start += length
    return told, meter


def _words(
    section: Section, bar: Bar, start: Fraction, length: Fraction, signature: int, unit: Fraction
) -> Iterator[str]:
    """Yield the chords of a bar and what of the tune sounds under each, held notes tied."""
    per_beat = bar.meter.beat_quarters / (unit * 4)
    state: dict[str, int] = {}
    for event in bar.events:
        at = start + event.beat - bar.events[0].beat
        symbol = f'"{event.symbol}"'
        for note, beats, tied in pieces(section.tune, at, min(at + event.beats, start + length)):
            rest = "z" if section.tune else "x"
            word = rest if note is None else pitch_word(note, signature, state)
            yield symbol + with_length(word, beats * per_beat) + ("-" if tied else "")
            symbol = ""


def _opening(bars: tuple[Bar, ...], place: int) -> str:
    bar = bars[place]
    sign = "|: " if bar.repeat_start else "| " if place == 0 and not opens_ending(bars, place) else ""
    return sign + (f"[{','.join(map(str, bar.ending))} " if opens_ending(bars, place) else "")


def _closing(bars: tuple[Bar, ...], place: int) -> str:
    """Return the bar line after a bar; a repeat of three times and more has no sign in ABC but a word."""
    bar = bars[place]
    if bar.repeat_times:
        return (f' "^{bar.repeat_times} times in all"' if bar.repeat_times > 2 and not bar.ending else "") + " :| "
    if place + 1 == len(bars) or closes_ending(bars, place):
        return " || "
    return " " if bars[place + 1].repeat_start else " | "
