"""The way that heat takes out of a cable: insulation, bundle, duct.

    insulation_path                  through the insulation of one conductor
    bundle_path, bundle_diameter     through a bundle
    duct_path                        through the air in a duct
    whole_path                       from a conductor to the outside
    usual_core, usual_outside, duct_outside  diameters that nobody has measured
    all_loaded                       conductors that heat each other

Each is a thermal resistance for the heat of one metre, K·m/W. What passes the heat of several
conductors counts as many times for each of them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import log, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Count,
    Length,
    Ratio,
    Temperature,
    TemperatureCoefficient,
    ThermalResistanceOfLength,
    ThermalResistivity,
    WireSize,
)

THROUGH = Source(
    "Incropera and others, Fundamentals of Heat and Mass Transfer", "3.3 and 3.5", "memory"
)
DUCTS = Source("IEC 60287-2-1", "cables in ducts", "memory")
SERIES = Source("Thermal resistances one behind the other", "", "computed")
ROUND = Source("Wires laid round each other, with the gaps between", "", "practice")

GEOMETRY_OF_CABLES = Source("Flexible cables in makers' lists, up to 120 mm²", "", "practice")

ICE = 273.15  # K

ASKED = {
    "resistivity": ("thermal resistivity of the insulation", "5 K·m/W"),
    "bundle_path.resistivity": ("thermal resistivity of the bundle, wires and gaps", "8 K·m/W"),
    "inside": ("diameter under the insulation", "7.6 mm"),
    "outside": ("diameter over the insulation", "10.5 mm"),
    "cables": ("number of cables in the bundle", "7"),
    "each": ("diameter of each cable", "4 mm"),
    "bundle": ("diameter of the cables as one round bundle", "20 mm"),
    "mean": ("temperature of the air between cables and duct", "50 °C"),
    "plain": ("constant U of the duct", "5.2 K·m/W"),
    "by_size": ("constant V of the duct", "1.4"),
    "by_warmth": ("constant Y of the duct, for each kelvin", "1.1 %/K"),
    "own": ("path of one conductor's own heat, through its insulation", "0.26 K·m/W"),
    "shared": ("paths that the heat of all goes through", "0.4 K·m/W; 0.9 K·m/W"),
    "loaded": ("loaded conductors in the outside", "3"),
    "area": ("area of one core", "1.5 mm²"),
    "core": ("diameter of one insulated conductor", "3.3 mm"),
    "cores": ("cores in the cable", "3"),
    "thickness": ("how much thicker this cable is than usual", "1"),
}


@formula("T_1", THROUGH)
def insulation_path(
    resistivity: ThermalResistivity, inside: Length, outside: Length
) -> ThermalResistanceOfLength:
    """Thermal resistance of an insulation, for the heat of one metre.

    ρ_T/(2π)·ln(D/d): ``resistivity`` ρ_T in K·m/W (PVC and rubber 5, cross-linked polyethylene
    3.5), ``inside`` d and ``outside`` D in m.
    """
    if not outside >= inside > 0:
        raise FormulaError("the outer diameter is the larger one, and both are above zero")
    return resistivity / (2 * math.pi) * log(outside / inside)


@formula("T_b", THROUGH)
def bundle_path(resistivity: ThermalResistivity) -> ThermalResistanceOfLength:
    """Thermal resistance from the middle of a bundle to its outside, for the heat of all.

    ρ_T/(4π): a round bar that gives heat evenly is hotter in the middle by q′·ρ_T/(4π), whatever
    its diameter. ``resistivity`` ρ_T in K·m/W of the bundle as a whole.
    """
    return resistivity / (4 * math.pi)


@formula("D_b", ROUND, valid={"cables": (2.0, 200.0)})
def bundle_diameter(cables: Count, each: Length) -> Length:
    """Diameter of a bundle of like cables.

    1.155·D·√n: number of ``cables`` n, ``each`` D in m. Seven round one are 3 D, nineteen 5 D; two
    side by side give as much heat as one of 1.65 D (IEC 60287-2-1), here 1.63 D.
    """
    if min(cables, each) <= 0:
        raise FormulaError("number and diameter must be above zero")
    return 1.155 * each * sqrt(cables)


@formula("T_4′", DUCTS, valid={"bundle": (0.005, 0.1)})
def duct_path(
    bundle: Length,
    mean: Temperature,
    plain: ThermalResistanceOfLength,
    by_size: Ratio,
    by_warmth: TemperatureCoefficient,
) -> ThermalResistanceOfLength:
    """Thermal resistance of the air between cables and their duct, for the heat of all.

    U/(1 + 0.1 (V + Y·θ_m)·D): ``bundle`` D in m here, in mm there; ``mean`` θ_m in K here, in °C
    there; ``plain`` U in K·m/W, ``by_size`` V, ``by_warmth`` Y in 1/K: 5.2, 1.4 and 0.011 in a
    metal conduit, 1.87, 0.312 and 0.0037 in a duct of plastic. Two like cables count as 1.65 of
    their diameter, three as 2.15, four as 2.5.
    """
    if bundle <= 0 or by_size + by_warmth * (mean - ICE) <= 0:
        raise FormulaError("the bundle has a diameter, and the duct passes heat")
    return plain / (1 + 100 * (by_size + by_warmth * (mean - ICE)) * bundle)


@formula("T", SERIES)
def whole_path(
    own: ThermalResistanceOfLength, shared: Sequence[ThermalResistanceOfLength], loaded: Count
) -> ThermalResistanceOfLength:
    """Thermal resistance from a conductor outwards, by the heat of that conductor.

    T_1 + n·ΣT: ``own`` T_1 passes its heat alone, ``shared`` T the heat of all, K·m/W; ``loaded`` n
    conductors give heat.
    """
    return own + loaded * sum(shared)


@formula("D", GEOMETRY_OF_CABLES)
def usual_core(area: WireSize, thickness: Ratio) -> Length:
    """Usual diameter of one insulated conductor that nobody has measured.

    k·(1.2·√(4A/π) + 1.6 mm): ``area`` A in m², ``thickness`` k what this one is thicker by. Within
    a fifth of makers' lists up to 120 mm².
    """
    if min(area, thickness) <= 0:
        raise FormulaError("area and thickness must be above zero")
    return thickness * (1.2 * sqrt(4 * area / math.pi) + 1.6e-3)


@formula("D", GEOMETRY_OF_CABLES)
def usual_outside(core: Length, cores: Count) -> Length:
    """Usual outside diameter of a cable of several cores that nobody has measured.

    1.25·D_c·√n + 1.2 mm: ``core`` D_c in m of each of n ``cores``, two or more, and a sheath round
    them. Within a fifth of makers' lists.
    """
    if core <= 0 or cores < 2:
        raise FormulaError("a cable has two cores or more, of a diameter above zero")
    return 1.25 * core * sqrt(cores) + 1.2e-3


@formula("D", GEOMETRY_OF_CABLES)
def duct_outside(bundle: Length) -> Length:
    """Usual outside diameter of a tube round cables: 1.6 times that of the cables as a bundle.

    ``bundle`` in m. Cables that fill two fifths of a tube leave it that wide.
    """
    return 1.6 * bundle


@formula("n", SERIES)
def all_loaded(cores: Count, cables: Count) -> Count:
    """Conductors that heat one outside: ``cores`` of each cable times the ``cables`` in it."""
    return cores * cables
