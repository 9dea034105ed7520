"""A coast-down whose times are known exactly.

Source: UN GTR No. 15, Annex 4, force of a window from its time (from memory). No published run
with both times and coefficients was found, so the run is made: f0 129.44778 N, f2 0.03019540895
N/(km/h)², equivalent mass 1,236 kg, and the times follow from the closed form. Times are given
to 0.1 ms and forces to 0.001 N; half a unit of the last digit is allowed, for a force also what
that makes of its time.
"""

from __future__ import annotations

import pytest

from wattwright.physics.road_load import (
    coast_down_force,
    coast_down_time,
    fitted_constant,
    fitted_square,
    mid_speed,
    road_load,
    two_window_constant,
    two_window_square,
)

MASS, F0, F2 = 1236.0, 129.44778, 0.03019540895 * 3.6**2

# from km/h, to km/h, time s, mean force N, force at the middle N
WINDOWS = [
    (125, 115, 6.0903, 563.738, 564.262),
    (105, 95, 7.9669, 430.949, 431.402),
    (85, 75, 10.6510, 322.348, 322.698),
    (65, 55, 14.4292, 237.944, 238.151),
    (45, 35, 19.3167, 177.739, 177.760),
    (25, 15, 24.2310, 141.692, 141.526),
]


@pytest.mark.parametrize(("high", "low", "seconds", "mean", "middle"), WINDOWS)
def test_window(high: float, low: float, seconds: float, mean: float, middle: float) -> None:
    above, below = high / 3.6, low / 3.6
    assert abs(coast_down_time(MASS, F0, F2, above, below) - seconds) <= 0.5e-4
    force = coast_down_force(MASS, above, below, seconds)
    assert abs(force - mean) <= 0.5e-3 + mean * 0.5e-4 / seconds
    assert abs(road_load(F0, 0.0, F2, mid_speed(above, below)) - middle) <= 0.5e-3
    assert abs(force / middle - 1) <= 0.0012


def test_to_standstill() -> None:
    assert abs(coast_down_time(MASS, F0, F2, 100 / 3.6, 0.0) - 172.1117) <= 0.5e-4


def test_the_coefficients_come_back() -> None:
    """The mean force is up to 0.12 % below that at the middle; the fit makes 0.2 % of it."""
    forces = [coast_down_force(MASS, high / 3.6, low / 3.6, t) for high, low, t, *_ in WINDOWS]
    speeds = [mid_speed(high / 3.6, low / 3.6) for high, low, *_ in WINDOWS]
    assert fitted_constant(6.0, forces, speeds) == pytest.approx(F0, rel=0.002)
    assert fitted_square(6.0, forces, speeds) == pytest.approx(F2, rel=0.002)
    two = forces[0], speeds[0], forces[-2], speeds[-2]
    assert two_window_constant(*two) == pytest.approx(F0, rel=0.002)
    assert two_window_square(*two) == pytest.approx(F2, rel=0.002)
