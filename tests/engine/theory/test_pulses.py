from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from engine.theory.meter import Meter
from engine.theory.pulses import in_beats, in_pulses, pulses

METERS = st.builds(Meter, st.integers(1, 13), st.sampled_from([2, 4, 8]))


@given(METERS, st.fractions(0, 1, max_denominator=12))
def test_a_place_in_pulses_and_back_is_the_same_beat(meter, part):
    parts = pulses(meter)
    beats = part * Fraction(meter.beats)
    assert in_beats(in_pulses(beats, parts), parts, thirds=True) == beats
