"""The key of a chart that does not say it: the one whose scale holds most of its chords."""

from collections.abc import Sequence
from dataclasses import replace

from engine.chord.model import Chord
from engine.errors import SymbolError
from engine.formats.chart_text.chart import Chart
from engine.formats.chart_text.form import Part
from engine.formats.import_choices import Choice
from engine.song.chord_names import Wording, reader_of
from engine.song.signs import signs
from engine.theory.key import Key
from engine.theory.pitch import NATURAL, NoteName
from engine.voicing.tones import is_dominant

MAJOR = tuple(NATURAL.values())
"""Half steps of a major scale above its tonic."""

LIKELY = 3
"""Keys that are offered where none is written (own choice)."""


def key_of(chart: Chart, parts: list[Part]) -> str:
    """Return the key that is written, else the likeliest, with a doubt and another one to choose."""
    if chart.head.key:
        return chart.head.key
    if chart.numbers:
        chart.doubts.append("numbers without a key: C was taken")
        return "C"
    likely = [str(key) for key in likely_keys(_chords(chart, parts))[:LIKELY]]
    key = chart.answers.key or likely[0]
    doubt = f"no key is written, {key} was taken from its chords"
    following = likely[(likely.index(key) + 1) % len(likely)] if key in likely else likely[0]
    chart.doubts.append(doubt)
    chart.choices.append(Choice(doubt, following, replace(chart.answers, key=following)))
    return key


def _chords(chart: Chart, parts: list[Part]) -> list[Chord]:
    read = reader_of(Wording(chart.rules))
    found: list[Chord] = []
    for part in parts:
        for _, bars in part.bars:
            for sign in signs(bars):
                try:
                    chord = read(sign.text)[1] if sign.kind == "chord" else None
                except SymbolError:
                    chord = None
                found += [chord] if chord else []
    return found


def likely_keys(chords: Sequence[Chord]) -> list[Key]:
    """Return the keys of some chords, the likeliest first; C where there are none. Ties: fewer sharps or flats first.

    Own choice: each chord counts for its root and third in the scale, the last and the first for being the tonic.
    """
    keys = [Key(NoteName(fifths + (3 if minor else 0)), minor) for minor in (False, True) for fifths in range(-6, 6)]
    return sorted(keys, key=lambda key: (-_fit(key, chords), abs(key.signature), key.minor))


def _fit(key: Key, chords: Sequence[Chord]) -> float:
    relative = (key.tonic.pc + (3 if key.minor else 0)) % 12
    scale = {(relative + step) % 12 for step in MAJOR}
    points = 0.0
    for chord in chords:
        inside = {tone.pc for tone in chord.tones} <= scale
        # The dominant of a minor key has a raised third.
        leading = key.minor and chord.root.pc == (key.tonic.pc + 7) % 12 and "3" in chord.degrees
        points += 1.0 if inside or leading else 0.5 if chord.root.pc in scale else 0.0
    for at, weight in ((-1, 2.0), (0, 1.0)):
        if chords and _tonic(chords[at], key):
            points += weight
    return points


def _tonic(chord: Chord, key: Key) -> bool:
    """Return whether a chord can be the key's own: on its tonic, of its mode, no dominant seventh."""
    return chord.root.pc == key.tonic.pc and ("b3" in chord.degrees) == key.minor and not is_dominant(chord)
