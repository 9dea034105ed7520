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
from functools import cached_property
from math import sqrt
from statistics import NormalDist
from typing import Any, Literal

import numpy as np

from wattwright.errors import FormulaError
from wattwright.point_network import (
    Array,
    At,
    Linear,
    Network,
    Observation,
    Sort,
    linear,
    told_at,
)

# All readings together raise a false alarm in so many of all clean surveys.
FALSE_ALARM = 0.03
# Two readings whose residuals go together so closely cannot be told apart.
ALIKE = 0.98
# A reading of which so little shows in its own residual is checked by nothing.
UNCHECKED = 0.02
# Another place for a point fits as well where it raises the sum of squares by less than this.
_AS_WELL = 9.0
_LAST_STEPS = 2


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
    last: dict[bytes, tuple[Array, Array]] = {}

    def at(numbers: Array) -> tuple[Array, Array]:
        """Residuals and slopes, which are asked for one after the other, are found together."""
        key = numbers.tobytes()
        if key not in last:
            told, slopes = At(network, numbers).all()
            last.clear()
            last[key] = (told - readings) * weights, slopes * weights[:, None]
        return last[key]

    found: Any = least_squares(
        lambda numbers: at(numbers)[0],
        start,
        lambda numbers: at(numbers)[1],
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
    slopes = At(network, last.numbers).all()[1]
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
        at = At(network, numbers)
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
    every = At(network, last.numbers).told(asked)[1]
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
