"""Conductors: size, resistance cold and hot, volts and watts lost, mass.

    size        gauge_diameter, gauge_area, strands_area, solid_diameter
    resistance  resistance_of_length, resistance_per_length, when_warm, from_reading, of_loop,
                in_series, in_parallel
    lost        voltage_lost, share_lost, power_lost, length_for_loss
    mass        mass_per_length, covered_mass_per_length, mass_of_cables

A published resistance is the greatest allowed at 20 °C, with stranding counted in; one worked out
from area and resistivity is that of solid metal. Resistance rises with temperature along a straight
line through 20 °C: 0.393 % for each kelvin for copper, 0.403 % for aluminium. The older rule of
IEC 60228, 0.4 %, gives 0.3 % more at 70 °C.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Current,
    Density,
    Fraction,
    Length,
    Mass,
    MassPerLength,
    Power,
    Ratio,
    Resistance,
    ResistancePerLength,
    Resistivity,
    Temperature,
    TemperatureCoefficient,
    Voltage,
    WireSize,
)

ASTM_B258 = Source("ASTM B258", "36 AWG is 0.127 mm, 4/0 AWG 11.684 mm, 39 equal ratios", "memory")
IEC_60028 = Source("IEC 60028", "resistance of copper in a straight line through 20 °C", "memory")
OHM = Source("Ohm's law", "", "computed")
GEOMETRY = Source("Area of a circle", "", "computed")
DEFINITION = Source("Definition", "", "computed")

REFERENCE = 293.15  # K, 20 °C, at which resistances are published
GAUGE_36 = 0.127e-3  # m
GAUGE_RATIO = 92

ASKED = {
    "gauge": ("gauge number; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0", "10"),
    "diameter": ("diameter of the wire", "2.59 mm"),
    "strands": ("number of strands", "19"),
    "resistivity": ("resistivity at 20 °C", "17.241 Ω·mm²/km"),
    "area": ("area of the conductor", "35 mm²"),
    "per_length": ("resistance for each metre at 20 °C", "13.3 Ω/km"),
    "of_loop.per_length": ("resistance for each metre, as warm as it gets", "13.3 Ω/km"),
    "length_for_loss.per_length": ("resistance for each metre, as warm as it gets", "13.3 Ω/km"),
    "coefficient": ("rise of the resistance for each kelvin, at 20 °C", "0.393 %/K"),
    "temperature": ("temperature of the conductor", "70 °C"),
    "from_reading.temperature": ("temperature of the conductor while it was measured", "35 °C"),
    "reading": ("resistance that was measured", "0.554 mΩ"),
    "length": ("length of the cable, one way", "40 m"),
    "from_reading.length": ("length that was measured over", "1 m"),
    "ways": ("lengths that the current goes through: 2 for out and back", "2"),
    "each": ("resistance of each conductor", "0.5 mΩ; 0.5 mΩ; 0.6 mΩ"),
    "current": ("current", "10 A"),
    "resistance": ("resistance of the whole loop, as warm as it gets", "1.064 Ω"),
    "lost": ("voltage lost on the way", "10.6 V"),
    "supply": ("voltage at the source", "230 V"),
    "stranding": ("what stranding adds", "1.05"),
    "share": ("share of the voltage that may be lost", "3 %"),
    "metal_density": ("density of the metal", "8890 kg/m³"),
    "cover_density": ("density of the insulation", "1400 kg/m³"),
    "outside": ("diameter over the insulation", "10.5 mm"),
    "mass_of_cables.per_length": ("mass of one for each metre", "0.42 kg/m"),
    "mass_of_cables.length": ("length of one", "3.2 m"),
    "count": ("how many of them", "2"),
    "bare": ("diameter of the conductor", "7.6 mm"),
}


@formula("d", ASTM_B258, valid={"gauge": (-3.0, 40.0)})
def gauge_diameter(gauge: Count) -> Length:
    """Diameter of a solid wire by its American wire gauge.

    d = 0.127 mm · 92^((36 - n)/39), with ``gauge`` n, which is 0, -1, -2, -3 for 1/0 to 4/0;
    result m. A stranded conductor of the same area is some 15 % thicker.
    """
    return GAUGE_36 * math.pow(GAUGE_RATIO, (36 - gauge) / 39)


@formula("A", ASTM_B258, valid={"gauge": (-3.0, 40.0)})
def gauge_area(gauge: Count) -> WireSize:
    """Area of a conductor by its American wire gauge.

    π/4 d², d = 0.127 mm · 92^((36 - n)/39), with ``gauge`` n, which is 0, -1, -2, -3 for 1/0 to
    4/0; result m². Three gauges down double it, nearly.
    """
    return math.pi / 4 * (GAUGE_36 * math.pow(GAUGE_RATIO, (36 - gauge) / 39)) ** 2


@formula("A", GEOMETRY)
def strands_area(strands: Count, diameter: Length) -> WireSize:
    """Area of a conductor by its strands.

    n·π/4·d²: number of ``strands`` n, ``diameter`` d of one strand in m; result m².
    """
    if min(strands, diameter) <= 0:
        raise FormulaError("number and diameter of the strands must be above zero")
    return strands * math.pi / 4 * diameter**2


@formula("d", GEOMETRY)
def solid_diameter(area: WireSize) -> Length:
    """Diameter of a solid round conductor.

    √(4 A/π): ``area`` A in m²; result m. Strands leave gaps: IEC 60228 allows a flexible conductor
    a diameter some 15 % to 25 % above this.
    """
    if area <= 0:
        raise FormulaError("the area must be above zero")
    return sqrt(4 * area / math.pi)


@formula("R", OHM)
def resistance_of_length(resistivity: Resistivity, length: Length, area: WireSize) -> Resistance:
    """Resistance of a length of solid metal at 20 °C.

    ρ·l/A: ``resistivity`` ρ in Ω·m (17.241 nΩ·m for annealed copper, 28.03 nΩ·m for aluminium),
    ``length`` l in m, ``area`` A in m²; result Ω. Stranding adds some 2 %, fine strands up to 5 %.
    """
    if area <= 0:
        raise FormulaError("the area must be above zero")
    return resistivity * length / area


@formula("R′", OHM)
def resistance_per_length(
    resistivity: Resistivity, area: WireSize, stranding: Ratio
) -> ResistancePerLength:
    """Resistance for each metre of a conductor of no published size, at 20 °C.

    s·ρ/A: ``resistivity`` ρ in Ω·m, ``area`` A in m², ``stranding`` s by which twisting and gaps
    add to it: 1 for solid metal, 1.02 for strands, up to 1.15 where IEC 60228 allows it.
    """
    if area <= 0:
        raise FormulaError("the area must be above zero")
    return stranding * resistivity / area


@formula("R′", IEC_60028, valid={"temperature": (223.15, 523.15)})
def when_warm(
    per_length: ResistancePerLength, coefficient: TemperatureCoefficient, temperature: Temperature
) -> ResistancePerLength:
    """Resistance for each metre at a temperature.

    R′·(1 + α (T - 20 °C)): ``per_length`` R′ in Ω/m at 20 °C, ``coefficient`` α in 1/K at 20 °C
    (0.00393 for copper, 0.00403 for aluminium), ``temperature`` T of the conductor in K.
    """
    if 1 + coefficient * (temperature - REFERENCE) <= 0:
        raise FormulaError("so cold the straight line would leave no resistance")
    return per_length * (1 + coefficient * (temperature - REFERENCE))


@formula("R′", IEC_60028, valid={"temperature": (263.15, 333.15)})
def from_reading(
    reading: Resistance,
    length: Length,
    coefficient: TemperatureCoefficient,
    temperature: Temperature,
) -> ResistancePerLength:
    """Resistance for each metre at 20 °C, from a measurement.

    R/(l·(1 + α (T - 20 °C))): ``reading`` R in Ω over a ``length`` l in m, ``coefficient`` α in
    1/K at 20 °C, ``temperature`` T in K of the conductor at the time. Four leads, two for the
    current and two for the voltage: ordinary test leads are a hundred times the cable.
    """
    if length <= 0 or 1 + coefficient * (temperature - REFERENCE) <= 0:
        raise FormulaError("the length must be above zero, and the conductor not so cold")
    return reading / (length * (1 + coefficient * (temperature - REFERENCE)))


@formula("R", OHM)
def of_loop(per_length: ResistancePerLength, length: Length, ways: Count) -> Resistance:
    """Resistance of a cable out and back.

    n·R′·l: ``per_length`` R′ in Ω/m, ``length`` l one way in m, ``ways`` n: 2 where the current
    comes back by a like conductor, 1 where it comes back through something else.
    """
    return ways * per_length * length


@formula("R", OHM)
def in_series(each: Sequence[Resistance]) -> Resistance:
    """Resistance of things one behind the other: their sum, ``each`` R in Ω."""
    return sum(each)


@formula("R", OHM)
def in_parallel(each: Sequence[Resistance]) -> Resistance:
    """Resistance of conductors side by side.

    1/Σ(1/R): ``each`` R in Ω; result Ω. They share the current by this only where their joints are
    small against them.
    """
    if min(each) <= 0:
        raise FormulaError("a resistance must be above zero")
    return 1 / sum(1 / resistance for resistance in each)


@formula("ΔU", OHM)
def voltage_lost(current: Current, resistance: Resistance) -> Voltage:
    """Voltage lost on the way.

    I·R: ``current`` I in A, ``resistance`` R in Ω of the whole loop, as warm as it gets.
    """
    return current * resistance


@formula("ΔU/U", DEFINITION)
def share_lost(lost: Voltage, supply: Voltage) -> Fraction:
    """Share of the voltage that is lost on the way.

    ΔU/U: ``lost`` ΔU and ``supply`` U in V.
    """
    if supply <= 0:
        raise FormulaError("the voltage of the source must be above zero")
    return lost / supply


@formula("P", OHM)
def power_lost(current: Current, resistance: Resistance) -> Power:
    """Power that a cable turns to heat.

    I²·R: ``current`` I in A, ``resistance`` R in Ω of the whole loop, as warm as it gets.
    """
    return current**2 * resistance


@formula("l", OHM)
def length_for_loss(
    share: Fraction,
    supply: Voltage,
    current: Current,
    per_length: ResistancePerLength,
    ways: Count,
) -> Length:
    """Longest cable that loses no more than a share of the voltage.

    s·U/(n·I·R′): ``share`` s, ``supply`` U in V, ``current`` I in A, ``per_length`` R′ in Ω/m as
    warm as it gets, ``ways`` n: 2 for out and back. Result m, one way.
    """
    if min(current, per_length, ways) <= 0:
        raise FormulaError("current, resistance and ways must be above zero")
    return share * supply / (ways * current * per_length)


@formula("m′", DEFINITION)
def mass_per_length(area: WireSize, metal_density: Density) -> MassPerLength:
    """Mass of a bare conductor for each metre.

    A·ρ: ``area`` A in m², ``metal_density`` ρ in kg/m³ (8890 copper, 2703 aluminium).
    """
    return area * metal_density


@formula("m′", DEFINITION)
def covered_mass_per_length(
    area: WireSize,
    metal_density: Density,
    bare: Length,
    outside: Length,
    cover_density: Density,
) -> MassPerLength:
    """Mass of an insulated conductor for each metre.

    A·ρ + π/4·(D² - d²)·ρ_i: ``area`` A of the metal in m², ``metal_density`` ρ in kg/m³, ``bare``
    d over the strands and ``outside`` D over the insulation in m, ``cover_density`` ρ_i in kg/m³.
    A screen comes on top.
    """
    if not outside >= bare > 0:
        raise FormulaError("the insulation lies outside the conductor")
    return area * metal_density + math.pi / 4 * (outside**2 - bare**2) * cover_density


@formula("m", DEFINITION)
def mass_of_cables(per_length: MassPerLength, length: Length, count: Count) -> Mass:
    """Mass of cables that share one route.

    n·m′·l: ``per_length`` m′ in kg/m of one, ``length`` l in m, ``count`` n of them. Lugs, glands
    and clips come on top.
    """
    return count * per_length * length
