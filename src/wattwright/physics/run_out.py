"""Run-out of a coupling: what each feature brings to the indicator, and all of them together.

    parts      of_offset, of_tilt
    together   likely, worst

The indicator goes round once and shows the difference between its highest and its lowest reading,
the total indicator reading (TIR). That is twice the distance of the two axes.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length

GEOMETRY = Source("Geometry of a circle that turns about another centre", "", "computed")
STACK = Source("Tolerance stacks: worst case, and root sum of squares", "", "computed")

ASKED = {
    "offset": ("distance of the two axes", "0.04 mm"),
    "face_run_out": ("total indicator reading of the face, along the shaft", "0.02 mm"),
    "face_radius": ("radius at which the face was read", "90 mm"),
    "reach": ("distance from the face to the coupling", "60 mm"),
    "parts": ("run-out that each feature brings", "0.08 mm; 0.03 mm; 0.02 mm"),
}


@formula("TIR", GEOMETRY)
def of_offset(offset: Length) -> Length:
    """Run-out that an offset axis shows.

    TIR = 2·e, with ``offset`` e in m between the axis of the feature and the one it turns about.
    """
    return 2 * offset


@formula("TIR", GEOMETRY)
def of_tilt(face_run_out: Length, face_radius: Length, reach: Length) -> Length:
    """Run-out at a distance from a face that is not square to its shaft.

    A face that runs out by F at radius r tilts what is bolted to it by F/(2·r); at reach L from it
    the axis is off by L·F/(2·r), and the indicator shows twice that: TIR = F·L/r, all in m. Holds
    for small tilts, of which anything that still bolts together is one.
    """
    if face_radius <= 0:
        raise FormulaError("the radius must be above zero")
    return face_run_out * reach / face_radius


@formula("TIR", STACK)
def likely(parts: Sequence[Length]) -> Length:
    """Run-out of all features together where they point in directions of their own.

    TIR = √(Σ TIR²): directions are chance, and the root of the mean square over all of them is
    this. About one assembly in three is worse.
    """
    return sqrt(sum(part**2 for part in parts))


@formula("TIR", STACK)
def worst(parts: Sequence[Length]) -> Length:
    """Run-out of all features together where all of them point the same way.

    TIR = Σ TIR. No way of bolting the parts together is worse.
    """
    return sum(parts)
