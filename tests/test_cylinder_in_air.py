"""Cables in air in plain numbers: what is searched solves the balance."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.cylinder_in_air import CableInAir, convection, radiation
from wattwright.errors import FormulaError

AIR = 303.15
CABLES = st.builds(
    CableInAir,
    diameter=st.floats(0.001, 0.1),
    emissivity=st.floats(0.0, 1.0),
    free=st.floats(0.2, 1.0),
    ambient=st.floats(233.15, 373.15),
    inner=st.floats(0.0, 5.0),
    loaded=st.sampled_from([1.0, 2.0, 3.0, 7.0]),
)


@given(CABLES, st.floats(-30.0, 120.0))
def test_surface_and_conductor_are_one_the_inverse_of_the_other(
    cable: CableInAir, rise: float
) -> None:
    conductor = cable.ambient + rise
    surface = cable.surface(conductor)
    assert min(cable.ambient, conductor) <= surface <= max(cable.ambient, conductor)
    assert cable.conductor(surface) == pytest.approx(conductor, abs=1e-9)
    assert cable.given_by_each(conductor) * rise >= 0.0


@given(CABLES, st.floats(0.01, 20.0))
def test_steady_is_heat_in_for_heat_out(cable: CableInAir, heat: float) -> None:
    try:
        surface = cable.steady_surface(heat, 0.00393, 293.15)
    except FormulaError:
        return
    made = heat * (1 + 0.00393 * (cable.conductor(surface) - 293.15))
    assert cable.loss(surface) / cable.loaded == pytest.approx(made, rel=1e-9)


@given(CABLES, st.floats(0.1, 100.0))
def test_more_heat_leaves_a_hotter_outside(cable: CableInAir, rise: float) -> None:
    assert cable.loss(cable.ambient + 1.1 * rise) > cable.loss(cable.ambient + rise) > 0.0
    assert cable.loss(cable.ambient) == 0.0


def test_transfer_is_by_air_and_by_radiation() -> None:
    cable = CableInAir(0.01, 0.9, 1.0, AIR, 0.0, 1.0)
    assert cable.transfer(333.15) == pytest.approx(
        convection(333.15, AIR, 0.01) + radiation(333.15, AIR, 0.9)
    )


@pytest.mark.parametrize(
    "numbers",
    [
        (0.0, 0.9, 1.0, AIR, 0.0, 1.0),
        (0.01, 1.1, 1.0, AIR, 0.0, 1.0),
        (0.01, -0.1, 1.0, AIR, 0.0, 1.0),
        (0.01, 0.9, 0.0, AIR, 0.0, 1.0),
        (0.01, 0.9, 1.01, AIR, 0.0, 1.0),
        (0.01, 0.9, 1.0, 0.0, 0.0, 1.0),
        (0.01, 0.9, 1.0, AIR, -0.1, 1.0),
        (0.01, 0.9, 1.0, AIR, 0.0, 0.0),
    ],
)
def test_what_is_no_cable_is_refused(numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        CableInAir(*numbers)


def test_beyond_the_properties_of_air_nothing_is_said() -> None:
    cable = CableInAir(0.01, 0.9, 1.0, AIR, 0.1, 1.0)
    with pytest.raises(FormulaError, match="properties of air"):
        cable.loss(1000.0)
    with pytest.raises(FormulaError, match="properties of air"):
        cable.surface(3000.0)
    with pytest.raises(FormulaError, match="burns first"):
        cable.steady_surface(1e5, 0.00393, 293.15)
    with pytest.raises(FormulaError, match="gives heat"):
        cable.steady_surface(-1.0, 0.00393, 293.15)
