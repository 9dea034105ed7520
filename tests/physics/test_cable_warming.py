"""Cables that carry a current for a while: closed forms and points."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import cable_warming as w


@given(st.floats(280.0, 320.0), st.floats(330.0, 400.0), st.floats(1.0, 2000.0), st.floats(10, 1e3))
def test_time_and_temperature_are_one_the_inverse_of_the_other(
    start: float, steady: float, time: float, constant: float
) -> None:
    reached = w.warmed(start, steady, time, constant)
    assert start <= reached <= steady
    if steady - reached > 1e-3:
        assert w.time_to_warm(start, steady, reached, constant) == pytest.approx(time, rel=1e-6)


def test_after_one_time_constant_a_third_and_some_is_left() -> None:
    assert w.warmed(300.0, 400.0, 60.0, 60.0) == pytest.approx(400.0 - 100.0 / math.e)
    assert w.warmed(300.0, 400.0, 0.0, 60.0) == 300.0


def test_current_makes_the_time_constant_longer() -> None:
    # 150/(1/3) = 450 s without current; I²·R′·α = 0.04899 at 150 A: 150/0.28434 = 527.5 s
    assert w.time_constant(150.0, 3.0, 0.0, 0.554e-3, 0.00393) == pytest.approx(450.0)
    assert w.time_constant(150.0, 3.0, 150.0, 0.554e-3, 0.00393) == pytest.approx(527.53, rel=1e-4)


def test_capacities_by_hand() -> None:
    # 35 mm²·3.45 = 120.75; π/4·(10.5² - 7.6²)·1.7 = 70.08
    assert w.conductor_capacity(35e-6, 3.45e6) == pytest.approx(120.75)
    assert w.insulation_capacity(7.6e-3, 10.5e-3, 1.7e6) == pytest.approx(70.08, rel=1e-3)
    assert w.capacity(120.75, 70.08, 0.44) == pytest.approx(151.5852)


@given(st.floats(1.01, 5.0))
def test_less_than_half_of_an_insulation_is_as_warm_as_the_conductor(ratio: float) -> None:
    assert 0.15 < w.insulation_share(1e-3, ratio * 1e-3) < 0.5
    # Thin, it is a half.
    assert w.insulation_share(1e-3, 1.001e-3) == pytest.approx(0.5, abs=1e-3)


def test_the_share_is_the_heat_of_a_steady_profile_over_that_of_one_as_warm_throughout() -> None:
    """Between surfaces at 1 and 0 the rise goes as ln(D/r)/ln(D/d): its mean over the area."""
    inside, outside, rings = 7.6e-3, 10.5e-3, 100_000
    width = (outside - inside) / rings
    held = area = 0.0
    for ring in range(rings):
        r = inside + (ring + 0.5) * width
        held += r * math.log(outside / r) / math.log(outside / inside)
        area += r
    assert w.insulation_share(inside, outside) == pytest.approx(held / area, rel=1e-6)


def test_points_add_up() -> None:
    # 100·(10/50 + 10/40)
    assert w.time_over_points(100.0, [10.0, 10.0], [50.0, 40.0]) == pytest.approx(45.0)
    assert w.settled_temperature(330.0, 118.0, 120.0, 30.0, 150.0) == pytest.approx(330.4)


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (w.insulation_capacity, (0.01, 0.009, 1e6)),
        (w.insulation_share, (0.01, 0.01)),
        (w.time_constant, (150.0, 3.0, 500.0, 0.554e-3, 0.00393)),
        (w.time_constant, (150.0, 0.0, 50.0, 0.554e-3, 0.00393)),
        (w.warmed, (300.0, 400.0, 1.0, 0.0)),
        (w.warmed, (300.0, 400.0, -1.0, 10.0)),
        (w.time_to_warm, (300.0, 400.0, 410.0, 10.0)),
        (w.time_to_warm, (300.0, 400.0, 290.0, 10.0)),
        (w.time_over_points, (100.0, [1.0], [5.0, 5.0])),
        (w.time_over_points, (100.0, [1.0], [-5.0])),
        (w.settled_temperature, (330.0, 1.0, 2.0, 30.0, 0.0)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError):
        call(*numbers)  # type: ignore[operator]


def test_balance_of_heat_after_a_time_and_for_a_time_are_each_other_turned_round() -> None:
    """35 mm² of copper, 120.75 J/(K·m), 0.7 Ω/km when hot: by hand 10 s at 500 A gain 12.6 K
    with 95 % of the heat made and half of 200 A lost."""
    gained = w.temperature_after(500.0, 10.0, 330.0, 120.75, 0.7e-3, 200.0, 0.5, 0.95)
    assert gained - 330.0 == pytest.approx(12.608, abs=1e-3)
    back = w.current_for_time(10.0, gained, 330.0, 120.75, 0.7e-3, 200.0, 0.5, 0.95)
    assert back == pytest.approx(500.0)


def test_after_hours_the_current_for_a_time_is_that_for_hours() -> None:
    hours = w.current_for_time(1e9, 400.0, 330.0, 120.75, 0.7e-3, 200.0, 1.0, 1.0)
    assert hours == pytest.approx(200.0, rel=1e-6)


@pytest.mark.parametrize(
    ("fn", "arguments"),
    [
        (w.temperature_after, (500.0, -1.0, 330.0, 120.0, 7e-4, 200.0, 1.0, 1.0)),
        (w.temperature_after, (500.0, 1.0, 330.0, 0.0, 7e-4, 200.0, 1.0, 1.0)),
        (w.current_for_time, (0.0, 400.0, 330.0, 120.0, 7e-4, 200.0, 1.0, 1.0)),
        (w.current_for_time, (1.0, 320.0, 330.0, 120.0, 7e-4, 200.0, 1.0, 1.0)),
    ],
)
def test_balances_that_cannot_be_are_refused(fn, arguments) -> None:
    with pytest.raises(FormulaError):
        fn(*arguments)


def test_an_overload_adds_to_what_is_borne_for_life() -> None:
    assert w.overload_limit(363.15, 50.0) == pytest.approx(413.15)
