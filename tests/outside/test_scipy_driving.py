"""Charge, temperatures and speeds against a general solver of differential equations.

Source: SciPy, `scipy.integrate.solve_ivp` with an eighth-order method and tight tolerances, given
the equations in continuous time and nothing of the loop.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from vehicles import maps, parameters
from wattwright.uses.inputs import Trace
from wattwright.uses.runs import run

MAPS = maps()
TIGHT = {"method": "DOP853", "rtol": 1e-10, "atol": 1e-10}


def loss(speed, torque):
    along = [np.interp(torque, MAPS.loss_torques, row) for row in MAPS.losses]
    return float(np.interp(speed, MAPS.loss_speeds, along))


def slopes(p, power, heat, charge_and_temperatures):
    """Rates of charge and five temperatures at a constant power."""
    charge, motor, inverter, coolant, pack, chill = charge_and_temperatures
    u0 = np.interp(charge, MAPS.charges, MAPS.open_circuit)
    rate = math.log(p.cold_factor) / (298.15 - p.cold_temperature)
    resistance = p.resistance * math.exp(rate * max(0.0, 298.15 - pack))
    current = (u0 - math.sqrt(u0**2 - 4 * power * resistance)) / (2 * resistance)
    from_motor = 1 / p.motor_resistance * (motor - coolant)
    from_inverter = p.inverter_to_coolant * (inverter - coolant)
    from_pack = p.pack_to_coolant * (pack - chill)
    out = p.drive_coolant_to_ambient * (coolant - p.ambient)
    chilled = p.pack_coolant_to_ambient * (chill - p.ambient)
    direct = p.pack_to_ambient * (pack - p.ambient)
    return [
        -current / p.capacity,
        (p.motor_loss_share * heat - from_motor) / p.heat_capacity_motor,
        ((1 - p.motor_loss_share) * heat - from_inverter) / p.heat_capacity_inverter,
        (from_motor + from_inverter - out) / p.heat_capacity_drive_coolant,
        (current**2 * resistance - from_pack - direct) / p.heat_capacity_pack,
        (from_pack - chilled) / p.heat_capacity_pack_coolant,
    ]


@pytest.mark.parametrize(
    ("speed", "grade", "pack", "step"),
    [(25.0, 0.0, 293.15, 1.0), (20.0, 0.05, 268.15, 1.0), (24.0, 0.06, 293.15, 30.0)],
)
def test_charge_and_temperatures_under_a_constant_load(speed, grade, pack, step):
    p = parameters(start_pack=pack, start_pack_coolant=280.0, start_motor=320.0)
    count = int(900 / step)
    trace = Trace(np.full(count, step), np.full(count + 1, speed), grade)
    result = run(trace, p, MAPS)
    climb = p.mass * 9.80665 * math.sin(math.atan(grade))
    force = p.f0 + p.f1 * speed + p.f2 * speed**2 + climb
    turning, torque = speed * 8.0 / 0.29, force * 0.29 / 8.0 / 0.95
    heat = loss(turning, torque)
    power = torque * turning + heat + p.auxiliary
    start = [0.9, 320.0, 293.15, 293.15, pack, 280.0]
    solved = solve_ivp(
        lambda _, y: slopes(p, power, heat, y), (0.0, 900.0), start, t_eval=trace.times, **TIGHT
    ).y
    # The heat of the drive is constant, so that its temperatures are exact at any step; what
    # depends on the charge and the cold pack is held over a step.
    for name, expected in zip(("motor", "inverter", "drive_coolant"), solved[1:4], strict=True):
        assert getattr(result, name) == pytest.approx(expected, abs=1e-6), name
    assert result.charge == pytest.approx(solved[0], abs=1e-4 * step)
    assert result.pack == pytest.approx(solved[4], abs=0.01 * step)
    assert result.pack_coolant == pytest.approx(solved[5], abs=0.01 * step)


def test_full_torque_from_standstill():
    """The limit of torque against speed, with a pack too strong to matter."""
    endless = {"resistance": 1e-6, "discharge_current": 1e4, "capacity": 1e12}
    p = parameters(mass=2400.0, equivalent_mass=2500.0, **endless)
    count = 400
    trace = Trace(np.full(count, 0.05), np.concatenate(([0.0], np.full(count, 60.0))))
    result = run(trace, p, MAPS)
    u0 = float(np.interp(0.9, MAPS.charges, MAPS.open_circuit))

    def acceleration(_, v):
        turning = v[0] * 8.0 / 0.29
        along = [np.interp(u0, MAPS.torque_voltages, row) for row in MAPS.torque_limits]
        torque = np.interp(turning, MAPS.torque_speeds, along)
        force = torque * 8.0 / 0.29 * 0.95 - p.f0 - p.f1 * v[0] - p.f2 * v[0] ** 2
        return [force / 2500.0]

    solved = solve_ivp(acceleration, (0, 20.01), [0.0], t_eval=trace.times, max_step=0.05, **TIGHT)
    assert result.speed == pytest.approx(solved.y[0], abs=0.002)
    assert result.speed[-1] > 25


def test_coasting_to_a_stand_on_a_hill():
    """No torque left, uphill: the vehicle stops when the equation of motion says so."""
    hot = dict.fromkeys(("start_pack", "ambient", "start_pack_coolant"), 330.0)
    p = parameters(**hot)
    trace = Trace(np.full(400, 0.1), np.full(401, 15.0), 0.05)
    result = run(trace, p, MAPS)
    climb = p.mass * 9.80665 * math.sin(math.atan(0.05))

    def rates(_, y):
        return [y[1], -(p.f0 + p.f1 * y[1] + p.f2 * y[1] ** 2 + climb) / 1260.0]

    def stands(_, y):
        return y[1]

    stands.terminal = True
    solved = solve_ivp(rates, (0, 60), [0.0, 15.0], events=stands, **TIGHT)
    assert result.distance == pytest.approx(solved.y[0][-1], rel=1e-4)
    assert trace.times[np.flatnonzero(result.speed == 0)[0]] == pytest.approx(solved.t[-1], abs=0.1)
