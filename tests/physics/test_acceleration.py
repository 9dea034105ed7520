"""Times: closed forms that agree where they meet, and sums that settle."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import acceleration as ac

masses = st.floats(500.0, 3000.0)
forces = st.floats(500.0, 8000.0)
powers = st.floats(10e3, 200e3)
speeds = st.floats(0.0, 50.0)


@given(masses, forces, powers, speeds, speeds)
def test_force_then_power_lies_between_and_joins_the_two(
    mass: float, force: float, power: float, one: float, two: float
) -> None:
    low, high = sorted((one, two))
    both = ac.time_at_force_then_power(mass, force, power, low, high)
    by_force = ac.time_at_force(mass, force, low, high)
    by_power = ac.time_at_power(mass, power, low, high)
    # It is never faster than either limit alone, nor slower than both after one another.
    assert both >= max(by_force, by_power) - 1e-9
    assert both <= by_force + by_power + 1e-9
    corner = power / force
    if high <= corner:
        assert both == pytest.approx(by_force, abs=1e-9)
    if low >= corner:
        assert both == pytest.approx(by_power, abs=1e-9)


@given(masses, forces, powers, st.floats(0.0, 1.0))
def test_stopping_the_watch_on_the_way_changes_nothing(
    mass: float, force: float, power: float, share: float
) -> None:
    whole = ac.time_at_force_then_power(mass, force, power, 0.0, 40.0)
    first = ac.time_at_force_then_power(mass, force, power, 0.0, 40 * share)
    rest = ac.time_at_force_then_power(mass, force, power, 40 * share, 40.0)
    assert first + rest == pytest.approx(whole)


@given(masses, forces, st.floats(0.1, 10.0))
def test_time_does_not_depend_on_the_unit_of_length(mass: float, force: float, unit: float) -> None:
    time = ac.time_at_force_then_power(mass, force, 40e3, 3.0, 30.0)
    other = ac.time_at_force_then_power(mass, force * unit, 40e3 * unit**2, 3.0 * unit, 30.0 * unit)
    assert other == pytest.approx(time)
    assert ac.acceleration(force, mass) * ac.time_at_force(mass, force, 5.0, 9.0) == pytest.approx(
        4.0
    )


@given(st.lists(st.floats(0.01, 5.0), min_size=1, max_size=12))
def test_widths_share_out_the_whole_way(steps: list[float]) -> None:
    points = [0.0]
    for step in steps:
        points.append(points[-1] + step)
    widths = ac.speed_widths(points)
    assert len(widths) == len(points)
    assert min(widths) > 0
    assert sum(widths) == pytest.approx(points[-1])


def falling(speed: float) -> float:
    return 3000.0 - 40.0 * speed


# ∫ m/(3000 - 40·v) dv from 0 to 50
EXACT = 1200 / 40 * log(3000 / 1000)


def test_the_sum_settles_with_the_square_of_the_step() -> None:
    off = []
    for steps in (10, 20, 40, 80):
        points = [50.0 * place / steps for place in range(steps + 1)]
        time = ac.time_over_points(1200.0, ac.speed_widths(points), [falling(v) for v in points])
        off.append(time - EXACT)
    for coarse, fine in pairwise(off):
        assert coarse / fine == pytest.approx(4.0, rel=0.05)


@pytest.mark.parametrize("tolerance", [1e-2, 1e-3, 1e-5])
def test_points_are_chosen_close_enough(tolerance: float) -> None:
    points = ac.speeds_between(0.0, 50.0, falling, tolerance)
    assert (points[0], points[-1]) == (0.0, 50.0)
    time = ac.time_over_points(1200.0, ac.speed_widths(points), [falling(v) for v in points])
    assert time == pytest.approx(EXACT, rel=tolerance)
    along = ac.times_along(1200.0, points, [falling(v) for v in points])
    assert len(along) == len(points)
    assert along[0] == 0.0
    assert along == sorted(along)
    assert along[-1] == pytest.approx(time, rel=1e-12)


def test_more_points_are_taken_only_where_they_are_needed() -> None:
    even = ac.speeds_between(0.0, 50.0, lambda speed: 2000.0 + 0 * speed)
    steep = ac.speeds_between(0.0, 50.0, lambda speed: 3000.0 - 59.9 * speed)
    assert len(even) == 2 * ac.FEWEST + 1 < len(steep)


def test_a_corner_in_the_force_settles_too() -> None:
    def force_at(speed: float) -> float:
        return min(4000.0, 50e3 / max(speed, 1.0))

    points = ac.speeds_between(0.0, 30.0, force_at, 1e-4)
    time = ac.time_over_points(1260.0, ac.speed_widths(points), [force_at(v) for v in points])
    exact = ac.time_at_force_then_power(1260.0, 4000.0, 50e3, 0.0, 30.0)
    assert time == pytest.approx(exact, rel=2e-4)


def test_a_force_that_never_settles_is_refused() -> None:
    calls: list[float] = []

    def erratic(speed: float) -> float:
        calls.append(speed)
        return 1000.0 + len(calls)

    with pytest.raises(FormulaError, match="too abruptly"):
        ac.speeds_between(0.0, 50.0, erratic, 1e-9)


def test_shifts_take_their_time_and_cost_speed() -> None:
    assert ac.time_with_shifts([4.0, 6.0, 9.0], 2.0, 0.8) == pytest.approx(20.6)
    assert ac.time_with_shifts([4.0], 0.0, 0.8) == 4.0
    assert ac.speed_after_shift(20.0, 300.0, 1200.0, 0.8) == pytest.approx(19.8)


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: ac.acceleration(1000.0, 0.0), "above zero"),
    (lambda: ac.time_at_force(1000.0, 0.0, 0.0, 10.0), "no speed is gained"),
    (lambda: ac.time_at_power(1000.0, -5.0, 0.0, 10.0), "no speed is gained"),
    (lambda: ac.time_at_force_then_power(1000.0, 0.0, 5e3, 0.0, 10.0), "above zero"),
    (lambda: ac.time_at_force_then_power(1000.0, 1e3, 0.0, 0.0, 10.0), "above zero"),
    (lambda: ac.time_at_force_then_power(1000.0, 1e3, 5e3, 10.0, 9.0), "must rise"),
    (lambda: ac.speed_widths([5.0]), "rising speeds"),
    (lambda: ac.speed_widths([5.0, 4.0]), "rising speeds"),
    (lambda: ac.time_over_points(1e3, [1.0, 1.0], [500.0, 0.0]), "no force is left"),
    (lambda: ac.speeds_between(0.0, 50.0, lambda v: 1000.0 - 25 * v), "no force is left"),
    (lambda: ac.speed_after_shift(20.0, 300.0, 0.0, 0.8), "above zero"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_what_cannot_be_is_refused(call: Callable[[], object], words: str) -> None:
    with pytest.raises(FormulaError, match=words):
        call()
