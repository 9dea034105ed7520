"""Hills, times, load transfer, torsion and braking by the motor: closed forms worked by hand.

Each case was computed from the equation named in it, apart from the program, and is given to so
many digits; half a unit of the last is allowed.
"""

from __future__ import annotations

import pytest

from wattwright.physics.acceleration import time_at_force_then_power, time_at_power
from wattwright.physics.adhesion import front_axle_force, load_transfer, rear_axle_force
from wattwright.physics.gearing import total_ratio
from wattwright.physics.road_load import equivalent_mass_by_share, grade_force, rolling_force
from wattwright.physics.shaft import solid_shear_stress, solid_yield_torque, torque_margin
from wattwright.physics.tractive import (
    hill_start_force,
    regen_deceleration,
    regen_torque_at,
)

# m·g·sin(atan s) and with rolling 0.012·m·g·cos(atan s), 1,200 kg
HILLS = [
    (0.15, 1745.67, 1885.32),
    (0.20, 2307.89, 2446.36),
    (0.25, 2854.15, 2991.15),
    (0.30, 3381.50, 3516.76),
]


@pytest.mark.parametrize(("grade", "climb", "whole"), HILLS)
def test_hill(grade: float, climb: float, whole: float) -> None:
    assert abs(grade_force(1200, grade) - climb) <= 0.5e-2
    both = grade_force(1200, grade) + rolling_force(1200, grade, 0.012)
    assert abs(both - whole) <= 0.5e-2
    assert abs(hill_start_force(1200, grade, 0.012) - whole) <= 0.5e-2


def test_constant_power() -> None:
    """1,200 kg, 5 % rotating, 50 kW, 0 to 100 km/h: m·v²/(2·P) = 9.722 s."""
    mass = equivalent_mass_by_share(1200, 0.05)
    assert abs(time_at_power(mass, 50e3, 0, 100 / 3.6) - 9.722) <= 0.5e-3


def test_constant_force_until_the_power() -> None:
    """The same with 4,000 N at most: 3.9375 s to 12.5 m/s, 7.7535 s more, 11.691 s in all."""
    first = time_at_force_then_power(1260, 4000, 50e3, 0, 12.5)
    rest = time_at_force_then_power(1260, 4000, 50e3, 12.5, 100 / 3.6)
    assert abs(first - 3.9375) <= 0.5e-4
    assert abs(rest - 7.7535) <= 0.5e-4
    assert abs(time_at_force_then_power(1260, 4000, 50e3, 0, 100 / 3.6) - 11.691) <= 0.5e-3


def test_load_transfer() -> None:
    """1,500 kg, 0.55 m high, g = 9.81: 0.5 g over 2.6 m 1556.394 N, 0.6 g over 1.5 m 3237.3 N."""
    assert abs(load_transfer(1500, 0.5 * 9.81, 0.55, 2.6) - 1556.394) <= 0.5e-3
    assert abs(load_transfer(1500, 0.6 * 9.81, 0.55, 1.5) - 3237.3) <= 0.05


# braking z, front and rear axle N: 1,500 kg, 2.6 m, 1.2 m behind the front axle, 0.55 m, g = 9.81
BRAKED = [(0.15, 8390.4, 6324.6), (0.3, 8857.3, 5857.7), (0.8, 10413.7, 4301.3)]


@pytest.mark.parametrize(("share", "front", "rear"), BRAKED)
def test_axles_while_braking(share: float, front: float, rear: float) -> None:
    """The mass is scaled so that standard gravity weighs what 9.81 m/s² does."""
    mass, braking = 1500 * 9.81 / 9.80665, -share * 9.80665
    assert abs(front_axle_force(mass, 2.6, 1.2, 0.55, braking, 0.0) - front) <= 0.05
    assert abs(rear_axle_force(mass, 2.6, 1.2, 0.55, braking, 0.0) - rear) <= 0.05


# diameter mm, torque N·m, 16·T/(π·d³) MPa
SHAFTS = [(25, 1500, 488.924), (28, 2000, 464.009), (22, 1000, 478.302)]


@pytest.mark.parametrize(("millimetres", "torque", "megapascal"), SHAFTS)
def test_torsion(millimetres: float, torque: float, megapascal: float) -> None:
    stress = solid_shear_stress(torque, millimetres / 1000)
    assert abs(stress / 1e6 - megapascal) <= 0.5e-3
    strong = solid_yield_torque(2e6 * megapascal, millimetres / 1000)
    assert torque_margin(strong, torque) == pytest.approx(2.0, rel=1e-5)


def test_braking_by_the_motor_changes_with_the_gear() -> None:
    """60 N·m, final drive 4.1, 0.30 m, 1,175 kg, no losses: 0.70 m/s² in 1:1."""
    direct = regen_deceleration(60, total_ratio(1.0, 4.1), 0.30, 1175)
    assert abs(direct - 0.70) <= 0.005
    assert regen_deceleration(60, total_ratio(2.1, 4.1), 0.30, 1175) == pytest.approx(2.1 * direct)
    back = regen_torque_at(0.70, total_ratio(1.0, 4.1), 1.0, 0.30, 0.0, 1175)
    assert abs(back - 60) <= 60 * 0.005 / 0.70
