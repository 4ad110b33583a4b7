from fractions import Fraction

import pytest

from engine.comp_names import COMP_NAMES
from engine.performance.onsets import onsets
from engine.performance.rhythm_row import ASCII, SIGNS, rhythm_row, row_text
from engine.performance.rhythms import RHYTHMS, rhythm_named
from engine.theory.meter import Meter
from engine.theory.pulses import pulses

FOUR = Meter(4, 4)


def starts(name, meter=FOUR, bar=1, feel="straight", hand="right"):
    """Beats from 1, as players count them."""
    return [1 + onset.start for onset in onsets(rhythm_named(name), hand, meter, bar, feel)]


def test_every_name_of_the_trade_has_its_rhythm():
    assert tuple(rhythm.name for rhythm in RHYTHMS) == COMP_NAMES
    assert all(rhythm.source for rhythm in RHYTHMS)


def test_a_name_is_found_however_it_is_typed():
    assert rhythm_named("Reverse  Charleston") is rhythm_named("reverse charleston")
    assert rhythm_named("") is None
    assert rhythm_named("nobody's") is None


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        ("charleston", ["1", "2.5"]),  # Modern Drummer, The Charleston: a dotted quarter and an eighth
        ("reverse charleston", ["1.5", "3"]),  # common practice
        # The others: common practice.
        ("off-beats", ["1.5", "2.5", "3.5", "4.5"]),
        ("quarters", ["1", "2", "3", "4"]),
        ("half", ["1", "3"]),
        ("whole", ["1"]),
        ("pushes", ["2.5", "4.5"]),
    ],
)
def test_a_rhythm_is_where_the_trade_counts_it(name, counted):
    assert starts(name) == [Fraction(count) for count in counted]


def test_a_bossas_two_bars_are_groups_of_2_3_2_2_3_2_2_eighths():
    # F. Haque, 1-2-3 Bossa Nova, rhythm pattern 2.
    both = [2 * (at - 1) for at in starts("bossa")] + [8 + 2 * (at - 1) for at in starts("bossa", bar=2)]
    assert [after - at for at, after in zip(both, [*both[1:], 16], strict=True)] == [2, 3, 2, 2, 3, 2, 2]


def test_swing_plays_the_off_beats_on_the_last_third():
    assert starts("charleston", feel="swing") == [1, Fraction(8, 3)]


def test_a_dotted_beat_has_its_off_beat_on_the_last_third():
    assert starts("off-beats", Meter(6, 8)) == [Fraction(5, 3), Fraction(8, 3)]


def test_a_broken_chord_has_three_to_a_beat():
    assert starts("6/8 broken", Meter(6, 8)) == [1 + Fraction(n, 3) for n in range(6)]
    assert starts("6/8 broken") == [1 + Fraction(n, 3) for n in range(12)]


def test_in_two_two_the_rhythm_goes_on_in_quarters():
    assert starts("quarters", Meter(2, 2)) == [1, Fraction(3, 2), 2, Fraction(5, 2)]


def test_odd_eighths_are_counted_in_their_groups():
    assert [pulse.beats for pulse in pulses(Meter(7, 8))] == [2, 2, 3]
    assert starts("quarters", Meter(7, 8)) == [1, 3, 5]
    assert starts("charleston", Meter(5, 8)) == [1, 5]


@pytest.mark.parametrize("upper", range(1, 14))
@pytest.mark.parametrize("lower", [1, 2, 4, 8, 16])
@pytest.mark.parametrize("feel", ["straight", "swing"])
def test_every_rhythm_fits_every_meter(upper, lower, feel):
    meter = Meter(upper, lower)
    assert sum(pulse.beats for pulse in pulses(meter)) == meter.beats
    for rhythm in RHYTHMS:
        for bar in range(len(rhythm.bars)):
            for hand in ("left", "right"):
                for onset in onsets(rhythm, hand, meter, bar + 1, feel):
                    assert 0 <= onset.start < meter.beats
                    assert onset.end > onset.start


def test_a_row_of_signs_tells_a_bar():
    assert row_text(rhythm_row(rhythm_named("charleston"), FOUR)) == "○─ ─● ·· ··"
    assert row_text(rhythm_row(rhythm_named("charleston"), FOUR, feel="swing"), ascii_only=True) == "x-- --X ... ..."
    assert row_text(rhythm_row(rhythm_named("6/8 broken"), Meter(6, 8)), ascii_only=True) == "Xxx xxx"


def test_what_is_held_over_the_bar_line_is_told_in_the_next_bar():
    assert row_text(rhythm_row(rhythm_named("pushes"), FOUR, bar=2), ascii_only=True) == "-- -X -- -X"


def test_no_two_signs_look_alike():
    for signs in (ASCII, SIGNS):
        assert len(set(signs.values())) == len(signs) == 5
