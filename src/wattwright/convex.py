"""Convex bodies in plain numbers: how far each reaches, and the gap between two.

For any direction, the distance of the middles along it less what both bodies reach is a gap that
there certainly is; the largest over all directions is the true one, and below zero the least way
by which one must be moved to come free. ``parted`` begins at a direction that is nearly the best
and goes to the best one near it: square to a face or an edge that lies nearly flat, or on along
the slope. Lengths all in one unit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

Vector = tuple[float, float, float]
Form = Literal["box", "cylinder", "hose"]
_Gap = Callable[["Vector"], float]

NOWHERE: Vector = (0.0, 0.0, 0.0)
# A direction this near to square is taken for square as another attempt: only a larger gap counts.
_NEARLY = 0.05
# Steps of the last search, in radians: from a degree down to what the last digits hold.
_WIDEST, _NARROWEST = 0.02, 1e-9


@dataclass(frozen=True, slots=True)
class Solid:
    """A box, a cylinder about its first axis, or a piece of hose along its first axis.

    ``half`` are half its measures along its axes; of round ones the second is the radius. A hose
    ends in half balls beyond its length.
    """

    form: Form
    middle: Vector
    axes: tuple[Vector, Vector, Vector]
    half: Vector

    def reach(self, way: Vector) -> float:
        """Return how far it reaches from its middle in a direction of length one."""
        along = self.half[0] * abs(dot(self.axes[0], way))
        if self.form == "hose":
            return along + self.half[1]
        across, up = dot(self.axes[1], way), dot(self.axes[2], way)
        if self.form == "cylinder":
            return along + self.half[1] * math.hypot(across, up)
        return along + self.half[1] * abs(across) + self.half[2] * abs(up)

    def corners(self) -> tuple[Vector, Vector]:
        """Return the lowest and the highest corner of the upright box that just holds it."""
        reach = [self.reach(way) for way in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))]
        x, y, z = self.middle
        low = (x - reach[0], y - reach[1], z - reach[2])
        return low, (x + reach[0], y + reach[1], z + reach[2])

    def edges(self) -> tuple[Vector, ...]:
        """Return the directions of its edges; of round ones the axis."""
        return self.axes if self.form == "box" else self.axes[:1]


def dot(one: Vector, other: Vector) -> float:
    """Return the scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Vector, other: Vector) -> Vector:
    """Return the vector product."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def unit(vector: Vector) -> Vector | None:
    """Return the direction of a vector; none of one that is too short to have any."""
    size = math.hypot(*vector)
    return (vector[0] / size, vector[1] / size, vector[2] / size) if size > 1e-12 else None


def moved(from_: Vector, way: Vector, by: float) -> Vector:
    """Return the point that lies so far in a direction from another."""
    return from_[0] + by * way[0], from_[1] + by * way[1], from_[2] + by * way[2]


def away(one: Vector, other: Vector) -> Vector:
    """Return the way from one point to another."""
    return other[0] - one[0], other[1] - one[1], other[2] - one[2]


def gap_along(one: Solid, other: Solid, way: Vector, movement: Vector = NOWHERE) -> float:
    """Return the gap along a direction from one to the other, less the reach of the movement."""
    apart = dot(away(one.middle, other.middle), way) - one.reach(way) - other.reach(way)
    if movement is NOWHERE:
        return apart
    return apart - sum(abs(share) * move for share, move in zip(way, movement, strict=True))


def parted(
    one: Solid,
    other: Solid,
    near: Vector,
    movement: Vector = NOWHERE,
    *,
    closely: bool = True,
    anew: bool = False,
) -> tuple[float, Vector]:
    """Return the largest gap of two bodies and its direction, given one that is nearly it.

    ``anew`` tries all that is square to faces and edges, not only what is near. Unless ``closely``
    the slope is not followed from there. Where bodies overlap that is exact for boxes; with round
    ones, or a movement that is aslant, the overlap may come out larger than it is.
    """

    def gap(way: Vector) -> float:
        return gap_along(one, other, way, movement)

    every = anew or gap(near) <= 0.0
    best = max(_attempts(one, other, near, movement, every), key=gap)
    return _climbed(gap, best) if closely else (gap(best), best)


def _attempts(
    one: Solid, other: Solid, near: Vector, movement: Vector, every: bool
) -> Iterator[Vector]:
    """Yield directions that may be the best one: square to what lies nearly flat, or to all."""
    yield near
    between = unit(away(one.middle, other.middle))
    if every and between:
        yield between
    edges = [*one.edges(), *other.edges()]
    if any(movement):
        edges += [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)]
    square: list[Vector] = []
    for edge in edges:
        share = dot(near, edge)
        if every or abs(share) > 1.0 - _NEARLY:
            yield from _both(edge)
        if every or abs(share) < _NEARLY:
            square.append(edge)
            if flat := unit(moved(near, edge, -share)):
                yield flat
    for first, second in combinations(square, 2):
        if way := unit(cross(first, second)):
            yield from _both(way)


def _both(way: Vector) -> tuple[Vector, Vector]:
    return way, (-way[0], -way[1], -way[2])


def _climbed(gap: _Gap, best: Vector) -> tuple[float, Vector]:
    """Go on from a direction as long as the gap grows, in smaller and smaller steps."""
    most, step = gap(best), _WIDEST
    while step > _NARROWEST:
        aside = unit(cross(best, (1.0, 0.0, 0.0) if abs(best[0]) < 0.8 else (0.0, 1.0, 0.0)))
        sides = [*_both(aside or best), *_both(cross(best, aside or best))]
        turned = [way for side in sides if (way := unit(moved(best, side, step)))]
        found = max(turned, key=gap)
        if gap(found) > most:
            best, most = found, gap(found)
        else:
            step /= 4.0
    return most, best
