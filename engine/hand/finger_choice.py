"""Which fingers editors print over a chord: a small linear model, fitted on printed editions.

A conditional logit: of all the sets of fingers that could take the keys of a chord, the odds of one are the
exponential of minus the sum of its rules, each times its weight. So a weight is in log odds: a fingering that costs
0.69 more is printed half as often. `comfort` says how hard a shape is for any hand; this says which fingers take it.

Source of the rules: Parncutt et al. 1997 and Balliauw et al. 2017 (see `spans`), common practice where said. Source of
the figures: fitted by `python -m tests.bench.fit_fingers` on 703 chords of two to four keys with printed fingers in 54
pieces (Mutopia Project, piano editions in the public domain or under Creative Commons); a chord counts once for each
pair of neighbouring keys, a ridge of 1 holds the weights. On pieces it has not seen (ten folds by piece) the model's
first choice is the printed one for 66 to 67 % of the chords of three and four keys, and for 36 % of those of two, which
depend more on what comes before and after.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np

from engine.hand.comfort import BLACK, WIDEST, Floats, Ints, beside_white, widths
from engine.hand.keyboard import UNIT
from engine.hand.spans import limits


@dataclass(frozen=True, slots=True)
class FittedWeight:
    """`value` is log odds against a fingering per `unit`, `error` its standard error, pieces taken as wholes."""

    value: float
    error: float
    unit: str


WEIGHTS: dict[str, FittedWeight] = {
    "thumb away": FittedWeight(
        0.58, 0.06, "half white key between thumb and next finger, away from a white key for each finger"
    ),
    "fingers away": FittedWeight(1.00, 0.06, "the same between two other neighbouring fingers"),
    "beyond comfort": FittedWeight(0.49, 0.12, "half white key beyond the comfortable span of neighbours"),
    "thumb on black": FittedWeight(1.35, 0.30, "thumb on a black key"),
    "thumb on black beside white": FittedWeight(0.61, 0.33, "the same where another finger has a white key"),
    "fifth on black beside white": FittedWeight(
        0.90, 0.23, "little finger on a black key where another has a white one"
    ),
    "thumb": FittedWeight(0.99, 0.17, "use of the thumb; second and third finger are the measure"),
    "fourth": FittedWeight(1.04, 0.19, "use of the fourth finger"),
    "fifth": FittedWeight(1.44, 0.18, "use of the little finger"),
    "fifth outside three keys": FittedWeight(
        -0.48, 0.28, "the same in chords of three keys and more, where it has the outer note"
    ),
    "second with third": FittedWeight(1.11, 0.30, "second and third finger in one chord"),
    "third with fourth": FittedWeight(1.89, 0.44, "third and fourth finger in one chord"),
    "fourth with fifth": FittedWeight(0.32, 0.25, "fourth and little finger in one chord"),
}


@lru_cache(maxsize=16)
def fitted() -> tuple[float, ...]:
    """Return the weights in the order of `WEIGHTS`."""
    return tuple(weight.value for weight in WEIGHTS.values())


def against(keys: Ints, fingers: Ints, reach: float, weights: tuple[float, ...]) -> Floats:
    """Return the log odds against each of c fingerings (c x k fingers) of n right hands (n x k keys): n x c, up to a
    constant for each hand. Linear in `weights`, in the order of `WEIGHTS`."""
    by_rule = dict(zip(WEIGHTS, weights, strict=True))
    pairs = _pairs(reach, weights)
    odds: Floats = np.tile(_alone(fingers, by_rule), (len(keys), 1))
    for low in range(keys.shape[1] - 1):
        apart = np.minimum(keys[:, low + 1] - keys[:, low], WIDEST)
        odds += pairs[fingers[:, low], fingers[:, low + 1]][:, keys[:, low] % 12, apart].T
    thumb, fifth = (fingers == 1).astype(np.float64).T, (fingers == 5).astype(np.float64).T
    beside = beside_white(keys).astype(np.float64)
    odds += BLACK[keys].astype(np.float64) @ thumb * by_rule["thumb on black"]
    odds += beside @ (thumb * by_rule["thumb on black beside white"] + fifth * by_rule["fifth on black beside white"])
    return odds


def _alone(fingers: Ints, by_rule: dict[str, float]) -> Floats:
    """Return what the fingers of each fingering count, whatever keys they hold."""
    first, second, third, fourth, fifth = ((fingers == finger).any(axis=1).astype(np.float64) for finger in range(1, 6))
    outside = by_rule["fifth outside three keys"] if fingers.shape[1] > 2 else 0.0
    odds: Floats = first * by_rule["thumb"] + fourth * by_rule["fourth"] + fifth * (by_rule["fifth"] + outside)
    odds += second * third * by_rule["second with third"] + third * fourth * by_rule["third with fourth"]
    odds += fourth * fifth * by_rule["fourth with fifth"]
    return odds


@lru_cache(maxsize=64)
def _pairs(reach: float, weights: tuple[float, ...]) -> Floats:
    """Return what two neighbouring fingers count by finger, finger, pitch class of the lower key and semitones
    between."""
    by_rule = dict(zip(WEIGHTS, weights, strict=True))
    wide = widths()
    odds = np.zeros((6, 6, 12, WIDEST + 1))
    for one, two in combinations(range(1, 6), 2):
        away = np.abs(wide / UNIT - 2 * (two - one)) * by_rule["thumb away" if one == 1 else "fingers away"]
        beyond = np.maximum(0.0, wide - limits(reach, one, two)[3]) / UNIT * by_rule["beyond comfort"]
        odds[one, two] = odds[two, one] = away + beyond
    return odds
