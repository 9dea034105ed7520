"""Conductors: by hand, and laws that hold for any of them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import conductor

currents = st.floats(0.1, 500.0)
ohms = st.floats(1e-5, 10.0)


@given(st.floats(-3.0, 37.0))
def test_six_gauges_halve_the_diameter_nearly(gauge: float) -> None:
    ratio = conductor.gauge_diameter(gauge) / conductor.gauge_diameter(gauge + 6)
    assert ratio == pytest.approx(92 ** (6 / 39))
    assert ratio == pytest.approx(2.0, abs=0.006)
    area = conductor.gauge_area(gauge)
    assert conductor.solid_diameter(area) == pytest.approx(conductor.gauge_diameter(gauge))
    assert conductor.strands_area(1, conductor.gauge_diameter(gauge)) == pytest.approx(area)


def test_strands_by_hand() -> None:
    # 19 strands of 0.5 mm: 19·0.19635
    assert conductor.strands_area(19, 0.5e-3) == pytest.approx(3.7306e-6, rel=1e-4)


@given(currents, ohms)
def test_power_is_voltage_by_current(current: float, resistance: float) -> None:
    lost = conductor.voltage_lost(current, resistance)
    assert conductor.power_lost(current, resistance) == pytest.approx(lost * current)


@given(currents, st.floats(1e-4, 0.05), st.floats(0.01, 0.1), st.sampled_from([1.0, 2.0]))
def test_the_longest_cable_loses_just_the_share(
    current: float, per_length: float, share: float, ways: float
) -> None:
    length = conductor.length_for_loss(share, 12.0, current, per_length, ways)
    loop = conductor.of_loop(per_length, length, ways)
    lost = conductor.voltage_lost(current, loop)
    assert conductor.share_lost(lost, 12.0) == pytest.approx(share)


@given(st.floats(0.5, 100.0), st.floats(250.0, 400.0))
def test_a_reading_gives_the_resistance_it_was_made_with(length: float, temperature: float) -> None:
    warm = conductor.when_warm(0.554e-3, 0.00393, temperature) * length
    found = conductor.from_reading(warm, length, 0.00393, temperature)
    assert found == pytest.approx(0.554e-3)


@given(st.lists(ohms, min_size=1, max_size=6))
def test_side_by_side_there_is_less_than_the_least(each: list[float]) -> None:
    assert conductor.in_parallel(each) <= min(each) * (1 + 1e-12)
    assert conductor.in_parallel([each[0]] * 4) == pytest.approx(each[0] / 4)


def test_mass_by_hand() -> None:
    # 35 mm² · 8.89 = 311 g/m; π/4·(10.5² - 7.6²)·1.4 = 57.7 g/m
    assert conductor.mass_per_length(35e-6, 8890.0) == pytest.approx(0.31115)
    covered = conductor.covered_mass_per_length(35e-6, 8890.0, 7.6e-3, 10.5e-3, 1400.0)
    assert covered == pytest.approx(0.31115 + 0.05772, rel=1e-4)
    assert math.isclose(
        conductor.covered_mass_per_length(35e-6, 8890.0, 7.6e-3, 7.6e-3, 1400.0), 0.31115
    )


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (conductor.strands_area, (0.0, 1e-3)),
        (conductor.solid_diameter, (0.0,)),
        (conductor.resistance_of_length, (17e-9, 1.0, 0.0)),
        (conductor.when_warm, (1.0, 0.00393, 30.0)),
        (conductor.from_reading, (1.0, 0.0, 0.00393, 300.0)),
        (conductor.in_parallel, ([1.0, 0.0],)),
        (conductor.share_lost, (1.0, 0.0)),
        (conductor.length_for_loss, (0.03, 12.0, 0.0, 1e-3, 2)),
        (conductor.covered_mass_per_length, (35e-6, 8890.0, 8e-3, 7e-3, 1400.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]


def test_mass_of_cables_that_share_a_route() -> None:
    # Two of 3.2 m at 0.42 kg/m.
    assert conductor.mass_of_cables(0.42, 3.2, 2.0) == pytest.approx(2.688)
