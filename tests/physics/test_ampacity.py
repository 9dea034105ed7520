"""Factors on ratings, by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import ampacity


@given(st.floats(320.0, 500.0), st.floats(250.0, 315.0), st.floats(250.0, 315.0))
def test_warmer_air_takes_off_and_the_air_of_the_table_nothing(
    limit: float, one: float, other: float
) -> None:
    factor = ampacity.ambient_factor(limit, one, other)
    assert (factor > 1) == (one < other) or one == pytest.approx(other)
    assert ampacity.ambient_factor(limit, one, one) == 1.0
    assert factor * ampacity.ambient_factor(limit, other, one) == pytest.approx(1.0)


def test_factors_multiply() -> None:
    # 57·0.87·0.8
    assert ampacity.derated(57.0, [0.87, 0.8]) == pytest.approx(39.672)
    # 1.25·32 + 2
    assert ampacity.continuous_rating(32.0, 2.0, 1.25) == pytest.approx(42.0)
    assert ampacity.used(39.672, 57.0) == pytest.approx(0.696)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (ampacity.ambient_factor, (300.0, 290.0, 300.0)),
        (ampacity.ambient_factor, (340.0, 340.0, 300.0)),
        (ampacity.derated, (57.0, [0.9, -0.1])),
        (ampacity.used, (1.0, 0.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]
