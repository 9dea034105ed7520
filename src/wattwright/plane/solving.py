"""Symmetric positive equations of a few unknowns, by the method of Cholesky."""

from __future__ import annotations

import math
from collections.abc import Sequence

Matrix = Sequence[Sequence[float]]


def factored(matrix: Matrix, least: float = 0.0) -> tuple[list[list[float]], bool]:
    """Return the lower triangle whose square the matrix is, and whether it holds every unknown.

    A pivot below ``least`` of its diagonal holds nothing; one is put in its place.
    """
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    held = True
    for i in range(size):
        row = lower[i]
        for j in range(i):
            other = lower[j]
            row[j] = (matrix[i][j] - sum(row[k] * other[k] for k in range(j))) / other[j]
        pivot = matrix[i][i] - sum(each * each for each in row[:i])
        if pivot <= least * matrix[i][i]:
            held, pivot = False, max(pivot, 1e-12 * matrix[i][i], 1e-300)
        row[i] = math.sqrt(pivot)
    return lower, held


def solved(lower: Matrix, right: Sequence[float]) -> list[float]:
    """Solve for one right side with the triangle of the matrix."""
    size = len(right)
    found = list(right)
    for i in range(size):
        row = lower[i]
        found[i] = (found[i] - sum(row[k] * found[k] for k in range(i))) / row[i]
    for i in reversed(range(size)):
        found[i] = (found[i] - sum(lower[k][i] * found[k] for k in range(i + 1, size))) / lower[i][
            i
        ]
    return found
