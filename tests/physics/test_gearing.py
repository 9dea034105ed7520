"""Gears: speeds and torques that balance, forward and back."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import gearing as gr

ratios = st.floats(0.5, 20.0)
radii = st.floats(0.2, 0.4)
shares = st.floats(0.5, 1.0)
torques = st.floats(-300.0, 300.0)
positive = st.floats(0.1, 60.0)


@given(positive, ratios, radii)
def test_motor_and_road_keep_step(speed: float, ratio: float, radius: float) -> None:
    turning = gr.motor_speed(speed, ratio, radius)
    assert gr.road_speed(turning, ratio, radius) == pytest.approx(speed)
    assert gr.motor_speed(2 * speed, ratio, radius) == pytest.approx(2 * turning)
    assert gr.motor_speed(speed, 2 * ratio, radius) == pytest.approx(2 * turning)


@given(torques, ratios, shares, radii, positive)
def test_the_wheel_gets_the_power_that_the_gears_leave(
    torque: float, ratio: float, share: float, radius: float, speed: float
) -> None:
    at_motor = torque * gr.motor_speed(speed, ratio, radius)
    force = gr.tractive_force(gr.wheel_torque(torque, ratio, share), radius)
    assert force * speed == pytest.approx(at_motor * share, abs=1e-9)
    back = gr.tractive_force(gr.wheel_torque_driven_back(torque, ratio, share), radius)
    assert back * speed * share == pytest.approx(at_motor, abs=1e-9)
    assert gr.motor_torque(force, radius, ratio, share) == pytest.approx(torque, abs=1e-9)


@given(positive, ratios, ratios)
def test_a_missed_shift_is_undone_by_shifting_back(speed: float, high: float, low: float) -> None:
    missed = gr.shifted_motor_speed(speed, high, low)
    assert gr.shifted_motor_speed(missed, low, high) == pytest.approx(speed)
    # The road speed stays what it was.
    assert gr.road_speed(missed, low, 0.3) == pytest.approx(gr.road_speed(speed, high, 0.3))


def test_by_hand() -> None:
    # 90 km/h on 0.29 m: 86.2 rad/s, times 1.5·4 is 517.2 rad/s or 4939 rpm
    assert gr.total_ratio(1.5, 4.0) == 6.0
    assert gr.motor_speed(25.0, 6.0, 0.29) * 60 / (2 * pi) == pytest.approx(4939, abs=0.5)
    assert gr.wheel_torque(100.0, 6.0, 0.95) == pytest.approx(570.0)
    assert gr.wheel_torque_driven_back(100.0, 6.0, 0.95) == pytest.approx(631.579, abs=1e-3)
    assert gr.tractive_force(570.0, 0.285) == pytest.approx(2000.0)
    assert gr.driveline_efficiency([0.97, 0.98, 0.99]) == pytest.approx(0.941094)
    assert gr.shifted_motor_speed(400.0, 6.0, 15.0) == 1000.0


@given(st.lists(st.floats(0.9, 1.0), max_size=5))
def test_each_pair_of_gears_takes_its_share(shares: list[float]) -> None:
    assert gr.driveline_efficiency(shares) == pytest.approx(gr.driveline_efficiency(shares[::-1]))
    assert 0 < gr.driveline_efficiency([*shares, 0.9]) <= 0.9


REFUSED: list[Callable[[], float]] = [
    lambda: gr.total_ratio(0.0, 4.0),
    lambda: gr.total_ratio(1.5, -4.0),
    lambda: gr.road_speed(500.0, 0.0, 0.3),
    lambda: gr.motor_speed(25.0, 6.0, 0.0),
    lambda: gr.tractive_force(500.0, 0.0),
    lambda: gr.shifted_motor_speed(400.0, 0.0, 15.0),
    lambda: gr.shifted_motor_speed(400.0, 6.0, 0.0),
    lambda: gr.wheel_torque(100.0, 0.0, 0.95),
    lambda: gr.wheel_torque(100.0, 6.0, 1.01),
    lambda: gr.wheel_torque_driven_back(100.0, 6.0, 0.0),
    lambda: gr.motor_torque(500.0, 0.3, 0.0, 0.95),
    lambda: gr.driveline_efficiency([0.97, 1.2]),
    lambda: gr.driveline_efficiency([0.97, 0.0]),
]


@pytest.mark.parametrize("call", REFUSED)
def test_a_gear_of_nought_and_an_efficiency_above_one_are_refused(
    call: Callable[[], float],
) -> None:
    with pytest.raises(FormulaError, match=r"above zero|1 at most"):
        call()


# -------------------------------------------------------- torques through shafts, force at the road


@given(torques, ratios, shares, radii)
def test_road_force_is_wheel_torque_over_the_radius(
    torque: float, ratio: float, share: float, radius: float
) -> None:
    at_wheel = gr.wheel_torque(torque, ratio, share)
    force = gr.road_force(torque, ratio, share, radius)
    assert force == pytest.approx(gr.tractive_force(at_wheel, radius))
    # Nothing is lost on the way to a shaft: no less gets there than to the wheel.
    assert abs(gr.torque_behind(torque, ratio)) >= abs(at_wheel)


def test_shafts_by_hand() -> None:
    # 60 N·m, final drive 4.1, wheel 0.30 m, no losses: 820 N in a gear of 1:1, twice that in 2:1
    assert gr.road_force(60.0, 4.1, 1.0, 0.30) == pytest.approx(820.0)
    assert gr.road_force(60.0, 8.2, 1.0, 0.30) == pytest.approx(1640.0)
    assert gr.road_force(60.0, 8.2, 0.9, 0.30) == pytest.approx(1476.0)
    # Behind the gears 60 * 8.2 = 492 N·m, half of it in each of two half-shafts.
    assert gr.torque_behind(60.0, 8.2) == pytest.approx(492.0)
    assert gr.torque_behind(60.0, gr.shared_ratio(8.2, 0.5)) == pytest.approx(246.0)


@pytest.mark.parametrize(
    ("ratio", "share", "radius"),
    [(0.0, 0.9, 0.3), (4.0, 0.0, 0.3), (4.0, 1.01, 0.3), (4.0, 0.9, 0.0)],
)
def test_a_force_from_gears_that_are_none_is_refused(
    ratio: float, share: float, radius: float
) -> None:
    with pytest.raises(FormulaError, match="above"):
        gr.road_force(60.0, ratio, share, radius)


def test_a_shaft_behind_no_gear_is_refused() -> None:
    with pytest.raises(FormulaError, match="above zero"):
        gr.torque_behind(60.0, 0.0)
