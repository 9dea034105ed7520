"""Pilot and proximity: the rule of duty and current, dividers by hand, and where they end."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import pilot

OHMS = st.floats(50.0, 10_000.0)


def current_at(duty: float) -> float:
    """By whichever of both rules holds."""
    return (pilot.pilot_current_above if duty > 0.85 else pilot.pilot_current)(duty)


def duty_for(current: float) -> float:
    """By whichever of both rules holds."""
    return (pilot.pilot_duty_above if current > 51 else pilot.pilot_duty)(current)


@given(st.floats(6.0, 51.0) | st.floats(52.5, 80.0, exclude_min=True))
def test_a_duty_says_the_current_that_it_was_made_for(current: float) -> None:
    # Just above 52.5 A the duty may round to 85 % itself, which says 51 A.
    if 52.5 < current < 52.5 + 1e-9:
        return
    assert current_at(duty_for(current)) == pytest.approx(current, rel=1e-9)


@given(st.floats(0.08, 0.97), st.floats(0.08, 0.97))
def test_more_duty_never_says_less(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert current_at(low) <= current_at(high)


@pytest.mark.parametrize("duty", [0.0, 0.05, 0.0799, 0.9701, 1.0])
def test_what_says_no_current_is_refused(duty: float) -> None:
    with pytest.raises(FormulaError, match="a pilot says a current by this rule"):
        current_at(duty)


@pytest.mark.parametrize("current", [0.0, 5.9, 51.1, 52.5, 80.1])
def test_a_current_that_no_duty_says_is_refused(current: float) -> None:
    with pytest.raises(FormulaError, match="a pilot says 6 A to 51 A"):
        duty_for(current)


@given(OHMS, st.floats(0.2, 1.2), st.floats(11.4, 12.6))
def test_the_resistance_comes_back_out_of_the_level(
    resistance: float, diode: float, source: float
) -> None:
    level = pilot.pilot_high(source, 1000.0, resistance, diode)
    # The same current through both: out of the source, and into the vehicle.
    current = (source - level) / 1000.0
    assert level - diode == pytest.approx(current * resistance)
    found = pilot.resistance_behind(level, source, 1000.0, diode)
    assert found == pytest.approx(resistance, rel=1e-9)


@given(OHMS, OHMS)
def test_side_by_side_is_less_than_either_and_adds_conductances(one: float, other: float) -> None:
    found = pilot.side_by_side(one, other)
    assert found < min(one, other)
    assert 1 / found == pytest.approx(1 / one + 1 / other)


@given(OHMS)
def test_without_a_diode_both_levels_are_alike(resistance: float) -> None:
    low = pilot.pilot_low_without_diode(12.0, 1000.0, resistance)
    assert low == pytest.approx(-pilot.pilot_high(12.0, 1000.0, resistance, 0.0))
    assert pilot.pilot_low(12.0) < low < 0


def test_the_mean_is_between_the_levels_and_is_them_at_the_ends() -> None:
    assert pilot.pilot_average(0.0, 9.0, -12.0) == -12.0
    assert pilot.pilot_average(1.0, 9.0, -12.0) == 9.0
    # A thousand steps of the square wave, added up.
    wave = [9.0] * 267 + [-12.0] * 733
    assert pilot.pilot_average(0.267, 9.0, -12.0) == pytest.approx(sum(wave) / 1000)


def test_a_code_holds_in_its_range_and_where_two_meet_the_smaller_current() -> None:
    codes = ([75.0, 150.0, 330.0], [150.0, 330.0, 1000.0], [63.0, 32.0, 20.0])
    for ohms, amperes in ((75.0, 63.0), (150.0, 32.0), (240.0, 32.0), (450.0, 20.0)):
        assert pilot.coded_current(ohms, *codes) == amperes
    for ohms in (74.0, 1001.0):
        with pytest.raises(FormulaError, match="range of no code"):
            pilot.coded_current(ohms, *codes)
    for broken in (([], [], []), ([75.0], [150.0], [63.0, 32.0])):
        with pytest.raises(FormulaError, match="both ends"):
            pilot.coded_current(100.0, *broken)


def test_how_far_a_level_is_off_has_a_sign() -> None:
    assert pilot.pilot_off(8.5, 9.0) == pytest.approx(-0.5)
    assert pilot.pilot_off(-5.6, -12.0) == pytest.approx(6.4)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (pilot.side_by_side, (0.0, 100.0)),
        (pilot.pilot_high, (12.0, 0.0, 2740.0, 0.7)),
        (pilot.pilot_high, (0.5, 1000.0, 2740.0, 0.7)),
        (pilot.pilot_high, (12.0, 1000.0, 2740.0, -0.1)),
        (pilot.pilot_low, (0.0,)),
        (pilot.pilot_low_without_diode, (-12.0, 1000.0, 2740.0)),
        (pilot.pilot_low_without_diode, (12.0, 1000.0, 0.0)),
        (pilot.resistance_behind, (12.0, 12.0, 1000.0, 0.7)),
        (pilot.resistance_behind, (0.6, 12.0, 1000.0, 0.7)),
        (pilot.resistance_behind, (9.0, 12.0, 0.0, 0.7)),
        (pilot.pilot_average, (1.1, 9.0, -12.0)),
        (pilot.proximity_voltage, (5.0, 0.0, 142.0)),
        (pilot.proximity_voltage, (5.0, 330.0, -1.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]
