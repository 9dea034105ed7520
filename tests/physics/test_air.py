"""Density of the air: layers that hang together, and bounds."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics.air import (
    GAS_CONSTANT,
    STANDARD_GRAVITY,
    air_density,
    geopotential_height,
    isa_density,
    isa_pressure,
    isa_temperature,
)

heights = st.floats(-2000.0, 11_000.0)


def test_sea_level_is_where_it_begins() -> None:
    assert geopotential_height(0.0) == 0.0
    assert isa_temperature(0.0) == 288.15
    assert isa_pressure(0.0) == 101_325.0
    assert isa_density(0.0) == pytest.approx(1.225, abs=5e-6)


@given(heights)
def test_the_density_is_that_of_its_pressure_and_temperature(height: float) -> None:
    want = air_density(isa_pressure(height), isa_temperature(height))
    assert isa_density(height) == pytest.approx(want, rel=1e-12)


@given(st.floats(-1900.0, 10_900.0))
def test_the_air_above_rests_on_the_air_below(height: float) -> None:
    step = 10.0
    slope = (isa_pressure(height + step) - isa_pressure(height - step)) / (2 * step)
    assert slope == pytest.approx(-isa_density(height) * STANDARD_GRAVITY, rel=1e-6)


@given(st.floats(1.0, 9000.0))
def test_gravity_weakens_upward_so_geopotential_height_is_less(altitude: float) -> None:
    height = geopotential_height(altitude)
    assert 0.998 * altitude < height < altitude


def test_up_to_three_thousand_metres_both_heights_agree_within_what_is_said() -> None:
    assert geopotential_height(3000.0) == pytest.approx(3000.0, rel=0.0005)


@given(st.floats(60_000.0, 110_000.0), st.floats(230.0, 320.0))
def test_warm_air_is_thin_by_the_ratio_of_temperatures(pressure: float, kelvin: float) -> None:
    warm = air_density(pressure, 1.1 * kelvin)
    assert warm * 1.1 == pytest.approx(air_density(pressure, kelvin))
    assert air_density(2 * pressure, kelvin) == pytest.approx(2 * air_density(pressure, kelvin))


def test_humid_air_is_lighter_by_no_more_than_is_said() -> None:
    """Saturated at 30 °C: 4.25 kPa of the pressure is vapour, of 18.015 and not 28.964 g/mol."""
    dry = air_density(101_325.0, 303.15)
    humid = ((101_325.0 - 4247) + 4247 * 18.015 / 28.9644) / (GAS_CONSTANT * 303.15)
    assert 1 - humid / dry == pytest.approx(0.016, abs=0.0005)


@pytest.mark.parametrize("fn", [isa_pressure, isa_density])
def test_above_the_tropopause_another_law_holds(fn: object) -> None:
    assert fn(11_000.0) > 0  # type: ignore[operator]
    with pytest.raises(FormulaError, match="above 11 km"):
        fn(11_000.1)  # type: ignore[operator]


@pytest.mark.parametrize(("pressure", "kelvin"), [(0.0, 288.0), (-1.0, 288.0), (1e5, 0.0)])
def test_nothing_and_less_than_nothing_has_no_density(pressure: float, kelvin: float) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        air_density(pressure, kelvin)


def test_a_temperature_typed_in_degrees_is_noted() -> None:
    assert declaration(air_density).outside((101_325.0, 25.0))
    assert not declaration(air_density).outside((101_325.0, 298.15))
    assert math.isfinite(air_density(101_325.0, 25.0))
