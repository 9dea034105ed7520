"""Jolt of a shorted machine, by the equations of the machine followed in time.

Sources: the voltage equations dλ_d/dt = -R i_d + w λ_q, dλ_q/dt = -R i_q - w λ_d, integrated here
by the classic Runge-Kutta method of fourth order, which shares nothing with the closed form; and
the textbook value without load and saliency, 3/2 p ψ²/L, from memory.

The closed form leaves resistance out. With w L_d/R of 40,000 one turn changes the flux by some
2π/40,000 of the magnets' flux, six parts in ten thousand of it for a quarter of the flux, and 1e-3
is allowed. With the resistance of a real machine the jolt is smaller than the closed form where
the stator's flux was that of the magnets or more. Where it was less, the magnets build flux up
against the resistance, and the jolt is larger; it stays below that of the magnets' flux.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from wattwright.physics import pmsm, short_circuit

PAIRS, FLUX, LD = 4.0, 0.05, 0.2e-3
SPEED = 1000.0


def torques(
    start: tuple[float, float], w: float, ld: float, lq: float, rs: float, turns: float
) -> np.ndarray:
    """Air-gap torque along time after the short, from the currents before it."""
    step = 2 * math.pi / w / 2000
    flux = np.array([FLUX + ld * start[0], lq * start[1]])

    def currents(linkage: np.ndarray) -> tuple[float, float]:
        return (linkage[0] - FLUX) / ld, linkage[1] / lq

    def rate(linkage: np.ndarray) -> np.ndarray:
        d, q = currents(linkage)
        return np.array([-rs * d + w * linkage[1], -rs * q - w * linkage[0]])

    found = []
    for _ in range(round(turns * 2000)):
        d, q = currents(flux)
        found.append(1.5 * PAIRS * (flux[0] * q - flux[1] * d))
        k1 = rate(flux)
        k2 = rate(flux + step / 2 * k1)
        k3 = rate(flux + step / 2 * k2)
        k4 = rate(flux + step * k3)
        flux = flux + step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return np.array(found)


@pytest.mark.parametrize("lq", [0.2e-3, 0.5e-3, 0.12e-3])
@pytest.mark.parametrize("before", [(0.0, 0.0), (-60.0, 150.0), (0.0, 200.0), (-200.0, 40.0)])
def test_the_largest_torque_in_time(lq: float, before: tuple[float, float]) -> None:
    found = torques(before, PAIRS * SPEED, LD, lq, 2e-5, 1.0)
    kept = short_circuit.stator_flux(FLUX, LD, lq, *before)
    greatest = short_circuit.greatest_short_circuit_torque(PAIRS, kept, FLUX, LD, lq)
    assert np.abs(found).max() == pytest.approx(greatest, rel=1e-3)
    assert found[0] == pytest.approx(pmsm.torque(PAIRS, FLUX, LD, lq, *before))


@pytest.mark.parametrize("before", [(0.0, 0.0), (-60.0, 150.0)])
def test_resistance_takes_from_the_jolt_of_full_flux(before: tuple[float, float]) -> None:
    """w L/R of 20 to 50, a real machine: the closed form is a bound, not far off."""
    lq = 0.5e-3
    kept = short_circuit.stator_flux(FLUX, LD, lq, *before)
    assert kept >= FLUX
    greatest = short_circuit.greatest_short_circuit_torque(PAIRS, kept, FLUX, LD, lq)
    largest = np.abs(torques(before, PAIRS * SPEED, LD, lq, 0.04, 3.0)).max()
    assert 0.85 * greatest < largest < greatest


@pytest.mark.parametrize("lq", [0.2e-3, 0.5e-3, 0.12e-3])
@pytest.mark.parametrize("before", [(-150.0, 100.0), (-200.0, 40.0), (-230.0, 20.0)])
def test_resistance_adds_to_the_jolt_of_weakened_flux(
    lq: float, before: tuple[float, float]
) -> None:
    kept = short_circuit.stator_flux(FLUX, LD, lq, *before)
    largest = np.abs(torques(before, PAIRS * SPEED, LD, lq, 0.04, 3.0)).max()
    of_magnets = short_circuit.greatest_short_circuit_torque(PAIRS, max(kept, FLUX), FLUX, LD, lq)
    assert largest < of_magnets
    if kept < 0.8 * FLUX:
        assert largest > short_circuit.greatest_short_circuit_torque(PAIRS, kept, FLUX, LD, lq)


@pytest.mark.parametrize("lq", [0.2e-3, 0.5e-3])
@pytest.mark.parametrize("speed", [20.0, 60.0, 300.0])
def test_in_time_the_torque_becomes_the_steady_one(lq: float, speed: float) -> None:
    rs, w = 0.02, PAIRS * speed
    turns = 20 * lq / rs * w / (2 * math.pi) + 1
    end = torques((0.0, 0.0), w, LD, lq, rs, turns)[-1]
    # e^-20 of the start is left
    assert -end == pytest.approx(
        short_circuit.steady_torque(speed, PAIRS, FLUX, LD, lq, rs), rel=1e-6
    )


def test_textbook_value_without_load_and_saliency() -> None:
    """3/2 p ψ²/L with p = 4, ψ = 50 mWb, L = 0.2 mH: 1.5·4·0.0025/0.0002 = 75 N·m."""
    found = short_circuit.greatest_short_circuit_torque(PAIRS, FLUX, FLUX, LD, LD)
    assert found == pytest.approx(75.0, abs=1e-9)
