"""Points of two bodies in space and readings of them, as equations: what each reading would be.

One body stays, and its axes are those of the space; the other is turned and set into it. Unknown
are the coordinates of every point, each in the axes of its own body, and the pose of the second.
Angles are applied yaw, pitch, roll, as SciPy's ``Rotation.from_euler("ZYX", ...)`` has them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import asin, cos, sin, sqrt
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
# Readings of one sort: its name, their places, and the points of each.
Group = tuple[str, list[int], NDArray[np.int_]]
Sort = Literal[
    "distance",
    "across_floor",
    "slope",
    "x",
    "y",
    "z",
    "own_x",
    "own_y",
    "own_z",
    "lengthwise",
    "crosswise",
]
POSE = ("x", "y", "z", "yaw", "pitch", "roll")
AXES = ("x", "y", "z")
# Singular values below this share of the largest are directions that no reading tells of.
_BLIND = 1e-7
# A place is told by nothing where a blind direction moves it by more than this share.
_MOVED = 1e-3


@dataclass(frozen=True, slots=True)
class Observation:
    """One reading: of one point or two, by their places; ``sd`` is its standard deviation.

    ``distance`` and ``across_floor`` m; ``slope`` rad, the second point higher; ``x``, ``y``, ``z``
    m in the space; ``own_…`` m in the axes of the point's own body; ``lengthwise`` and
    ``crosswise`` rad of the second body.
    """

    name: str
    sort: Sort
    points: tuple[int, ...]
    reading: float
    sd: float


@dataclass(frozen=True)
class Network:
    """Points, each on the body that stays or on the second one, and the readings of them."""

    points: tuple[str, ...]
    second: tuple[bool, ...]
    observations: tuple[Observation, ...]

    @cached_property
    def _digest(self) -> int:
        return hash((self.points, self.second, self.observations))

    def __hash__(self) -> int:
        """Worked out once: the same network is asked for again and again."""
        return self._digest

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """Readings gathered by sort."""
        return _by_sort(self.observations)

    @cached_property
    def unknowns(self) -> int:
        """How many numbers are wanted."""
        return 3 * len(self.points) + (len(POSE) if any(self.second) else 0)

    def place(self, unknown: int) -> str:
        """Name one of the unknowns: ``mount_left.z``, or ``unit.pitch``."""
        point, axis = divmod(unknown, 3)
        if point < len(self.points):
            return f"{self.points[point]}.{AXES[axis]}"
        return f"unit.{POSE[unknown - 3 * len(self.points)]}"

    def without(self, names: frozenset[str]) -> Network:
        """Leave some readings out."""
        return replace(
            self, observations=tuple(o for o in self.observations if o.name not in names)
        )


def turning(yaw: float, pitch: float, roll: float) -> tuple[Array, tuple[Array, Array, Array]]:
    """Rotation matrix of yaw, pitch and roll in rad, and how it moves with each of them."""
    (cy, sy), (cp, sp), (cr, sr) = ((cos(a), sin(a)) for a in (yaw, pitch, roll))
    about_z = np.array([[cy, -sy, 0.0], [sy, cy, 0.0], [0.0, 0.0, 1.0]])
    about_y = np.array([[cp, 0.0, sp], [0.0, 1.0, 0.0], [-sp, 0.0, cp]])
    about_x = np.array([[1.0, 0.0, 0.0], [0.0, cr, -sr], [0.0, sr, cr]])
    by_z = np.array([[-sy, -cy, 0.0], [cy, -sy, 0.0], [0.0, 0.0, 0.0]])
    by_y = np.array([[-sp, 0.0, cp], [0.0, 0.0, 0.0], [-cp, 0.0, -sp]])
    by_x = np.array([[0.0, 0.0, 0.0], [0.0, -sr, -cr], [0.0, cr, -sr]])
    slopes = (by_z @ about_y @ about_x, about_z @ by_y @ about_x, about_z @ about_y @ by_x)
    return about_z @ about_y @ about_x, slopes


class At:
    """Where everything is for one set of numbers, and how it moves with each of them."""

    def __init__(self, network: Network, numbers: Array) -> None:
        self.network = network
        count = len(network.points)
        self.own = numbers[: 3 * count].reshape(count, 3)
        self.pose = numbers[3 * count :]
        self.turn = np.eye(3)
        second = np.array(network.second)
        self.places = self.own.copy()
        self.slopes = np.zeros((count, 3, network.unknowns))
        for point in range(count):
            self.slopes[point, :, 3 * point : 3 * point + 3] = np.eye(3)
        if not second.any():
            return
        self.turn, turned_by = turning(*(float(a) for a in self.pose[3:]))
        self.places[second] = self.own[second] @ self.turn.T + self.pose[:3]
        for point in np.flatnonzero(second).tolist():
            self.slopes[point, :, 3 * point : 3 * point + 3] = self.turn
        pose = 3 * count
        self.slopes[second, :, pose : pose + 3] = np.eye(3)
        for axis, by_angle in enumerate(turned_by):
            self.slopes[second, :, pose + 3 + axis] = self.own[second] @ by_angle.T

    def told(self, observations: Sequence[Observation]) -> tuple[Array, Array]:
        """What readings would be here, and the slopes of each."""
        return self._of(_by_sort(observations), len(observations))

    def _of(self, groups: Sequence[Group], count: int) -> tuple[Array, Array]:
        told = np.zeros(count)
        slopes = np.zeros((count, self.network.unknowns))
        for sort, rows, points in groups:
            told[rows], slopes[rows] = self._told(sort, points)
        return told, slopes

    def _told(self, sort: str, points: NDArray[np.int_]) -> tuple[Any, Array]:
        axis = AXES.index(sort[-1]) if sort[-1] in AXES else 0
        if sort in AXES:
            return self.places[points[:, 0], axis], self.slopes[points[:, 0], axis]
        if sort.startswith("own_"):
            slopes = np.zeros((len(points), self.network.unknowns))
            slopes[np.arange(len(points)), 3 * points[:, 0] + axis] = 1.0
            return self.own[points[:, 0], axis], slopes
        if sort in ("lengthwise", "crosswise"):
            return self._level(sort)
        first, second = points.T
        return _between(
            sort, self.places[second] - self.places[first], self.slopes[second] - self.slopes[first]
        )

    def _level(self, sort: str) -> tuple[float, Array]:
        slopes = np.zeros((1, self.network.unknowns))
        pitch, roll = float(self.pose[4]), float(self.pose[5])
        if sort == "lengthwise":
            slopes[0, -2] = 1.0
            return pitch, slopes
        shown = cos(pitch) * sin(roll)
        by_shown = 1.0 / sqrt(max(1e-12, 1.0 - shown**2))
        slopes[0, -2] = -sin(pitch) * sin(roll) * by_shown
        slopes[0, -1] = cos(pitch) * cos(roll) * by_shown
        return asin(max(-1.0, min(1.0, shown))), slopes

    def all(self) -> tuple[Array, Array]:
        """What every reading would be here, and the slopes of each."""
        return self._of(self.network.groups, len(self.network.observations))


def _by_sort(observations: Sequence[Observation]) -> tuple[Group, ...]:
    """Gather readings of one sort: their places, and the points of each."""
    rows: dict[str, list[int]] = {}
    for row, each in enumerate(observations):
        rows.setdefault(each.sort, []).append(row)
    return tuple(
        (sort, found, np.array([observations[row].points for row in found], dtype=int))
        for sort, found in rows.items()
    )


def _between(sort: str, apart: Array, slopes: Array) -> tuple[Array, Array]:
    """Readings between two points: how far apart they are, and how that moves."""
    flat = np.maximum(1e-9, np.hypot(apart[:, 0], apart[:, 1]))
    along = np.einsum("mi,min->mn", apart[:, :2], slopes[:, :2]) / flat[:, None]
    if sort == "across_floor":
        return flat, along
    length = np.hypot(flat, apart[:, 2])
    up, by_up = apart[:, 2, None], slopes[:, 2]
    if sort == "distance":
        return length, (flat[:, None] * along + up * by_up) / length[:, None]
    return np.arctan2(apart[:, 2], flat), (flat[:, None] * by_up - up * along) / length[
        :, None
    ] ** 2


def told_at(network: Network, numbers: Sequence[float] | Array) -> Array:
    """What every reading would be if the points were here; SI, in the order of the readings."""
    return At(network, np.asarray(numbers, dtype=np.float64)).all()[0]


@dataclass(frozen=True)
class Linear:
    """The last step of an adjustment: linear in the readings, at ``numbers``.

    ``fitting`` is what each reading would be there, ``gains`` how far each unknown moves for each
    reading, ``told`` says for each unknown whether any reading tells of it.
    """

    numbers: Array
    fitting: Array
    gains: Array
    told: NDArray[np.bool_]
    blind: Array

    @property
    def spare(self) -> int:
        """How many readings there are beyond what is needed."""
        return len(self.fitting) - (len(self.numbers) - len(self.blind))


@lru_cache(maxsize=64)
def linear(network: Network, numbers: tuple[float, ...]) -> Linear:
    """Work out the last step of an adjustment at numbers that were found before."""
    at = np.array(numbers)
    fitting, slopes = At(network, at).all()
    weights = np.array([1.0 / each.sd for each in network.observations])
    left, values, right = np.linalg.svd(slopes * weights[:, None], full_matrices=True)
    seen = np.zeros(len(at), dtype=bool)
    seen[: len(values)] = values > _BLIND * values.max(initial=0.0)
    kept = np.flatnonzero(seen)
    gains = (right[kept].T / values[kept]) @ left[:, kept].T * weights[None, :]
    blind = right[~seen]
    told = np.abs(blind).max(axis=0, initial=0.0) < _MOVED
    return Linear(at, fitting, gains, told, blind)
