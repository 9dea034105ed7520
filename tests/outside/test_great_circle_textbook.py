"""Distances on a sphere against worked examples and closed forms.

The worked example is that of a widely printed collection of formulas for air navigation (memory):
from 33°57' N, 118°24' W to 40°38' N, 73°47' W the arc is 0.623585 rad.
"""

from __future__ import annotations

from math import acos, cos, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.great_circle import EARTH_RADIUS, central_angle, great_circle
from wattwright.kinds import ANGLE, LENGTH
from wattwright.units import read

DEGREE = read("1°", ANGLE).number


def rad(degrees: float, minutes: float = 0.0) -> float:
    return (degrees + minutes / 60) * DEGREE


def test_the_worked_example_of_air_navigation() -> None:
    arc = central_angle(rad(33, 57), -rad(118, 24), rad(40, 38), -rad(73, 47))
    assert arc == pytest.approx(0.623585, abs=5e-7)


def test_a_minute_of_arc_is_a_nautical_mile() -> None:
    """First defined so; 1852 m (exact) fits the mean radius to a few parts in ten thousand."""
    assert great_circle(0, 0, rad(0, 1), 0) == pytest.approx(1852.0, rel=1e-3)


def test_the_mean_radius_is_that_of_the_ellipsoid() -> None:
    """(2a + b)/3 with a = 6378.137 km and 1/f = 298.257222101 of GRS 80 (memory)."""
    a = read("6378.137 km", LENGTH).number
    b = a * (1 - 1 / 298.257222101)
    assert pytest.approx((2 * a + b) / 3, abs=0.05) == EARTH_RADIUS


def test_closed_forms() -> None:
    quarter = EARTH_RADIUS * pi / 2
    assert great_circle(0, 0, 0, pi / 2) == pytest.approx(quarter)
    assert great_circle(0, 1, pi / 2, -2) == pytest.approx(quarter)
    assert great_circle(0.3, 0.4, -0.3, 0.4 - pi) == pytest.approx(2 * quarter)
    assert great_circle(0.3, 0.4, 0.3, 0.4) == 0


def test_the_error_against_the_ellipsoid_is_what_is_said() -> None:
    """Radii of curvature of the ellipsoid: a(1-e²) along the meridian at the equator, and more."""
    a, e2 = 6378137.0, 0.00669438
    worst = 0.0
    for degrees in range(0, 91, 5):
        w = sqrt(1 - e2 * sin(rad(degrees)) ** 2)
        for radius in (a * (1 - e2) / w**3, a / w):
            worst = max(worst, abs(radius / EARTH_RADIUS - 1))
    assert 0.005 < worst < 0.006


places = st.tuples(st.floats(-1.5, 1.5), st.floats(-3.1, 3.1))


@given(places, places)
def test_the_law_of_cosines_says_the_same(one, other) -> None:
    cosine = sin(one[0]) * sin(other[0]) + cos(one[0]) * cos(other[0]) * cos(one[1] - other[1])
    arc = acos(max(-1.0, min(1.0, cosine)))
    # Its own digits are lost where the two places are close.
    assert central_angle(*one, *other) == pytest.approx(arc, abs=3e-8)
    assert central_angle(*other, *one) == central_angle(*one, *other)
