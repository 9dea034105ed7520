"""Torque limits against a general optimiser that knows nothing of machines.

Source: SciPy, `scipy.optimize.minimize` with method SLSQP (sequential least squares programming,
Kraft 1988), from several starting points, given only the torque, the current limit and the
voltage limit. It must find no more torque at any speed than the envelope says, up to its own
constraint tolerance of 1e-9 on scaled constraints, and from its best start nearly as much.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import minimize

from wattwright.physics import induction, pmsm

# Pole pairs, flux linkage Wb, L_d H, L_q H, R_s Ω, current limit A: salient, round, and one whose
# magnets are weaker than its current, so that most torque per volt rules at high speed.
MACHINES = {
    "salient": (3.0, 0.066, 0.37e-3, 1.2e-3, 0.018, 240.0),
    "round": (4.0, 0.05, 0.2e-3, 0.2e-3, 0.01, 300.0),
    "weak magnets": (4.0, 0.0336, 0.12e-3, 0.26e-3, 0.0082, 450.0),
}
STARTS = [(-0.9, 0.1), (-0.5, 0.5), (-0.1, 0.9), (-0.7, 0.3), (0.0, 0.3)]


def optimised(machine: tuple[float, ...], voltage: float, speed: float) -> float:
    """Largest torque the optimiser finds, with currents scaled by the limit."""
    pole_pairs, flux, ld, lq, rs, current = machine
    w, most = pole_pairs * speed, voltage / math.sqrt(3)
    full = 1.5 * pole_pairs * flux * current

    def torque(i: np.ndarray) -> float:
        return -1.5 * pole_pairs * (flux + (ld - lq) * i[0] * current) * i[1] * current / full

    def voltage_left(i: np.ndarray) -> float:
        d, q = i * current
        return 1 - ((rs * d - w * lq * q) ** 2 + (rs * q + w * (flux + ld * d)) ** 2) / most**2

    limits = [
        {"type": "ineq", "fun": lambda i: 1 - i[0] ** 2 - i[1] ** 2},
        {"type": "ineq", "fun": voltage_left},
    ]
    best = 0.0
    for start in STARTS:
        found = minimize(
            torque,
            start,
            method="SLSQP",
            constraints=limits,
            options={"ftol": 1e-12, "maxiter": 300},
        )
        if all(limit["fun"](found.x) >= -1e-9 for limit in limits):
            best = max(best, -found.fun * full)
    return best


@pytest.mark.parametrize("rpm", [200, 1500, 2500, 3500, 5000, 7000, 9500])
@pytest.mark.parametrize("voltage", [180.0, 300.0, 400.0])
@pytest.mark.parametrize("machine", MACHINES)
def test_magnets(machine: str, voltage: float, rpm: float) -> None:
    speed = rpm * math.pi / 30
    pole_pairs, flux, ld, lq, rs, current = MACHINES[machine]
    start = pmsm.mtpa_d_current(current, flux, ld, lq)
    said = pmsm.torque_limit(speed, voltage, current, pole_pairs, flux, ld, lq, rs, start)
    found = optimised(MACHINES[machine], voltage, speed)
    assert found <= said * (1 + 1e-6)
    assert found >= said * (1 - 1e-4)
    many = pmsm.envelope(np.array([speed]), voltage, current, pole_pairs, flux, ld, lq, rs)
    assert many[0] == pytest.approx(said, rel=1e-9)


@pytest.mark.parametrize("rpm", [200, 1500, 3000, 5000, 8000])
@pytest.mark.parametrize("voltage", [100.0, 200.0])
def test_induction(voltage: float, rpm: float) -> None:
    pole_pairs, rs, leakage, field, rotor = 2.0, 0.011, 0.13e-3, 1.9e-3, 0.009
    current, magnetising = 400.0, 120.0
    speed, most = rpm * math.pi / 30, voltage / math.sqrt(3)
    full = 1.5 * pole_pairs * field * magnetising * current

    def torque(i: np.ndarray) -> float:
        return -1.5 * pole_pairs * field * i[0] * i[1] * magnetising * current / full

    def voltage_left(i: np.ndarray) -> float:
        d, q = max(i[0], 1e-6) * magnetising, i[1] * current
        w = pole_pairs * speed + rotor * q / (field * d)
        u_d, u_q = rs * d - w * leakage * q, rs * q + w * (leakage + field) * d
        return 1 - (u_d**2 + u_q**2) / most**2

    limits = [
        {"type": "ineq", "fun": lambda i: 1 - (i[0] * magnetising / current) ** 2 - i[1] ** 2},
        {"type": "ineq", "fun": voltage_left},
        {"type": "ineq", "fun": lambda i: 1 - i[0]},
        {"type": "ineq", "fun": lambda i: i[0] - 1e-3},
    ]
    best = 0.0
    for start in [(0.9, 0.5), (0.5, 0.5), (0.3, 0.3), (0.15, 0.15)]:
        found = minimize(
            torque,
            start,
            method="SLSQP",
            constraints=limits,
            options={"ftol": 1e-12, "maxiter": 300},
        )
        if all(limit["fun"](found.x) >= -1e-9 for limit in limits):
            best = max(best, -found.fun * full)
    ratio = induction.current_ratio(current, magnetising)
    circuit = (pole_pairs, rs, leakage, field, rotor)
    said = induction.torque_limit(speed, voltage, current, magnetising, *circuit, ratio)
    assert best <= said * (1 + 1e-6)
    assert best >= said * (1 - 1e-4)
