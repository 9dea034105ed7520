"""Temperature of a cable over time: order, limits and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.cable_over_time import Warming, through
from wattwright.cylinder_in_air import CableInAir
from wattwright.errors import FormulaError
from wattwright.physics import cable_warming

AIR = 303.15
CABLE = CableInAir(0.0105, 0.9, 1.0, AIR, 0.26, 1.0)


def at(current: float) -> Warming:
    return Warming(CABLE, current**2 * 0.554e-3, 0.00393, 293.15, 150.0)


@settings(deadline=None)
@given(st.floats(0.0, 900.0), st.floats(240.0, 390.0), st.floats(1.0, 300.0))
def test_time_and_temperature_are_one_the_inverse_of_the_other(
    current: float, start: float, time: float
) -> None:
    try:
        end = at(current).after(start, time)
    except FormulaError:
        return
    if abs(end - start) > 0.1 and abs(at(current).kept(end)) > 0.1:
        assert at(current).time_between(start, end) == pytest.approx(time, rel=1e-6)


@settings(deadline=None)
@given(st.floats(10.0, 400.0), st.floats(260.0, 380.0), st.floats(1.0, 1e3), st.floats(1.0, 1e3))
def test_two_times_one_after_the_other_are_one(
    current: float, start: float, first: float, second: float
) -> None:
    # The steps begin anew in the middle; where the cable passes the air's temperature, that shows.
    middle = at(current).after(start, first)
    both = at(current).after(start, first + second)
    assert at(current).after(middle, second) == pytest.approx(both, rel=2e-4)


def test_more_current_more_time_and_more_heat_before_are_hotter() -> None:
    by_current = [at(current).after(AIR, 120.0) for current in (0.0, 50.0, 200.0, 400.0)]
    by_time = [at(200.0).after(AIR, time) for time in (0.0, 1.0, 60.0, 600.0, 1e5)]
    by_start = [at(200.0).after(start, 60.0) for start in (280.0, AIR, 340.0, 380.0)]
    for row in (by_current, by_time, by_start):
        assert row == sorted(row)
    assert by_current[0] == by_time[0] == AIR


def test_the_time_is_made_of_its_points() -> None:
    rises, kept = at(300.0).points_between(AIR, 363.15)
    assert sum(rises) == pytest.approx(60.0, rel=1e-4)
    found = cable_warming.time_over_points(150.0, rises, kept)
    assert found == pytest.approx(at(300.0).time_between(AIR, 363.15), rel=1e-12)
    assert at(300.0).points_between(AIR, AIR) == ([], [])
    assert at(300.0).time_between(AIR, AIR) == 0.0


def test_the_last_step_of_newton_changes_nothing() -> None:
    trial = at(300.0).after(AIR, 118.0)
    step = cable_warming.settled_temperature(trial, 118.0, 120.0, at(300.0).kept(trial), 150.0)
    assert step == pytest.approx(at(300.0).after(AIR, 120.0), abs=5e-3)


def test_a_duty_cools_between_its_loads() -> None:
    ends = through(at, AIR, [(300.0, 60.0), (0.0, 60.0), (300.0, 60.0)])
    assert ends[0] == AIR
    assert ends[1] > ends[2] > AIR
    assert ends[3] > ends[1]


@pytest.mark.parametrize(
    ("current", "start", "end"),
    [(150.0, AIR, 373.15), (150.0, AIR, 290.0), (0.0, 350.0, 360.0), (0.0, AIR, 310.0)],
)
def test_what_never_comes_is_refused(current: float, start: float, end: float) -> None:
    with pytest.raises(FormulaError, match="never gets"):
        at(current).time_between(start, end)


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(FormulaError, match="time goes forward"):
        at(100.0).after(AIR, -1.0)
    for heat, coefficient, capacity in ((1.0, 0.0, 1.0), (-1.0, 0.004, 1.0), (1.0, 0.004, 0.0)):
        with pytest.raises(FormulaError):
            Warming(CABLE, heat, coefficient, 293.15, capacity)
    with pytest.raises(FormulaError):
        at(5000.0).after(AIR, 60.0)
