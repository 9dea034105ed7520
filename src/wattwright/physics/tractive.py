"""What a force at the road is enough for: speed, grade, starting on a hill, braking by the motor.

    balance   driving_force, surplus_force, force_at_power, wheel_power, motor_power
    speed     top_speed_at_power, top_speed_over_points
    hills     gradient_possible, hill_start_force, hill_start_grade, weaker_grade
    braking   regen_deceleration, regen_deceleration_with_losses, regen_torque_at

Forces are at the road, positive when they drive forward. Road load is F = f0 + f1·v + f2·v² with
f0 in N, f1 in N·s/m, f2 in N·s²/m². A grade is rise over run.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import asin, asinh, atan, cos, sin, sinh, sqrt, tan

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Acceleration,
    DragLinear,
    DragSquare,
    Force,
    Fraction,
    Grade,
    Length,
    Mass,
    Power,
    Ratio,
    Speed,
    Torque,
)

STANDARD_GRAVITY = 9.80665  # m/s²
STEEPEST = sqrt(0.5)  # sine of 45°, a grade of 100 %
HALVINGS = 60  # enough to reach the last digit from any two speeds on a road

BALANCE = Source("Balance of driving force and road load", "", "computed")
SLOPE = Source("Equilibrium of a vehicle on a slope", "", "computed")
POWER = Source("Definition of power", "", "computed")
NEWTON = Source("Second law of motion", "", "computed")

ASKED = {
    "f0": ("constant part of the road load, f0", "150 N"),
    "f1": ("part that grows with speed, f1", "0.5 N/(km/h)"),
    "f2": ("part that grows with speed squared, f2", "0.03 N/(km/h)²"),
    "speed": ("road speed", "60 km/h"),
    "mass": ("mass of the vehicle", "1240 kg"),
    "grade": ("grade, uphill above zero", "12 %"),
    "available": ("force that the motor gives at the road", "2100 N"),
    "resistance": ("road load", "350 N"),
    "force": ("force at the road", "2100 N"),
    "top_speed_at_force.force": ("force at the road", "600 N"),
    "efficiency": ("efficiency of the gears", "94 %"),
    "power": ("power at the wheels", "30 kW"),
    "speeds": ("speeds of the curve of force, rising", "0 km/h; 60 km/h; 120 km/h"),
    "forces": ("force at the road at each of these speeds", "3000 N; 2100 N; 400 N"),
    "surplus": ("force left over the road load", "1500 N"),
    "rolling_coefficient": ("coefficient of rolling resistance", "0.012"),
    "by_force": ("grade that the force allows", "22 %"),
    "by_grip": ("grade that the grip of the tyres allows", "30 %"),
    "torque": ("braking torque of the motor", "40 N·m"),
    "ratio": ("ratio from motor to wheel", "7.8"),
    "rolling_radius": ("rolling radius", "275 mm"),
    "equivalent_mass": ("mass of the vehicle with what rotates", "1290 kg"),
    "threshold": ("deceleration to be reached", "1.3 m/s²"),
}


@formula("F", BALANCE)
def driving_force(
    f0: Force, f1: DragLinear, f2: DragSquare, speed: Speed, mass: Mass, grade: Grade
) -> Force:
    """Force at the road that keeps a speed on a slope.

    F = f0 + f1·v + f2·v² + m·g·sin(atan s), with ``speed`` v in m/s, ``mass`` m in kg. Rolling is
    left as on the level, which is too much by less than 2 % of it on a slope of 20 %.
    """
    return f0 + f1 * speed + f2 * speed**2 + mass * STANDARD_GRAVITY * sin(atan(grade))


@formula("F_s", BALANCE)
def surplus_force(available: Force, resistance: Force) -> Force:
    """Force left for climbing and accelerating."""
    return available - resistance


@formula("P", POWER)
def wheel_power(force: Force, speed: Speed) -> Power:
    """Power at the driven wheels.

    P = F·v, with ``force`` F in N and ``speed`` v in m/s.
    """
    return force * speed


@formula("P_m", POWER)
def motor_power(force: Force, speed: Speed, efficiency: Fraction) -> Power:
    """Power at the motor shaft that keeps a force up at a speed.

    P = F·v/η, with ``force`` F in N, ``speed`` v in m/s and ``efficiency`` η of the gears.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return force * speed / efficiency


@formula("F", POWER)
def force_at_power(power: Power, speed: Speed) -> Force:
    """Force at the road that a power at the wheels gives at a speed.

    F = P/v, with ``power`` P in W and ``speed`` v in m/s, above zero.
    """
    if speed <= 0:
        raise FormulaError("at standstill a power gives no particular force")
    return power / speed


@formula("v_max", BALANCE)
def top_speed_at_power(power: Power, f0: Force, f1: DragLinear, f2: DragSquare) -> Speed:
    """Speed at which a constant power at the wheels is just used up by the road.

    Root of f2·v³ + f1·v² + f0·v = P by the hyperbolic solution of the cubic, which has a single
    root while 3·f0·f2 is above f1². A slope is put into f0 as m·g·sin(atan s). ``power`` P in W.
    """
    if not (power >= 0 and f2 > 0):
        raise FormulaError("the power and the part that grows with speed squared must be positive")
    if 3 * f0 * f2 <= f1**2:
        raise FormulaError(
            "downhill or in a gale the balance has no single closed form; take points instead"
        )
    return 2 * sqrt((f0 / f2 - f1**2 / (3 * f2**2)) / 3) * sinh(
        asinh(
            1.5
            * sqrt(3)
            * (power / f2 + f0 * f1 / (3 * f2**2) - 2 * (f1 / (3 * f2)) ** 3)
            / (f0 / f2 - f1**2 / (3 * f2**2)) ** 1.5
        )
        / 3
    ) - f1 / (3 * f2)


@formula("v_max", BALANCE)
def top_speed_at_force(force: Force, f0: Force, f1: DragLinear, f2: DragSquare) -> Speed:
    """Speed at which a constant force at the road is just used up by the road.

    Upper root of f2·v² + f1·v + f0 = F: (√(f1² + 4·f2·(F - f0)) - f1)/(2·f2). ``force`` F in N.
    """
    if f2 <= 0:
        raise FormulaError("the part that grows with speed squared must be positive")
    if force < f0:
        raise FormulaError("the force is not even enough to move off on the level")
    return (sqrt(f1**2 + 4 * f2 * (force - f0)) - f1) / (2 * f2)


@formula(
    "v_max",
    BALANCE,
    method=(
        "between points the force runs straight; going up from the first point, the speed at "
        "which it first falls below the road load is closed in on by halving"
    ),
)
def top_speed_over_points(
    speeds: Sequence[Speed],
    forces: Sequence[Force],
    f0: Force,
    f1: DragLinear,
    f2: DragSquare,
) -> Speed:
    """Greatest speed at which a curve of force is still enough for the road.

    ``forces`` in N at rising ``speeds`` in m/s. Where the force is enough up to the last point,
    that is the answer: the curve ends there, as at the motor's greatest speed.
    """
    if len(speeds) < 2 or any(low >= high for low, high in pairwise(speeds)):
        raise FormulaError("two points or more are needed, at rising speeds")
    lacking = [
        place
        for place, (speed, force) in enumerate(zip(speeds, forces, strict=True))
        if force < f0 + f1 * speed + f2 * speed**2
    ]
    if 0 in lacking:
        raise FormulaError("the force is not enough for the road at the first point already")
    if lacking:
        after = lacking[0]
        slope = (forces[after] - forces[after - 1]) / (speeds[after] - speeds[after - 1])
        low, high = speeds[after - 1], speeds[after]
        start, start_force = low, forces[after - 1]
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            enough = start_force + slope * (middle - start) >= f0 + f1 * middle + f2 * middle**2
            low, high = (middle, high) if enough else (low, middle)
        speeds = [*speeds[:after], low]
        forces = [*forces[:after], start_force + slope * (low - start)]
    return max(
        speed
        for speed, force in zip(speeds, forces, strict=True)
        if force >= f0 + f1 * speed + f2 * speed**2
    )


@formula("s", SLOPE)
def gradient_possible(surplus: Force, mass: Mass) -> Grade:
    """Grade that the force left over at a speed can climb.

    s = tan(asin(F/(m·g))), with ``surplus`` F in N over the road load on the level and ``mass`` m
    in kg. Not above 100 %: long before that the tyres or the balance of the vehicle decide.
    """
    if mass <= 0:
        raise FormulaError("the mass must be above zero")
    return tan(asin(max(-STEEPEST, min(STEEPEST, surplus / (mass * STANDARD_GRAVITY)))))


@formula("F", SLOPE)
def hill_start_force(mass: Mass, grade: Grade, rolling_coefficient: Ratio) -> Force:
    """Force at the road that just begins to move a vehicle uphill.

    F = m·g·(sin α + Crr·cos α) with α = atan s; ``mass`` m in kg, ``grade`` s as rise over run.
    """
    return mass * STANDARD_GRAVITY * (sin(atan(grade)) + rolling_coefficient * cos(atan(grade)))


@formula("s", SLOPE)
def hill_start_grade(force: Force, mass: Mass, rolling_coefficient: Ratio) -> Grade:
    """Steepest grade on which a force at the road just begins to move a vehicle.

    s = tan(asin(F/(m·g·√(1 + Crr²))) - atan Crr), with ``force`` F in N and ``mass`` m in kg.
    About 100 % at most: long before that the tyres or the balance of the vehicle decide.
    """
    if mass <= 0:
        raise FormulaError("the mass must be above zero")
    return tan(
        asin(min(STEEPEST, force / (mass * STANDARD_GRAVITY * sqrt(1 + rolling_coefficient**2))))
        - atan(rolling_coefficient)
    )


@formula("s", Source("The smaller of two limits", "", "computed"))
def weaker_grade(by_force: Grade, by_grip: Grade) -> Grade:
    """Grade that both the force and the grip of the tyres allow."""
    return min(by_force, by_grip)


@formula("a", NEWTON)
def regen_deceleration(
    torque: Torque, ratio: Ratio, rolling_radius: Length, mass: Mass
) -> Acceleration:
    """Deceleration by the motor alone, without losses, road load and what rotates.

    a = T·i/(r·m), with braking ``torque`` T of the motor in N·m above zero, total ``ratio`` i,
    ``rolling_radius`` r in m and ``mass`` m in kg.
    """
    if not (rolling_radius > 0 and mass > 0):
        raise FormulaError("the rolling radius and the mass must be above zero")
    return torque * ratio / (rolling_radius * mass)


@formula("a", NEWTON)
def regen_deceleration_with_losses(
    torque: Torque,
    ratio: Ratio,
    efficiency: Fraction,
    rolling_radius: Length,
    resistance: Force,
    equivalent_mass: Mass,
) -> Acceleration:
    """Deceleration by the motor, helped by gear losses and by the road.

    a = (T·i/(r·η) + F)/m, with braking ``torque`` T of the motor in N·m above zero, total
    ``ratio`` i, ``efficiency`` η, ``rolling_radius`` r in m, road load ``resistance`` F in N and
    ``equivalent_mass`` m in kg, with what rotates.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    if not (rolling_radius > 0 and equivalent_mass > 0):
        raise FormulaError("the rolling radius and the mass must be above zero")
    return (torque * ratio / (rolling_radius * efficiency) + resistance) / equivalent_mass


@formula("T", NEWTON)
def regen_torque_at(
    threshold: Acceleration,
    ratio: Ratio,
    efficiency: Fraction,
    rolling_radius: Length,
    resistance: Force,
    equivalent_mass: Mass,
) -> Torque:
    """Braking torque of the motor at which a deceleration is reached.

    T = (a·m - F)·r·η/i: the other way round. ``threshold`` a in m/s² may be the deceleration from
    which stop lamps must light, or may, or the one at which the driven wheels slide. Below zero
    the road alone decelerates more.
    """
    if not (0 < efficiency <= 1 and ratio > 0):
        raise FormulaError("an efficiency lies above 0 and is 1 at most, a ratio above zero")
    return (threshold * equivalent_mass - resistance) * rolling_radius * efficiency / ratio
