"""A motor that hangs on a bell-housing, and oil in a gearbox that is tilted anew.

    overhang   face_moment, tail_load
    oil        tilted_by, level_change

Motor and housing are taken as rigid, and a jolt of the road as so many times the weight.
"""

from __future__ import annotations

from math import tan

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Force, Length, Mass, Position, Ratio, Torque

STANDARD_GRAVITY = 9.80665  # m/s²
STATICS = Source("Statics of a beam held at one end, or at one end and a support", "", "computed")
LEVEL = Source("A free surface stays level", "", "computed")

ASKED = {
    "mass": ("mass of the motor", "55 kg"),
    "centre": ("distance of its centre of gravity from the face", "170 mm"),
    "tail": ("distance of the tail mount from the face", "330 mm"),
    "jolt": ("times its weight over a pothole", "3"),
    "before": ("tilt it was made for", "4°"),
    "now": ("tilt it has now", "1°"),
    "tilt": ("change of the tilt", "-3°"),
    "pick_up": ("pick-up, ahead of the level mark", "180 mm"),
}


@formula("M", STATICS)
def face_moment(mass: Mass, centre: Length, jolt: Ratio) -> Torque:
    """Bending moment on the face that a motor hangs on, without a mount at its tail.

    M = m·g·j·a: ``mass`` m in kg, ``centre`` a in m from the face, ``jolt`` j times the weight.
    """
    return mass * STANDARD_GRAVITY * jolt * centre


@formula("F", STATICS)
def tail_load(mass: Mass, centre: Length, tail: Length, jolt: Ratio) -> Force:
    """Load on a tail mount that takes the bending off the face.

    F = m·g·j·a/L: as for the moment, ``tail`` L in m from the face.
    """
    if tail <= 0:
        raise FormulaError("the tail mount must stand off the face")
    return mass * STANDARD_GRAVITY * jolt * centre / tail


@formula("Δα", LEVEL)
def tilted_by(before: Angle, now: Angle) -> Angle:
    """Change of a tilt."""
    return now - before


@formula("Δh", LEVEL)
def level_change(pick_up: Position, tilt: Angle) -> Position:
    """How much higher the oil stands at a place ahead of the mark by which it is filled.

    Δh = -x·tan(Δα): ``pick_up`` x in m ahead of the mark, ``tilt`` Δα more nose up than before.
    What lies ahead rises with the nose while the surface stays level, so the oil falls there.
    """
    return -pick_up * tan(tilt)
