"""Time-current curves and what they protect."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import fuse

CURRENTS = [200.0, 400.0, 1000.0, 3000.0]
TIMES = [600.0, 20.0, 0.3, 0.01]


def test_the_points_themselves_and_the_middle_on_logarithms() -> None:
    for current, time in zip(CURRENTS, TIMES, strict=True):
        assert fuse.melting_time(current, CURRENTS, TIMES) == pytest.approx(time)
    # Half way on both logarithms: √(200·400) and √(600·20)
    middle = fuse.melting_time((200.0 * 400.0) ** 0.5, CURRENTS, TIMES)
    assert middle == pytest.approx((600.0 * 20.0) ** 0.5)


@given(st.floats(1.0, 10.0), st.floats(10.0, 5000.0))
def test_a_constant_joule_integral_is_a_straight_line(current: float, integral: float) -> None:
    ends = [1.0, 10.0]
    times = [integral / each**2 for each in ends]
    found = fuse.melting_time(current, ends, times)
    assert found == pytest.approx(integral / current**2)


@given(st.floats(200.0, 3000.0), st.floats(200.0, 3000.0))
def test_more_current_opens_sooner(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert fuse.melting_time(high, CURRENTS, TIMES) <= fuse.melting_time(low, CURRENTS, TIMES)


@pytest.mark.parametrize("current", [199.0, 3001.0])
def test_outside_its_points_nothing_is_known(current: float) -> None:
    with pytest.raises(FormulaError, match="200 A to 3000 A and says nothing"):
        fuse.melting_time(current, CURRENTS, TIMES)


@pytest.mark.parametrize(
    ("currents", "times"),
    [
        ([200.0], [600.0]),
        ([200.0, 400.0], [600.0]),
        ([200.0, 200.0], [600.0, 20.0]),
        ([200.0, 400.0], [20.0, 600.0]),
        ([0.0, 400.0], [600.0, 20.0]),
    ],
)
def test_what_is_no_curve_is_refused(currents: list[float], times: list[float]) -> None:
    with pytest.raises(FormulaError):
        fuse.melting_time(300.0, currents, times)


def test_a_cable_is_protected_where_it_lasts_longer() -> None:
    assert fuse.protection(150.0, 20.0) == pytest.approx(7.5)
    assert fuse.weakest_protection([1.5, 7.5, 70.0]) == 1.5
    ratios = [0.8, 0.9, 1.5, 7.0, 0.5, None]
    currents = [150.0, 200.0, 300.0, 400.0, 1000.0, 3000.0]
    assert fuse.not_protected(currents, ratios) == [(150.0, 200.0), (1000.0, 3000.0)]
    assert fuse.not_protected(currents[2:4], ratios[2:4]) == []
    assert fuse.not_protected(currents[:3], ratios[:3]) == [(150.0, 200.0)]


def test_comparisons_of_nothing_are_refused() -> None:
    with pytest.raises(FormulaError):
        fuse.weakest_protection([])
    with pytest.raises(FormulaError):
        fuse.protection(0.0, 1.0)


def test_a_curve_may_be_off_and_the_joule_integral_is_current_squared_times_time() -> None:
    assert fuse.opening_within(2.0, 0.15) == pytest.approx(2.3)
    assert fuse.let_through(3000.0, 0.01) == pytest.approx(90_000.0)
