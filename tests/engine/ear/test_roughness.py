from math import isclose, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ear.roughness import (
    bandwidth,
    beating,
    frequency,
    hutchinson_knopoff,
    pair_dissonance,
    sethares,
    spectrum,
)

BOTH = pytest.mark.parametrize("model", [hutchinson_knopoff, sethares])


def test_a_above_middle_c_has_440_hertz_and_an_octave_doubles():
    assert frequency(69) == 440.0
    assert isclose(frequency(60), 261.6256, abs_tol=1e-4)
    assert isclose(frequency(57) * 2, 440.0)


def test_the_critical_band_is_wider_than_a_third_below_and_narrower_above():
    # Why thirds blur below C3: two keys a minor third apart there lie inside one critical band.
    low, high = frequency(48), frequency(84)
    assert bandwidth(low) > frequency(51) - low
    assert bandwidth(high) < frequency(87) - high


def test_two_partials_beat_most_a_quarter_of_a_band_apart():
    assert beating(0.25) == pytest.approx(1.0)
    assert max(beating(part / 100) for part in range(200)) == beating(0.25)
    assert beating(0.0) == beating(1.2) == 0.0


def test_coinciding_partials_are_one_with_their_powers_added():
    heard = dict(spectrum((60, 72), partials=2))
    assert len(heard) == 3
    assert heard[frequency(72)] ** 2 == pytest.approx(1 + 1 / 4)


def test_a_silent_chord_and_a_bare_octave_are_smooth():
    assert hutchinson_knopoff(()) == sethares(()) == 0.0
    assert hutchinson_knopoff((60, 72)) < 0.005


def test_the_worst_interval_of_two_pure_tones_is_where_the_two_slopes_meet():
    # The derivative of exp(-3.5 x) - exp(-5.75 x) is zero at ln(5.75/3.5) / 2.25.
    worst = log(5.75 / 3.5) / 2.25 * (0.021 * 440 + 19) / 0.24
    peak = pair_dissonance((440.0, 1.0), (440.0 + worst, 1.0))
    assert all(pair_dissonance((440.0, 1.0), (440.0 + worst + aside, 1.0)) < peak for aside in (-1, 1))


@BOTH
def test_a_third_grows_rougher_the_lower_it_sits(model):
    roughness = [model((low, low + 4)) for low in (72, 60, 48, 36)]
    assert roughness == sorted(roughness)


@BOTH
def test_a_semitone_is_the_roughest_and_the_octave_the_smoothest_interval(model):
    roughness = {step: model((60, 60 + step)) for step in range(1, 13)}
    assert max(roughness, key=roughness.get) == 1
    assert min(roughness, key=roughness.get) == 12


@BOTH
def test_a_drop_two_stack_is_smoother_than_the_close_one(model):
    # Dm7 close from C4 and with the second note from above an octave down.
    assert model((53, 60, 62, 69)) < model((60, 62, 65, 69))


@BOTH
@given(st.sets(st.integers(21, 108), max_size=6).map(lambda keys: tuple(sorted(keys))))
def test_roughness_is_never_below_zero(model, keys):
    assert model(keys) >= 0.0
