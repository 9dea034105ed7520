"""Shafts in torsion: stress and strength that belong together."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import shaft as sh

torques = st.floats(10.0, 5000.0)
diameters = st.floats(0.010, 0.080)
walls = st.floats(0.0, 0.95)


@given(torques, diameters)
def test_a_tube_without_a_hole_is_a_solid_shaft(torque: float, diameter: float) -> None:
    solid = sh.solid_shear_stress(torque, diameter)
    assert sh.hollow_shear_stress(torque, diameter, 0.0) == pytest.approx(solid)
    assert sh.solid_shear_stress(8 * torque, 2 * diameter) == pytest.approx(solid)


@given(torques, diameters, walls)
def test_at_the_yield_torque_the_stress_is_the_yield_stress(
    torque: float, outer: float, hole: float
) -> None:
    inner = hole * outer
    stress = sh.hollow_shear_stress(torque, outer, inner)
    assert sh.hollow_yield_torque(stress, outer, inner) == pytest.approx(torque)
    assert stress >= sh.solid_shear_stress(torque, outer) * (1 - 1e-12)
    stress = sh.solid_shear_stress(torque, outer)
    assert sh.solid_yield_torque(stress, outer) == pytest.approx(torque)
    assert sh.torque_margin(sh.solid_yield_torque(2 * stress, outer), torque) == pytest.approx(2.0)


@given(torques, diameters, st.floats(0.2, 0.9))
def test_rings_of_the_cross_section_carry_the_whole_torque(
    torque: float, outer: float, hole: float
) -> None:
    """The stress grows straight from the middle; summed over rings it must give the torque."""
    top = sh.hollow_shear_stress(torque, outer, hole * outer)
    count = 400
    step = outer * (1 - hole) / 2 / count
    radii = [hole * outer / 2 + (place + 0.5) * step for place in range(count)]
    carried = sum(top * radius / (outer / 2) * radius * 2 * pi * radius * step for radius in radii)
    assert carried == pytest.approx(torque, rel=1e-4)


def test_pure_shear_yields_at_the_root_of_a_third() -> None:
    assert sh.shear_yield(900e6) == pytest.approx(519.615e6, rel=1e-6)


REFUSED: list[Callable[[], float]] = [
    lambda: sh.solid_shear_stress(1000.0, 0.0),
    lambda: sh.solid_yield_torque(600e6, -0.02),
    lambda: sh.hollow_shear_stress(1000.0, 0.03, 0.03),
    lambda: sh.hollow_yield_torque(600e6, 0.03, -0.01),
    lambda: sh.torque_margin(2000.0, 0.0),
]


@pytest.mark.parametrize("call", REFUSED)
def test_what_cannot_be_is_refused(call: Callable[[], float]) -> None:
    with pytest.raises(FormulaError, match=r"above zero|below the outer one"):
        call()


def test_a_torque_back_and_forth_wears_as_soderberg_s_line_says() -> None:
    # Turned back and forth alike there is no mean: what counts is the torque itself.
    assert sh.reversing_torque(300.0, 300.0, 0.4) == pytest.approx(300.0)
    # Never braked by the motor: half of it goes up and down, on a mean of the other half.
    assert sh.reversing_torque(300.0, 0.0, 0.4) == pytest.approx(150.0 + 0.4 * 150.0)
    # On the line from what is borne for life to what yields: T_a/T_w + T_m/T_y = 1.
    yields, share = 1000.0, 0.4
    endures = sh.reversing_strength(yields, share)
    for mean in (0.0, 100.0, 250.0):
        swing = endures * (1 - mean / yields)
        found = sh.reversing_torque(mean + swing, swing - mean, share)
        assert found == pytest.approx(endures)


@pytest.mark.parametrize("asked", [(300.0, 100.0, 0.0), (300.0, 100.0, 1.2), (300.0, -1.0, 0.4)])
def test_torques_are_written_above_nought_and_shares_up_to_one(asked) -> None:
    with pytest.raises(FormulaError):
        sh.reversing_torque(*asked)
