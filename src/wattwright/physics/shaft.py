"""Twisting strength of shafts.

    stress    solid_shear_stress, hollow_shear_stress
    strength  shear_yield, solid_yield_torque, hollow_yield_torque, torque_margin
    reversal  reversing_torque, reversing_strength

Diameters are the smallest ones under load: the root of splines and threads, not the bar beside
them. A notch, a keyway or a weld takes more away than these formulas know, and a shaft that does
not yield may still break of fatigue.
"""

from __future__ import annotations

import math
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Fraction, Length, Ratio, Stress, Torque

TORSION = Source("Torsion of a round bar, linear elasticity", "", "computed")
YIELD = Source("Distortion energy criterion of yielding", "pure shear", "computed")

SODERBERG = Source("Soderberg criterion of fatigue", "mean stress against yield", "computed")

ASKED = {
    "torque": ("torque on the shaft", "450 N·m"),
    "driving": ("most torque when driving", "450 N·m"),
    "braking": ("most torque when the motor brakes", "150 N·m"),
    "share": ("share of what it bears once that it bears back and forth", "40 %"),
    "strength": ("torque that it bears once", "1490 N·m"),
    "diameter": ("smallest diameter", "28 mm"),
    "outer": ("outer diameter", "60 mm"),
    "inner": ("inner diameter", "55 mm"),
    "tensile_yield": ("yield strength in tension", "600 MPa"),
    "yield_stress": ("yield strength in shear", "346 MPa"),
    "yield_torque": ("torque at which the shaft yields", "1490 N·m"),
}


@formula("τ", TORSION)
def solid_shear_stress(torque: Torque, diameter: Length) -> Stress:
    """Shear stress at the surface of a solid shaft.

    τ = 16·T/(π·d³), with ``torque`` T in N·m and ``diameter`` d in m.
    """
    if diameter <= 0:
        raise FormulaError("the diameter must be above zero")
    return 16 * torque / (math.pi * diameter**3)


@formula("τ", TORSION)
def hollow_shear_stress(torque: Torque, outer: Length, inner: Length) -> Stress:
    """Shear stress at the surface of a tube.

    τ = 16·T·D/(π·(D⁴ - d⁴)), with ``torque`` T in N·m, diameters ``outer`` D and ``inner`` d in m.
    """
    if not 0 <= inner < outer:
        raise FormulaError("the inner diameter must be below the outer one")
    return 16 * torque * outer / (math.pi * (outer**4 - inner**4))


@formula("τ_y", YIELD)
def shear_yield(tensile_yield: Stress) -> Stress:
    """Shear stress at which a ductile steel yields, from its yield strength in tension.

    τ = σ/√3, with ``tensile_yield`` σ in Pa.
    """
    return tensile_yield / sqrt(3)


@formula("T_y", TORSION)
def solid_yield_torque(yield_stress: Stress, diameter: Length) -> Torque:
    """Torque at which the surface of a solid shaft begins to yield.

    T = τ·π·d³/16, with ``yield_stress`` τ in shear, in Pa, and ``diameter`` d in m.
    """
    if diameter <= 0:
        raise FormulaError("the diameter must be above zero")
    return yield_stress * math.pi * diameter**3 / 16


@formula("T_y", TORSION)
def hollow_yield_torque(yield_stress: Stress, outer: Length, inner: Length) -> Torque:
    """Torque at which the surface of a tube begins to yield.

    T = τ·π·(D⁴ - d⁴)/(16·D), with ``yield_stress`` τ in shear, in Pa, diameters ``outer`` D and
    ``inner`` d in m.
    """
    if not 0 <= inner < outer:
        raise FormulaError("the inner diameter must be below the outer one")
    return yield_stress * math.pi * (outer**4 - inner**4) / (16 * outer)


@formula("S", Source("Definition of the safety factor", "", "computed"))
def torque_margin(yield_torque: Torque, torque: Torque) -> Ratio:
    """How many times over a shaft carries a torque before it yields.

    S = T_y/T, both in N·m.
    """
    if torque <= 0:
        raise FormulaError("the torque must be above zero")
    return yield_torque / torque


@formula("T_r", SODERBERG)
def reversing_torque(driving: Torque, braking: Torque, share: Fraction) -> Torque:
    """Torque that, turned back and forth alike, wears a shaft as driving and braking in turn do.

    T_a + s·T_m with the amplitude T_a = (T_d + T_b)/2 and the mean T_m = (T_d - T_b)/2:
    ``driving`` T_d and ``braking`` T_b in N·m, both above zero though they turn opposite ways,
    ``share`` s of what the shaft bears once that it bears back and forth for life.
    """
    if not 0 < share <= 1:
        raise FormulaError("the share lies above 0 and is 1 at most")
    if min(driving, braking) < 0:
        raise FormulaError("both torques are written above zero")
    return (driving + braking) / 2 + share * (driving - braking) / 2


@formula("T_w", SODERBERG)
def reversing_strength(strength: Torque, share: Fraction) -> Torque:
    """Torque that a shaft bears back and forth for life.

    T_w = s·T_y: ``strength`` T_y that it bears once, in N·m, ``share`` s of it.
    """
    return share * strength
