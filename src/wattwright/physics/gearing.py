"""Speeds and torques through gearbox and final drive.

    ratios    total_ratio, shared_ratio, driveline_efficiency
    speeds    motor_speed, road_speed, shifted_motor_speed
    torques   wheel_torque, wheel_torque_driven_back, torque_behind, road_force,
              tractive_force, motor_torque
    turning   facing_turns, may_turn

A ratio is turns of the motor for one turn of the wheel. Losses are taken as a share of the
torque: driving, the wheel gets less than the ratio promises; driven back, the motor does.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Force, Fraction, Length, Ratio, RotationalSpeed, Speed, Torque

RATIO = Source("Definition of the ratio", "", "computed")
ROLLING = Source("Definition of the rolling radius", "", "computed")
FACING = Source(
    "IEC 60034-8, direction of rotation seen onto the drive end",
    "two ends face to face",
    "computed",
)
LOSSES = Source("Balance of power through a gear train", "", "computed")

ASKED = {
    "gear_ratio": ("ratio of the gear", "1.9"),
    "final_ratio": ("ratio of the final drive", "4.1"),
    "efficiencies": ("efficiency of each gear pair or joint", "97 %; 96 %"),
    "speed": ("road speed", "60 km/h"),
    "ratio": ("ratio from motor to wheel", "7.8"),
    "rolling_radius": ("rolling radius", "275 mm"),
    "rotational_speed": ("speed of the motor", "5400 rpm"),
    "ratio_before": ("ratio before the shift", "4.1"),
    "ratio_after": ("ratio after the shift", "7.8"),
    "torque": ("torque of the motor", "61 N·m"),
    "tractive_force.torque": ("torque at the driven wheels together", "450 N·m"),
    "efficiency": ("efficiency of gears and joints", "94 %"),
    "torque_behind.ratio": ("ratio from motor to shaft", "7.8"),
    "share": ("share of the torque that the shaft carries", "0.5"),
    "motor": ("motor, seen onto its shaft: 1 clockwise, -1 anticlockwise", "1"),
    "gearbox": ("gearbox, seen onto its shaft: 1 clockwise, -1 anticlockwise", "-1"),
    "either": ("1 where the motor may turn either way, else 0", "1"),
    "turns": ("1 the way it wants, -1 the other way", "1"),
    "backwards": ("1 where the motor drives backwards, else 0", "0"),
    "force": ("force at the road", "1500 N"),
}


@formula("i", RATIO)
def total_ratio(gear_ratio: Ratio, final_ratio: Ratio) -> Ratio:
    """Turns of the motor for one turn of the wheel."""
    if not (gear_ratio > 0 and final_ratio > 0):
        raise FormulaError("a ratio must be above zero")
    return gear_ratio * final_ratio


@formula("η", LOSSES)
def driveline_efficiency(efficiencies: Sequence[Fraction]) -> Fraction:
    """Share of the motor's torque that is left at the wheel.

    Product of ``efficiencies``, one for each gear pair or joint the torque goes through.
    """
    if not all(0 < each <= 1 for each in efficiencies):
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return prod(efficiencies)


@formula("ω_m", ROLLING)
def motor_speed(speed: Speed, ratio: Ratio, rolling_radius: Length) -> RotationalSpeed:
    """Speed of the motor at a road speed in a gear.

    ω = v·i/r, with ``speed`` v in m/s, total ``ratio`` i and ``rolling_radius`` r in m.
    """
    if rolling_radius <= 0:
        raise FormulaError("the rolling radius must be above zero")
    return speed * ratio / rolling_radius


@formula("v", ROLLING)
def road_speed(rotational_speed: RotationalSpeed, ratio: Ratio, rolling_radius: Length) -> Speed:
    """Road speed in a gear at a speed of the motor.

    v = ω·r/i, with ``rotational_speed`` ω in rad/s, total ``ratio`` i and ``rolling_radius`` r in
    m. At the motor's greatest speed it is the greatest road speed of the gear, uphill or down.
    """
    if ratio <= 0:
        raise FormulaError("a ratio must be above zero")
    return rotational_speed * rolling_radius / ratio


@formula("ω_m", RATIO)
def shifted_motor_speed(
    rotational_speed: RotationalSpeed, ratio_before: Ratio, ratio_after: Ratio
) -> RotationalSpeed:
    """Speed that the road forces on the motor when a lower gear is taken by mistake.

    ω·i₂/i₁, with ``rotational_speed`` ω in rad/s in the gear before.
    """
    if not (ratio_before > 0 and ratio_after > 0):
        raise FormulaError("a ratio must be above zero")
    return rotational_speed * ratio_after / ratio_before


@formula("T_w", LOSSES)
def wheel_torque(torque: Torque, ratio: Ratio, efficiency: Fraction) -> Torque:
    """Torque at the driven wheels together, the motor driving.

    T·i·η, with motor ``torque`` T in N·m, total ``ratio`` i and ``efficiency`` η.
    """
    if not (0 < efficiency <= 1 and ratio > 0):
        raise FormulaError("an efficiency lies above 0 and is 1 at most, a ratio above zero")
    return torque * ratio * efficiency


@formula("T_w", LOSSES)
def wheel_torque_driven_back(torque: Torque, ratio: Ratio, efficiency: Fraction) -> Torque:
    """Torque that brakes the driven wheels together, the motor generating.

    T·i/η: what the gears lose brakes too. Motor ``torque`` T in N·m, total ``ratio`` i.
    """
    if not (0 < efficiency <= 1 and ratio > 0):
        raise FormulaError("an efficiency lies above 0 and is 1 at most, a ratio above zero")
    return torque * ratio / efficiency


@formula("F", LOSSES)
def road_force(torque: Torque, ratio: Ratio, efficiency: Fraction, rolling_radius: Length) -> Force:
    """Force at the road from the torque of the motors, driving.

    F = T·i·η/r, with motor ``torque`` T in N·m, total ``ratio`` i, ``efficiency`` η and
    ``rolling_radius`` r in m.
    """
    if not (0 < efficiency <= 1 and ratio > 0 and rolling_radius > 0):
        raise FormulaError(
            "an efficiency lies above 0 and is 1 at most, ratio and radius above zero"
        )
    return torque * ratio * efficiency / rolling_radius


@formula("T", RATIO)
def torque_behind(torque: Torque, ratio: Ratio) -> Torque:
    """Torque at a shaft behind gears, none of it lost on the way: the most that can get there.

    T·i, with motor ``torque`` T in N·m and ``ratio`` i between motor and shaft.
    """
    if ratio <= 0:
        raise FormulaError("a ratio must be above zero")
    return torque * ratio


@formula("d", FACING)
def facing_turns(motor: Ratio, gearbox: Ratio) -> Ratio:
    """Whether a motor turns a gearbox the way it wants, each looked at onto its own shaft's end.

    d = -m·g, with 1 for clockwise and -1 for anticlockwise: two ends that face each other turn
    together, and so are seen to turn opposite ways. 1: the way it wants, -1: the other way.
    """
    return -motor * gearbox


@formula("m", FACING)
def may_turn(either: Ratio, turns: Ratio, backwards: Ratio) -> Ratio:
    """Whether a motor may turn as it has to; below nought it may not.

    m = 1 + 2·(e - max(-d, b, 0)): ``either`` e 1 where it may turn either way and 0 where one way
    alone, ``turns`` d 1 where it turns the gearbox its way and -1 where it has to be set the other
    way, ``backwards`` b 1 where it drives backwards by itself and 0 where a gear does.
    """
    return 1 + 2 * (either - max(-turns, backwards, 0.0))


@formula("i", RATIO)
def shared_ratio(ratio: Ratio, share: Ratio) -> Ratio:
    """Ratio to a shaft that carries a share of the torque, as one of two half-shafts does."""
    return ratio * share


@formula("F", ROLLING)
def tractive_force(torque: Torque, rolling_radius: Length) -> Force:
    """Force at the road from the torque at the driven wheels together.

    F = T/r, with ``torque`` T in N·m and ``rolling_radius`` r in m.
    """
    if rolling_radius <= 0:
        raise FormulaError("the rolling radius must be above zero")
    return torque / rolling_radius


@formula("T", LOSSES)
def motor_torque(
    force: Force, rolling_radius: Length, ratio: Ratio, efficiency: Fraction
) -> Torque:
    """Torque the motor must give for a force at the road.

    T = F·r/(i·η), with ``force`` F in N, ``rolling_radius`` r in m and total ``ratio`` i.
    """
    if not (0 < efficiency <= 1 and ratio > 0):
        raise FormulaError("an efficiency lies above 0 and is 1 at most, a ratio above zero")
    return force * rolling_radius / (ratio * efficiency)
