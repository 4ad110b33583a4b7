"""A song in another key: every root, bass, key and pinned note by the same interval on the line of fifths.

What a chord is does not change: degrees are the same before and after. Flat keys have flats.
"""

from dataclasses import replace
from functools import lru_cache

from engine.chord.house_rules import DEFAULT_RULES, HouseRules
from engine.chord.model import Chord
from engine.chord.roots import read_root, spell_root
from engine.chord.spelling import spelled_tones
from engine.song.model import Bar, Event, Pin, Section, Song, TuneNote
from engine.theory.key import Key, between, read_key, sensible
from engine.theory.pitch import NoteName, plain_signs

UP_TO = 6
"""Semitones: a song goes up by at most these and down otherwise, as a singer would say "a third down"."""

WRITTEN: dict[str, int] = {"Bb": 2, "Eb": 3, "F": 1, "C": 0}
"""An instrument's key -> fifths from the sounding to the written chord. Source: common practice."""

PLAIN = range(-8, 13)
"""Places on the line of fifths, Fb to B#, that roots are written with; beyond lie double sharps and flats."""


def transpose(song: Song, key: str, sharps: bool = False) -> Song:
    """Return a song in another key; of F# and Gb the side asked for. Minor songs may be given a minor or a bare tonic.

    Raises:
        ValueError: `key` is not a key.
    """
    old, wanted = read_key(song.key), read_key(key)
    new = sensible(Key(wanted.tonic, old.minor), sharps)
    fifths = between(old, new)
    return song if fifths == 0 else shifted(song, fifths, str(new))


def shifted(song: Song, fifths: int, key: str) -> Song:
    """Return a song moved by an interval, a number of fifths; `key` is its new key."""
    semitones = nearest(fifths)
    melody = song.melody and (song.melody[0] + semitones, song.melody[1] + semitones)
    sections = tuple(
        replace(_section(section, fifths), tune=_tune(section.tune, semitones)) for section in song.sections
    )
    pins = tuple(_pin(pin, semitones) for pin in song.pins)
    return replace(song, key=key, sections=sections, melody=melody, pins=pins)


def nearest(fifths: int) -> int:
    """Return the semitones of an interval by the shorter way; a tritone goes up to sharps and down to flats."""
    up = fifths * 7 % 12
    return up if up < UP_TO or (up == UP_TO and fifths > 0) else up - 12


def transpose_symbol(symbol: str, fifths: int, rules: HouseRules = DEFAULT_RULES) -> str:
    """Return a chord symbol with root and bass moved, in names as they are; what is no chord symbol (N.C.) stays."""
    if fifths == 0:
        return symbol
    plain = plain_signs(symbol)
    found = read_root(plain, rules)
    if found is None or symbol.upper().startswith("N"):
        return symbol
    name, length, lower = found
    rest = plain[length:]
    bass = _bass(rest, rules)
    if bass is not None:
        rest = rest[: -len(bass[0])] + spell_root(plain_name(bass[1].up(fifths)), rules)
    return spell_root(plain_name(name.up(fifths)), rules, lower) + rest


@lru_cache(maxsize=8192)
def transpose_chord(chord: Chord, fifths: int) -> Chord:
    """Return a chord moved by an interval: the same degrees on another root."""
    root = plain_name(chord.root.up(fifths))
    tones = spelled_tones(root, chord.degrees)
    bass = root if not chord.slash else plain_name(chord.bass.up(fifths))
    return replace(chord, symbol=transpose_symbol(chord.symbol, fifths), root=root, bass=bass, tones=tones)


def _bass(rest: str, rules: HouseRules) -> tuple[str, NoteName] | None:
    """Return the written bass at the end of a symbol."""
    at = rest.rfind("/")
    found = read_root(rest[at + 1 :], rules) if at >= 0 else None
    return (rest[at + 1 :], found[0]) if found and found[1] == len(rest) - at - 1 else None


def plain_name(name: NoteName) -> NoteName:
    """Return a note by the name people write: no double sharps or flats."""
    while name.fifths not in PLAIN:
        name = name.up(-12 if name.fifths > 0 else 12)
    return name


def _section(section: Section, fifths: int) -> Section:
    """Move a section; one with a key of its own is spelled in that key's new name."""
    if not section.key:
        return replace(section, bars=tuple(_bar(bar, fifths) for bar in section.bars))
    old = read_key(section.key)
    new = sensible(old.up(fifths))
    own = between(old, new)
    return replace(section, key=str(new), bars=tuple(_bar(bar, own) for bar in section.bars))


def _tune(tune: tuple[TuneNote, ...], semitones: int) -> tuple[TuneNote, ...]:
    return tuple(replace(note, note=note.note + semitones) for note in tune)


def _bar(bar: Bar, fifths: int) -> Bar:
    return replace(bar, events=tuple(_event(event, fifths) for event in bar.events))


def _event(event: Event, fifths: int) -> Event:
    chord = event.chord and transpose_chord(event.chord, fifths)
    return replace(event, symbol=transpose_symbol(event.symbol, fifths), chord=chord)


def _pin(pin: Pin, semitones: int) -> Pin:
    left = None if pin.left is None else tuple(key + semitones for key in pin.left)
    right = None if pin.right is None else tuple(key + semitones for key in pin.right)
    return replace(pin, left=left, right=right)
