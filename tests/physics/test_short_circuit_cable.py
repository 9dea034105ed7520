"""Adiabatic heat: the rules are one rule, read from several sides."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import short_circuit_cable as sc

areas = st.floats(0.3e-6, 200e-6)
currents = st.floats(10.0, 20e3)
hot = st.floats(350.0, 600.0)


@given(areas, currents, hot)
def test_time_current_area_and_temperature_agree(area: float, current: float, end: float) -> None:
    k = sc.copper_density(343.15, end)
    time = sc.withstand_time(k, area, current)
    assert sc.withstand_current(k, area, time) == pytest.approx(current)
    assert sc.least_area(k, current, time) == pytest.approx(area)
    assert sc.withstand(k, area) == pytest.approx(current**2 * time)
    assert sc.withstand_share(current**2 * time, sc.withstand(k, area)) == pytest.approx(1.0)
    assert sc.copper_hot_after(343.15, current, area, time) == pytest.approx(end)


@given(hot)
def test_aluminium_stands_less_than_copper(end: float) -> None:
    assert sc.aluminium_density(343.15, end) < sc.copper_density(343.15, end)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (sc.copper_density, (343.15, 343.15)),
        (sc.aluminium_density, (343.15, 300.0)),
        (sc.withstand_time, (115e6, 35e-6, 0.0)),
        (sc.withstand_current, (115e6, 35e-6, 0.0)),
        (sc.least_area, (0.0, 100.0, 1.0)),
        (sc.copper_hot_after, (343.15, 100.0, 0.0, 1.0)),
        (sc.withstand_share, (1.0, 0.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]


def test_a_fault_behind_a_pack_is_ohms_law() -> None:
    # 350 V over 85 mΩ and 3 mΩ
    assert sc.prospective(350.0, 0.085, 0.003) == pytest.approx(3977.27, abs=0.01)
    with pytest.raises(FormulaError):
        sc.prospective(350.0, 0.0, 0.003)
