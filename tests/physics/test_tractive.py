"""What a force is enough for: every answer put back into the balance it came from."""

from __future__ import annotations

from collections.abc import Callable
from math import asin, atan, cos, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import tractive as tr

G = 9.80665
powers = st.floats(0.0, 200e3)
constants = st.floats(30.0, 2000.0)
linears = st.floats(0.0, 3.0)
squares = st.floats(0.2, 1.2)
masses = st.floats(500.0, 3000.0)
grades = st.floats(-0.4, 0.4)


def load(f0: float, f1: float, f2: float, speed: float) -> float:
    return f0 + f1 * speed + f2 * speed**2


@given(powers, constants, linears, squares)
def test_at_top_speed_the_power_is_used_up(power: float, f0: float, f1: float, f2: float) -> None:
    speed = tr.top_speed_at_power(power, f0, f1, f2)
    assert speed * load(f0, f1, f2, speed) == pytest.approx(power, rel=1e-9, abs=1e-6)


@given(st.floats(1e3, 200e3), constants, linears, squares)
def test_more_power_and_less_load_are_faster(power: float, f0: float, f1: float, f2: float) -> None:
    speed = tr.top_speed_at_power(power, f0, f1, f2)
    assert tr.top_speed_at_power(1.01 * power, f0, f1, f2) > speed
    assert tr.top_speed_at_power(power, 1.01 * f0, f1, f2) < speed
    assert tr.top_speed_at_power(power, f0, f1 + 0.05, f2) < speed
    assert tr.top_speed_at_power(power, f0, f1, 1.01 * f2) < speed


@given(st.floats(5e3, 150e3), constants, linears, squares, st.floats(0.1, 10.0))
def test_top_speed_does_not_depend_on_the_unit_of_length(
    power: float, f0: float, f1: float, f2: float, unit: float
) -> None:
    speed = tr.top_speed_at_power(power, f0, f1, f2)
    other = tr.top_speed_at_power(power * unit, f0, f1 / unit, f2 / unit**2)
    assert other == pytest.approx(unit * speed, rel=1e-9)


# A wind that is there at all slows by more than the last digits of a speed.
@given(st.floats(5e3, 150e3), constants, squares, st.just(0.0) | st.floats(1e-6, 10.0))
def test_a_headwind_is_slower_by_less_than_itself(
    power: float, f0: float, f2: float, wind: float
) -> None:
    f0 = max(f0, f2 * wind**2)
    still = tr.top_speed_at_power(power, f0, 0.0, f2)
    windy = tr.top_speed_at_power(power, f0 + f2 * wind**2, 2 * f2 * wind, f2)
    assert still - wind <= windy <= still


@given(st.floats(10e3, 150e3), st.floats(30.0, 500.0), squares)
def test_closer_points_come_to_the_closed_form(power: float, f0: float, f2: float) -> None:
    """A chord over a step h lies over P/v by h²·P/(4·v³) at most, where the slope is P/v²."""
    exact = tr.top_speed_at_power(power, f0, 0.0, f2)
    for step in (2.0, 0.5, 0.125):
        speeds = [5 + step * place for place in range(int(115 / step) + 1)]
        forces = [power / speed for speed in speeds]
        found = tr.top_speed_over_points(speeds, forces, f0, 0.0, f2)
        assert 0 <= found - exact + 1e-9 <= step**2 / (4 * (exact - step)) + 2e-9


@given(st.floats(500.0, 5000.0), st.floats(-30.0, 30.0), constants, linears, squares)
def test_over_points_the_force_is_just_enough(
    start: float, slope: float, f0: float, f1: float, f2: float
) -> None:
    speeds = [0.0, 20.0, 100.0]
    forces = [start + f0 + slope * speed for speed in speeds]
    found = tr.top_speed_over_points(speeds, forces, f0, f1, f2)
    if load(f0, f1, f2, 100.0) <= forces[-1]:
        assert found == 100.0
    else:
        assert start + f0 + slope * found == pytest.approx(load(f0, f1, f2, found), rel=1e-9)


def test_where_the_curve_ends_the_motor_does() -> None:
    assert tr.top_speed_over_points([0.0, 15.0, 30.0], [3e3, 3e3, 2e3], 100.0, 0.0, 0.5) == 30.0


def test_a_force_that_is_just_enough_is_enough() -> None:
    assert tr.top_speed_over_points([0.0, 10.0, 20.0], [1e2, 2e2, 1e2], 100.0, 0.0, 0.0) == 20.0


def test_a_dip_in_the_curve_is_not_jumped_over() -> None:
    speeds, forces = [0.0, 10.0, 20.0, 30.0], [3000.0, 0.0, 3000.0, 0.0]
    # 3000 - 300·v = 200: stuck before the dip at 10 m/s
    assert tr.top_speed_over_points(speeds, forces, 200.0, 0.0, 0.0) == pytest.approx(28 / 3)


@given(masses, grades, st.floats(0.0, 40.0))
def test_what_drives_up_a_slope_at_a_speed_can_climb_it(
    mass: float, grade: float, speed: float
) -> None:
    level = tr.driving_force(120.0, 1.0, 0.5, speed, mass, 0.0)
    uphill = tr.driving_force(120.0, 1.0, 0.5, speed, mass, grade)
    assert tr.gradient_possible(tr.surplus_force(uphill, level), mass) == pytest.approx(
        grade, abs=1e-9
    )


@given(masses, grades, st.floats(0.005, 0.05))
def test_the_force_that_starts_on_a_hill_starts_on_that_hill(
    mass: float, grade: float, crr: float
) -> None:
    force = tr.hill_start_force(mass, grade, crr)
    assert tr.hill_start_grade(force, mass, crr) == pytest.approx(grade, abs=1e-9)
    assert force == pytest.approx(mass * G * (sin(atan(grade)) + crr * cos(atan(grade))))


@given(masses, st.floats(0.0, 0.4))
def test_rolling_left_as_on_the_level_asks_for_too_much_but_not_more_than_is_said(
    mass: float, grade: float
) -> None:
    crr = 0.012
    driving = tr.driving_force(crr * mass * G, 0.0, 0.0, 0.0, mass, grade)
    too_much = driving - tr.hill_start_force(mass, grade, crr)
    assert too_much >= -1e-9
    if grade <= 0.2:
        assert too_much <= 0.02 * crr * mass * G


def test_by_hand() -> None:
    assert tr.gradient_possible(1000.0, 1000.0) == pytest.approx(tan(asin(1 / G)))
    assert tr.wheel_power(500.0, 25.0) == 12_500.0
    assert tr.motor_power(500.0, 25.0, 0.95) == pytest.approx(13_157.9, abs=0.05)
    assert tr.force_at_power(12_500.0, 25.0) == 500.0
    assert tr.surplus_force(500.0, 320.0) == 180.0
    assert tr.top_speed_at_power(0.0, 100.0, 0.0, 0.5) == 0.0
    # 200·v + 0.5·v³ at 20 m/s: 4000 + 4000
    assert tr.top_speed_at_power(8000.0, 200.0, 0.0, 0.5) == pytest.approx(20.0)


@given(
    st.floats(5.0, 200.0), st.floats(2.0, 16.0), st.floats(0.7, 1.0), st.floats(0.0, 400.0), masses
)
def test_regeneration_forward_and_back(
    torque: float, ratio: float, share: float, drag: float, mass: float
) -> None:
    helped = tr.regen_deceleration_with_losses(torque, ratio, share, 0.3, drag, mass)
    alone = tr.regen_deceleration(torque, ratio, 0.3, mass)
    assert helped >= alone * (1 - 1e-12)
    assert tr.regen_deceleration_with_losses(torque, ratio, 1.0, 0.3, 0.0, mass) == pytest.approx(
        alone
    )
    assert tr.regen_torque_at(helped, ratio, share, 0.3, drag, mass) == pytest.approx(torque)
    # A lower gear brakes more in the ratio of the ratios.
    assert tr.regen_deceleration(torque, 3 * ratio, 0.3, mass) == pytest.approx(3 * alone)


REFUSED: list[tuple[Callable[[], float], str]] = [
    (lambda: tr.motor_power(500.0, 25.0, 0.0), "1 at most"),
    (lambda: tr.motor_power(500.0, 25.0, 1.01), "1 at most"),
    (lambda: tr.force_at_power(5e3, 0.0), "at standstill"),
    (lambda: tr.top_speed_at_power(-1.0, 100.0, 0.0, 0.5), "must be positive"),
    (lambda: tr.top_speed_at_power(5e3, 100.0, 0.0, 0.0), "must be positive"),
    (lambda: tr.top_speed_at_power(5e3, -100.0, 0.0, 0.5), "take points instead"),
    (lambda: tr.top_speed_at_power(5e3, 10.0, 10.0, 0.5), "take points instead"),
    (lambda: tr.top_speed_over_points([0.0], [1e3], 100.0, 0.0, 0.5), "rising speeds"),
    (lambda: tr.top_speed_over_points([0.0, 0.0], [1e3, 9e2], 100.0, 0.0, 0.5), "rising speeds"),
    (lambda: tr.top_speed_over_points([0.0, 9.0], [90.0, 9e2], 100.0, 0.0, 0.5), "first point"),
    (lambda: tr.gradient_possible(9806.65, 0.0), "the mass must be above zero"),
    (lambda: tr.hill_start_grade(9806.65, 0.0, 0.01), "the mass must be above zero"),
    (lambda: tr.regen_deceleration(60.0, 4.1, 0.0, 1000.0), "above zero"),
    (lambda: tr.regen_deceleration(60.0, 4.1, 0.3, 0.0), "the mass must be above zero"),
    (lambda: tr.regen_deceleration_with_losses(60.0, 4.1, 0.0, 0.3, 0.0, 1e3), "1 at most"),
    (lambda: tr.regen_deceleration_with_losses(60.0, 4.1, 0.9, 0.3, 0.0, 0.0), "above zero"),
    (lambda: tr.regen_torque_at(1.0, 0.0, 0.9, 0.3, 0.0, 1e3), "a ratio above zero"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED)
def test_what_cannot_be_is_refused(call: Callable[[], float], words: str) -> None:
    with pytest.raises(FormulaError, match=words):
        call()


def test_points_of_unequal_number_are_refused() -> None:
    with pytest.raises(ValueError, match=r"shorter|longer"):
        tr.top_speed_over_points([0.0, 9.0], [900.0], 100.0, 0.0, 0.5)


@given(st.floats(50.0, 300.0), st.floats(-0.5, 10.0), st.floats(0.2, 1.2), st.floats(0.0, 60.0))
def test_top_speed_at_a_force_is_where_the_road_takes_it(
    f0: float, f1: float, f2: float, speed: float
) -> None:
    force = f0 + f1 * speed + f2 * speed**2
    if force >= f0:
        found = tr.top_speed_at_force(force, f0, f1, f2)
        assert f0 + f1 * found + f2 * found**2 == pytest.approx(force)
        # Below 1e-7 m/s the force is that of standstill to its last digit.
        assert found >= speed * (1 - 1e-9) - 1e-6


def test_top_speed_at_a_force_by_hand() -> None:
    # 100 N and 0.5 * 30² N
    assert tr.top_speed_at_force(550.0, 100.0, 0.0, 0.5) == pytest.approx(30.0)
    assert tr.top_speed_at_force(100.0, 100.0, 0.0, 0.5) == 0.0
    with pytest.raises(FormulaError, match="not even enough"):
        tr.top_speed_at_force(99.0, 100.0, 0.0, 0.5)
    with pytest.raises(FormulaError, match="must be positive"):
        tr.top_speed_at_force(550.0, 100.0, 0.0, 0.0)
