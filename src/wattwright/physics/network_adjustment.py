"""Points of two bodies in space from readings of every sort: least squares, suspects, what helps.

One body stays (the vehicle, whose axes are those of the space), the other is turned and set into
it (the power unit). Unknown are the coordinates of every point, each in the axes of its own body,
and the pose of the second. Each reading is one equation, weighed by its standard deviation.

Method: Gauss-Newton with a trust region (``scipy.optimize.least_squares``); where a reading is
suspected, once more with a loss that grows linearly for large residuals. A reading is suspected by
its normalised residual w = |v|/σ_v (data snooping), against the quantile at which all readings
together give three false alarms in a hundred surveys; the worst is set aside and the rest adjusted
again until none is left.

Sources: Gauss-Markov model; W. Baarda, "A testing procedure for use in geodetic networks", 1968
(from memory, for the name of the test); the quantile follows from Bonferroni's inequality.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import asin, cos, sin, sqrt
from statistics import NormalDist
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from wattwright.errors import FormulaError

Array = NDArray[np.float64]
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
# All readings together raise a false alarm in so many of all clean surveys.
FALSE_ALARM = 0.03
# Two readings whose residuals go together so closely cannot be told apart.
ALIKE = 0.98
# A reading of which so little shows in its own residual is checked by nothing.
UNCHECKED = 0.02
# Singular values below this share of the largest are directions that no reading tells of.
_BLIND = 1e-7
# A place is told by nothing where a blind direction moves it by more than this share.
_MOVED = 1e-3
# Another place for a point fits as well where it raises the sum of squares by less than this.
_AS_WELL = 9.0
_LAST_STEPS = 3


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

    @property
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


class _At:
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
        told = np.zeros(len(observations))
        slopes = np.zeros((len(observations), self.network.unknowns))
        for sort, rows in _by_sort(observations).items():
            points = np.array([observations[row].points for row in rows], dtype=int)
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
        return self.told(self.network.observations)


def _by_sort(observations: Sequence[Observation]) -> dict[str, list[int]]:
    rows: dict[str, list[int]] = {}
    for row, each in enumerate(observations):
        rows.setdefault(each.sort, []).append(row)
    return rows


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
    return _At(network, np.asarray(numbers, dtype=np.float64)).all()[0]


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
    fitting, slopes = _At(network, at).all()
    weights = np.array([1.0 / each.sd for each in network.observations])
    left, values, right = np.linalg.svd(slopes * weights[:, None], full_matrices=True)
    seen = np.zeros(len(at), dtype=bool)
    seen[: len(values)] = values > _BLIND * values.max(initial=0.0)
    kept = np.flatnonzero(seen)
    gains = (right[kept].T / values[kept]) @ left[:, kept].T * weights[None, :]
    blind = right[~seen]
    told = np.abs(blind).max(axis=0, initial=0.0) < _MOVED
    return Linear(at, fitting, gains, told, blind)


@dataclass(frozen=True)
class Checked:
    """One reading after the adjustment.

    ``residual`` is the reading less what fits, in SI; ``normalised`` that over its own standard
    deviation; ``share`` how much of an error of the reading shows in its own residual, from 0 where
    nothing checks it to 1. ``alike`` names readings that an error cannot be told apart from.
    """

    observation: Observation
    residual: float
    normalised: float
    share: float
    alike: tuple[str, ...]

    @property
    def checks(self) -> bool:
        """True where other readings check this one."""
        return self.share > UNCHECKED


@dataclass(frozen=True)
class Found:
    """What an adjustment found.

    ``suspects`` are the readings that were set aside in turn: ``residual`` against all that are
    left, ``normalised`` as it was when it was still among them;
    ``sd`` has one for each unknown, nought where no reading tells of it. ``misfit`` is the root of
    the mean square of the normalised residuals: about one where all readings are as good as said.
    """

    network: Network
    linear: Linear
    suspects: tuple[Checked, ...]
    readings: tuple[Checked, ...]
    sd: Array
    misfit: float
    mirrored: tuple[str, ...]

    @property
    def numbers(self) -> Array:
        """Coordinates of all points, then the pose; SI."""
        return self.linear.numbers

    @cached_property
    def untold(self) -> tuple[str, ...]:
        """Unknowns that no reading tells of, by name."""
        return tuple(self.network.place(int(k)) for k in np.flatnonzero(~self.linear.told))


def critical(count: int) -> float:
    """Normalised residual from which a reading is suspected among so many."""
    return NormalDist().inv_cdf(1.0 - FALSE_ALARM / (2 * max(1, count)))


def adjust(network: Network, start: Sequence[float]) -> Found:
    """Adjust a network from a rough start, setting suspects aside one after another.

    ``start`` has one number for each unknown, SI. Raises FormulaError where there is no reading, or
    where the readings lead nowhere.
    """
    if not network.observations:
        raise FormulaError("there is no reading to adjust")
    numbers = _solved(network, np.asarray(start, dtype=np.float64), "linear")
    last, checks = _looked_at(network, numbers)
    most = critical(len(checks))
    if _worst(last, checks) > most:
        # A reading that is far off may have drawn all others after it: look again, not led by it.
        numbers = _solved(network, numbers, "soft_l1", 1e-4)
        last, checks = _looked_at(network, numbers)
    rest, suspects = network, []
    while _worst(last, checks) > most:
        suspects.append(max(checks, key=lambda each: each.normalised))
        rest = rest.without(frozenset({suspects[-1].observation.name}))
        numbers = _solved(rest, last.numbers, "linear")
        last, checks = _looked_at(rest, numbers)
    sd = np.sqrt((last.gains**2 * np.array([o.sd**2 for o in rest.observations])).sum(axis=1))
    sd[~last.told] = 0.0
    squares = sum((each.residual / each.observation.sd) ** 2 for each in checks)
    misfit = sqrt(squares / last.spare) if last.spare > 0 else 0.0
    mirrored = _mirrored(rest, last.numbers, squares)
    set_aside = _against(network, last.numbers, suspects)
    return Found(network, last, set_aside, checks, sd, misfit, mirrored)


def _looked_at(network: Network, numbers: Array) -> tuple[Linear, tuple[Checked, ...]]:
    """Take the last steps to the last digits, and see how each reading fits there."""
    readings = np.array([each.reading for each in network.observations])
    for _ in range(_LAST_STEPS):
        step = linear(network, tuple(numbers))
        numbers = numbers + step.gains @ (readings - step.fitting)
    last = linear(network, tuple(numbers))
    return last, checked(network, last)


def _worst(last: Linear, checks: Sequence[Checked]) -> float:
    """Largest normalised residual; nothing is suspected where nothing is to spare."""
    return max(each.normalised for each in checks) if last.spare > 0 else 0.0


def _against(network: Network, numbers: Array, suspects: Sequence[Checked]) -> tuple[Checked, ...]:
    """Suspects against what fits the rest, which they no longer draw towards themselves."""
    if not suspects:
        return ()
    asked = replace(network, observations=tuple(each.observation for each in suspects))
    return tuple(
        replace(each, residual=each.observation.reading - float(fits))
        for each, fits in zip(suspects, told_at(asked, numbers), strict=True)
    )


def _solved(
    network: Network, start: Array, loss: Literal["linear", "soft_l1"], closely: float = 1e-7
) -> Array:
    # Only a search needs it, and it takes longer to load than an assessment to make.
    from scipy.optimize import least_squares

    readings = np.array([each.reading for each in network.observations])
    weights = np.array([1.0 / each.sd for each in network.observations])

    def residuals(numbers: Array) -> Array:
        found: Array = (_At(network, numbers).all()[0] - readings) * weights
        return found

    def slopes(numbers: Array) -> Array:
        found: Array = _At(network, numbers).all()[1] * weights[:, None]
        return found

    found: Any = least_squares(
        residuals,
        start,
        slopes,
        method="trf",
        x_scale="jac",
        loss=loss,
        max_nfev=100,
        ftol=closely,
        xtol=closely,
        gtol=1e-12,
    )
    if not np.isfinite(found.x).all():
        raise FormulaError("the readings lead nowhere: check the largest of them")
    numbers: Array = found.x
    return numbers


def checked(network: Network, last: Linear) -> tuple[Checked, ...]:
    """Residuals, and what they say of each reading."""
    sds = np.array([each.sd for each in network.observations])
    readings = np.array([each.reading for each in network.observations])
    slopes = _At(network, last.numbers).all()[1]
    # In units of each reading's own standard deviation.
    hat = (slopes @ last.gains) * (sds[None, :] / sds[:, None])
    of_residuals = np.eye(len(sds)) - hat
    shares = np.clip(np.diag(of_residuals), 0.0, 1.0)
    residuals = readings - last.fitting
    roots = np.sqrt(np.maximum(shares, 1e-12))
    normalised = np.where(shares > UNCHECKED, np.abs(residuals) / (sds * roots), 0.0)
    together = np.abs(of_residuals) / np.outer(roots, roots)
    names = [each.name for each in network.observations]
    return tuple(
        Checked(
            each,
            float(residuals[k]),
            float(normalised[k]),
            float(shares[k]),
            tuple(
                names[other]
                for other in np.flatnonzero(together[k] > ALIKE)
                if other != k and shares[k] > UNCHECKED
            ),
        )
        for k, each in enumerate(network.observations)
    )


def _mirrored(network: Network, numbers: Array, squares: float) -> tuple[str, ...]:
    """Points for which a mirror image fits as well: distances alone do not tell the side."""
    found = []
    for place, name in enumerate(network.points):
        of_point = [each for each in network.observations if place in each.points]
        others = sorted({p for each in of_point for p in each.points} - {place})
        if len(others) < 3 or any(each.sort != "distance" for each in of_point):
            continue
        moved = numbers.copy()
        at = _At(network, numbers)
        middle, normal = _plane(at.places[others])
        here = at.places[place]
        there = here - 2.0 * float((here - middle) @ normal) * normal
        if network.second[place]:
            there = at.turn.T @ (there - at.pose[:3])
        moved[3 * place : 3 * place + 3] = there
        again = _solved(network, moved, "linear")
        fits = told_at(network, tuple(again))
        new = sum(
            ((each.reading - float(fit)) / each.sd) ** 2
            for each, fit in zip(network.observations, fits, strict=True)
        )
        far = np.abs(again - numbers)[3 * place : 3 * place + 3].max()
        sd = max(each.sd for each in of_point)
        if new < squares + _AS_WELL and far > 3.0 * sd:
            found.append(name)
    return tuple(found)


def _plane(points: Array) -> tuple[Array, Array]:
    middle = points.mean(axis=0)
    return middle, np.linalg.svd(points - middle)[2][-1]


@dataclass(frozen=True)
class Helpful:
    """A reading not yet taken: ``left`` is the share of the largest variance that it leaves."""

    sort: Sort
    points: tuple[int, ...]
    left: float


def helpful(found: Found, wanted: Sequence[int], sd: float, sd_angle: float) -> list[Helpful]:
    """Readings that would help most, best first.

    ``wanted`` are the points that count, by their places; ``sd`` m and ``sd_angle`` rad those of
    one more reading. Helped most is what lowers the mean variance of the wanted coordinates.
    """
    network, last = found.network, found.linear
    rest = tuple(each.observation for each in found.readings)
    scaled = last.gains * np.array([each.sd for each in rest])[None, :]
    covariance = scaled @ scaled.T
    # What no reading tells of is as good as a metre off.
    covariance += last.blind.T @ last.blind
    counting = [3 * place + axis for place in wanted for axis in range(3)]
    if any(network.second):
        counting += range(3 * len(network.points), network.unknowns)
    before = float(np.diag(covariance)[counting].sum())
    taken = {(each.sort, frozenset(each.points)) for each in network.observations}
    new = [each for each in _candidates(network) if (each[0], frozenset(each[1])) not in taken]
    asked = [Observation("", sort, points, 0.0, sd) for sort, points in new]
    every = _At(network, last.numbers).told(asked)[1]
    answers = []
    for (sort, points), slopes in zip(new, every, strict=True):
        by = covariance @ slopes
        width = sd_angle if sort in ("lengthwise", "crosswise", "slope") else sd
        less = float((by[counting] ** 2).sum()) / (width**2 + float(slopes @ by))
        answers.append(Helpful(sort, points, 1.0 - less / before if before > 0.0 else 1.0))
    return sorted(answers, key=lambda each: (each.left, each.sort, each.points))


def _candidates(network: Network) -> list[tuple[Sort, tuple[int, ...]]]:
    """Everything that could be measured still with tape, plumb bob and level."""
    places = range(len(network.points))
    single: list[tuple[Sort, tuple[int, ...]]] = [
        (sort, (place,)) for place in places for sort in ("x", "y", "z")
    ]
    pairs: list[tuple[Sort, tuple[int, ...]]] = [
        ("distance", (first, second)) for first in places for second in places if first < second
    ]
    levels: list[tuple[Sort, tuple[int, ...]]] = []
    if any(network.second):
        levels = [("lengthwise", ()), ("crosswise", ())]
    return [*single, *pairs, *levels]
