"""Run-out of a coupling: what each feature brings to the indicator, and all of them together.

    parts       of_offset, of_tilt
    together    likely, worst
    tolerances  left, coaxiality, parallelism: the same, from what is allowed to what may be made

The indicator goes round once and shows the difference between its highest and its lowest reading,
the total indicator reading (TIR). That is twice the distance of the two axes.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Fraction, Length, Position

GEOMETRY = Source("Geometry of a circle that turns about another centre", "", "computed")
SHARED = Source(
    "Worst-case tolerance stack, solved for the parts; ISO 1101: a zone is twice as wide as the "
    "axis may be off",
    "",
    "computed",
)
STACK = Source("Tolerance stacks: worst case, and root sum of squares", "", "computed")

ASKED = {
    "offset": ("distance of the two axes", "0.04 mm"),
    "face_run_out": ("total indicator reading of the face, along the shaft", "0.02 mm"),
    "face_radius": ("radius at which the face was read", "90 mm"),
    "reach": ("distance from the face to the coupling", "60 mm"),
    "allowed": ("run-out allowed, once round", "0.05 mm"),
    "flange": ("run-out of the coupler alone, once round", "0.02 mm"),
    "rest": ("run-out left for the adaptor", "0.03 mm"),
    "face_share": ("share of it that the face takes", "50 %"),
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


@formula("TIR_left", SHARED)
def left(allowed: Length, flange: Length) -> Position:
    """Run-out that the coupler leaves to the adaptor, worst case.

    TIR_left = TIR - TIR_f, with what is ``allowed`` and what the coupler's ``flange`` shows by
    itself, in m. At nought and below the coupler alone uses up what is allowed.
    """
    return allowed - flange


@formula("t", SHARED)
def coaxiality(rest: Position, face_share: Fraction) -> Length:
    """Diameter of the zone in which the axis of what centres the gearbox has to be.

    t = (1 - k)·TIR_left, m: an axis off by e shows 2·e once round, and lies in a zone of diameter
    2·e. ``rest`` TIR_left is what the coupler leaves, in m, ``face_share`` k the share of it that
    the face takes, 0…1. The inverse of ``of_offset``. Raises FormulaError where nothing is left.
    """
    if rest <= 0:
        raise FormulaError("the coupler alone uses up the run-out allowed")
    return (1 - face_share) * rest


@formula("t", SHARED)
def parallelism(rest: Position, face_share: Fraction, face_radius: Length, reach: Length) -> Length:
    """Distance of the two planes between which the face has to be, over the circle it is read on.

    t = k·TIR_left·r/L, m, over the diameter 2·r: ``rest`` TIR_left is what the coupler leaves, in
    m, ``face_share`` k the share of it that the face takes, 0…1, ``face_radius`` r and ``reach`` L
    in m, above zero. The inverse of ``of_tilt``: what runs out by F at r rises by F over 2·r.
    Raises FormulaError where nothing is left, or where the face is in the plane of the coupling.
    """
    if rest <= 0:
        raise FormulaError("the coupler alone uses up the run-out allowed")
    if reach <= 0:
        raise FormulaError("the face is where the shaft is held: its tilt shows nothing there")
    return face_share * rest * face_radius / reach
