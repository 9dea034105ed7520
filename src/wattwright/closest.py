"""The nearest points of two convex bodies, found by a collision library.

It is imported where the first two bodies are looked at. What it finds is a beginning: the gap
itself comes from ``convex.parted``, which is exact where the library stops short.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from wattwright.convex import NOWHERE, Solid, Vector, away, gap_along, moved, parted, unit

# The library stops at an absolute error of 1e-6 of whatever unit it is handed. In metres it was
# measured to miss the gap of two crossed cylinders by more than a millimetre; enlarged so, by less
# than a thousandth of one.
_ENLARGED = 1e3
# Closer than this the way between the nearest points is mostly rounding.
_TOUCHING = 1e-5


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where two bodies come nearest: the gap, its direction, and a point on either surface."""

    gap: float
    way: Vector
    points: tuple[Vector, Vector]

    @property
    def middle(self) -> Vector:
        """The place halfway between both points."""
        return moved(self.points[0], away(*self.points), 0.5)


class Shown:
    """A solid as the library holds it."""

    def __init__(self, solid: Solid) -> None:
        import fcl
        import numpy as np

        self.solid = solid
        a, b, c = (2 * _ENLARGED * half for half in solid.half)
        first, second, third = solid.axes
        if solid.form == "box":
            shape, axes = fcl.Box(a, b, c), (first, second, third)
        else:
            # The library lays round things along their third axis.
            make = fcl.Cylinder if solid.form == "cylinder" else fcl.Capsule
            shape, axes = make(b / 2, a), (second, third, first)
        turned = np.array(axes).T
        at = _ENLARGED * np.array(solid.middle)
        self.held: Any = fcl.CollisionObject(shape, fcl.Transform(turned, at))


def nearest(one: Shown, other: Shown, movement: Vector = NOWHERE) -> Meeting:
    """Find the gap of two bodies as the library sees it, less the reach of the movement."""
    import fcl

    request = fcl.DistanceRequest(enable_nearest_points=True)
    result = fcl.DistanceResult()
    apart = fcl.distance(one.held, other.held, request, result) / _ENLARGED
    way = None
    if apart > _TOUCHING:
        first, last = (_point(each) for each in result.nearest_points)
        way = unit(away(first, last))
    if way is None:
        return _overlap(one.solid, other.solid, movement, closely=False)
    return Meeting(gap_along(one.solid, other.solid, way, movement), way, (first, last))


def settled(one: Solid, other: Solid, movement: Vector, found: Meeting) -> Meeting:
    """Bring the gap of two bodies to its exact value, from where the library found it."""
    if found.gap <= 0.0:
        return _overlap(one, other, movement, closely=True)
    gap, way = parted(one, other, found.way, movement)
    return Meeting(gap, way, found.points)


def _overlap(one: Solid, other: Solid, movement: Vector, *, closely: bool) -> Meeting:
    """Say by how much two bodies overlap, where the middle of the smaller one is deepest."""
    start = unit(away(one.middle, other.middle)) or (0.0, 0.0, 1.0)
    gap, way = parted(one, other, start, movement, closely=closely)
    if sum(one.half) < sum(other.half):
        deep = moved(one.middle, way, one.reach(way))
        return Meeting(gap, way, (deep, moved(deep, way, gap)))
    deep = moved(other.middle, way, -other.reach(way))
    return Meeting(gap, way, (moved(deep, way, -gap), deep))


def _point(each: Any) -> Vector:
    x, y, z = (float(number) / _ENLARGED for number in each)
    return x, y, z
