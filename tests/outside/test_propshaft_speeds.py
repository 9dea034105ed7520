"""Critical speeds and frequencies of propshafts against printed ones and an eigenvalue solver.

Critical speed: n = 1.21e8 √(D² + d²)/L² rpm, mm, as a shaft maker's technical page prints it
(seen); the beam of general mechanics beside it, with E = 206 GPa and 7850 kg/m³ (computed).
Frequencies: a workshop's worked example of finding a vibration at 80 km/h.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import eigh_tridiagonal

from wattwright.kinds import ROTATIONAL_SPEED
from wattwright.physics import propshaft
from wattwright.units import read

# Outer diameter, wall, length in mm; rpm by the printed formula, and by the beam.
TUBES = [
    (76.2, 2.11, 1500.0, 5637.1, 5623.1),
    (76.2, 2.11, 1200.0, 8807.9, 8786.1),
    (63.5, 2.0, 1000.0, 10529.4, 10503.4),
    (50.8, 1.65, 900.0, 10389.2, 10363.5),
]
RPM = read("1 rpm", ROTATIONAL_SPEED).number


@pytest.mark.parametrize(("outer", "wall", "length", "printed", "beam"), TUBES)
def test_critical_speed_of_a_tube(
    outer: float, wall: float, length: float, printed: float, beam: float
) -> None:
    ours = propshaft.critical_speed(length / 1e3, outer / 1e3, wall / 1e3, 206e9, 7850.0) / RPM
    assert ours == pytest.approx(beam, abs=0.06)
    assert ours == pytest.approx(printed, rel=3e-3)
    assert 1.21e8 * math.hypot(outer, outer - 2 * wall) / length**2 == pytest.approx(
        printed, abs=0.06
    )


def test_critical_speed_is_the_lowest_frequency_of_a_hinged_beam() -> None:
    """The bending beam cut into 400 pieces, its second differences squared; SciPy solves it."""
    outer, wall, length = 0.0762, 0.00211, 1.5
    inner = outer - 2 * wall
    area = math.pi / 4 * (outer**2 - inner**2)
    second = math.pi / 64 * (outer**4 - inner**4)
    pieces = 400
    step = length / pieces
    lowest = eigh_tridiagonal(
        np.full(pieces - 1, 2.0),
        np.full(pieces - 2, -1.0),
        eigvals_only=True,
        select="i",
        select_range=(0, 0),
    )[0]
    speed = math.sqrt(206e9 * second / (7850.0 * area)) * lowest / step**2
    ours = propshaft.critical_speed(length, outer, wall, 206e9, 7850.0)
    assert ours == pytest.approx(speed, rel=1e-4)


def test_what_is_felt_at_a_road_speed() -> None:
    """80 km/h, tyre of 1.9 m, final drive 4.0: wheel 11.7 Hz, shaft 46.8 Hz, joints 93.5 Hz.

    Numbers of the worked example, which rounds what it multiplies.
    """
    speed = 80.0 / 3.6
    assert propshaft.turns_felt(speed, 1.9, 1.0) == pytest.approx(11.7, abs=0.05)
    shaft = propshaft.turns_felt(speed, 1.9, 4.0)
    assert shaft == pytest.approx(46.8, abs=0.05)
    assert propshaft.times_a_turn(shaft, 2.0) == pytest.approx(93.5, abs=0.1)
    assert propshaft.shaft_speed(speed, 4.0, 1.9) == pytest.approx(2 * math.pi * shaft)
