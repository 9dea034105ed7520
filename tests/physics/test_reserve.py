"""Reserves: one is just enough, whichever way round a quantity counts."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import reserve

positive = st.floats(0.01, 100.0)


def test_by_hand() -> None:
    assert reserve.speed_reserve(30.0, 25.0) == pytest.approx(1.2)
    assert reserve.grade_reserve(0.10, 0.20) == pytest.approx(0.5)
    # A time counts the other way: 8 s wanted and 10 s needed are too little.
    assert reserve.time_reserve(10.0, 8.0) == pytest.approx(0.8)
    assert reserve.smallest_reserve([1.2, 0.5, 0.8]) == 0.5


@given(positive, positive)
def test_just_enough_is_one_and_better_is_more(wanted: float, given_more: float) -> None:
    for share in (reserve.speed_reserve, reserve.grade_reserve):
        assert share(wanted, wanted) == 1.0
        assert (share(given_more, wanted) > 1) == (given_more > wanted)
    assert reserve.time_reserve(wanted, wanted) == 1.0
    assert (reserve.time_reserve(given_more, wanted) > 1) == (given_more < wanted)


def test_a_hill_on_which_it_rolls_back_is_below_nought() -> None:
    assert reserve.grade_reserve(-0.02, 0.20) == pytest.approx(-0.1)


@pytest.mark.parametrize(
    ("fn", "numbers"),
    [
        (reserve.speed_reserve, (30.0, 0.0)),
        (reserve.grade_reserve, (0.1, 0.0)),
        (reserve.grade_reserve, (0.1, -0.1)),
        (reserve.time_reserve, (0.0, 8.0)),
    ],
)
def test_nought_over_which_nothing_can_be_measured_is_refused(
    fn: Callable[[float, float], float], numbers: tuple[float, float]
) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        fn(*numbers)


def test_without_anything_wanted_there_is_no_smallest() -> None:
    with pytest.raises(FormulaError, match="nothing is wanted"):
        reserve.smallest_reserve([])
