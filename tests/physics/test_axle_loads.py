"""Axle loads by hand, and the sums that must always come out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.physics import axle_loads as al

things = st.lists(
    st.tuples(st.floats(0.0, 1000.0), st.floats(-1.0, 5.0), st.floats(-1.0, 1.0)), max_size=8
)
wheelbases = st.floats(1.2, 5.5)
loads = st.floats(1.0, 2000.0)
moments = st.floats(-500.0, 500.0)
tracks = st.floats(0.7, 2.4)


def test_a_thing_stands_on_the_axles_by_the_lever() -> None:
    # 100 kg one fifth of the way back, 50 kg over the rear axle, 20 kg behind it
    masses, distances = [100.0, 50.0, 20.0], [0.5, 2.5, 3.0]
    assert al.front_axle_load(masses, distances, 2.5) == pytest.approx(80 + 0 - 4)
    assert al.rear_axle_load(masses, distances, 2.5) == pytest.approx(20 + 50 + 24)
    assert al.total(masses) == 170.0
    assert al.front_side_moment(masses, distances, [0.5, 1.0, -1.0], 2.5) == pytest.approx(44)
    assert al.rear_side_moment(masses, distances, [0.5, 1.0, -1.0], 2.5) == pytest.approx(36)
    assert al.group_mass(4.0, 25.0) == 100.0


def test_nothing_weighs_nothing() -> None:
    assert al.total([]) == 0
    assert al.front_axle_load([], [], 2.5) == al.rear_axle_load([], [], 2.5) == 0
    assert al.front_side_moment([], [], [], 2.5) == al.rear_side_moment([], [], [], 2.5) == 0


def test_rows_of_unequal_length_are_refused() -> None:
    with pytest.raises(ValueError, match=r"shorter|longer"):
        al.front_axle_load([1.0, 2.0], [1.0], 2.5)


@given(things, wheelbases)
def test_both_axles_carry_everything(rows: list[tuple[float, float, float]], base: float) -> None:
    masses, distances, offsets = ([row[place] for row in rows] for place in range(3))
    both = al.front_axle_load(masses, distances, base) + al.rear_axle_load(masses, distances, base)
    assert both == pytest.approx(sum(masses), abs=1e-6)
    sides = al.front_side_moment(masses, distances, offsets, base) + al.rear_side_moment(
        masses, distances, offsets, base
    )
    assert sides == pytest.approx(sum(m * y for m, _, y in rows), abs=1e-6)


@given(loads, moments, tracks)
def test_wheels_and_axle_say_the_same(load: float, moment: float, track: float) -> None:
    left = al.left_wheel_load(load, moment, track)
    right = al.right_wheel_load(load, moment, track)
    assert al.axle_load(left, right) == pytest.approx(load)
    assert al.axle_side_moment(left, right, track) == pytest.approx(moment, abs=1e-9)


def test_a_thing_on_the_right_loads_the_right_wheel() -> None:
    assert al.left_wheel_load(600.0, 70.0, 1.4) == pytest.approx(250.0)
    assert al.right_wheel_load(600.0, 70.0, 1.4) == pytest.approx(350.0)
    assert al.axle_side_moment(250.0, 350.0, 1.4) == pytest.approx(70.0)


@given(loads, loads, wheelbases)
def test_the_centre_of_gravity_stands_where_the_lever_balances(
    front: float, rear: float, base: float
) -> None:
    x = al.cg_distance(front, rear, base)
    assert front * x == pytest.approx(rear * (base - x))
    assert al.rear_share(front, rear) == pytest.approx(x / base)


def test_results_by_hand() -> None:
    assert al.cg_distance(600.0, 400.0, 2.5) == pytest.approx(1.0)
    assert al.rear_share(600.0, 400.0) == pytest.approx(0.4)
    assert al.cg_offset(30.0, -10.0, 600.0, 400.0) == pytest.approx(0.02)
    # right less left: 20 of 600 in front, 10 of 400 behind
    front, rear = (310.0 - 290.0) * 1.4 / 2, (205.0 - 195.0) * 1.25 / 2
    assert al.side_imbalance(front, rear, 600.0, 400.0, 1.4, 1.25) == pytest.approx(0.03)
    assert al.diagonal_imbalance(310.0, 290.0, 190.0, 210.0) == pytest.approx(0.04)
    assert al.change_of_share(0.4, 0.47) == pytest.approx(0.07)
    assert al.relative_change(1000.0, 1150.0) == pytest.approx(0.15)
    assert al.relative_change(1000.0, 850.0) == pytest.approx(-0.15)
    assert al.payload(1600.0, 1150.0) == 450.0
    assert al.load_after(600.0, 135.0, 68.0) == 533.0
    assert al.side_moment_after(10.0, 4.0, -3.0) == 3.0
    assert al.with_unexplained(600.0, -20.0, 0.0) == 580.0
    assert al.with_unexplained_moment(10.0, 4.0, 0.25) == 15.0
    assert al.both_axles(600.0, 400.0) == 1000.0
