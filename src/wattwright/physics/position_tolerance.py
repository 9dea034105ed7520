"""Position tolerances of holes: what a bolt with its clearance lets a hole be off.

    floating     bolt and nut: both parts have clearance holes
    fixed        a screw that one of the parts holds by its thread
    left_over    what is left for a new part where the other is made, and measured
    known_zone   how well a place is known, as the diameter of a zone

A tolerance is the diameter of the zone in which the axis of the hole has to be (ISO 1101). The
least hole and the thickest bolt count, so the rules hold at maximum material (ISO 2692), and more
than that is left wherever a hole is wider.
"""

from __future__ import annotations

from math import hypot

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length, Position

FLOATING = Source("ASME Y14.5, appendix on formulas, floating fasteners: T = H - F")
FIXED = Source("ASME Y14.5, appendix on formulas, fixed fasteners: T = (H - F)/2 for each part")
STACK = Source("Clearances of two holes about one bolt, added up", "", "computed")
GEOMETRY = Source("Geometry of circles in a plane", "", "computed")

ASKED = {
    "hole": ("diameter of the hole", "11 mm"),
    "bolt": ("diameter of the bolt", "10 mm"),
    "other": ("diameter of the hole in the other part", "11 mm"),
    "known": ("zone in which the place of the other hole is known", "0.2 mm"),
    "across": ("band of the place along x", "0.05 mm"),
    "up": ("band of the place along y", "0.05 mm"),
}


@formula("T", FLOATING)
def floating(hole: Length, bolt: Length) -> Length:
    """Position tolerance of clearance holes in both parts, for each of them.

    T = H - F, with the least ``hole`` H and the thickest ``bolt`` F, in m. Raises FormulaError
    where the bolt does not go in.
    """
    if hole <= bolt:
        raise FormulaError("the hole leaves the bolt no room")
    return hole - bolt


@formula("T", FIXED)
def fixed(hole: Length, bolt: Length) -> Length:
    """Position tolerance where one part has a thread and the other clearance, for each of them.

    T = (H - F)/2, with the least clearance ``hole`` H and the thickest ``bolt`` F, in m. Holds for
    a thread that is square to its face, or whose zone reaches through the other part. Raises
    FormulaError where the bolt does not go in.
    """
    if hole <= bolt:
        raise FormulaError("the hole leaves the bolt no room")
    return (hole - bolt) / 2


@formula("T", STACK)
def left_over(hole: Length, other: Length, bolt: Length, known: Length) -> Length:
    """Position tolerance left for a hole whose fellow in the other part stands already.

    T = max(H, F) + max(O, F) - 2·F - K: the clearances of this ``hole`` H and the ``other`` O about
    the ``bolt`` F, less the zone K in which the other one's place is ``known``, all in m. A hole
    narrower than the bolt is a thread and has none. Raises FormulaError where nothing is left.
    """
    if max(hole, bolt) + max(other, bolt) - 2 * bolt - known <= 0:
        raise FormulaError("the place of the other hole is not known closely enough for the bolt")
    return max(hole, bolt) + max(other, bolt) - 2 * bolt - known


@formula("K", GEOMETRY)
def known_zone(across: Position, up: Position) -> Length:
    """Diameter of the zone in which a place is known, from its bands along x and y.

    K = 2·√(u_x² + u_y²), m: the circle around the rectangle of both half-widths, so that it holds
    the place at least as often as each band does.
    """
    return 2 * hypot(across, up)
