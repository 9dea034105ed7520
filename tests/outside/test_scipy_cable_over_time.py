"""Warming of a cable against scipy's integration of the same equation, and its two limits.

``scipy.integrate.solve_ivp`` (LSODA) goes through dT/dt = f(T) step by step in time; ours goes
through temperature. The loss is worked out here from the formulas of ``cable_heat``, by fixed
point. For short times the adiabatic rule of IEC 60949 must come out, for long ones the steady
temperature.
"""

from __future__ import annotations

import pytest
from scipy.integrate import solve_ivp

from wattwright.cable_over_time import Warming, through
from wattwright.cylinder_in_air import CableInAir
from wattwright.physics import cable_heat, cable_warming, short_circuit_cable

ICE = 273.15
PER_METRE, ALPHA, T20 = 17.241e-9 / 35e-6, 0.00393, 293.15
COPPER_ALONE = 35e-6 * 3.45e6
CABLE = CableInAir(0.0105, 0.9, 1.0, ICE + 30, 0.26, 1.0)


def warming(current: float, capacity: float = 150.0) -> Warming:
    return Warming(CABLE, current**2 * PER_METRE, ALPHA, T20, capacity)


def lost(conductor: float) -> float:
    """Heat given away by a conductor at a temperature, W/m, by going round."""
    surface = conductor
    for _ in range(200):
        convected = cable_heat.convection(surface, ICE + 30, 0.0105)
        radiated = cable_heat.radiation(surface, ICE + 30, 0.9)
        path = 0.26 + cable_heat.outside_path(0.0105, 1.0, convected, radiated)
        heat = (conductor - ICE - 30) / path
        surface = 0.5 * surface + 0.5 * cable_heat.outside_temperature(conductor, heat, 0.26)
    return heat


def by_scipy(current: float, start: float, time: float, capacity: float = 150.0) -> float:
    def slope(_: float, state: list[float]) -> list[float]:
        made = cable_heat.heat_of_conductor(current, PER_METRE, ALPHA, state[0])
        return [(made - lost(state[0])) / capacity]

    found = solve_ivp(slope, (0.0, time), [start], method="LSODA", rtol=1e-8, atol=1e-7)
    return float(found.y[0, -1])


@pytest.mark.parametrize(
    ("current", "start", "time"),
    [
        (300.0, 30.0, 120.0),
        (150.0, 30.0, 600.0),
        (150.0, 90.0, 1200.0),
        (0.0, 90.0, 600.0),
        (400.0, 60.0, 60.0),
        (1500.0, 30.0, 5.0),
        (3000.0, 70.0, 1.5),
    ],
)
def test_temperature_after_a_time(current: float, start: float, time: float) -> None:
    found = warming(current).after(ICE + start, time)
    assert found == pytest.approx(by_scipy(current, ICE + start, time), abs=2e-3)
    assert warming(current).time_between(ICE + start, found) == pytest.approx(time, rel=1e-9)


def test_currents_one_after_the_other() -> None:
    profile = [(300.0, 60.0), (50.0, 120.0), (350.0, 45.0), (0.0, 60.0)]
    found = through(warming, ICE + 40, profile)
    state = ICE + 40
    for (current, time), ours in zip(profile, found[1:], strict=True):
        state = by_scipy(current, state, time)
        assert ours == pytest.approx(state, abs=5e-3)
    assert max(found) == found[3]


@pytest.mark.parametrize("current", [5_000.0, 20_000.0, 100_000.0])
def test_for_short_times_it_is_the_adiabatic_rule(current: float) -> None:
    k = short_circuit_cable.copper_density(ICE + 70, ICE + 160)
    rule = short_circuit_cable.withstand_time(k, 35e-6, current)
    found = warming(current, COPPER_ALONE).time_between(ICE + 70, ICE + 160)
    # 226 is rounded from 225.7 and 0.00393 from 1/254.5: 0.3 % in the time.
    assert found == pytest.approx(rule, rel=5e-3)
    hot = short_circuit_cable.copper_hot_after(ICE + 70, current, 35e-6, rule)
    assert hot == pytest.approx(ICE + 160, abs=1e-6)


def test_the_conductor_alone_never_lasts_shorter_than_the_adiabatic_rule() -> None:
    k = short_circuit_cable.copper_density(ICE + 70, ICE + 160)
    ratios = []
    for current in (5000.0, 2000.0, 1000.0, 600.0, 400.0):
        rule = short_circuit_cable.withstand_time(k, 35e-6, current)
        ratios.append(warming(current, COPPER_ALONE).time_between(ICE + 70, ICE + 160) / rule)
    assert ratios == sorted(ratios)
    assert ratios[0] == pytest.approx(1.0, abs=5e-3)
    assert ratios[-1] > 1.5


def test_for_long_times_it_is_the_steady_temperature() -> None:
    steady = cable_heat.steady_temperature(
        150.0, PER_METRE, ALPHA, 0.26, 1.0, 0.0105, 0.9, 1.0, ICE + 30, ICE + 50
    )
    for start in (ICE - 10, ICE + 30, ICE + 95):
        assert warming(150.0).after(start, 1e6) == pytest.approx(steady, abs=1e-5)
    # Near the steady temperature the way left falls by the time constant there.
    path = cable_heat.outside_path(
        0.0105,
        1.0,
        cable_heat.convection(ICE + 50, ICE + 30, 0.0105),
        cable_heat.radiation(ICE + 50, ICE + 30, 0.9),
    )
    constant = cable_warming.time_constant(150.0, 0.26 + path, 150.0, PER_METRE, ALPHA)
    near = [warming(150.0).after(steady - 1.0, time) for time in (0.0, constant)]
    left = (steady - near[1]) / (steady - near[0])
    # The loss grows faster than the rise: e⁻¹ is 0.37, with a loss as the 1.2th power 0.28.
    assert 0.25 < left < 0.37
