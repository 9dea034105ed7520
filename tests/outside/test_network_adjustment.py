"""Adjustment of points and pose against general-purpose libraries and by Monte Carlo.

Sources: MINPACK's Levenberg-Marquardt (SciPy ``leastsq``), another method than the one the program
uses, on equations written here with SciPy's rotations; the covariance it returns; the share of
truths inside a 95 % band; data snooping (W. Baarda 1968, from memory) by counting alarms.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.optimize import leastsq
from scipy.spatial.transform import Rotation

from wattwright.network_adjustment import Found, adjust, critical, helpful
from wattwright.point_network import Network, Observation, turning

SD, SD_OWN, SD_LEVEL = 0.001, 0.0005, 0.002
POSE = np.array([2.05, 0.01, 0.28, 0.01, 0.04, -0.02])
UNIT = np.array(
    [
        [-0.27, 0.01, 0.11],
        [0.17, -0.19, 0.14],
        [0.17, 0.18, 0.14],
        [0.0, -0.2, 0.0],
        [0.0, 0.2, 0.0],
    ]
)
VEHICLE = np.array(
    [[1.6, -0.45, 0.25], [1.62, 0.44, 0.27], [2.5, -0.4, 0.5], [2.52, 0.42, 0.47], [2.0, 0.0, 0.62]]
)
NAMES = tuple(f"u{k}" for k in range(5)) + tuple(f"v{k}" for k in range(5))
SECOND = (True,) * 5 + (False,) * 5


def in_space() -> np.ndarray:
    turned = Rotation.from_euler("ZYX", POSE[3:]).apply(UNIT) + POSE[:3]
    return np.vstack([turned, VEHICLE])


@cache
def truth() -> tuple[Observation, ...]:
    """Every reading without an error: coordinates, distances from all to all, heights, levels."""
    space = in_space()
    own = np.vstack([UNIT, VEHICLE])
    sorts = ("own_x", "own_y", "own_z")
    found = [
        Observation(f"{name}.{sort}", sort, (k,), float(own[k, axis]), SD_OWN)
        for k, name in enumerate(NAMES)
        for axis, sort in enumerate(sorts)
    ]
    for unit in range(5):
        for fixed in range(5, 10):
            length = float(np.linalg.norm(space[unit] - space[fixed]))
            name = f"{NAMES[unit]}-{NAMES[fixed]}"
            found.append(Observation(name, "distance", (unit, fixed), length, SD))
    flat = float(np.hypot(*(space[5] - space[6])[:2]))
    found.append(Observation("floor", "across_floor", (5, 6), flat, SD))
    rise = space[8] - space[5]
    slope = float(np.arctan2(rise[2], np.hypot(rise[0], rise[1])))
    found.append(Observation("slope", "slope", (5, 8), slope, SD_LEVEL))
    for k in (0, 1, 2):
        found.append(Observation(f"{NAMES[k]}.z", "z", (k,), float(space[k, 2]), SD))
    found.append(Observation("u3.x", "x", (3,), float(space[3, 0]), SD))
    found.append(Observation("u4.y", "y", (4,), float(space[4, 1]), SD))
    matrix = Rotation.from_euler("ZYX", POSE[3:]).as_matrix()
    found.append(Observation("lengthwise", "lengthwise", (), float(POSE[4]), SD_LEVEL))
    across = float(np.arcsin(matrix[2, 1]))
    found.append(Observation("crosswise", "crosswise", (), across, SD_LEVEL))
    return tuple(found)


TRUE = np.concatenate([UNIT.ravel(), VEHICLE.ravel(), POSE])
START = TRUE + np.where(np.arange(len(TRUE)) % 2, 0.02, -0.02)


def read(seed: int, observations: tuple[Observation, ...] = ()) -> Network:
    noise = np.random.default_rng(seed)
    rows = tuple(
        replace(each, reading=each.reading + noise.normal(0.0, each.sd))
        for each in observations or truth()
    )
    return Network(NAMES, SECOND, rows)


def told(numbers: np.ndarray, network: Network) -> np.ndarray:
    """The same readings from equations of this test alone."""
    own = numbers[:30].reshape(10, 3)
    turn = Rotation.from_euler("ZYX", numbers[33:])
    space = np.vstack([turn.apply(own[:5]) + numbers[30:33], own[5:]])
    rows = []
    for each in network.observations:
        axis = "xyz".find(each.sort[-1])
        if each.sort == "lengthwise":
            rows.append(numbers[34])
        elif each.sort == "crosswise":
            rows.append(np.arcsin(turn.as_matrix()[2, 1]))
        elif each.sort.startswith("own"):
            rows.append(own[each.points[0], axis])
        elif len(each.points) == 1:
            rows.append(space[each.points[0], axis])
        else:
            apart = space[each.points[1]] - space[each.points[0]]
            flat = np.hypot(apart[0], apart[1])
            by_sort = {"distance": np.hypot(flat, apart[2]), "across_floor": flat}
            rows.append(by_sort.get(each.sort, np.arctan2(apart[2], flat)))
    return np.array(rows)


def test_a_general_solver_finds_the_same_points_and_the_same_deviations() -> None:
    network = read(7)
    readings = np.array([each.reading for each in network.observations])
    weights = 1.0 / np.array([each.sd for each in network.observations])
    numbers, covariance, *_ = leastsq(
        lambda x: (told(x, network) - readings) * weights, START, full_output=True, xtol=1e-14
    )
    found = adjust(network, START)
    assert not found.suspects
    np.testing.assert_allclose(found.numbers, numbers, atol=2e-7)
    np.testing.assert_allclose(found.sd, np.sqrt(np.diag(covariance)), rtol=2e-3)
    left = (told(numbers, network) - readings) * weights
    assert found.linear.spare == len(readings) - len(TRUE)
    assert found.misfit == pytest.approx(np.sqrt((left**2).sum() / found.linear.spare), rel=1e-6)


def test_the_turned_unit_is_where_scipys_rotation_puts_it() -> None:
    for angles in ((0.3, -0.2, 0.1), (-2.0, 1.2, 3.0), (0.0, 0.0, 0.0)):
        matrix, slopes = turning(*angles)
        np.testing.assert_allclose(
            matrix, Rotation.from_euler("ZYX", angles).as_matrix(), atol=1e-14
        )
        for axis, slope in enumerate(slopes):
            step = np.zeros(3)
            step[axis] = 1e-6
            more, less = (
                Rotation.from_euler("ZYX", np.array(angles) + side * step).as_matrix()
                for side in (1, -1)
            )
            np.testing.assert_allclose(slope, (more - less) / 2e-6, atol=1e-8)


def test_ninety_five_of_a_hundred_truths_lie_inside_the_stated_band() -> None:
    inside = []
    for seed in range(120):
        found = adjust(read(1_000 + seed), TRUE)
        if not found.suspects:
            inside.append(np.abs(found.numbers - TRUE) <= 1.96 * found.sd)
    share = np.mean(inside)
    # 36 numbers of some 115 surveys, many of them tied to each other.
    assert 0.93 < share < 0.97


def test_a_reading_that_is_ten_deviations_off_is_named_and_clean_ones_raise_no_alarm() -> None:
    # Enough to tell one alarm in thirty from one in twelve: nine and twenty-five, each ± 5.
    named = alarms = 0
    taped = [k for k, each in enumerate(truth()) if each.sort == "distance"]
    for seed in range(300):
        network = read(seed)
        rows = list(network.observations)
        wrong = taped[seed % len(taped)]
        clean = adjust(network, TRUE)
        alarms += bool(clean.suspects)
        rows[wrong] = replace(rows[wrong], reading=rows[wrong].reading + 10 * SD)
        found = adjust(replace(network, observations=tuple(rows)), TRUE)
        named += bool(found.suspects) and found.suspects[0].observation == rows[wrong]
    assert named >= 0.95 * 300
    assert alarms <= 0.05 * 300


def test_the_quantile_is_that_of_a_normal_table() -> None:
    # Two sided 3 % of one, and of ten together: Φ(2.170) = 0.9850 and Φ(2.968) = 0.9985 in any
    # table of the normal.
    assert critical(1) == pytest.approx(2.170, abs=5e-4)
    assert critical(10) == pytest.approx(2.968, abs=5e-4)


def less_of(found: Found, wanted: range) -> float:
    return float((found.sd[wanted.start : wanted.stop] ** 2).sum())


def test_the_reading_that_is_said_to_help_most_does_help_most() -> None:
    few = tuple(
        each for each in truth() if each.sort.startswith("own") or each.name.endswith(("v5", "v6"))
    )
    few += tuple(each for each in truth() if each.name in ("u0-v0", "u1-v1", "u2-v2", "u3-v3"))
    few += tuple(each for each in truth() if each.name in ("u4-v4", "u0-v3", "u1-v4"))
    network = Network(NAMES, SECOND, few)
    before = adjust(network, TRUE)
    best = helpful(before, [0, 1, 2], SD, SD_LEVEL)
    space = in_space()
    shares = {}
    for each in best[:3]:
        if each.sort == "distance":
            reading = float(np.linalg.norm(space[each.points[0]] - space[each.points[1]]))
        elif each.sort in ("lengthwise", "crosswise"):
            reading = next(x.reading for x in truth() if x.name == each.sort)
        else:
            reading = float(space[each.points[0], "xyz".index(each.sort)])
        sd = SD_LEVEL if each.sort in ("lengthwise", "crosswise") else SD
        more = Observation("more", each.sort, each.points, reading, sd)
        after = adjust(replace(network, observations=(*few, more)), TRUE)
        counted = [range(9), range(30, 36)]
        share = sum(less_of(after, rows) for rows in counted) / sum(
            less_of(before, rows) for rows in counted
        )
        assert share == pytest.approx(each.left, abs=0.01)
        shares[each.sort, each.points] = share
    assert list(shares.values()) == sorted(shares.values())
