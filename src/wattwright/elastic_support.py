"""A rigid body on springs: what each spring carries of a force and of a moment.

Each spring is as stiff in every direction. Under a force F at a point and a moment M the body moves
by u and turns by a small θ; spring i at r_i pulls back with k_i (u + θ × r_i). Six equations of
equilibrium give u and θ, so that what each spring carries is linear in F and M.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from wattwright.errors import FormulaError

Vector = tuple[float, float, float]
# Springs nearer to one line than this carry no moment about it.
_ONE_LINE = 1e-6


def _cross(arm: Vector) -> NDArray[np.float64]:
    """Matrix that makes the vector product of an arm with what follows."""
    x, y, z = arm
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


@lru_cache(maxsize=64)
def carried(
    springs: tuple[Vector, ...], stiffness: tuple[float, ...], at: Vector
) -> tuple[tuple[tuple[float, ...], ...], ...]:
    """What each spring puts on its support, by a unit of each force at a point and each moment.

    ``springs`` and ``at`` m; ``stiffness`` in any unit, as only shares count. The result has, for
    each spring, three rows (x, y, z) of six: force by force along x, y, z (1), then by moment about
    x, y, z (1/m). Raises FormulaError where the springs stand in one line.
    """
    middle = tuple(
        sum(k * r[axis] for k, r in zip(stiffness, springs, strict=True)) / sum(stiffness)
        for axis in range(3)
    )
    arms = [tuple(r[axis] - middle[axis] for axis in range(3)) for r in springs]
    whole = np.zeros((6, 6))
    for k, arm in zip(stiffness, arms, strict=True):
        turn = _cross(arm)  # type: ignore[arg-type]
        whole[:3, :3] += k * np.eye(3)
        whole[:3, 3:] -= k * turn
        whole[3:, :3] += k * turn
        whole[3:, 3:] -= k * turn @ turn
    turning = np.linalg.eigvalsh(whole[3:, 3:])
    if len(springs) < 3 or turning[0] < _ONE_LINE * turning[-1]:
        raise FormulaError("a body needs three supports or more that do not stand in one line")
    lever = _cross(tuple(at[axis] - middle[axis] for axis in range(3)))  # type: ignore[arg-type]
    loads = np.zeros((6, 6))
    loads[:3, :3], loads[3:, :3], loads[3:, 3:] = np.eye(3), lever, np.eye(3)
    moved = np.linalg.solve(whole, loads)
    return tuple(
        _rows(k * (moved[:3] - _cross(arm) @ moved[3:]))  # type: ignore[arg-type]
        for k, arm in zip(stiffness, arms, strict=True)
    )


def _rows(matrix: NDArray[np.float64]) -> tuple[tuple[float, ...], ...]:
    return tuple(tuple(float(each) for each in row) for row in matrix)


@lru_cache(maxsize=64)
def by_stiffness(
    springs: tuple[Vector, ...], stiffness: tuple[float, ...], at: Vector, moved: int, by: float
) -> tuple[tuple[tuple[float, ...], ...], ...]:
    """How what is carried changes for one more of the stiffness of one spring.

    Central difference over ``by`` either way, or as far down as it stays above nought. The result
    has the form of ``carried``, per unit of stiffness.
    """
    low = min(by, 0.9 * stiffness[moved])
    sides = []
    for change in (by, -low):
        other = list(stiffness)
        other[moved] += change
        sides.append(np.array(carried(springs, tuple(other), at)))
    return tuple(_rows(matrix) for matrix in (sides[0] - sides[1]) / (by + low))
