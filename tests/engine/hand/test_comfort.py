from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.hand.comfort import THUMB_ON_BLACK, discomfort
from engine.hand.keyboard import UNIT, black, span
from engine.hand.spans import limits

chords = st.sets(st.integers(40, 80), min_size=1, max_size=5).map(lambda keys: tuple(sorted(keys)))


def counted(keys, fingers, reach):
    """Return the points of a fingering of the right hand by the rules of Parncutt et al. 1997, pair by pair.

    2 a half white key beyond comfort, 1 beyond ease with the thumb and 2 without, 1 for the little finger alone on
    black (the thumb's is this program's), 1 for weak neighbours, which this program halves; infinite where it does not
    reach."""
    points = 0.0
    for low, high in combinations(range(len(keys)), 2):
        wide = span(keys[low], keys[high])
        least, low_ease, high_ease, comfort, widest = limits(reach, fingers[low], fingers[high])
        if wide > min(widest + 0.5, reach) or wide < 0.7 * UNIT:
            return np.inf
        if high == low + 1 or (low, high) == (0, len(keys) - 1):
            ease = 1 if fingers[low] == 1 else 2
            points += 2 * max(0, wide - comfort, least - wide) / UNIT
            points += ease * max(0, wide - high_ease, low_ease - wide) / UNIT
    if not all(map(black, keys)):
        on_black = [finger for key, finger in zip(keys, fingers, strict=True) if black(key)]
        points += THUMB_ON_BLACK * (1 in on_black) + (5 in on_black)
    return points + 0.5 * ({4, 5} <= set(fingers)) + 0.5 * ({3, 4} <= set(fingers))


@given(keys=chords, reach=st.sampled_from([140.0, 170.0, 190.0, 215.0]))
def test_a_fingering_costs_what_the_published_rules_count(keys, reach):
    sets = list(combinations(range(1, 6), len(keys)))
    found = discomfort(np.array([keys], dtype=np.int32), np.array(sets, dtype=np.int32), reach)
    assert found[0].tolist() == pytest.approx([counted(keys, fingers, reach) for fingers in sets])


def test_a_thumb_on_black_among_white_keys_is_less_easy():
    thumbs = np.array([[1, 3, 5]], dtype=np.int32)
    black_below, white = (np.array([keys], dtype=np.int32) for keys in ((63, 67, 72), (64, 67, 72)))
    assert discomfort(black_below, thumbs, 200.0)[0, 0] > discomfort(white, thumbs, 200.0)[0, 0]
