"""Pilot and proximity as manuals of testers, a wiki of a student team and a page explain them.

Sources. Duty and current: a table of every per cent in a tester's manual, by IEC 61851-1.
Resistors and levels of the states: 2.74 kΩ, 882 Ω and 246 Ω for 9 V, 6 V and 3 V in three
testers' manuals and a maker's reference design; 1.3 kΩ and 270 Ω, and levels ± 1 V, in a
controller's manual. Coding of cables with its ranges: a lexicon page on these contacts. Proximity
of type 1: 150 Ω and 480 Ω on a page of explanation; 4.46 V, 2.77 V and 1.53 V measured by a student
team (the last one 0.02 V above the divider). Means of the square wave: by hand, 16 A as 4/15.
"""

from __future__ import annotations

import pytest

from wattwright.kinds import CURRENT, RESISTANCE
from wattwright.physics import pilot
from wattwright.tables import load
from wattwright.units import read


def current_at(duty: float) -> float:
    """By whichever of both rules holds."""
    return (pilot.pilot_current_above if duty > 0.85 else pilot.pilot_current)(duty)


def duty_for(current: float) -> float:
    """By whichever of both rules holds."""
    return (pilot.pilot_duty_above if current > 51 else pilot.pilot_duty)(current)


# Per cent and amperes as that table prints them, and the points between its rules.
POINTS = [
    (8, 6.0),
    (9, 6.0),
    (10, 6.0),
    (11, 6.6),
    (16, 9.6),
    (20, 12.0),
    (25, 15.0),
    (30, 18.0),
    (40, 24.0),
    (50, 30.0),
    (53, 31.8),
    (64, 38.4),
    (70, 42.0),
    (80, 48.0),
    (85, 51.0),
    (86, 55.0),
    (87, 57.5),
    (90, 65.0),
    (92, 70.0),
    (96, 80.0),
    (96.5, 80.0),
    (97, 80.0),
]


@pytest.mark.parametrize(("per_cent", "amperes"), POINTS)
def test_a_duty_says_what_the_table_says(per_cent: float, amperes: float) -> None:
    assert current_at(per_cent / 100) == pytest.approx(amperes, abs=1e-9)


@pytest.mark.parametrize(
    ("amperes", "per_cent"),
    [
        *((6, 10), (9.6, 16), (12, 20), (15, 25), (16, 26.67), (30, 50), (32, 53.33)),
        *((40, 66.67), (51, 85), (55, 86), (65, 90), (80, 96)),
    ],
)
def test_a_current_is_said_by_the_duty_of_the_table(amperes: float, per_cent: float) -> None:
    assert 100 * duty_for(amperes) == pytest.approx(per_cent, abs=0.005)


@pytest.mark.parametrize(
    ("ohms", "nominal", "by_hand"),
    # 0.7 V + 11.3 V · R/(R + 1 kΩ)
    [(2740.0, 9.0, 8.979), (882.0, 6.0, 5.995), (246.0, 3.0, 2.931)],
)
def test_the_resistors_of_a_state_make_its_level(
    ohms: float, nominal: float, by_hand: float
) -> None:
    found = pilot.pilot_high(12.0, 1000.0, ohms, 0.7)
    assert found == pytest.approx(nominal, abs=0.075)
    assert found == pytest.approx(by_hand, abs=1e-3)


@pytest.mark.parametrize(("second", "printed"), [(1300.0, 882.0), (270.0, 246.0)])
def test_the_printed_resistances_are_two_side_by_side(second: float, printed: float) -> None:
    assert pilot.side_by_side(2740.0, second) == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize(
    ("amperes", "level", "mean"),
    # 4/15 · 9 - 11/15 · 12 = 2.4 - 8.8, and so on
    [(16.0, 9.0, -6.4), (16.0, 6.0, -7.2), (32.0, 9.0, -0.8), (32.0, 6.0, -2.4)],
)
def test_an_ordinary_voltmeter_shows_the_mean(amperes: float, level: float, mean: float) -> None:
    duty = duty_for(amperes)
    assert pilot.pilot_average(duty, level, -12.0) == pytest.approx(mean, abs=1e-9)


def test_the_lower_level_without_a_diode() -> None:
    # -12 V · 882/1882
    assert pilot.pilot_low_without_diode(12.0, 1000.0, 882.0) == pytest.approx(-5.6, abs=0.03)


@pytest.mark.parametrize(
    ("handle", "by_hand", "measured"),
    [(None, 4.455, 4.46), (480.0, 2.763, 2.77), (150.0, 1.505, 1.53)],
)
def test_proximity_of_type_1(handle: float | None, by_hand: float, measured: float) -> None:
    to_earth = 2700.0 if handle is None else pilot.side_by_side(2700.0, handle)
    found = pilot.proximity_voltage(5.0, 330.0, to_earth)
    assert found == pytest.approx(by_hand, abs=1e-3)
    assert found == pytest.approx(measured, abs=0.03)


@pytest.mark.parametrize(
    ("ohms", "amperes", "least", "most"),
    [(1500, 13, 1000, 2200), (680, 20, 330, 1000), (220, 32, 150, 330), (100, 63, 75, 150)],
)
def test_codes_of_cables(ohms: int, amperes: int, least: int, most: int) -> None:
    row = load("proximity_codes").row(f"{ohms} Ω")
    assert read(row.cells["current"], CURRENT).number == amperes
    for column, number in (("resistance", ohms), ("least", least), ("most", most)):
        assert read(row.cells[column], RESISTANCE).number == number
    assert row.limits
