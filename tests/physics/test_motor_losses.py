"""Losses of a drive: the model by hand, fits that must find their own numbers, and maps."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import motor_losses
from wattwright.physics.motor_losses import fitted_losses

Point = tuple[float, float, float]


def point(speed: float, torque: float, *coefficients: float) -> Point:
    lost = motor_losses.losses(torque, speed, *coefficients)
    return speed, torque, motor_losses.efficiency(torque * speed, lost)


def test_losses_by_hand() -> None:
    # 0.5·20² + 2·100 + 1e-4·100³ + 300 = 200 + 200 + 100 + 300
    assert motor_losses.losses(20, 100, 0.5, 2, 1e-4, 300) == pytest.approx(800)
    assert motor_losses.losses(-20, 100, 0.5, 2, 1e-4, 300) == pytest.approx(800)
    assert motor_losses.efficiency(2000, 800) == pytest.approx(2000 / 2800)
    assert motor_losses.dc_power(2000, 800) == 2800
    assert motor_losses.dc_power(-2000, 800) == -1200
    assert motor_losses.efficiency(0, 800) == 0


NUMBERS = st.tuples(
    st.floats(0.01, 10), st.floats(0.01, 10), st.floats(1e-7, 1e-4), st.floats(1, 1000)
)
PLACES = [(w, t) for w in (80.0, 200.0, 350.0, 600.0) for t in (8.0, 40.0, 120.0)]


@settings(max_examples=60, deadline=None)
@given(NUMBERS, st.sets(st.integers(0, 3), max_size=3))
def test_points_of_a_model_give_its_coefficients_back(
    numbers: tuple[float, ...], nought: set[int]
) -> None:
    want = [0.0 if place in nought else number for place, number in enumerate(numbers)]
    found = fitted_losses([point(*place, *want) for place in PLACES])
    assert found.left_out == ()
    assert found.largest_miss < 1e-4
    for w, t in PLACES:
        got = motor_losses.losses(t, w, found.copper, found.iron, found.windage, found.constant)
        assert got == pytest.approx(motor_losses.losses(t, w, *want), rel=1e-4)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.6, 0.97), min_size=4, max_size=12), st.randoms())
def test_no_other_coefficients_come_closer(shares: list[float], random: object) -> None:
    points = [(*place, share) for place, share in zip(PLACES, shares, strict=False)]
    found = fitted_losses(points)
    best = np.array([found.copper, found.iron, found.windage, found.constant])
    assert best.min() >= 0
    w, t, share = np.array(points).T
    known = t * w * (1 / share - 1)
    columns = np.array([t**2, w, w**3, np.ones_like(w)]) / known

    def squares(coefficients: np.ndarray) -> np.ndarray:
        return ((coefficients @ columns - 1) ** 2).sum(axis=-1)

    least = squares(best)
    assert found.largest_miss == pytest.approx(np.abs(best @ columns - 1).max())
    # Around the best, and anywhere: no other coefficients at or above zero, of the terms that the
    # points tell apart, come closer.
    names = ("copper", "iron", "windage", "constant")
    known_terms = [name not in found.left_out for name in names]
    sizes = known_terms / np.abs(columns).max(axis=1)
    rng = np.random.default_rng(random.randrange(2**32))  # type: ignore[attr-defined]
    near = np.maximum(0, best + sizes * rng.normal(0, 1e-2, (2000, 4)))
    far = sizes * rng.uniform(0, 2, (2000, 4))
    assert squares(near).min() >= least - 1e-8
    assert squares(far).min() >= least - 1e-8


@pytest.mark.parametrize(
    ("points", "left_out"),
    [
        ([(300.0, 50.0, 0.9)], ("constant", "iron", "windage")),
        ([(300.0, 50.0, 0.9), (300.0, 20.0, 0.88)], ("iron", "windage")),
        ([(300.0, 50.0, 0.9), (300.0, 20.0, 0.88), (500.0, 20.0, 0.9)], ("windage",)),
        # Many points at one speed tell copper from the rest, and no more.
        ([(300.0, t, 0.9) for t in (10.0, 20.0, 30.0, 40.0, 50.0)], ("iron", "windage")),
        # The same point twice is one point.
        ([(300.0, 50.0, 0.9), (300.0, 50.0, 0.9)], ("constant", "iron", "windage")),
    ],
)
def test_terms_the_points_cannot_tell_apart_are_left_out(
    points: list[Point], left_out: tuple[str, ...]
) -> None:
    found = fitted_losses(points)
    assert found.left_out == left_out
    assert all(getattr(found, name) == 0 for name in left_out)


def test_one_point_gives_all_to_copper() -> None:
    # 300·50·(1/0.9 - 1) = 1666.67 W over 50²
    found = fitted_losses([(300.0, 50.0, 0.9)])
    assert found.copper == pytest.approx(1666.6667 / 2500, rel=1e-6)
    assert found.largest_miss == pytest.approx(0, abs=1e-12)


def test_a_coefficient_that_would_be_below_zero_is_nought() -> None:
    # Losses that fall with torque at one speed: copper would have to be negative.
    found = fitted_losses([(300.0, 50.0, 0.98), (300.0, 20.0, 0.9)])
    assert found.copper == 0
    assert found.left_out == ("iron", "windage")
    # One constant for 306.12 W and 666.67 W: (1/a + 1/b)/(1/a² + 1/b²)
    a, b = 15000 * (1 / 0.98 - 1), 6000 * (1 / 0.9 - 1)
    assert found.constant == pytest.approx((1 / a + 1 / b) / (1 / a**2 + 1 / b**2))


@pytest.mark.parametrize(
    "bad",
    [(0.0, 50.0, 0.9), (300.0, 0.0, 0.9), (300.0, 50.0, 1.0), (300.0, 50.0, 0.0), (300, -5, 0.9)],
)
def test_points_that_say_nothing_are_refused(bad: Point) -> None:
    with pytest.raises(FormulaError, match="a point of known efficiency"):
        fitted_losses([(300.0, 50.0, 0.9), bad])


def test_numbers_that_make_no_sense_are_refused() -> None:
    with pytest.raises(FormulaError, match="at least one point"):
        fitted_losses([])
    for place in range(1, 6):
        numbers = [10.0, 100.0, 0.1, 0.1, 1e-6, 10.0]
        numbers[place] = -1.0
        with pytest.raises(FormulaError, match="not be below zero"):
            motor_losses.losses(*numbers)
    for shaft, lost in ((-1.0, 5.0), (5.0, -1.0), (0.0, 0.0)):
        with pytest.raises(FormulaError, match="efficiency needs"):
            motor_losses.efficiency(shaft, lost)
    with pytest.raises(FormulaError, match="below zero"):
        motor_losses.dc_power(10.0, -1.0)


SPEEDS, TORQUES = (100.0, 200.0, 400.0), (10.0, 50.0)
GRID = ((0.80, 0.86, 0.88), (0.84, 0.92, math.nan))


def on_map(speed: float, torque: float) -> float:
    return motor_losses.efficiency_on_grid(speed, torque, SPEEDS, TORQUES, GRID)


def test_a_map_by_hand() -> None:
    assert on_map(100.0, 10.0) == pytest.approx(0.80)
    assert on_map(200.0 - 1e-9, 50.0) == pytest.approx(0.92)
    # A quarter along and half up: rows 0.815 and 0.86
    assert on_map(125.0, 30.0) == pytest.approx((0.815 + 0.86) / 2)


@given(st.floats(100, 400), st.floats(10, 50))
def test_a_map_of_a_plane_is_the_plane(speed: float, torque: float) -> None:
    def plane(w: float, t: float) -> float:
        return 0.5 + 0.0005 * w + 0.004 * t - 4e-6 * w * t

    grid = [[plane(w, t) for w in SPEEDS] for t in TORQUES]
    found = motor_losses.efficiency_on_grid(speed, torque, SPEEDS, TORQUES, grid)
    assert found == pytest.approx(plane(speed, torque), rel=1e-12)


@pytest.mark.parametrize(
    "place", [(99.9, 20), (400.1, 20), (150, 9.9), (150, 50.1), (math.nan, 20)]
)
def test_outside_the_map_nothing_is_known(place: tuple[float, float]) -> None:
    with pytest.raises(FormulaError, match="the map knows a"):
        on_map(*place)


def test_where_the_map_is_empty_nothing_is_known() -> None:
    with pytest.raises(FormulaError, match="unknown"):
        on_map(300.0, 20.0)


def test_a_map_of_the_wrong_shape_is_refused() -> None:
    with pytest.raises(FormulaError, match="one row for each"):
        motor_losses.efficiency_on_grid(100, 10, SPEEDS, TORQUES, GRID[:1])
    with pytest.raises(FormulaError, match="one row for each"):
        motor_losses.efficiency_on_grid(100, 10, SPEEDS[:2], TORQUES, GRID)
    with pytest.raises(FormulaError, match="growing"):
        motor_losses.efficiency_on_grid(100, 10, (100.0, 100.0, 400.0), TORQUES, GRID)
    with pytest.raises(FormulaError, match="two torques or more"):
        motor_losses.efficiency_on_grid(100, 10, SPEEDS, TORQUES[:1], GRID[:1])
    with pytest.raises(FormulaError, match="outside the four points"):
        motor_losses.efficiency_in_cell(300, 10, 100, 200, 5, 15, 0.8, 0.8, 0.8, 0.8)


def test_importing_the_module_brings_no_numerics_library() -> None:
    code = "import sys, wattwright.physics.motor_losses; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_an_efficiency_a_share_more_or_less_never_passes_one() -> None:
    assert motor_losses.efficiency_within(0.9, 0.0) == 0.9
    assert motor_losses.efficiency_within(0.9, -0.1) == pytest.approx(0.81)
    assert motor_losses.efficiency_within(0.98, 0.05) == 1.0
