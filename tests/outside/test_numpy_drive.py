"""Answers of the drive found another way: by general-purpose linear algebra.

Roots of the cubic by the eigenvalues of its companion matrix, the coast-down fit by a singular
value decomposition, axle forces by solving the equations of equilibrium, time through a gear by
Gaussian quadrature. Both sides are exact up to rounding, so the tolerances are those of double
precision with some room for cancelling digits.
"""

from __future__ import annotations

import numpy as np
import pytest

from wattwright.physics.acceleration import speed_widths, speeds_between, time_over_points
from wattwright.physics.adhesion import front_axle_force, rear_axle_force
from wattwright.physics.road_load import fitted_constant, fitted_square
from wattwright.physics.tractive import top_speed_at_power, top_speed_over_points

G = 9.80665


@pytest.mark.parametrize("power", [5e3, 30e3, 120e3])
@pytest.mark.parametrize("f0", [60.0, 150.0, 1500.0])
@pytest.mark.parametrize("f1", [0.0, 1.2, 3.0])
@pytest.mark.parametrize("f2", [0.25, 0.6])
def test_top_speed(power: float, f0: float, f1: float, f2: float) -> None:
    roots = np.roots([f2, f1, f0, -power])
    real = roots[np.abs(roots.imag) < 1e-6].real
    assert len(real) == 1
    assert top_speed_at_power(power, f0, f1, f2) == pytest.approx(real[0], rel=1e-10)


def test_top_speed_over_points() -> None:
    speeds, forces = [10.0, 25.0, 40.0], [2000.0, 1500.0, 300.0]
    roots = np.roots([0.5, 80.0 + 1.0, 150.0 - 1500.0 - 80 * 25.0])
    found = top_speed_over_points(speeds, forces, 150.0, 1.0, 0.5)
    assert found == pytest.approx(max(roots), rel=1e-12)


def test_fit_of_a_coast_down() -> None:
    generator = np.random.default_rng(3)
    speeds = np.linspace(5.0, 32.0, 9)
    forces = 140.0 + 0.42 * speeds**2 + generator.normal(0, 6, 9)
    table = np.stack([np.ones(9), speeds**2], axis=1)
    (f0, f2), *_ = np.linalg.lstsq(table, forces, rcond=None)
    rows = 9.0, forces.tolist(), speeds.tolist()
    assert fitted_constant(*rows) == pytest.approx(f0, rel=1e-10)
    assert fitted_square(*rows) == pytest.approx(f2, rel=1e-10)


@pytest.mark.parametrize("acceleration", [-3.0, 0.0, 2.5])
@pytest.mark.parametrize("grade", [-0.2, 0.0, 0.3])
def test_axle_forces(acceleration: float, grade: float) -> None:
    """Unknown are both axle forces and the force along the road; moments about the centre."""
    mass, base, x, h = 1150.0, 2.34, 0.98, 0.56
    angle = np.arctan(grade)
    table = np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0], [x, -(base - x), h]])
    known = np.array([mass * G * np.cos(angle), mass * (acceleration + G * np.sin(angle)), 0.0])
    front, rear, _ = np.linalg.solve(table, known)
    assert front_axle_force(mass, base, x, h, acceleration, grade) == pytest.approx(front)
    assert rear_axle_force(mass, base, x, h, acceleration, grade) == pytest.approx(rear)


def test_time_through_a_gear() -> None:
    def force_at(speed: float) -> float:
        return 45e3 / (speed + 9.0) - 130.0 - 0.45 * speed**2

    nodes, weights = np.polynomial.legendre.leggauss(40)
    speeds = 2.0 + (nodes + 1) * 13.0
    exact = sum(w * 13.0 * 1180.0 / force_at(v) for w, v in zip(weights, speeds, strict=True))
    points = speeds_between(2.0, 28.0, force_at, 1e-5)
    time = time_over_points(1180.0, speed_widths(points), [force_at(v) for v in points])
    assert time == pytest.approx(exact, rel=1e-5)
