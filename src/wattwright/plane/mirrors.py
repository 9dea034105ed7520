"""Nets that the same distances would allow: some points on the other side of a line.

Where two points part a net in two, either part may be mirrored over their line and no distance
changes. A point whose neighbours stand nearly in a row may nearly as well be on its other side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from wattwright.plane.fits import Point, middle, row_of

Pair = tuple[int, int]

# Standard deviations squared beyond which a mirrored point fits its own distances too badly for
# any shift of the others to help.
_HOPELESS = 400.0
_STEPS = 12


def mirrored_nets(
    points: Sequence[Point], pairs: Sequence[Pair], lengths: Sequence[float], sds: Sequence[float]
) -> Iterator[tuple[Point, ...]]:
    """Yield other nets that might fit the distances too, each to be settled by the reader."""
    count = len(points)
    near: list[list[tuple[int, float, float]]] = [[] for _ in range(count)]
    for (i, j), length, sd in zip(pairs, lengths, sds, strict=True):
        near[i].append((j, length, sd))
        near[j].append((i, length, sd))
    for a, b in combinations(range(count), 2):
        for part in _parts(count, near, a, b):
            yield _over_line(points, part, points[a], points[b])
    for k in range(count):
        around = {j for j, _, _ in near[k]}
        if len(around) > 2:
            yield from _other_side(k, points, near[k])


def _parts(
    count: int, near: Sequence[Sequence[tuple[int, float, float]]], a: int, b: int
) -> Iterator[frozenset[int]]:
    """Yield the parts into which two points divide a net, except the largest."""
    left, parts = set(range(count)) - {a, b}, []
    while left:
        reached, edge = set(), [min(left)]
        while edge:
            k = edge.pop()
            reached.add(k)
            edge += [j for j, _, _ in near[k] if j in left and j not in reached]
        parts.append(frozenset(reached))
        left -= reached
    parts.sort(key=lambda part: (len(part), min(part)))
    yield from parts[:-1]


def _over_line(
    points: Sequence[Point], part: frozenset[int], start: Point, end: Point
) -> tuple[Point, ...]:
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy or 1e-30
    moved = []
    for k, (x, y) in enumerate(points):
        if k not in part:
            moved.append((x, y))
            continue
        along = ((x - start[0]) * dx + (y - start[1]) * dy) / square
        foot = (start[0] + along * dx, start[1] + along * dy)
        moved.append((2 * foot[0] - x, 2 * foot[1] - y))
    return tuple(moved)


def _other_side(
    k: int, points: Sequence[Point], near: Sequence[tuple[int, float, float]]
) -> Iterator[tuple[Point, ...]]:
    """Yield the net with one point beyond the line of its neighbours, if it fits there at all."""
    there = [points[j] for j, _, _ in near]
    mx, my = middle(there)
    ux, uy = row_of(there)
    spot = _over_line((points[k],), frozenset({0}), (mx, my), (mx + ux, my + uy))[0]
    readings = [(points[j], length, sd) for j, length, sd in near]
    spot = _placed(spot, readings)
    off = sum(((length - math.dist(spot, at)) / sd) ** 2 for at, length, sd in readings)
    if off < _HOPELESS:
        yield tuple(spot if j == k else each for j, each in enumerate(points))


def _placed(spot: Point, readings: Sequence[tuple[Point, float, float]]) -> Point:
    """Move one point to where it fits its distances best, the others standing still."""
    for _ in range(_STEPS):
        xx = xy = yy = rx = ry = 0.0
        for (x, y), length, sd in readings:
            dx, dy = spot[0] - x, spot[1] - y
            far = math.hypot(dx, dy) or 1e-12
            ux, uy, weight = dx / far, dy / far, 1.0 / (sd * sd)
            xx, xy, yy = xx + weight * ux * ux, xy + weight * ux * uy, yy + weight * uy * uy
            rx, ry = rx + weight * ux * (length - far), ry + weight * uy * (length - far)
        by = xx * yy - xy * xy
        if by <= 1e-9 * (xx + yy) ** 2:
            return spot
        spot = (spot[0] + (yy * rx - xy * ry) / by, spot[1] + (xx * ry - xy * rx) / by)
    return spot
