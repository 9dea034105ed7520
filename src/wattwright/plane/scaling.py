"""Coordinates of points from distances alone, by classical multidimensional scaling (Torgerson)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wattwright.plane.fits import Point, in_frame
from wattwright.plane.mirrors import Pair


def start(count: int, pairs: Sequence[Pair], lengths: Sequence[float]) -> tuple[Point, ...]:
    """Return coordinates by classical scaling; missing distances by the shortest way round.

    ``B = -J D² J / 2``; its part in the plane of its two largest eigenvectors is found by
    repeated multiplication, and any square root of that part will do.
    """
    squares = [[each * each for each in row] for row in _ways(count, pairs, lengths)]
    means = [sum(row) / count for row in squares]
    whole = sum(means) / count
    inner = [
        [-0.5 * (squares[i][j] - means[i] - means[j] + whole) for j in range(count)]
        for i in range(count)
    ]
    first = [math.cos(1.0 + 2.0 * k) for k in range(count)]
    second = [math.sin(2.0 + 3.0 * k) for k in range(count)]
    for _ in range(60):
        first, second = _times(inner, first), _times(inner, second)
        size = math.sqrt(_dot(first, first)) or 1.0
        first = [each / size for each in first]
        along = _dot(first, second)
        second = [b - along * a for a, b in zip(first, second, strict=True)]
        size = math.sqrt(_dot(second, second)) or 1.0
        second = [each / size for each in second]
    by_first = _times(inner, first)
    a, b = _dot(first, by_first), _dot(second, by_first)
    c = _dot(second, _times(inner, second))
    root = math.sqrt(max(a, 1e-30))
    rest = math.sqrt(max(c - b * b / max(a, 1e-30), 0.0))
    points = [(root * u + b / root * v, rest * v) for u, v in zip(first, second, strict=True)]
    return in_frame(points)


def _dot(first: Sequence[float], second: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(first, second, strict=True))


def _times(matrix: Sequence[Sequence[float]], vector: Sequence[float]) -> list[float]:
    return [_dot(row, vector) for row in matrix]


def _ways(count: int, pairs: Sequence[Pair], lengths: Sequence[float]) -> list[list[float]]:
    """Shortest ways between all points over the measured distances (Floyd and Warshall)."""
    far = 2.0 * sum(lengths) + 1.0
    ways = [[0.0 if i == j else far for j in range(count)] for i in range(count)]
    for (i, j), length in zip(pairs, lengths, strict=True):
        if length < ways[i][j]:
            ways[i][j] = ways[j][i] = length
    for k in range(count):
        for i in range(count):
            for j in range(count):
                ways[i][j] = min(ways[i][j], ways[i][k] + ways[k][j])
    return ways
