"""A forgotten thing is put into the ledger, and must come out with its mass and its place."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import axle_loads, weigh_in


@given(
    st.floats(1.0, 300.0) | st.floats(-300.0, -1.0),
    st.floats(-1.0, 5.0),
    st.floats(-1.0, 1.0),
    st.floats(1.5, 4.5),
)
def test_one_missing_thing_is_found_by_mass_and_place(
    mass: float, x: float, y: float, base: float
) -> None:
    front = axle_loads.front_axle_load([mass], [x], base)
    rear = axle_loads.rear_axle_load([mass], [x], base)
    sides = (
        axle_loads.front_side_moment([mass], [x], [y], base),
        axle_loads.rear_side_moment([mass], [x], [y], base),
    )
    assert weigh_in.missing_mass(front, rear) == pytest.approx(mass)
    assert weigh_in.missing_distance(front, rear, base) == pytest.approx(x, abs=1e-9)
    assert weigh_in.missing_offset(*sides, front, rear) == pytest.approx(y, abs=1e-9)


def test_nothing_missing_in_total_has_no_place() -> None:
    with pytest.raises(FormulaError, match="no single place"):
        weigh_in.missing_distance(20.0, -20.0, 2.5)
    with pytest.raises(FormulaError, match="no single place"):
        weigh_in.missing_offset(1.0, 2.0, 20.0, -20.0)


def test_differences() -> None:
    assert weigh_in.unexplained(510.0, 500.0) == 10.0
    assert weigh_in.unexplained(490.0, 500.0) == -10.0
    assert weigh_in.unexplained_moment(3.0, 5.0) == -2.0


@given(st.lists(st.floats(0.0, 100.0), max_size=8))
def test_joint_accuracy_is_the_root_of_the_sum_of_squares(bands: list[float]) -> None:
    assert weigh_in.joint_accuracy(bands) == pytest.approx(math.hypot(*bands))
