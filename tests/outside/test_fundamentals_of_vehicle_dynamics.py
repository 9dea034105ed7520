"""Tractive effort and rotating inertia from a textbook.

Source: Fundamentals of Vehicle Dynamics (SAE, 1992), chapter 2, example 1: a passenger car with
an engine of 0.8 lb·in·s² and a gearbox of 1.3 lb·in·s², final drive 2.92 with 1.2 lb·in·s² before
it, two drive wheels of 11.0 lb·in·s² each that turn 801 times in a mile. From memory, and
recomputed: every number follows from the others to its last digit. Tolerances are half a unit of
that digit.
"""

from __future__ import annotations

import math

from wattwright.kinds import FORCE, INERTIA, LENGTH, MASS, ROTATIONAL_SPEED, SPEED, TORQUE
from wattwright.physics.gearing import (
    driveline_efficiency,
    motor_speed,
    road_speed,
    total_ratio,
    tractive_force,
    wheel_torque,
)
from wattwright.physics.road_load import equivalent_mass, inertia_at_axle
from wattwright.physics.rolling_radius import measured_circumference, rolling_radius
from wattwright.units import read

FIRST, FIFTH, FINAL = 4.28, 1.00, 2.92
INCH, POUND, POUND_FORCE = 0.0254, 0.45359237, 4.4482216152605
POUND_INCH_SECOND_SQUARED = POUND_FORCE * INCH
MILE = 1609.344
RADIUS = rolling_radius(measured_circumference(MILE, 801))


def test_rolling_radius() -> None:
    """801 turns in a mile: 12.59 in."""
    assert abs(RADIUS / INCH - 12.59) <= 0.005


def test_inertia_in_first_gear() -> None:
    """360.2 lb·in·s² at the axle, as much as 877 lb."""
    unit = POUND_INCH_SECOND_SQUARED
    inertia = inertia_at_axle((0.8 + 1.3) * unit, 1.2 * unit, 2 * 11.0 * unit, FIRST, FINAL)
    assert abs(inertia / unit - 360.2) <= 0.05
    assert abs(equivalent_mass(0.0, inertia, 12.59 * INCH) / POUND - 877) <= 0.5


def test_greatest_tractive_effort_in_first_gear() -> None:
    """201 lb·ft, efficiency 0.966 · 0.99: 2290 lb at 26.4 mph and 4400 rpm; in SI 10.185 kN."""
    torque = read("201 lb·ft", TORQUE).number
    efficiency = driveline_efficiency([0.966, 0.99])
    force = tractive_force(wheel_torque(torque, total_ratio(FIRST, FINAL), efficiency), RADIUS)
    assert abs(force / POUND_FORCE - 2290) <= 0.5
    assert abs(force - 10_185) <= 1.0
    speed = road_speed(read("4400 rpm", ROTATIONAL_SPEED).number, FIRST * FINAL, RADIUS)
    assert abs(speed * 3600 / MILE - 26.4) <= 0.05


def test_greatest_tractive_effort_in_fifth_gear() -> None:
    """Efficiency 0.970 · 0.99: 537 lb at 113 mph."""
    torque = read("201 lb·ft", TORQUE).number
    efficiency = driveline_efficiency([0.970, 0.99])
    force = tractive_force(wheel_torque(torque, total_ratio(FIFTH, FINAL), efficiency), RADIUS)
    assert abs(force / POUND_FORCE - 537) <= 0.5
    turning = motor_speed(read("113 mph", SPEED).number, FIFTH * FINAL, RADIUS)
    assert abs(turning * 30 / math.pi / 4400 - 1) <= 0.005


def test_the_units_above_are_those_of_the_program() -> None:
    assert read("1 in", LENGTH).number == INCH
    assert read("1 lb", MASS).number == POUND
    assert math.isclose(read("1 lbf", FORCE).number, POUND_FORCE, rel_tol=1e-12)
    assert math.isclose(
        read("1 kg·m²", INERTIA).number,
        POUND_INCH_SECOND_SQUARED / 0.1129848290276167,
        rel_tol=1e-9,
    )
