"""Joints that carry torque by friction: bolted flanges and cones; bolts in shear as the reserve.

    flange    flange_torque, flange_bolt_shear
    cone      cone_torque

Friction carries either way alike, so a torque that reverses finds the same strength; once a joint
has slipped it has not.
"""

from __future__ import annotations

import math
from math import cos, sin

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Count, Force, Length, Ratio, Stress, Torque

FRICTION = Source("Friction between faces pressed together", "", "computed")
CONE = Source("Cone seated against friction, as cone clutches are reckoned", "", "computed")
STATICS = Source("Statics of bolts on a circle", "", "computed")

ASKED = {
    "bolts": ("number of bolts", "6"),
    "clamp": ("force with which one bolt presses", "25 kN"),
    "friction": ("friction between the faces", "0.12"),
    "circle": ("diameter of the circle of bolts", "90 mm"),
    "torque": ("torque through the joint", "450 N·m"),
    "bolt": ("diameter of a bolt where the faces meet", "8 mm"),
    "pull": ("force that pulls the cone home", "30 kN"),
    "mean_diameter": ("mean diameter of the cone", "30 mm"),
    "half_angle": ("half of the angle of the cone", "2.86°"),
}


@formula("T", FRICTION)
def flange_torque(bolts: Count, clamp: Force, friction: Ratio, circle: Length) -> Torque:
    """Torque at which a bolted flange slips.

    T = n·F·μ·D/2: ``bolts`` n of ``clamp`` F in N each, ``friction`` μ, taken to act at the
    ``circle`` D of the bolts, in m.
    """
    return bolts * clamp * friction * circle / 2


@formula("τ", STATICS)
def flange_bolt_shear(torque: Torque, bolts: Count, bolt: Length, circle: Length) -> Stress:
    """Shear stress in the bolts of a flange once it slips.

    τ = 8·T/(n·π·d²·D): ``torque`` T in N·m, ``bolts`` n of diameter ``bolt`` d on the ``circle`` D,
    in m. All share alike, which holds for fitted bolts only: in clearance holes few carry first.
    """
    if min(bolts, bolt, circle) <= 0:
        raise FormulaError("number and diameters must be above zero")
    return 8 * torque / (bolts * math.pi * bolt**2 * circle)


@formula("T", CONE)
def cone_torque(pull: Force, friction: Ratio, mean_diameter: Length, half_angle: Angle) -> Torque:
    """Torque at which a cone slips in its seat.

    T = μ·F·d/(2·(sin α + μ·cos α)): ``pull`` F in N along the shaft, ``friction`` μ also against
    going home, ``mean_diameter`` d in m, ``half_angle`` α.
    """
    if half_angle <= 0:
        raise FormulaError("the angle must be above zero")
    return friction * pull * mean_diameter / (2 * (sin(half_angle) + friction * cos(half_angle)))
