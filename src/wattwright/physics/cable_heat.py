"""Cables that carry a current for hours: how warm they get, and how much they may carry.

    outside     convection, radiation, outside_path, outside_temperature
    by path     heat_of_conductor, temperature_by_path, ampacity_by_path
    in air      steady_temperature, ampacity
    of a sine   effective_current

A conductor of resistance R′ gives I²·R′ for each metre, which goes through the insulation to the
outside, and from there by free convection and radiation to still air and to walls as warm. The
cable lies level, away from its ends; lugs and plugs that are hotter warm it for another half metre
or so.

How it is laid is told by three things: the diameter of the outside that the air sees (the cable, a
bundle, a duct), how many loaded conductors heat it, and the share of it that gives heat: 1 for one
that hangs free, some 0.8 on a wall, 0.7 for each of two that touch, and 0.55 of three in a clover
leaf, by the formulas of IEC 60287-2-1 for such cables (from memory). Moving air cools more, the sun
and a motor beside it warm: take the air for as warm as it is there.
"""

from __future__ import annotations

import math
from math import sqrt

from wattwright.cylinder_in_air import (
    CONDUCTION,
    CONDUCTION_SHIFT,
    RISE,
    RISE_SHIFT,
    STEFAN_BOLTZMANN,
    STILL,
    CableInAir,
)
from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    Fraction,
    HeatPerLength,
    HeatTransfer,
    Length,
    ResistancePerLength,
    Temperature,
    TemperatureCoefficient,
    ThermalResistanceOfLength,
)

CHURCHILL = Source(
    "Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049", "level cylinder, all Ra"
)
RADIATION = Source("Law of Stefan and Boltzmann", "grey surface in wide surroundings", "computed")
BALANCE = Source("Heat in is heat out", "conduction, free convection, radiation", "computed")
SERIES = Source("Thermal resistances one behind the other", "", "computed")

REFERENCE = 293.15  # K, 20 °C, at which resistances are published
CLOSED_IN = (
    "the temperature of the outside at which heat in is heat out is closed in on between that of "
    "the air and the hottest; the formula is the last step, which no longer depends on the guess"
)

ASKED = {
    "surface": ("temperature of the outside", "60 °C"),
    "steady_temperature.surface": ("temperature of the outside, a guess", "60 °C"),
    "ampacity.surface": ("temperature of the outside, a guess", "60 °C"),
    "ambient": ("temperature of the air", "30 °C"),
    "diameter": ("diameter of the outside", "10.5 mm"),
    "emissivity": ("emissivity of the outside", "0.9"),
    "convected": ("heat transfer by convection", "7 W/(m²·K)"),
    "radiated": ("heat transfer by radiation", "6.5 W/(m²·K)"),
    "to_air": ("thermal resistance from a conductor to the air", "2.3 K·m/W"),
    "free": ("share of the outside that gives heat", "80 %"),
    "current": ("current of each conductor", "150 A"),
    "resistance": ("resistance of each conductor for each metre, at 20 °C", "0.554 Ω/km"),
    "coefficient": ("rise of the resistance for each kelvin, at 20 °C", "0.393 %/K"),
    "inner": ("path from a conductor to the outside", "0.26 K·m/W"),
    "loaded": ("loaded conductors in the outside", "1"),
    "conductor": ("temperature of the conductors", "70 °C"),
    "limit": ("temperature that the conductors may have", "90 °C"),
    "heat": ("heat of each conductor for each metre", "20 W/m"),
    "peak": ("peak of the sine", "283 A"),
}


@formula("I", Source("Mean of the square of a sine", "", "computed"))
def effective_current(peak: Current) -> Current:
    """Effective value of a current that is a sine: the direct current that warms as much.

    î/√2: ``peak`` î in A.
    """
    return peak / sqrt(2)


@formula("h_c", CHURCHILL, valid={"surface": (200.0, 900.0), "ambient": (200.0, 400.0)})
def convection(surface: Temperature, ambient: Temperature, diameter: Length) -> HeatTransfer:
    """Heat transfer from a level cylinder to still air.

    Nu·k/D, Nu = (0.60 + 0.387·Ra^(1/6)/(1 + (0.559/Pr)^(9/16))^(8/27))², with dry air at 101 kPa
    and at the mean of surface and air, Pr 0.71: ``surface`` and ``ambient`` in K, ``diameter`` D in
    m; result W/(m²·K). On a mountain of 2,000 m it is a tenth less.
    """
    if diameter <= 0 or min(surface, ambient) <= 0:
        raise FormulaError("the diameter and the absolute temperatures must be above zero")
    return (
        CONDUCTION
        * math.pow(surface + ambient, 1.5)
        / ((surface + ambient + CONDUCTION_SHIFT) * diameter)
        * (
            STILL
            + RISE
            * math.pow(abs(surface - ambient) * (surface + ambient + RISE_SHIFT) ** 2, 1 / 6)
            * sqrt(diameter)
            / (surface + ambient)
        )
        ** 2
    )


@formula("h_r", RADIATION)
def radiation(surface: Temperature, ambient: Temperature, emissivity: Fraction) -> HeatTransfer:
    """Heat transfer by radiation to walls as warm as the air.

    ε·σ·(T_s² + T_a²)·(T_s + T_a): ``surface`` T_s and ``ambient`` T_a in K, ``emissivity`` ε, 0.9
    for plastic and rubber of any colour, 0.3 and less for bright metal; result W/(m²·K).
    """
    return emissivity * STEFAN_BOLTZMANN * (surface**2 + ambient**2) * (surface + ambient)


@formula("T_4", SERIES)
def outside_path(
    diameter: Length, free: Fraction, convected: HeatTransfer, radiated: HeatTransfer
) -> ThermalResistanceOfLength:
    """Thermal resistance from the outside of a cable to the air, for the heat of all.

    1/(π·D·f·(h_c + h_r)): ``diameter`` D in m, ``free`` share f of the outside that gives heat,
    ``convected`` h_c and ``radiated`` h_r in W/(m²·K). It falls as the outside gets warmer.
    """
    if min(diameter, free) <= 0 or convected + radiated <= 0:
        raise FormulaError("diameter, share of the outside and heat transfer must be above zero")
    return 1 / (math.pi * diameter * free * (convected + radiated))


@formula("q′", BALANCE)
def heat_of_conductor(
    current: Current,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
    conductor: Temperature,
) -> HeatPerLength:
    """Heat that a conductor gives for each metre.

    I²·R′·(1 + α (T - 20 °C)): ``current`` I in A, ``resistance`` R′ in Ω/m and ``coefficient`` α in
    1/K at 20 °C, ``conductor`` T in K. Direct current; alternating current of 50 Hz or 60 Hz adds
    less than 1 % up to 120 mm².
    """
    return current**2 * resistance * (1 + coefficient * (conductor - REFERENCE))


@formula("T_c", BALANCE)
def temperature_by_path(
    current: Current,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
    to_air: ThermalResistanceOfLength,
    ambient: Temperature,
) -> Temperature:
    """Temperature of a conductor after hours, with the thermal resistance to the air known.

    T_c - T_a = T_Σ·I²·R′·(1 + α (T_c - T_20)) solved: T_20 - 1/α + (T_a - T_20 + 1/α)/(1 -
    T_Σ·I²·R′·α). ``current`` I in A, ``resistance`` R′ in Ω/m and ``coefficient`` α in 1/K at 20
    °C, ``to_air`` T_Σ in K·m/W as it is when so warm, ``ambient`` T_a in K.
    """
    if coefficient <= 0 or to_air * current**2 * resistance * coefficient >= 1:
        raise FormulaError("with this current heat grows faster with temperature than it leaves")
    return (
        REFERENCE
        - 1 / coefficient
        + (ambient - REFERENCE + 1 / coefficient)
        / (1 - to_air * current**2 * resistance * coefficient)
    )


@formula("I_z", BALANCE)
def ampacity_by_path(
    limit: Temperature,
    ambient: Temperature,
    to_air: ThermalResistanceOfLength,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
) -> Current:
    """Current that warms a conductor to its limit, with the thermal resistance to the air known.

    √((T_c - T_a)/(T_Σ·R′·(1 + α (T_c - 20 °C)))): ``limit`` T_c and ``ambient`` T_a in K,
    ``to_air`` T_Σ in K·m/W, ``resistance`` R′ in Ω/m and ``coefficient`` α in 1/K at 20 °C.
    """
    if limit <= ambient:
        raise FormulaError("in air as hot as the conductor may be, no current is allowed")
    if min(to_air, resistance) <= 0 or 1 + coefficient * (limit - REFERENCE) <= 0:
        raise FormulaError("thermal and electrical resistance must be above zero")
    return sqrt((limit - ambient) / (to_air * resistance * (1 + coefficient * (limit - REFERENCE))))


@formula("T_s", SERIES)
def outside_temperature(
    conductor: Temperature, heat: HeatPerLength, inner: ThermalResistanceOfLength
) -> Temperature:
    """Temperature of the outside of a cable.

    T_c - q′·T: ``conductor`` T_c in K, ``heat`` q′ in W/m of each conductor, ``inner`` T in K·m/W
    from a conductor to the outside by its own heat.
    """
    return conductor - heat * inner


@formula("T_c", BALANCE, valid={"ambient": (200.0, 400.0)}, method=CLOSED_IN)
def steady_temperature(
    current: Current,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
    inner: ThermalResistanceOfLength,
    loaded: Count,
    diameter: Length,
    emissivity: Fraction,
    free: Fraction,
    ambient: Temperature,
    surface: Temperature,
) -> Temperature:
    """Temperature of the conductors of a cable that carries a current for hours.

    T_c - T_a = T_Σ·I²·R′·(1 + α (T_c - 20 °C)), T_Σ = T + n/(π·D·f·(h_c + h_r)): ``current`` I of
    each conductor in A, ``resistance`` R′ in Ω/m and ``coefficient`` α in 1/K at 20 °C, ``inner`` T
    in K·m/W from a conductor to the outside by its own heat, ``loaded`` n conductors, ``diameter``
    D in m, ``emissivity`` and ``free`` share f of the outside, ``ambient`` T_a in K, ``surface``
    T_s of the outside: any guess does. Refused where heat in is heat out at no temperature.
    """
    if coefficient <= 0:
        raise FormulaError("the resistance grows as the conductor gets warmer")
    surface = CableInAir(diameter, emissivity, free, ambient, inner, loaded).steady_surface(
        current**2 * resistance, coefficient, REFERENCE
    )
    return (
        REFERENCE
        - 1 / coefficient
        + (ambient - REFERENCE + 1 / coefficient)
        / (
            1
            - current**2
            * resistance
            * coefficient
            * (
                inner
                + loaded
                / (
                    math.pi
                    * diameter
                    * free
                    * (
                        emissivity
                        * STEFAN_BOLTZMANN
                        * (surface**2 + ambient**2)
                        * (surface + ambient)
                        + CONDUCTION
                        * math.pow(surface + ambient, 1.5)
                        / ((surface + ambient + CONDUCTION_SHIFT) * diameter)
                        * (
                            STILL
                            + RISE
                            * math.pow(
                                abs(surface - ambient) * (surface + ambient + RISE_SHIFT) ** 2,
                                1 / 6,
                            )
                            * sqrt(diameter)
                            / (surface + ambient)
                        )
                        ** 2
                    )
                )
            )
        )
    )


@formula("I_z", BALANCE, valid={"ambient": (200.0, 400.0)}, method=CLOSED_IN)
def ampacity(
    limit: Temperature,
    resistance: ResistancePerLength,
    coefficient: TemperatureCoefficient,
    inner: ThermalResistanceOfLength,
    loaded: Count,
    diameter: Length,
    emissivity: Fraction,
    free: Fraction,
    ambient: Temperature,
    surface: Temperature,
) -> Current:
    """Current that warms the conductors of a cable to their limit, for hours.

    √((T_c - T_a)/(T_Σ·R′·(1 + α (T_c - 20 °C)))), T_Σ = T + n/(π·D·f·(h_c + h_r)): ``limit`` T_c in
    K, ``resistance`` R′ in Ω/m and ``coefficient`` α in 1/K at 20 °C, ``inner`` T in K·m/W from a
    conductor to the outside by its own heat, ``loaded`` n conductors, ``diameter`` D in m,
    ``emissivity`` and ``free`` share f of the outside, ``ambient`` T_a in K, ``surface`` T_s of the
    outside: any guess does. Where a rule gives a smaller rating, the rule stands.
    """
    if limit <= ambient:
        raise FormulaError("in air as hot as the conductor may be, no current is allowed")
    if resistance <= 0 or 1 + coefficient * (limit - REFERENCE) <= 0:
        raise FormulaError("the resistance must be above zero")
    surface = CableInAir(diameter, emissivity, free, ambient, inner, loaded).surface(limit)
    return sqrt(
        (limit - ambient)
        / (
            resistance
            * (1 + coefficient * (limit - REFERENCE))
            * (
                inner
                + loaded
                / (
                    math.pi
                    * diameter
                    * free
                    * (
                        emissivity
                        * STEFAN_BOLTZMANN
                        * (surface**2 + ambient**2)
                        * (surface + ambient)
                        + CONDUCTION
                        * math.pow(surface + ambient, 1.5)
                        / ((surface + ambient + CONDUCTION_SHIFT) * diameter)
                        * (
                            STILL
                            + RISE
                            * math.pow(
                                abs(surface - ambient) * (surface + ambient + RISE_SHIFT) ** 2,
                                1 / 6,
                            )
                            * sqrt(diameter)
                            / (surface + ambient)
                        )
                        ** 2
                    )
                )
            )
        )
    )
