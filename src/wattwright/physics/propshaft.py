"""A propshaft between its joints: where it swings to, how fast it may turn, what is felt of it.

    swung_rise, swung_length, pinion_lift   the last shaft when the axle moves, or winds up
    pinion_rise                             the pinion with its nose lifted
    length_change, slip_left_in,            plunge, and what to order
    slip_left_out, pushed_together,
    plunge_needed
    critical_speed, allowed_speed           where a tube whirls, and how near to that it may run
    shaft_speed, shaft_speed_in_gear        how fast it turns
    turns_felt, times_a_turn,               frequencies that are felt
    motor_turns_felt
    angle_for                               joint angle that makes an angular acceleration

Lengths are between the middles of joints. A sliding piece has its slip pushed in at nought.
"""

from __future__ import annotations

import math
from math import atan2, cos, hypot, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Angle,
    AngularAcceleration,
    Count,
    Density,
    Fraction,
    Frequency,
    Length,
    Position,
    Ratio,
    RotationalSpeed,
    Speed,
    Stress,
)

GEOMETRY = Source("Vectors in a plane", "", "computed")
BUDGET = Source("Lengths added up", "", "computed")
ROLLING = Source("Definition of the rolling circumference", "", "computed")
BEAM = Source("Bending vibration of an even beam on two hinges", "first mode", "computed")
SERIES = Source("Kinematics of the Cardan joint to first order in β²", "", "computed")

ASKED = {
    "length": ("length between the middles of the joints", "1200 mm"),
    "rise": ("rise of the shaft, rear end up above nought", "-6°"),
    "back": ("its rear joint goes back by", "2 mm"),
    "up": ("its rear joint goes up by", "70 mm"),
    "nose_length": ("from the middle of the axle to the joint of the pinion", "250 mm"),
    "nose_up": ("nose of the pinion up by", "3°"),
    "pinion_rise.rise": ("rise of the pinion's axis, rear end up above nought", "-2°"),
    "swung": ("length once it has swung", "1208 mm"),
    "slip": ("slip pulled out at ride height", "30 mm"),
    "slip_range": ("slip from pushed in to pulled out", "70 mm"),
    "change": ("longer than at ride height by", "8 mm"),
    "shortest": ("least change of length, shorter below nought", "-6 mm"),
    "longest": ("greatest change of length", "9 mm"),
    "spare": ("slip to keep at either end", "10 mm"),
    "diameter": ("outer diameter of the tube", "76.2 mm"),
    "wall": ("wall of the tube", "2.11 mm"),
    "youngs_modulus": ("modulus of elasticity", "206 GPa"),
    "density": ("density", "7850 kg/m³"),
    "critical": ("critical speed", "5600 rpm"),
    "share": ("share of it that is used", "75 %"),
    "speed": ("road speed", "80 km/h"),
    "final_ratio": ("turns of the propshaft for one of the wheels", "4"),
    "circumference": ("rolling circumference of the tyre", "1.9 m"),
    "motor_speed": ("speed of the motor", "6000 rpm"),
    "gear_ratio": ("turns of the motor for one of the propshaft", "1.41"),
    "turns": ("turns of the shaft for one of the wheels; 1 for the wheel itself", "4"),
    "times": ("times a turn", "2"),
    "frequency": ("turns a second", "46.8 Hz"),
    "excitation": ("angular acceleration", "400 rad/s²"),
    "angle_for.speed": ("speed of the shaft", "1500 rpm"),
}


@formula("r′", GEOMETRY)
def swung_rise(length: Length, rise: Angle, back: Position, up: Position) -> Angle:
    """Rise of a shaft once its rear joint has moved.

    atan2(L sin r + u, L cos r + b): ``length`` L m, ``rise`` r rad before, ``back`` b and ``up`` u
    m of its rear joint, in the upright plane of the shaft; result rad.
    """
    return atan2(length * sin(rise) + up, length * cos(rise) + back)


@formula("L′", GEOMETRY)
def swung_length(length: Length, rise: Angle, back: Position, up: Position) -> Length:
    """Length of a shaft with a sliding piece once its rear joint has moved.

    Arguments as for its rise: m and rad; result m.
    """
    return hypot(length * cos(rise) + back, length * sin(rise) + up)


@formula("Δz", GEOMETRY, valid={"nose_up": (-0.26, 0.26)})
def pinion_lift(nose_length: Length, nose_up: Angle) -> Position:
    """What the joint of the pinion rises by when the axle winds up.

    l sin w: ``nose_length`` l m from the middle of the axle to the joint, ``nose_up`` w rad, of a
    pinion that was about level; result m. Up to 15°.
    """
    return nose_length * sin(nose_up)


@formula("r′", GEOMETRY)
def pinion_rise(rise: Angle, nose_up: Angle) -> Angle:
    """Rise of the pinion's axis with its nose lifted: its rear end goes down.

    r - w: ``rise`` r rad before, ``nose_up`` w rad; result rad.
    """
    return rise - nose_up


@formula("ΔL", BUDGET)
def length_change(length: Length, swung: Length) -> Position:
    """How much longer a shaft has become. ``length`` at ride height, ``swung`` m; result m."""
    return swung - length


@formula("s_in", BUDGET)
def slip_left_in(slip: Length, change: Position) -> Position:
    """Slip that is left before the shaft bottoms.

    ``slip`` m pulled out at ride height, ``change`` m of length; result m, below nought
    where it bottoms.
    """
    return slip + change


@formula("s_out", BUDGET)
def slip_left_out(slip: Length, slip_range: Length, change: Position) -> Position:
    """Slip that is left before the shaft comes out of engagement.

    ``slip`` m pulled out at ride height, ``slip_range`` m in all, ``change`` m of length; result m.
    """
    return slip_range - slip - change


@formula("L_in", BUDGET)
def pushed_together(
    length: Length, shortest: Position, longest: Position, slip_range: Length
) -> Length:
    """Length to order, pushed together, so that as much slip is left at either end.

    L + (ΔL_min + ΔL_max)/2 - R/2: ``length`` L m at ride height, ``shortest`` and ``longest`` m
    changes of it, ``slip_range`` R m in all; result m.
    """
    return length + (shortest + longest) / 2 - slip_range / 2


@formula("R", BUDGET)
def plunge_needed(shortest: Position, longest: Position, spare: Length) -> Position:
    """Slip that is needed in all.

    ΔL_max - ΔL_min + 2 s: ``shortest`` and ``longest`` m changes of length, ``spare`` s m to keep
    at either end; result m.
    """
    return longest - shortest + 2 * spare


@formula("ω_c", BEAM)
def critical_speed(
    length: Length, diameter: Length, wall: Length, youngs_modulus: Stress, density: Density
) -> RotationalSpeed:
    """Speed at which a tube between two joints whirls.

    (π²/L²)·√(E·I/(ρ·A)) with I/A = (D² + d²)/16 and d = D - 2·w: ``length`` L m between joints,
    ``diameter`` D m outside, ``wall`` w m, ``youngs_modulus`` E Pa, ``density`` ρ kg/m³; result
    rad/s. Stiff joints, no heavy ends; real shafts with soft supports whirl earlier.
    """
    if not 0 < wall <= diameter / 2 or not length > 0 or not density > 0:
        raise FormulaError("a tube needs length, density, and a wall up to half its diameter")
    return (
        (math.pi / length) ** 2
        * sqrt(youngs_modulus / density)
        * sqrt(diameter**2 + (diameter - 2 * wall) ** 2)
        / 4
    )


@formula("ω", BEAM)
def allowed_speed(critical: RotationalSpeed, share: Fraction) -> RotationalSpeed:
    """Highest speed at which a shaft is run. ``critical`` rad/s, ``share`` of it; result rad/s."""
    return share * critical


@formula("ω", ROLLING)
def shaft_speed(speed: Speed, final_ratio: Ratio, circumference: Length) -> RotationalSpeed:
    """Speed of the propshaft on the road.

    2π·v·i/C: ``speed`` v m/s, ``final_ratio`` i, ``circumference`` C m; result rad/s.
    """
    if not circumference > 0:
        raise FormulaError("the rolling circumference must be above zero")
    return 2 * math.pi * speed * final_ratio / circumference


@formula("ω", ROLLING)
def shaft_speed_in_gear(motor_speed: RotationalSpeed, gear_ratio: Ratio) -> RotationalSpeed:
    """Speed of the propshaft in a gear.

    ω_m/i: ``motor_speed`` ω_m rad/s, ``gear_ratio`` i turns of the motor for one of the shaft.
    """
    if not gear_ratio > 0:
        raise FormulaError("the ratio of the gear must be above zero")
    return motor_speed / gear_ratio


@formula("f", ROLLING)
def turns_felt(speed: Speed, circumference: Length, turns: Ratio) -> Frequency:
    """Turns a second of a wheel, or of what turns with it.

    v·i/C: ``speed`` v m/s, ``circumference`` C m, ``turns`` i for one of the wheel; result Hz.
    """
    if not circumference > 0:
        raise FormulaError("the rolling circumference must be above zero")
    return speed * turns / circumference


@formula("f", ROLLING)
def times_a_turn(frequency: Frequency, times: Count) -> Frequency:
    """Frequency of what happens several times a turn. ``frequency`` Hz, ``times`` a turn; Hz."""
    return times * frequency


@formula("f", ROLLING)
def motor_turns_felt(shaft: Frequency, gear_ratio: Ratio) -> Frequency:
    """Turns a second of the motor.

    f·i: ``shaft`` f Hz of the propshaft, ``gear_ratio`` i turns of the motor for one of it; Hz.
    """
    return shaft * gear_ratio


@formula("β", SERIES)
def angle_for(excitation: AngularAcceleration, speed: RotationalSpeed) -> Angle:
    """Joint angle that makes an angular acceleration at a speed.

    √α/ω: ``excitation`` α rad/s², ``speed`` ω rad/s; result rad. To first order in β².
    """
    if not speed > 0 or not excitation >= 0:
        raise FormulaError("the speed must be above zero, the acceleration not below it")
    return sqrt(excitation) / speed
