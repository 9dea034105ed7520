"""Torque of a motor known by a curve or by its ratings, at the voltage it is given.

    ratings   corner_speed, torque_of_ratings, power_at_voltage
    power     shaft_power, total_power, power_at_wheels
    curve     torque_on_curve, by the speed that equivalent_speed gives; torque_within
    voltage   voltage_ratio, equivalent_speed
    arrays    torques_on_curve, torques_of_ratings

What a motor gives at another voltage follows from flux: voltage over speed. A motor with half the
voltage at half the speed carries the same flux and currents and gives the same torque, so

    T(ω, U) = T_0(ω U_0/U)

Torque up to the corner stays, the corner and everything beyond it move with the voltage, and the
power there with them. This is exact for a machine without stator resistance at the same current
limit. Resistance makes less voltage a little worse than this says, iron losses and friction a
little better; the highest speed the rotor bears does not move.

Source: equations of the machine; see the module pmsm for those with magnets.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Fraction, Power, Ratio, RotationalSpeed, Torque, Voltage

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DEFINITION = Source("Definition", "", "computed")
RATINGS = Source("Constant torque up to the corner, constant power beyond it", "", "practice")
SCALING = Source(
    "Equations of the rotating field machine without stator resistance",
    "torque depends on current and on voltage over speed",
    "computed",
)
STRAIGHT = Source("Straight lines between the points of a curve", "", "practice")

ASKED = {
    "dc_voltage": ("DC voltage at the inverter", "300 V"),
    "curve_voltage": ("DC voltage that the curve was taken at", "350 V"),
    "voltage_ratio": ("voltage over that of the curve", "0.86"),
    "speed": ("speed of the motor", "5400 rpm"),
    "torque": ("torque of the motor", "160 N·m"),
    "power": ("power of the motor", "60 kW"),
    "power_at_voltage.power": ("power at the voltage of the curve", "60 kW"),
    "powers": ("power of each motor", "60 kW; 40 kW"),
    "efficiency": ("efficiency of gears and joints", "94 %"),
    "speeds": ("speeds of the curve, rising", "0 rpm; 3500 rpm; 9000 rpm"),
    "torques": ("torque at each of these speeds", "160 N·m; 160 N·m; 60 N·m"),
    "share": ("share more, or less where below zero", "0 %"),
}


@formula("k_U", DEFINITION)
def voltage_ratio(dc_voltage: Voltage, curve_voltage: Voltage) -> Ratio:
    """Voltage over the one at which a motor's curve was taken.

    U/U_0, both V at the inverter.
    """
    if curve_voltage <= 0 or dc_voltage <= 0:
        raise FormulaError("both voltages must be above zero")
    return dc_voltage / curve_voltage


@formula("ω_0", SCALING, valid={"voltage_ratio": (0.3, 1.2)})
def equivalent_speed(speed: RotationalSpeed, voltage_ratio: Ratio) -> RotationalSpeed:
    """Speed at which a motor's own curve shows what it gives at another voltage.

    ω_0 = ω/(U/U_0). ``speed`` rad/s; result rad/s on the curve. Vouched for from 0.3, where
    resistance begins to tell, to 1.2, where iron and insulation do.
    """
    if voltage_ratio <= 0:
        raise FormulaError("the voltage must be above zero")
    return speed / voltage_ratio


@formula("P", SCALING, valid={"voltage_ratio": (0.3, 1.2)})
def power_at_voltage(power: Power, voltage_ratio: Ratio) -> Power:
    """Power of a motor beyond its corner at another voltage.

    P_0 U/U_0 at the same current limit. ``power`` W; result W.
    """
    return power * voltage_ratio


@formula("ω_c", DEFINITION)
def corner_speed(torque: Torque, power: Power) -> RotationalSpeed:
    """Speed up to which torque is the limit, and beyond which power is.

    P/T. ``torque`` N·m, ``power`` W; result rad/s.
    """
    if torque <= 0:
        raise FormulaError("the torque must be above zero")
    return power / torque


@formula("T", RATINGS)
def torque_of_ratings(speed: RotationalSpeed, torque: Torque, power: Power) -> Torque:
    """Torque at a speed of a motor known only by its torque and its power.

    The smaller of T and P/ω, peak or continuous as the ratings are, written as P/max(ω, P/T) so
    that it holds at standstill. ``speed`` rad/s, ``torque`` N·m, ``power`` W; result N·m. A motor
    with magnets may fall below constant power near its highest speed.
    """
    if torque <= 0 or power <= 0:
        raise FormulaError("torque and power must be above zero")
    return power / max(speed, power / torque)


@formula(
    "P",
    Source("Sum of powers on one shaft", "", "computed"),
    gradient=lambda powers: ([1.0] * len(powers),),
)
def total_power(powers: Sequence[Power]) -> Power:
    """Power of all motors together, W."""
    return sum(powers)


@formula("P", DEFINITION)
def power_at_wheels(power: Power, efficiency: Fraction) -> Power:
    """Power of the motors that gears and joints pass on.

    P η. ``power`` W at the shaft, ``efficiency`` of the driveline; result W.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return power * efficiency


@formula("P", DEFINITION)
def shaft_power(torque: Torque, speed: RotationalSpeed) -> Power:
    """Power at the shaft.

    T ω. ``torque`` N·m, ``speed`` rad/s; result W.
    """
    return torque * speed


@formula(
    "T",
    STRAIGHT,
    method="the two points of the curve on either side of the speed are found by halving; the "
    "formula is the straight line between them; below the first point the curve is level",
)
def torque_on_curve(
    speed: RotationalSpeed, speeds: Sequence[RotationalSpeed], torques: Sequence[Torque]
) -> Torque:
    """Torque at a speed, on a curve given by points.

    T_a + (T_b - T_a)(ω - ω_a)/(ω_b - ω_a). ``speed`` and ``speeds`` rad/s, these growing,
    ``torques`` N·m; result N·m. Beyond the last point nothing is known.
    """
    _check(speeds, torques)
    if speed > speeds[-1]:
        raise FormulaError("the motor's curve ends below this speed")
    place = min(max(bisect_right(speeds, speed), 1), len(speeds) - 1)
    speed = max(speed, speeds[0])
    speeds, torques = speeds[place - 1 : place + 1], torques[place - 1 : place + 1]
    return torques[0] + (torques[1] - torques[0]) * (speed - speeds[0]) / (speeds[1] - speeds[0])


@formula("T", Source("A share more or less of what the curve says", "", "computed"))
def torque_within(torque: Torque, share: Fraction) -> Torque:
    """Torque of a curve, a share more or less.

    T (1 + s): ``share`` s is nought, and its band is how well the curve is known.
    """
    return torque * (1 + share)


def torques_on_curve(speed: Floats, speeds: Sequence[float], torques: Sequence[float]) -> Floats:
    """Torque at many speeds as ``torque_on_curve``; not a number beyond the last point."""
    import numpy as np

    _check(speeds, torques)
    found: Floats = np.interp(speed, speeds, torques, right=np.nan)
    return found


def torques_of_ratings(speed: Floats, torque: float, power: float) -> Floats:
    """Torque at many speeds as ``torque_of_ratings``."""
    import numpy as np

    corner = corner_speed(torque, power)
    found: Floats = power / np.maximum(speed, corner)
    return found


def _check(speeds: Sequence[float], torques: Sequence[float]) -> None:
    if len(speeds) != len(torques) or len(speeds) < 2:
        raise FormulaError("a motor's curve needs two points or more, each with speed and torque")
    if not _grow(tuple(speeds)):
        raise FormulaError("the speeds of a motor's curve must grow from point to point")


# One curve is looked up at thousands of speeds.
@lru_cache(maxsize=64)
def _grow(speeds: tuple[float, ...]) -> bool:
    return all(after > before for before, after in pairwise(speeds))
