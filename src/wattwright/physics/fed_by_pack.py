"""What a motor gives on a pack whose voltage falls under the load, and what that takes from it.

    power      loss_scale, dc_power, dc_power_of, torque_at_power, total_torque, weaker_torque
    settling   settled_torque, settled_speed
    current    current_at_voltage, allowed_current
    heat       hot_resistance, copper_loss, time_to_limit

A motor takes power, the pack's voltage falls, and at the lower voltage the motor gives less: the
two settle where torque and voltage agree. That point is found by going round until nothing moves;
here are the steps of the last round, so that every input keeps its influence on the result.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Current,
    DragLinear,
    Force,
    Fraction,
    HeatCapacity,
    Power,
    Ratio,
    Resistance,
    RotationalSpeed,
    Speed,
    Temperature,
    ThermalResistance,
    Time,
    Torque,
    Voltage,
)

COPPER_COEFFICIENT = 0.00393  # 1/K
TWENTY = 293.15  # K

BALANCE = Source("Balance of power", "", "computed")
NEWTON_STEP = Source("One step of Newton's method from a point found by search", "", "computed")
HEAT = Source("Warming of one body through one resistance, constant loss", "", "computed")

ASKED = {
    "torque": ("torque of the motor", "61 N·m"),
    "speed": ("speed of the motor", "3000 rpm"),
    "efficiency": ("efficiency of motor and inverter together", "90 %"),
    "auxiliary": ("power of everything else", "600 W"),
    "dc_power_of.power": ("power at the shaft", "30 kW"),
    "torque_at_power.power": ("power of the pack", "30 kW"),
    "current_at_voltage.power": ("power", "30 kW"),
    "run_with": ("efficiency that the use was run with", "88 %"),
    "torques": ("torque of each motor", "61 N·m; 61 N·m"),
    "by_voltage": ("torque that the motor gives at its voltage", "95 N·m"),
    "by_pack": ("torque that the power of the pack allows", "88 N·m"),
    "settled_torque.trial": ("torque to set out from", "90 N·m"),
    "answered": ("torque that the motor gives at the voltage this leaves", "86 N·m"),
    "loop_gain": ("how much of a change of torque comes back", "-20 %"),
    "settled_speed.trial": ("speed to set out from", "95 km/h"),
    "force": ("driving force at that speed", "620 N"),
    "settled_speed.resistance": ("road load at that speed", "600 N"),
    "rise": ("how fast the road load gains on the force", "15 N/(km/h)"),
    "voltage": ("voltage", "350 V"),
    "allowed_current.limit": ("greatest current of the pack", "250 A"),
    "lowest": ("lowest voltage allowed", "280 V"),
    "open_circuit": ("voltage of the pack at rest", "345 V"),
    "allowed_current.resistance": ("resistance of the pack", "0.1 Ω"),
    "hot_resistance.resistance": ("resistance at 20 °C", "12 mΩ"),
    "temperature": ("temperature of the copper", "120 °C"),
    "copper_loss.resistance": ("resistance of a phase", "12 mΩ"),
    "current": ("phase current, peak", "200 A"),
    "heat_capacity": ("heat capacity of the body", "12 kJ/K"),
    "thermal_resistance": ("thermal resistance to the coolant", "0.08 K/W"),
    "loss": ("loss that warms it", "2400 W"),
    "start": ("temperature at the start, that of the coolant", "40 °C"),
    "time_to_limit.limit": ("temperature to reach", "140 °C"),
}


@formula("P_dc", BALANCE)
def dc_power(
    torque: Torque, speed: RotationalSpeed, efficiency: Fraction, auxiliary: Power
) -> Power:
    """Power the pack feeds while the motor gives a torque.

    T ω/η + P_aux. ``torque`` N·m, ``speed`` rad/s, ``efficiency`` of motor and inverter together,
    ``auxiliary`` W of everything else; result W.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return torque * speed / efficiency + auxiliary


@formula("P_dc", BALANCE)
def dc_power_of(power: Power, efficiency: Fraction, auxiliary: Power) -> Power:
    """Power the pack feeds while the motor gives a power.

    P/η + P_aux. ``power`` W at the shaft, ``efficiency`` of motor and inverter together,
    ``auxiliary`` W of everything else; result W.
    """
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return power / efficiency + auxiliary


@formula("k", BALANCE)
def loss_scale(efficiency: Fraction, run_with: Fraction) -> Ratio:
    """Losses of motor and inverter over those of the efficiency a use was run with.

    (1/η - 1)/(1/η_0 - 1): ``efficiency`` η and the one ``run_with`` η_0, both below 1.
    """
    if not (0 < efficiency <= 1 and 0 < run_with < 1):
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return (1 / efficiency - 1) / (1 / run_with - 1)


@formula("T", BALANCE)
def torque_at_power(
    power: Power, auxiliary: Power, speed: RotationalSpeed, efficiency: Fraction
) -> Torque:
    """Torque for which a power of the pack is enough.

    (P - P_aux) η/ω, and nought where everything else takes all of it. ``power`` W of the pack,
    ``speed`` rad/s above zero; result N·m.
    """
    if speed <= 0:
        raise FormulaError("at standstill a power gives no particular torque")
    return max(0, power - auxiliary) * efficiency / speed


@formula(
    "T",
    Source("Sum of torques on one shaft", "", "computed"),
    gradient=lambda torques: ([1.0] * len(torques),),
)
def total_torque(torques: Sequence[Torque]) -> Torque:
    """Torque of all motors together, on one shaft."""
    return sum(torques)


@formula("T", Source("The smaller of two limits", "", "computed"))
def weaker_torque(by_voltage: Torque, by_pack: Torque) -> Torque:
    """Torque that both the motor at its voltage and the pack's power allow.

    The smaller of the two, N·m.
    """
    return min(by_voltage, by_pack)


@formula(
    "T",
    NEWTON_STEP,
    method="torque and voltage are brought to agree by going round; the formula is the last step, "
    "in which the result no longer depends on where it sets out",
)
def settled_torque(trial: Torque, answered: Torque, loop_gain: Fraction) -> Torque:
    """Torque at which the motor and the voltage it leaves agree.

    T_0 + (T_1 - T_0)/(1 - k): ``answered`` T_1 is what the motor gives at the voltage that the
    ``trial`` T_0 leaves, N·m; ``loop_gain`` k is how much of a change of T_0 comes back, never
    above nought.
    """
    if loop_gain > 0:
        raise FormulaError("more torque cannot raise the voltage it is made from")
    return trial + (answered - trial) / (1 - loop_gain)


@formula(
    "v",
    NEWTON_STEP,
    method="the speed at which force and road load are equal is found by search; the formula is "
    "the last step, in which the result no longer depends on where it sets out",
)
def settled_speed(trial: Speed, force: Force, resistance: Force, rise: DragLinear) -> Speed:
    """Speed at which the driving force is just used up by the road.

    v_0 + (F - R)/(d(R - F)/dv): force F and road load R at the ``trial`` speed v_0 m/s, N;
    ``rise`` N·s/m is how fast the road load gains on the force.
    """
    if rise <= 0:
        raise FormulaError("the road load does not gain on the force here")
    return trial + (force - resistance) / rise


@formula("I", Source("Definition of power", "", "computed"))
def current_at_voltage(power: Power, voltage: Voltage) -> Current:
    """Direct current of a power at a voltage.

    P/U. ``power`` W, ``voltage`` V above zero; result A.
    """
    if voltage <= 0:
        raise FormulaError("the voltage must be above zero")
    return power / voltage


@formula("I", Source("Ohm's law of a source with inner resistance", "", "computed"))
def allowed_current(
    limit: Current, lowest: Voltage, open_circuit: Voltage, resistance: Resistance
) -> Current:
    """Current a pack may give before its own limit, its lowest voltage or half its rest voltage.

    The smaller of I_max and (U_0 - U)/R, where U is the lowest voltage allowed or U_0/2 if that
    is higher. ``limit`` A, ``lowest`` and ``open_circuit`` V, ``resistance`` Ω; result A.
    """
    if resistance <= 0:
        raise FormulaError("without resistance no current makes the voltage fall")
    if lowest >= open_circuit:
        raise FormulaError("the pack at rest is not above its lowest voltage")
    return min(limit, (open_circuit - max(lowest, open_circuit / 2)) / resistance)


@formula(
    "R_hot",
    Source("IEC 60228", "temperature coefficient of copper, 0.00393 per kelvin at 20 °C", "memory"),
    valid={"temperature": (233.15, 473.15)},
)
def hot_resistance(resistance: Resistance, temperature: Temperature) -> Resistance:
    """Resistance of copper at a temperature, from the one at 20 °C.

    R (1 + 0.00393 (T - 293.15 K)). ``resistance`` Ω, ``temperature`` K; result Ω.
    """
    return resistance * (1 + COPPER_COEFFICIENT * (temperature - TWENTY))


@formula("P", Source("Heat in three phases, peak of the sine", "", "computed"))
def copper_loss(resistance: Resistance, current: Current) -> Power:
    """Heat in the windings of three phases.

    3/2 R_s I². ``resistance`` Ω per phase, ``current`` A peak; result W. Warm copper has more.
    """
    return 1.5 * resistance * current**2


@formula("t", HEAT)
def time_to_limit(
    heat_capacity: HeatCapacity,
    thermal_resistance: ThermalResistance,
    loss: Power,
    start: Temperature,
    limit: Temperature,
) -> Time:
    """Time in which a steady loss warms a body from one temperature to another.

    t = -R C ln(1 - ΔT/(P R)). ``heat_capacity`` C J/K, ``thermal_resistance`` R K/W to the
    coolant, which stays at ``start`` K, ``loss`` P W, ``limit`` K; result s.
    """
    if not (loss > 0 and limit > start):
        raise FormulaError("a loss must warm it, and the limit must be warmer than the start")
    if loss * thermal_resistance <= limit - start:
        raise FormulaError("this loss never warms it to its limit")
    return (
        -thermal_resistance * heat_capacity * log(1 - (limit - start) / (loss * thermal_resistance))
    )
