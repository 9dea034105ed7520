"""Hole patterns: distances of edges and centres, what holes and bolts allow, slots.

    between_edges, over_edges        distance of centres from calipers at edges
    turned_x, turned_y, mirrored     a place on the sheet from one in the frame of the holes
    shifted                          a place from another origin
    widest_explained, standardised   what bands explain of a residual, and the residual in them
    place_radius, band_of_distance   radius within which a centre is; band of a reading of edges
    still_assembles, play            hole a bolt still goes through; offset two holes allow
    offset, direction_to, slot_length what is left where one pattern is laid on another
    circle_diameter, farthest_off    the circle through the holes

Where the holes are comes from ``adjustment.adjusted``.

Sources: geometry of circles. ``still_assembles`` is the fixed fastener case of ASME Y14.5,
H = F + T1 + T2, with each tolerance zone the diameter of twice the radius a centre may be off.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, hypot, log, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Length, Position, Ratio

GEOMETRY = Source("Geometry of circles in a plane", "", "computed")
ROTATION = Source("Rotation of axes", "", "computed")
NORMAL = Source("Normal distribution in one and in two directions", "", "computed")
FASTENER = Source(
    "ASME Y14.5, fixed fasteners: H = F + T1 + T2; follows from two circles that hold a third",
    "",
    "computed",
)
# Bands are half-widths of 95 %: so many standard deviations.
DEVIATIONS = 1.959963984540054
# Standard deviations to the edge of the ellipse that holds 95 % in a plane.
IN_A_PLANE = sqrt(-2.0 * log(0.05))

ASKED = {
    "between": ("distance between the nearest edges", "142.1 mm"),
    "over": ("distance over the farthest edges", "163.1 mm"),
    "hole": ("diameter of the hole", "11 mm"),
    "other": ("diameter of the hole in the other part", "10.5 mm"),
    "first": ("diameter of the first hole", "10.5 mm"),
    "second": ("diameter of the second hole", "10.5 mm"),
    "mirrored.across": ("place across the axis", "82.2 mm"),
    "place": ("place from the first origin", "82.2 mm"),
    "origin": ("place of that origin", "-60 mm"),
    "x": ("place along the axis", "252.9 mm"),
    "y": ("place across the axis", "82.2 mm"),
    "turn": ("angle by which the axis is turned", "30°"),
    "quantile": ("standard deviations that still count as chance", "2.9"),
    "gains": ("movement per movement of each reading", "0.5; -0.3; 0.1"),
    "bands": ("band of each reading", "0.1 mm; 0.2 mm; 0.1 mm"),
    "finest": ("finest that the calipers show", "0.02 mm"),
    "residual": ("reading less adjusted distance", "0.3 mm"),
    "explained": ("residual that the bands explain", "0.4 mm"),
    "bolt": ("diameter of the bolt", "10 mm"),
    "measured": ("radius that the measured place may be off", "0.2 mm"),
    "drilled": ("radius that the drilled hole may be off", "0.3 mm"),
    "across": ("offset along x", "0.6 mm"),
    "up": ("offset along y", "-0.3 mm"),
    "diameter": ("diameter of the hole", "11 mm"),
    "apart": ("offset of the two holes", "1.2 mm"),
    "room": ("offset that bolt and holes allow", "0.5 mm"),
    "radius": ("radius of the circle", "57.2 mm"),
    "off": ("distance of each hole from the circle", "0.1 mm; -0.1 mm; 0.05 mm"),
}


@formula("d", GEOMETRY)
def between_edges(between: Length, first: Length, second: Length) -> Length:
    """Distance of two centres from that between the nearest edges of their holes."""
    return between + (first + second) / 2


@formula("d", GEOMETRY)
def over_edges(over: Length, first: Length, second: Length) -> Length:
    """Distance of two centres from that over the farthest edges of their holes."""
    return over - (first + second) / 2


@formula(
    "x",
    ROTATION,
    gradient=lambda x, y, turn: (cos(turn), -sin(turn), -x * sin(turn) - y * cos(turn)),
)
def turned_x(x: Position, y: Position, turn: Angle) -> Position:
    """Place to the right on the sheet of a hole, its x axis turned counter-clockwise."""
    return x * cos(turn) - y * sin(turn)


@formula(
    "y", ROTATION, gradient=lambda x, y, turn: (sin(turn), cos(turn), x * cos(turn) - y * sin(turn))
)
def turned_y(x: Position, y: Position, turn: Angle) -> Position:
    """Place upwards on the sheet of a hole, its x axis turned counter-clockwise."""
    return x * sin(turn) + y * cos(turn)


@formula("y", GEOMETRY)
def mirrored(across: Position) -> Position:
    """Place across the axis of a hole seen from the other side."""
    return -across


@formula("x", GEOMETRY)
def shifted(place: Position, origin: Position) -> Position:
    """Place along an axis from another origin: the place from the first, and where that lies."""
    return place + origin


def _explained_gradient(
    quantile: float, gains: Sequence[float], bands: Sequence[float], finest: float
) -> tuple[float, list[float], list[float], float]:
    whole = sqrt(sum((g * b) ** 2 for g, b in zip(gains, bands, strict=True)) + finest**2) or 1.0
    by = quantile / (DEVIATIONS * whole)
    return (
        whole / DEVIATIONS,
        [by * g * b * b for g, b in zip(gains, bands, strict=True)],
        [by * g * g * b for g, b in zip(gains, bands, strict=True)],
        by * finest,
    )


@formula(
    "v_max",
    Source("Data snooping: largest residual of many that are all chance", "", "computed"),
    gradient=_explained_gradient,
)
def widest_explained(
    quantile: Ratio, gains: Sequence[Ratio], bands: Sequence[Length], finest: Length
) -> Length:
    """Residual that the bands of all readings still explain.

    Root sum of squares of what each band brings, as a standard deviation, by the quantile of the
    largest of all residuals; no reading is finer than what the calipers show.
    """
    return (
        quantile
        * sqrt(sum((g * b) ** 2 for g, b in zip(gains, bands, strict=True)) + finest**2)
        / DEVIATIONS
    )


@formula("w", NORMAL)
def standardised(residual: Position, explained: Length, quantile: Ratio) -> Ratio:
    """Residual in its own standard deviations."""
    if explained <= 0:
        raise FormulaError("nothing controls this reading")
    return residual * quantile / explained


@formula("r_95", NORMAL)
def place_radius(gains: Sequence[Ratio], bands: Sequence[Length]) -> Length:
    """Radius within which a centre is, 95 % of the time, from its worst direction."""
    return (
        IN_A_PLANE * sqrt(sum((g * b) ** 2 for g, b in zip(gains, bands, strict=True))) / DEVIATIONS
    )


@formula("u", Source("Root sum of squares of independent bands", "", "computed"))
def band_of_distance(bands: Sequence[Length]) -> Length:
    """Band of a distance from calipers at edges and from both diameters."""
    return sqrt(sum(band**2 for band in bands))


@formula("H", FASTENER)
def still_assembles(bolt: Length, measured: Length, drilled: Length) -> Length:
    """Smallest hole that a bolt fixed in the other part goes through, both places being off."""
    return bolt + 2 * (measured + drilled)


@formula("e", GEOMETRY)
def play(hole: Length, other: Length, bolt: Length) -> Length:
    """Offset of two holes at which the bolt still goes through both.

    A hole of the other part that is narrower than the bolt is a thread, which holds it in place.
    """
    return (hole + max(other, bolt)) / 2 - bolt


@formula("e", GEOMETRY)
def offset(across: Position, up: Position) -> Length:
    """Distance of two centres from its two parts."""
    return hypot(across, up)


@formula("φ", GEOMETRY)
def direction_to(across: Position, up: Position) -> Angle:
    """Direction back along an offset, counter-clockwise from the x axis."""
    return atan2(-up, -across)


@formula("L", GEOMETRY)
def slot_length(diameter: Length, apart: Length, room: Length) -> Length:
    """Length of the slot that takes an offset beyond what bolt and holes allow."""
    return diameter + max(0.0, apart - room)


@formula("D", GEOMETRY)
def circle_diameter(radius: Position) -> Length:
    """Diameter of a circle."""
    return 2 * radius


@formula("Δ", GEOMETRY)
def farthest_off(off: Sequence[Position]) -> Length:
    """Distance of the hole that is farthest from the circle."""
    return max(abs(each) for each in off)
