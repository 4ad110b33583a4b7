"""What a player types for tonight: a key by name or by half steps, a tempo by figure, nudge or taps.

Keys are named as bands name them (no D# major).
"""

import re
from itertools import pairwise

from engine.theory.key import MAJOR_TONICS, MINOR_TONICS, MOST_SIGNS, Key, read_key
from engine.theory.meter import Meter
from engine.theory.pitch import note_name
from tui.input.prompts import Prompt
from tui.session.rehearsal import NotThere, Rehearsal

_HALF_STEPS = re.compile(r"([+-]?)(\d{1,2})")
_KEY = re.compile(r"([A-Ga-g])(#{1,2}|b{1,2}|♯|♭)?\s*(m|minor|min|-)?(?:maj|major)?")
INTERVALS = (
    "the same key", "half a step", "a whole step", "a minor third", "a major third", "a fourth", "a tritone",
)  # fmt: skip


def read_wanted_key(typed: str, key: str) -> str:
    """Return the key meant by `typed` for a song in `key`: a name (eb, F#) or half steps (+2, -3, 2 is up).

    The song stays major or minor. A name that bands do not use gets the usual one.

    Raises:
        NotThere: neither a key nor a number of half steps up to 11.
    """
    text = typed.strip()
    song = read_key(key)
    steps = _HALF_STEPS.fullmatch(text)
    if steps:
        distance = int(steps[2]) * (-1 if steps[1] == "-" else 1)
        if abs(distance) > 11:
            raise NotThere("at most 11 half steps up or down")
        return _usual(song.tonic.pc + distance, song.minor)
    named = _KEY.fullmatch(text)
    if not named:
        raise NotThere("a key (Eb, F#) or half steps (+2, -1)")
    sign = (named[2] or "").replace("♯", "#").replace("♭", "b")
    if named[3] and not song.minor:
        raise NotThere("the song is major: a key without m")
    wanted = Key(note_name(named[1].upper() + sign), song.minor)
    return str(wanted) if abs(wanted.signature) <= MOST_SIGNS else _usual(wanted.tonic.pc, song.minor)


def _usual(pitch_class: int, minor: bool) -> str:
    """Return the usual name of the key on a pitch class."""
    return f"{MINOR_TONICS[pitch_class % 12]}m" if minor else MAJOR_TONICS[pitch_class % 12]


def distance_words(old: str, new: str) -> str:
    """Say how far a key lies from another, the shorter way: a whole step up, a fourth down."""
    up = (read_key(new).tonic.pc - read_key(old).tonic.pc) % 12
    if up == 0:
        return INTERVALS[0]
    return f"{INTERVALS[up]} up" if up <= 6 else f"{INTERVALS[12 - up]} down"


def read_wanted_tempo(typed: str, tempo: float) -> float:
    """Return the tempo meant by `typed`: a figure (92, 92.5) or a nudge (+4, -4).

    Raises:
        NotThere: not a number.
    """
    found = re.fullmatch(r"\s*([+-]?)(\d{1,3}(?:[.,]\d)?)\s*", typed)
    if not found:
        raise NotThere("a tempo (92) or a nudge (+4, -4)")
    figure = float(found[2].replace(",", "."))
    return {"+": tempo + figure, "-": tempo - figure}.get(found[1], figure)


def tapped_tempo(taps: tuple[float, ...], meter: Meter) -> float | None:
    """Return the tempo of taps on the beat (times in seconds), as a song file counts it, or None under two taps.

    The middle of the last eight gaps is taken, so that one late tap does not matter.
    """
    from statistics import median  # slow to import, and a tempo is seldom tapped

    gaps = [later - earlier for earlier, later in pairwise(taps)][-8:]
    if not gaps or min(gaps) <= 0:
        return None
    beat = median(gaps)
    return round(60 / beat * (1.0 if meter.compound else float(meter.beat_quarters)), 1)


def wanted_key(prompt: Prompt, now: Rehearsal) -> str:
    """Return the key a key prompt stands at.

    Raises:
        NotThere: what is typed is no key.
    """
    key = now.songs[prompt.song].song.key
    return read_wanted_key(prompt.typed or f"{max(-11, min(prompt.choice, 11)):+d}", key)


def wanted_tempo(prompt: Prompt, now: Rehearsal) -> float:
    """Return the tempo a tempo prompt stands at.

    Raises:
        NotThere: what is typed is no tempo.
    """
    song = now.songs[prompt.song].song
    if prompt.taps:
        return tapped_tempo(prompt.taps, song.meter) or song.tempo
    return read_wanted_tempo(prompt.typed, song.tempo) if prompt.typed else song.tempo + prompt.choice
