"""Hole patterns against a worked adjustment, a general solver, and textbook statistics.

- Adjustment of the six holes of ``patterns.READ``: computed once outside this program with SciPy
  (``least_squares`` from a start by classical multidimensional scaling); coordinates to 4 decimals.
- SciPy ``least_squares`` here, on the same readings with unequal weights, as an independent solver.
- The best rigid fit: SciPy ``Rotation.align_vectors`` and ``procrustes``.
- Circle through points: geometric fit, centre (11.957281, -7.089814), radius 57.234284, rms
  0.071518; computed outside with SciPy.
- Data snooping (Baarda): the share of false alarms and of blunders found, by drawing many patterns.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial import procrustes
from scipy.spatial.transform import Rotation
from scipy.stats import norm

from patterns import PAIRS, READ, SIGMA, TRUE, true_distance
from wattwright.plane import fits, nets
from wattwright.plane.scaling import start

LENGTHS = tuple(READ.values())
SDS = (SIGMA,) * len(LENGTHS)
# Coordinates by the outside adjustment: hole 1 origin, hole 2 on +x, hole 3 above.
ADJUSTED = (
    (0.0, 0.0),
    (152.6192, 0.0),
    (252.9804, 81.9795),
    (213.6881, 212.8646),
    (75.8224, 247.9879),
    (-35.0073, 133.2485),
)
TRUTH = tuple(TRUE.values())
EXACT = tuple(true_distance(key) for key in READ)


def with_blunder(key: str, by: float) -> tuple[float, ...]:
    return tuple(mm + (by if each == key else 0.0) for each, mm in READ.items())


def test_coordinates_are_those_of_the_outside_adjustment() -> None:
    net = nets.adjust(6, PAIRS, LENGTHS, SDS)
    assert np.array(net.points) == pytest.approx(np.array(ADJUSTED), abs=6e-5)
    squares = sum(residual**2 for residual in net.residuals)
    assert squares == pytest.approx(0.125136, abs=1e-6)
    assert net.spare == 15 - (2 * 6 - 3)
    assert math.sqrt(squares / net.spare) == pytest.approx(0.14442, abs=5e-6)


def test_places_are_as_near_the_truth_as_the_outside_adjustment_has_them() -> None:
    """Against the true places, best fitted: rms 0.0622 mm, largest 0.1129 mm; the start 0.1207."""
    net = nets.adjust(6, PAIRS, LENGTHS, SDS)
    for points, rms, worst in (
        (net.points, 0.0622, 0.1129),
        (start(6, PAIRS, LENGTHS), 0.1207, None),
    ):
        laid = min(
            (fits.fit(points, TRUTH, mirrored=side) for side in (False, True)),
            key=lambda each: each.squares,
        )
        apart = [math.dist(laid.at(p), q) for p, q in zip(points, TRUTH, strict=True)]
        assert math.sqrt(sum(each**2 for each in apart) / 6) == pytest.approx(rms, abs=6e-5)
        if worst is not None:
            assert max(apart) == pytest.approx(worst, abs=6e-5)


def test_deviations_of_places_are_those_predicted_outside() -> None:
    """Predicted standard deviations, no hole held: half axes from 0.069 to 0.082 mm."""
    net = nets.adjust(6, PAIRS, LENGTHS, SDS)
    axes = []
    for gain in net.free_gains:
        spread = SIGMA * np.array(gain)
        axes += list(np.sqrt(np.linalg.eigvalsh(spread @ spread.T)))
    assert min(axes) == pytest.approx(0.069, abs=5e-4)
    assert max(axes) == pytest.approx(0.082, abs=5e-4)


def test_exact_distances_give_back_the_places() -> None:
    net = nets.adjust(6, PAIRS, EXACT, SDS)
    assert fits.fit(net.points, TRUTH).squares < 1e-18
    # In the frame: hole 3 at (252.9723, 82.2402).
    assert net.points[2] == pytest.approx((252.9723, 82.2402), abs=6e-5)


def test_a_blunder_of_5_mm_is_named_and_found_to_be_5_mm() -> None:
    lengths = with_blunder("2-5", 5.0)
    net = nets.adjust(6, PAIRS, lengths, SDS)
    named = nets.suspects(net)
    assert [list(READ)[place] for place in named] == ["2-5"]
    # All readings count alike, and the places suffer: rms of the places outside was 0.854 mm.
    laid = fits.fit(net.points, TRUTH)
    assert math.sqrt(laid.squares / 6) == pytest.approx(0.854, abs=6e-4)
    # Without it, the pattern says how long it should have been.
    kept = [k for k in range(15) if k not in named]
    clean = nets.adjust(6, tuple(PAIRS[k] for k in kept), tuple(lengths[k] for k in kept), SDS[:14])
    length, _ = nets.predicted(clean, PAIRS[named[0]])
    assert lengths[named[0]] - length == pytest.approx(5.0, abs=0.2)


def solver(lengths: tuple[float, ...], sds: tuple[float, ...]) -> np.ndarray:
    def residuals(free: np.ndarray) -> np.ndarray:
        points = np.concatenate([[0.0, 0.0, free[0], 0.0], free[1:]]).reshape(-1, 2)
        return np.array(
            [
                (length - np.hypot(*(points[j] - points[i]))) / sd
                for (i, j), length, sd in zip(PAIRS, lengths, sds, strict=True)
            ]
        )

    begin = np.array(ADJUSTED).ravel()[[2, *range(4, 12)]] + 3.0
    found = least_squares(residuals, begin, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    return np.concatenate([[0.0, 0.0, found.x[0], 0.0], found.x[1:]]).reshape(-1, 2)


def test_a_general_solver_finds_the_same_places_with_unequal_weights() -> None:
    sds = tuple(0.05 + 0.03 * (place % 5) for place in range(15))
    lengths = with_blunder("3-6", 0.6)
    net = nets.adjust(6, PAIRS, lengths, sds)
    assert np.array(net.points) == pytest.approx(solver(lengths, sds), abs=1e-6)


def test_gains_are_the_slopes_of_a_general_solver() -> None:
    """Where residuals are small the step of Gauss and Newton is the slope itself."""
    sds = tuple(0.05 + 0.03 * (place % 5) for place in range(15))
    net = nets.adjust(6, PAIRS, EXACT, sds)
    for place in (0, 6, 13):
        moved = list(EXACT)
        moved[place] += 1e-3
        slope = (solver(tuple(moved), sds) - solver(EXACT, sds)) / 1e-3
        gain = [[axis[place] for axis in each] for each in net.gains]
        assert np.array(gain) == pytest.approx(slope, abs=2e-5)


def test_the_quantile_is_that_of_the_normal_distribution() -> None:
    """Bonferroni: 5 % shared among 15 readings, two-sided."""
    assert nets.critical(15) == pytest.approx(norm.ppf(1 - 0.05 / 30), rel=1e-9)
    assert nets.critical(1) == pytest.approx(1.959964, abs=1e-6)


def test_blunders_of_ten_deviations_are_named_and_false_alarms_are_few() -> None:
    """Of 500 patterns with one, at least 95 % are named first; of 500 without, 5 % are alarmed.

    The second count may pass 25 by chance: one in a hundred such draws passes 37.
    """
    rng = np.random.default_rng(20260501)
    named = alarms = 0
    for _ in range(500):
        lengths = np.array(EXACT) + rng.normal(0.0, SIGMA, 15)
        alarms += bool(nets.suspects(nets.adjust(6, PAIRS, tuple(lengths), SDS)))
        bad = int(rng.integers(15))
        lengths[bad] += 10 * SIGMA * rng.choice((-1.0, 1.0))
        found = nets.suspects(nets.adjust(6, PAIRS, tuple(lengths), SDS))
        named += bool(found) and found[0] == bad
    assert named >= 475
    assert alarms <= 37


def test_of_many_patterns_without_a_blunder_at_most_one_in_twenty_is_alarmed() -> None:
    """A hundred thousand, in the straight line through the true pattern."""
    net = nets.adjust(6, PAIRS, EXACT, SDS)
    hat = np.array(net.shares)
    errors = np.random.default_rng(5).normal(0.0, SIGMA, (100_000, 15))
    residuals = errors @ (np.eye(15) - hat).T
    standard = np.abs(residuals) / (SIGMA * np.sqrt(1.0 - np.diag(hat)))
    alarms = (standard.max(axis=1) > net.critical).mean()
    assert 0.03 < alarms <= 0.05


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_best_fit_is_that_of_general_libraries(mirrored: bool) -> None:
    rng = np.random.default_rng(3)
    there = rng.normal(0.0, 100.0, (6, 2))
    to = there * np.array([1.0, -1.0 if mirrored else 1.0])
    turn = np.array([[math.cos(0.7), -math.sin(0.7)], [math.sin(0.7), math.cos(0.7)]])
    to = to @ turn.T + np.array([40.0, -25.0]) + rng.normal(0.0, 0.5, (6, 2))
    found = fits.fit([tuple(p) for p in there], [tuple(p) for p in to], mirrored=mirrored)
    side = there * np.array([1.0, -1.0 if mirrored else 1.0])
    flat = [np.column_stack([each - each.mean(axis=0), np.zeros(6)]) for each in (to, side)]
    # Vectors that lie in a plane, kept in it by a heavy one across.
    up = np.array([[0.0, 0.0, 1e6]])
    rotation, _ = Rotation.align_vectors(
        np.vstack([flat[0], up]), np.vstack([flat[1], up]), weights=[*([1.0] * 6), 1e3]
    )
    assert found.turn == pytest.approx(rotation.as_euler("xyz")[2], abs=1e-9)
    # procrustes scales both to size one and lets one grow: its disparity is less, and that of a
    # fit that may not scale follows from it.
    _, _, disparity = procrustes(to, side)
    norms = [np.linalg.norm(each - each.mean(axis=0)) for each in (to, side)]
    overlap = math.sqrt(1.0 - disparity)
    squares = norms[0] ** 2 + norms[1] ** 2 - 2 * overlap * norms[0] * norms[1]
    assert found.squares == pytest.approx(squares, rel=1e-6)


CIRCLE = ((68.40, 2.90), (26.71, 48.10), (-31.89, 29.81), (-31.91, -43.82), (40.59, -56.61))


def test_the_circle_through_points_is_the_geometric_one() -> None:
    found = fits.circle(CIRCLE)
    assert found is not None
    assert found.centre == pytest.approx((11.957281, -7.089814), abs=1e-6)
    assert found.radius == pytest.approx(57.234284, abs=1e-6)
    rms = math.sqrt(sum(off * off for off in found.off) / 5)
    assert rms == pytest.approx(0.071518, abs=1e-6)


def test_the_radius_moves_with_the_points_as_a_general_solver_says() -> None:
    def radius(points: np.ndarray) -> float:
        def off(guess: np.ndarray) -> np.ndarray:
            return np.hypot(*(points - guess[:2]).T) - guess[2]

        return least_squares(off, [12.0, -7.0, 57.0], xtol=1e-15, ftol=1e-15).x[2]

    found = fits.circle(CIRCLE)
    assert found is not None
    for place in range(5):
        for axis in (0, 1):
            moved = np.array(CIRCLE)
            moved[place, axis] += 1e-3
            slope = (radius(moved) - radius(np.array(CIRCLE))) / 1e-3
            assert found.gains[axis][place] == pytest.approx(slope, abs=2e-3)
