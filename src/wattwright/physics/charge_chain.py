"""The chain from the breaker in the wall to the pack: what links leave, what flows, what warms.

    supply    left_of_breaker, current_of_power, volts_left, volts_lost, least
    links     of_contacts, contact_warmth, heat_of_way, reel_temperature
    charger   efficiency_at, efficiency_within
    pack      cold_share, power_of_current, pack_power, charger_power, usual_end
    earth     share_of_rating, opposite
    worth     power_gained, distance_rate, cost

A way is out and back for one phase, and one way for each of three, as nothing comes back.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Charge,
    Count,
    Current,
    Energy,
    EnergyPerDistance,
    Fraction,
    Power,
    Ratio,
    Resistance,
    Speed,
    Temperature,
    TemperatureDifference,
    ThermalResistance,
    Time,
    Voltage,
)

RULE = Source("NEC 210.20, continuous loads; elsewhere the local rule", "", "seen")
OHM = Source("Ohm's law", "", "computed")
BALANCE = Source("Balance of power", "", "computed")
REEL = Source("Warmth goes with the square of the current", "from the rating wound up", "practice")
STRAIGHT = Source("Straight line between two settings of a management", "", "practice")
RULE_OF_DEVICES = Source("Residual-current devices trip from half of their rating", "", "practice")
CURVE = Source("Efficiency as its maker or a meter gives it", "", "computed")
TWENTIETH = Source("Charge ends at a twentieth of the capacity", "", "practice")

ASKED = {
    "breaker": ("rating of the breaker", "16 A"),
    "share": ("share of it that may be drawn for hours", "80 %"),
    "other": ("current of all else on it", "2 A"),
    "power": ("power into the charger", "3.3 kW"),
    "voltage": ("voltage with nothing plugged in", "230 V"),
    "left": ("voltage under load", "218 V"),
    "current": ("mains current", "10 A"),
    "resistance": ("resistance out and back", "1.1 Ω"),
    "power_factor": ("power factor", "98 %"),
    "phases": ("phases", "1"),
    "ways": ("ways of the current: 2 out and back", "2"),
    "each": ("current that each link allows", "16 A; 10 A; 4.3 A"),
    "ambient": ("temperature of the air", "25 °C"),
    "limit": ("temperature that the insulation bears", "60 °C"),
    "allowed": ("current that the reel leaves the cord", "6 A"),
    "contact": ("resistance of one contact", "5 mΩ"),
    "warming": ("warming for one watt", "6 K/W"),
    "cells": ("temperature of the cells", "5 °C"),
    "begins": ("temperature below which no charge is taken", "0 °C"),
    "full": ("temperature from which all of it is taken", "15 °C"),
    "into_charger": ("power out of the mains", "2.2 kW"),
    "efficiency_at.power": ("power into the pack", "1.8 kW"),
    "powers": ("powers of the curve", "0.5 kW; 3.3 kW"),
    "efficiencies": ("efficiency at each", "88 %; 94 %"),
    "on_curve": ("efficiency by the curve", "92 %"),
    "efficiency_within.share": ("share more or less", "0 %"),
    "efficiency": ("efficiency of the charger", "93 %"),
    "beside": ("power taken beside the pack", "80 W"),
    "capacity": ("charge from empty to full", "88 Ah"),
    "hours": ("time in which that current would empty it", "20 h"),
    "answer": ("1 for yes, -1 for no", "1"),
    "rating": ("rated residual current", "30 mA"),
    "part": ("part of it from which it may trip", "0.5"),
    "now": ("power as it is", "2.2 kW"),
    "then": ("power with the next link deciding", "3 kW"),
    "into_pack": ("power into the pack", "2 kW"),
    "consumption": ("energy out of the pack for a distance", "180 Wh/km"),
    "energy": ("energy out of the outlet", "20 kWh"),
    "unit": ("energy that the price is for", "1 kWh"),
    "price": ("price of that energy", "0.3"),
}


@formula("I", RULE)
def left_of_breaker(breaker: Current, share: Fraction, other: Current) -> Current:
    """Current that a breaker leaves for hours: k·I_n less what else hangs on it, in A.

    ``breaker`` I_n, ``share`` k that a continuous-load rule allows, ``other`` loads at the time.
    """
    return max(0.0, share * breaker - other)


@formula("I", RULE)
def least(each: Sequence[Current]) -> Current:
    """Current that the weakest of several links allows, in A."""
    return min(each)


@formula("T", REEL)
def reel_temperature(
    ambient: Temperature, limit: Temperature, current: Current, allowed: Current
) -> Temperature:
    """Temperature inside a reel, from the current that it leaves its cord.

    T_a + (T_l - T_a)·(I/I_r)²: ``ambient`` T_a in K, ``limit`` T_l in K that the insulation bears
    and at which ``allowed`` I_r in A leaves it, ``current`` I in A. Heat that grows with warmth is
    left out: well past the limit it is hotter than this.
    """
    if allowed <= 0:
        raise FormulaError("the current that it leaves must be above zero")
    return ambient + (limit - ambient) * (current / allowed) ** 2


@formula("U", OHM)
def volts_left(voltage: Voltage, current: Current, resistance: Resistance) -> Voltage:
    """Voltage that a way leaves: U - I·R, with ``resistance`` R in Ω of the whole way, warm."""
    return voltage - current * resistance


@formula("ΔU", OHM)
def volts_lost(voltage: Voltage, left: Voltage) -> Voltage:
    """Voltage lost on a way: what there is with nothing plugged in, less what is ``left``, in V."""
    return voltage - left


@formula("I", BALANCE)
def current_of_power(
    power: Power,
    voltage: Voltage,
    resistance: Resistance,
    power_factor: Fraction,
    phases: Count,
) -> Current:
    """Current of each phase that a charger draws for a power, over a way with a resistance.

    From P = n·(U - I·R)·I·λ, the smaller root: 2·P/(n·λ·(U + √(U² - 4·R·P/(n·λ)))). ``power`` P in
    W, ``voltage`` U at the source in V, ``resistance`` R in Ω, ``power_factor`` λ, ``phases`` n.
    Where the way gives no such power at any current, the root is taken as nothing: that is more
    than the current at which the way gives most, so that the power limits nothing there.
    """
    if min(voltage, power_factor, phases) <= 0 or min(power, resistance) < 0:
        raise FormulaError("voltage, power factor and phases are above zero, the rest not below")
    return (
        2
        * power
        / (
            phases
            * power_factor
            * (
                voltage
                + sqrt(max(0.0, voltage**2 - 4 * resistance * power / (phases * power_factor)))
            )
        )
    )


@formula("R", OHM)
def of_contacts(contact: Resistance, ways: Count) -> Resistance:
    """Resistance of the contacts of a plug: n·R, ``contact`` R of one in Ω.

    ``ways`` n are 2 where the current comes back by a like one, 1 for each of three phases.
    """
    return ways * contact


@formula("P", OHM)
def heat_of_way(current: Current, resistance: Resistance, phases: Count) -> Power:
    """Heat of a way: n·I²·R, ``resistance`` R in Ω of the whole way of each of n ``phases``."""
    return phases * current**2 * resistance


@formula("ΔT", BALANCE)
def contact_warmth(
    current: Current, contact: Resistance, warming: ThermalResistance
) -> TemperatureDifference:
    """How much warmer than the air a contact gets after half an hour.

    I²·R·R_th: ``current`` I in A, ``contact`` R in Ω, ``warming`` R_th in K/W.
    """
    return current**2 * contact * warming


@formula("k", STRAIGHT)
def cold_share(cells: Temperature, begins: Temperature, full: Temperature) -> Fraction:
    """Share of its charging current that a cold pack takes.

    0 below one temperature, 1 above another, (T - T_0)/(T_1 - T_0) between: ``cells`` T,
    ``begins`` T_0 and ``full`` T_1 in K.
    """
    if begins > full:
        raise FormulaError("it begins at a lower temperature than it is full from")
    return min(1.0, max(0.0, (cells - begins) / max(full - begins, 1e-9)))


@formula("P", BALANCE)
def pack_power(into_charger: Power, efficiency: Fraction, beside: Power) -> Power:
    """Power into the pack: η·P less what is taken beside it, in W; nothing where that is more."""
    return max(0.0, efficiency * into_charger - beside)


@formula("η", CURVE, method="straight between two points of the curve, flat beyond its ends")
def efficiency_at(
    power: Power, powers: Sequence[Power], efficiencies: Sequence[Fraction]
) -> Fraction:
    """Efficiency of a charger at a power, on its curve.

    η_1 + (η_2 - η_1)·(P - P_1)/(P_2 - P_1) between the two points on either side of ``power`` P in
    W; ``powers`` grow, with ``efficiencies`` at each. Beyond its ends the curve goes on level.
    """
    if len(powers) != len(efficiencies) or len(powers) < 2:
        raise FormulaError("a curve has two points or more")
    place = min(max(bisect_left(powers, power), 1), len(powers) - 1)
    powers, efficiencies = powers[place - 1 : place + 1], efficiencies[place - 1 : place + 1]
    power = min(max(power, powers[0]), powers[1])
    return efficiencies[0] + (efficiencies[1] - efficiencies[0]) * (power - powers[0]) / (
        powers[1] - powers[0]
    )


@formula("η", Source("A share more or less of what the curve says", "", "computed"))
def efficiency_within(on_curve: Fraction, share: Fraction) -> Fraction:
    """Efficiency of a curve, a share more or less: η·(1 + s), never above 1.

    ``share`` s is nought, and its band is how well the curve is known.
    """
    return min(1.0, on_curve * (1 + share))


@formula("P", BALANCE)
def power_of_current(current: Current, share: Fraction, voltage: Voltage) -> Power:
    """Power into a pack that takes a share of its charging current: k·I·U.

    ``current`` I in A when warm, ``share`` k that the cold leaves of it, ``voltage`` U in V.
    """
    return share * current * voltage


@formula("P", BALANCE)
def charger_power(into_pack: Power, efficiency: Fraction, beside: Power) -> Power:
    """Power out of the mains for a power into the pack: (P + P_b)/η, in W."""
    if not 0 < efficiency <= 1:
        raise FormulaError("an efficiency lies above 0 and is 1 at most")
    return (into_pack + beside) / efficiency


@formula("I", TWENTIETH)
def usual_end(capacity: Charge, hours: Time) -> Current:
    """Current at which a charge usually ends: Q/t, ``capacity`` Q in C, ``hours`` t of twenty."""
    if hours <= 0:
        raise FormulaError("the time must be above zero")
    return capacity / hours


@formula("I", RULE_OF_DEVICES)
def share_of_rating(rating: Current, part: Ratio) -> Current:
    """Residual current from which a device may trip: a ``part`` of its ``rating`` in A."""
    return part * rating


@formula("o", Source("Yes and no as 1 and -1", "", "computed"))
def opposite(answer: Ratio) -> Ratio:
    """The opposite of a yes or no written as 1 or -1."""
    return -answer


@formula("ΔP", BALANCE)
def power_gained(now: Power, then: Power) -> Power:
    """Power gained where the weakest link no longer decides: P_2 - P_1, in W."""
    return then - now


@formula("v", BALANCE)
def distance_rate(into_pack: Power, consumption: EnergyPerDistance) -> Speed:
    """Distance charged for a time: P/e, in m/s, shown as kilometres for each hour."""
    if consumption <= 0:
        raise FormulaError("the consumption must be above zero")
    return into_pack / consumption


@formula("K", BALANCE)
def cost(energy: Energy, unit: Energy, price: Ratio) -> Ratio:
    """Cost of a charge: E/E_1·p, ``energy`` E from the wall, ``price`` p of the ``unit`` E_1."""
    return energy / unit * price
