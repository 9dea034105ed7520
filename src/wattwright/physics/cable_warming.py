"""Cables that carry a current for a while: how warm, how soon, and for how long.

    limits      overload_limit
    kept        conductor_capacity, insulation_capacity, insulation_share, capacity
    straight    time_constant, warmed, time_to_warm
    in air      time_over_points, settled_temperature, temperature_after, current_for_time

The conductor and a share of its insulation keep heat at one temperature, the conductor's. With the
conductor alone for the capacity the result is on the safe side at any time, and for a second or
two, as a fuse sees it, near the truth: that limit is the adiabatic one of a short circuit. The
share of the insulation is for times longer than heat takes through it: some ten seconds for a thin
wire, a minute for a thick cable.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import exp, log, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Current,
    Fraction,
    HeatCapacityByVolume,
    HeatCapacityPerLength,
    HeatPerLength,
    Length,
    ResistancePerLength,
    Temperature,
    TemperatureCoefficient,
    TemperatureDifference,
    ThermalResistanceOfLength,
    Time,
    WireSize,
)

DEFINITION = Source("Definition", "", "computed")
VAN_WORMER = Source(
    "Mean of the steady profile over the area", "van Wormer's share, as in IEC 60853-2", "computed"
)
LUMPED = Source("Heat kept by a body of one temperature", "", "computed")
BALANCE = Source(
    "Heat in is heat out and heat kept", "conduction, free convection, radiation", "computed"
)
LONGEST = 6 * 3600.0  # s, after which an overload is none that ends by itself
FOLLOWED = (
    "the cable is followed in air, and what is wanted closed in on; the formula is the balance of "
    "its heat over the whole time, with the shares of heat that came of it"
)
INTEGRAL = (
    "points are placed by Gauss's rule over steps in which the way left to the steady temperature "
    "falls by two fifths"
)

ASKED = {
    "area": ("area of the conductor", "35 mm²"),
    "bears": ("temperature that its insulation bears for life", "90 °C"),
    "above": ("how far above that until a fuse opens", "50 K"),
    "by_volume": ("heat capacity by volume", "3.45 MJ/(K·m³)"),
    "insulation_capacity.by_volume": ("heat capacity by volume", "1.7 MJ/(K·m³)"),
    "inside": ("diameter under the insulation", "7.6 mm"),
    "outside": ("diameter over the insulation", "10.5 mm"),
    "metal": ("heat capacity of the conductor", "121 J/(K·m)"),
    "insulation": ("heat capacity of the insulation", "70 J/(K·m)"),
    "share": ("share of the insulation that is as warm as the conductor", "44 %"),
    "capacity": ("heat capacity of a conductor with its share of insulation", "150 J/(K·m)"),
    "to_air": ("thermal resistance from a conductor to the air", "3 K·m/W"),
    "current": ("current of each conductor", "150 A"),
    "resistance": ("resistance of each conductor for each metre, at 20 °C", "0.554 Ω/km"),
    "coefficient": ("rise of the resistance for each kelvin, at 20 °C", "0.393 %/K"),
    "start": ("temperature of the conductors before", "30 °C"),
    "steady": ("temperature of the conductors after hours", "64 °C"),
    "limit": ("temperature that is reached", "60 °C"),
    "time": ("time", "2 min"),
    "rises": ("rises one after the other", "10 K; 10 K; 10 K"),
    "kept": ("heat kept during each", "40 W/m; 35 W/m; 30 W/m"),
    "settled_temperature.kept": ("heat kept at about that time", "35 W/m"),
    "trial": ("temperature reached at about that time", "58 °C"),
    "reached": ("time after which it is reached", "118 s"),
    "constant": ("time constant", "9 min"),
    "hours": ("current that keeps it at that temperature", "230 A"),
    "lost": ("heat lost on average, over that at the temperature", "60 %"),
    "made": ("heat made on average, over that at the temperature", "93 %"),
    "current_for_time.resistance": ("resistance for each metre at that temperature", "0.82 Ω/km"),
    "temperature_after.resistance": ("resistance for each metre at its limit", "0.71 Ω/km"),
    "temperature_after.hours": ("current that keeps it at its limit", "180 A"),
    "temperature_after.lost": ("heat lost on average, over that at its limit", "60 %"),
    "temperature_after.made": ("heat made on average, over that at its limit", "93 %"),
    "current_for_time.limit": ("temperature that it may come to", "140 °C"),
}


@formula("T", DEFINITION)
def overload_limit(bears: Temperature, above: TemperatureDifference) -> Temperature:
    """Temperature that an insulation bears until a fuse has opened.

    T + ΔT: ``bears`` T in K for life, ``above`` ΔT in K.
    """
    return bears + above


@formula("C′", DEFINITION)
def conductor_capacity(area: WireSize, by_volume: HeatCapacityByVolume) -> HeatCapacityPerLength:
    """Heat capacity of a conductor for each metre.

    A·c: ``area`` A in m², ``by_volume`` c in J/(K·m³): 3.45 MJ for copper, 2.5 MJ for aluminium.
    """
    return area * by_volume


@formula("C′", DEFINITION)
def insulation_capacity(
    inside: Length, outside: Length, by_volume: HeatCapacityByVolume
) -> HeatCapacityPerLength:
    """Heat capacity of an insulation for each metre.

    π/4·(D² - d²)·c: ``inside`` d and ``outside`` D in m, ``by_volume`` c in J/(K·m³): 1.7 MJ for
    PVC, 2.4 MJ for cross-linked polyethylene, 2 MJ for rubber.
    """
    if not outside >= inside > 0:
        raise FormulaError("the outer diameter is the larger one, and both are above zero")
    return math.pi / 4 * (outside**2 - inside**2) * by_volume


@formula("p", VAN_WORMER)
def insulation_share(inside: Length, outside: Length) -> Fraction:
    """Share of an insulation's heat capacity that counts as the conductor's, for long times.

    1/(2·ln(D/d)) - 1/((D/d)² - 1): ``inside`` d and ``outside`` D in m; a half where the insulation
    is thin. For times above a third of thermal resistance times heat capacity of the whole cable;
    for shorter ones take the conductor alone, or the result is too cool.
    """
    if not outside > inside > 0:
        raise FormulaError("the outer diameter is the larger one, and both are above zero")
    return 1 / (2 * log(outside / inside)) - 1 / ((outside / inside) ** 2 - 1)


@formula("C′", DEFINITION)
def capacity(
    metal: HeatCapacityPerLength, insulation: HeatCapacityPerLength, share: Fraction
) -> HeatCapacityPerLength:
    """Heat capacity of a conductor with a share of its insulation.

    C_c + p·C_i: ``metal`` C_c and ``insulation`` C_i in J/(K·m), ``share`` p, none for the safe
    side.
    """
    return metal + share * insulation


@formula("τ", LUMPED)
def time_constant(
    capacity: HeatCapacityPerLength,
    to_air: ThermalResistanceOfLength,
    current: Current,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
) -> Time:
    """Time constant of a cable whose loss goes straight with temperature.

    C/(1/T_Σ - I²·R′·α): ``capacity`` C in J/(K·m), ``to_air`` T_Σ in K·m/W by the heat of one
    conductor, ``current`` I in A, ``resistance`` R′ in Ω/m and ``coefficient`` α in 1/K at 20 °C.
    The current makes it longer, as hot metal makes more heat.
    """
    if to_air <= 0 or not current**2 * resistance * coefficient < 1 / to_air:
        raise FormulaError("with this current heat grows faster with temperature than it leaves")
    return capacity / (1 / to_air - current**2 * resistance * coefficient)


@formula("T_c", LUMPED)
def warmed(start: Temperature, steady: Temperature, time: Time, constant: Time) -> Temperature:
    """Temperature of a cable on its way to steady.

    T_∞ + (T_0 - T_∞)·exp(-t/τ): ``start`` T_0 and ``steady`` T_∞ in K, ``time`` t and ``constant``
    τ in s. It holds for cooling too.
    """
    if constant <= 0 or time < 0:
        raise FormulaError("the time constant must be above zero, and the time not below")
    return steady + (start - steady) * exp(-time / constant)


@formula("t", LUMPED)
def time_to_warm(
    start: Temperature, steady: Temperature, limit: Temperature, constant: Time
) -> Time:
    """Time in which a cable on its way to steady comes to a temperature.

    τ·ln((T_∞ - T_0)/(T_∞ - T)): ``start`` T_0, ``steady`` T_∞ and ``limit`` T in K, ``constant`` τ
    in s.
    """
    if not (steady - start) / (steady - limit) >= 1:
        raise FormulaError("this temperature does not lie on the way")
    return constant * log((steady - start) / (steady - limit))


@formula("t", BALANCE, method=INTEGRAL)
def time_over_points(
    capacity: HeatCapacityPerLength,
    rises: Sequence[TemperatureDifference],
    kept: Sequence[HeatPerLength],
) -> Time:
    """Time in which a cable comes from one temperature to another, in air.

    Σ C·ΔT/q′: ``capacity`` C in J/(K·m), ``rises`` ΔT in K, and the heat ``kept`` at each of them
    in W/m: what the conductor makes, less what the outside gives away.
    """
    if len(rises) != len(kept):
        raise FormulaError("each rise needs the heat that is kept meanwhile")
    if any(heat * rise <= 0 for heat, rise in zip(kept, rises, strict=True)):
        raise FormulaError("heat that is kept warms, and heat that is lost cools")
    return sum(capacity * rise / heat for rise, heat in zip(rises, kept, strict=True))


@formula(
    "T_c",
    BALANCE,
    method="the temperature that is reached after the time is closed in on; the formula is the "
    "last step, in which the result no longer depends on where it sets out",
)
def settled_temperature(
    trial: Temperature,
    reached: Time,
    time: Time,
    kept: HeatPerLength,
    capacity: HeatCapacityPerLength,
) -> Temperature:
    """Temperature of a cable after a time, from one that is reached at about that time.

    T + (t - t_T)·q′/C: ``trial`` T in K is reached after ``reached`` t_T in s, ``time`` t is
    wanted, ``kept`` q′ in W/m is the heat kept then, ``capacity`` C in J/(K·m).
    """
    if capacity <= 0:
        raise FormulaError("the heat capacity must be above zero")
    return trial + (time - reached) * kept / capacity


@formula("T_c", BALANCE, method=FOLLOWED)
def temperature_after(
    current: Current,
    time: Time,
    start: Temperature,
    capacity: HeatCapacityPerLength,
    resistance: ResistancePerLength,
    hours: Current,
    lost: Fraction,
    made: Fraction,
) -> Temperature:
    """Temperature of the conductors of a cable in air, a time after a current began.

    T_0 + t·R′·(r·I² - w·I_z²)/C: ``current`` I of each conductor in A, ``time`` t in s, ``start``
    T_0 in K, ``capacity`` C in J/(K·m) of each conductor, ``resistance`` R′ in Ω/m at its limit,
    ``hours`` I_z in A that keeps it there, ``lost`` w the heat lost on average over that at the
    limit, ``made`` r the heat made on average over that at the limit by the same current.
    """
    if capacity <= 0 or time < 0:
        raise FormulaError("the heat capacity must be above zero, and the time not below")
    return start + time * resistance * (made * current**2 - lost * hours**2) / capacity


@formula("I_c", BALANCE, method=FOLLOWED)
def current_for_time(
    time: Time,
    limit: Temperature,
    start: Temperature,
    capacity: HeatCapacityPerLength,
    resistance: ResistancePerLength,
    hours: Current,
    lost: Fraction,
    made: Fraction,
) -> Current:
    """Current that brings a cable to a temperature in a time.

    √((C·(T - T_0)/(t·R′) + w·I_z²)/r): ``time`` t in s, ``limit`` T and ``start`` T_0 in K,
    ``capacity`` C in J/(K·m) of each conductor, ``resistance`` R′ in Ω/m at T, ``hours`` I_z in A
    that keeps the cable at T, ``lost`` w the heat lost on average over that at T, ``made`` r the
    heat made on average over that at T: both are one after hours.
    """
    if min(time, resistance, made) <= 0 or not limit > start:
        raise FormulaError("time and resistance are above zero, and the cable colder before")
    return sqrt((capacity * (limit - start) / (time * resistance) + lost * hours**2) / made)
