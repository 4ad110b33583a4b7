"""How rough a chord sounds: beating between its partials, by two published models.

They know nothing of interval limits, so that they are a second opinion on how low is too low. Tones have partials 1 to
10 with amplitudes 1, 1/2, 1/3 ..., each in the place of equal temperament nearest to it.
"""

from collections.abc import Callable
from functools import lru_cache
from itertools import combinations
from math import e, exp, log2, sqrt

CONCERT_A = 440.0
"""Hertz of A4. Source: ISO 16:1975."""

PARTIALS = 10
"""Partials of a tone. Source: Hutchinson and Knopoff 1978."""

CUT_OFF = 1.2
"""Critical bandwidths beyond which partials do not beat. Source: as PARTIALS, after Plomp and Levelt 1965."""

Partial = tuple[float, float]
"""Frequency in hertz, amplitude."""


def frequency(key: float) -> float:
    """Return the hertz of a MIDI number in equal temperament."""
    return float(CONCERT_A * 2 ** ((key - 69) / 12))


def bandwidth(hertz: float) -> float:
    """Return the critical bandwidth in hertz about a frequency, 1.72 f^0.65. Source: as PARTIALS and CUT_OFF."""
    return float(1.72 * hertz**0.65)


def spectrum(keys: tuple[int, ...], partials: int = PARTIALS) -> tuple[Partial, ...]:
    """Return the partials of a chord, low to high.

    Partials of two keys that coincide in equal temperament are one, their powers added: the third partial of C4 and the
    second of G4 do not beat in these models, though they do a little on a piano.
    """
    heard: dict[int, float] = {}
    for key in keys:
        for number in range(1, partials + 1):
            place = key + round(12 * log2(number))
            heard[place] = heard.get(place, 0.0) + number**-2
    return tuple((frequency(place), sqrt(power)) for place, power in sorted(heard.items()))


def beating(bandwidths: float) -> float:
    """Return how much two partials beat, 0 to 1, that lie so many critical bandwidths apart; the most at a quarter.

    Source: Plomp and Levelt's standard curve in Parncutt's form (1993), (e x/a exp(-x/a))^2 with a = 0.25,
    and 0 from 1.2 on.
    """
    if bandwidths >= CUT_OFF:
        return 0.0
    part = bandwidths / 0.25
    return (e * part * exp(-part)) ** 2


@lru_cache(maxsize=16384)
def hutchinson_knopoff(keys: tuple[int, ...]) -> float:
    """Return the roughness of a chord: beating of all pairs of partials by amplitude, over the power of all partials.

    Source: William Hutchinson and Leon Knopoff, The acoustic component of Western consonance, Interface 7 (1978), 1-29.
    The model's own unit: about 0.001 for an octave, 0.02 a fifth, 0.5 a minor second, all from C4. A silent chord is 0.
    """
    heard = spectrum(keys)
    power = sum(amplitude**2 for _, amplitude in heard)
    return _pairs(heard, _hutchinson_knopoff) / power if power else 0.0


def _hutchinson_knopoff(low: Partial, high: Partial) -> float:
    apart = (high[0] - low[0]) / bandwidth((low[0] + high[0]) / 2)
    return low[1] * high[1] * beating(apart)


@lru_cache(maxsize=16384)
def sethares(keys: tuple[int, ...]) -> float:
    """Return the dissonance of a chord, the sum over all pairs of partials; it grows with the number of notes.

    Source: William Sethares, Local consonance and the relationship between timbre and scale, Journal of the Acoustical
    Society of America 94 (1993), 1218-1228, with its constants.
    """
    return _pairs(spectrum(keys), pair_dissonance)


def pair_dissonance(low: Partial, high: Partial) -> float:
    """Return the dissonance of two partials, the lower one first, in the model of `sethares`."""
    spread = 0.24 / (0.021 * low[0] + 19) * (high[0] - low[0])
    return low[1] * high[1] * (exp(-3.5 * spread) - exp(-5.75 * spread))


def _pairs(heard: tuple[Partial, ...], of_two: Callable[[Partial, Partial], float]) -> float:
    return sum(of_two(low, high) for low, high in combinations(heard, 2))
