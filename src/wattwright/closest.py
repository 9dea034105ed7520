"""The nearest points of two convex bodies, found by a collision library.

It is imported where the first two bodies are looked at. What it finds is a beginning: the gap
itself comes from ``convex.parted``, which is exact where the library stops short.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from wattwright.convex import NOWHERE, Solid, Vector, away, dot, gap_along, moved, parted, unit

# The library stops at an absolute error of 1e-6 of whatever unit it is handed. In metres it was
# measured to miss the gap of two crossed cylinders by more than a millimetre; enlarged so, by less
# than a thousandth of one.
_ENLARGED = 1e3
# Closer than this the way between the nearest points is mostly rounding.
_TOUCHING = 1e-5
# A direction that misses the library's own distance by more is not that of the nearest points.
_TRUSTED = 2e-6
_UP: Vector = (0.0, 0.0, 1.0)
# Movement square to the way, to this share of it, brings nothing nearer.
_SQUARE = 1e-6
# The way may turn as the movement is used up; it was never seen to turn more often than twice.
_TURNS = 5


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
    if apart <= _TOUCHING:
        return _overlap(one.solid, other.solid, movement, closely=False)
    first, last = (_point(each) for each in result.nearest_points)
    way = unit(away(first, last))
    if way is None or abs(gap_along(one.solid, other.solid, way) - apart) > _TRUSTED:
        # Where sides lie parallel the points that it names are at times not opposite each other.
        way = parted(one.solid, other.solid, way or _UP, anew=True)[1]
    gap = gap_along(one.solid, other.solid, way, movement)
    return Meeting(gap, way, _opposite(first, last, way))


def _opposite(first: Vector, last: Vector, way: Vector) -> tuple[Vector, Vector]:
    """Bring two points opposite each other along the way, each by half of what they are off."""
    between = away(first, last)
    off = moved(between, way, -dot(between, way))
    return moved(first, off, 0.5), moved(last, off, -0.5)


def settled(one: Solid, other: Solid, movement: Vector, found: Meeting) -> Meeting:
    """Bring the gap of two bodies to its exact value, from where the library found it."""
    if found.gap <= 0.0:
        return _overlap(one, other, movement, closely=True)
    if any(movement):
        found = _within(one, other, movement, found)
    gap, way = parted(one, other, found.way, movement)
    return Meeting(gap, way, found.points)


def _within(one: Solid, other: Solid, movement: Vector, found: Meeting) -> Meeting:
    """Find the nearest points with the movement used up: towards the other, whichever moves.

    The points are given where they are while nothing has moved.
    """
    for _ in range(_TURNS):
        by = _each_way(movement, found.way)
        met = nearest(Shown(replace(one, middle=moved(one.middle, by, 1.0))), Shown(other))
        if met.gap <= 0.0:
            return found
        found = Meeting(met.gap, met.way, (moved(met.points[0], by, -1.0), met.points[1]))
        if _each_way(movement, met.way) == by:
            return found
    return found


def _each_way(movement: Vector, way: Vector) -> Vector:
    x, y, z = (
        math.copysign(move, share) if abs(share) > _SQUARE else 0.0
        for move, share in zip(movement, way, strict=True)
    )
    return x, y, z


def _overlap(one: Solid, other: Solid, movement: Vector, *, closely: bool) -> Meeting:
    """Say by how much two bodies overlap, where the middle of the smaller one is deepest."""
    start = unit(away(one.middle, other.middle)) or _UP
    gap, way = parted(one, other, start, movement, closely=closely, anew=True)
    if sum(one.half) < sum(other.half):
        deep = moved(one.middle, way, one.reach(way))
        return Meeting(gap, way, (deep, moved(deep, way, gap)))
    deep = moved(other.middle, way, -other.reach(way))
    return Meeting(gap, way, (moved(deep, way, -gap), deep))


def _point(each: Any) -> Vector:
    x, y, z = (float(number) / _ENLARGED for number in each)
    return x, y, z
