"""Keys and splines: shear of a key, pressure on the flanks of keys and teeth.

    force     force_at
    key       key_shear, key_pressure
    spline    spline_pressure

A torque that reverses works the same flanks in turn: what holds one way holds the other, but play
between key and slot turns each reversal into a blow that these formulas do not know.
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Count, Force, Fraction, Length, Stress, Torque

STATICS = Source("Statics of a key in its slot", "", "computed")
FLANKS = Source("Statics of teeth that share a torque", "", "computed")

ASKED = {
    "torque": ("torque through the joint", "450 N·m"),
    "diameter": ("diameter of the shaft", "35 mm"),
    "width": ("width of the key", "10 mm"),
    "height": ("height of the key inside the hub", "3.3 mm"),
    "length": ("length that carries", "40 mm"),
    "mean_diameter": ("mean diameter of the teeth", "27 mm"),
    "teeth": ("number of teeth", "24"),
    "flank": ("height of the flanks that touch", "1 mm"),
    "bearing": ("share of the teeth that carry", "75 %"),
}


@formula("F", STATICS)
def force_at(torque: Torque, diameter: Length) -> Force:
    """Force at the surface of a shaft: F = 2·T/d, with T in N·m and d in m."""
    if diameter <= 0:
        raise FormulaError("the diameter must be above zero")
    return 2 * torque / diameter


@formula("τ", STATICS)
def key_shear(torque: Torque, diameter: Length, width: Length, length: Length) -> Stress:
    """Shear stress of a key along the surface of its shaft.

    τ = 2·T/(d·b·l): ``torque`` T in N·m, ``diameter`` d of the shaft, ``width`` b and ``length`` l
    of the key in m.
    """
    if min(diameter, width, length) <= 0:
        raise FormulaError("diameter, width and length must be above zero")
    return 2 * torque / (diameter * width * length)


@formula("p", STATICS)
def key_pressure(torque: Torque, diameter: Length, height: Length, length: Length) -> Stress:
    """Pressure on the flank of a key.

    p = 2·T/(d·h·l): ``torque`` T in N·m, ``diameter`` d of the shaft, ``height`` h of the flank
    inside the hub (half of a square key) and ``length`` l in m.
    """
    if min(diameter, height, length) <= 0:
        raise FormulaError("diameter, height and length must be above zero")
    return 2 * torque / (diameter * height * length)


@formula("p", FLANKS, valid={"bearing": (0.01, 1.0)})
def spline_pressure(
    torque: Torque,
    mean_diameter: Length,
    teeth: Count,
    flank: Length,
    length: Length,
    bearing: Fraction,
) -> Stress:
    """Pressure on the flanks of splines.

    p = 2·T/(d_m·z·h·l·k): ``torque`` T in N·m, ``mean_diameter`` d_m in m, ``teeth`` z, ``flank`` h
    and ``length`` l in m, ``bearing`` k the share of the teeth that carry.
    """
    if min(mean_diameter, teeth, flank, length, bearing) <= 0:
        raise FormulaError("diameter, teeth, flank, length and share must be above zero")
    return 2 * torque / (mean_diameter * teeth * flank * length * bearing)
