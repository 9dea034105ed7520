"""Retaining rings of DIN 471 (shafts) and DIN 472 (bores): what the groove carries.

    groove    groove_depth, groove_capacity
    in hand   end_play, ear_stands

The load that the standards state for a groove (F_N) holds for a groove wall of 200 N/mm² yield
strength, square edges and a part against the ring that is square too. In both tables it is the
ring-shaped face of the groove times that strength over 1.2; the rule holds to within 2 % in every
row, which a test keeps.
"""

from __future__ import annotations

import math

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Force, Length, Position, Stress

CAPACITY = Source(
    "DIN 471 and DIN 472, load of the groove: rule that all rows keep", "", "computed"
)
GEOMETRY = Source("Geometry of a ring in a groove", "", "computed")
SAFETY = 1.2

ASKED = {
    "strength": ("yield strength of the grooved part", "200 MPa"),
    "nominal": ("diameter of the shaft or the bore", "25 mm"),
    "groove": ("diameter of the groove", "23.9 mm"),
    "width": ("width of the groove", "1.3 mm"),
    "thickness": ("thickness of the ring", "1.2 mm"),
    "ear": ("width of the ring at its ears", "4.4 mm"),
}


@formula("t", GEOMETRY)
def groove_depth(nominal: Length, groove: Length) -> Length:
    """Depth of a groove in a shaft or a bore.

    t = |d1 - d2|/2, with ``nominal`` d1 of shaft or bore and ``groove`` d2, in m.
    """
    return abs(nominal - groove) / 2


@formula("F_N", CAPACITY)
def groove_capacity(strength: Stress, nominal: Length, groove: Length) -> Force:
    """Load along the axis that the wall of a groove carries.

    F = σ·π·|d1² - d2²|/(4·1.2): ``strength`` σ in Pa, ``nominal`` d1 and ``groove`` d2 in m. For a
    ring and a part that stand square against each other; a chamfer or a rounded edge of the part
    bends the ring and carries far less.
    """
    if nominal <= 0 or groove <= 0:
        raise FormulaError("diameters must be above zero")
    return strength * math.pi * abs(nominal**2 - groove**2) / (4 * SAFETY)


@formula("s", GEOMETRY)
def end_play(width: Length, thickness: Length) -> Position:
    """Play of a ring in its groove along the axis; below zero it does not go in. All in m."""
    return width - thickness


@formula("a", GEOMETRY)
def ear_stands(ear: Length, nominal: Length, groove: Length) -> Position:
    """How far the ears of a ring stand out of its groove, beyond the shaft or into the bore.

    a - |d1 - d2|/2: ``ear`` a, the width of the ring at its ears, ``nominal`` d1 of shaft or bore
    and ``groove`` d2, in m; the ring at the bottom of its groove.
    """
    return ear - abs(nominal - groove) / 2
