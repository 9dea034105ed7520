"""Largest torque of an induction machine, against a search over a fine grid of both currents.

Source: the voltage and torque equations of the machine with its five values per phase, as
textbooks on vector control print them, with L_s, L_r and σ = 1 - L_m²/(L_s L_r); numpy tries every
pair of currents on a grid and knows no theory. This form shares no step with the four values that
the program works with.

A grid of 1200 by 1200 finds less torque than there is, by up to a step in each current; about the
best point found it is drawn again eight times, each a third as wide, after which 0.1 % is allowed.
More than the limit it may find by rounding only.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from wattwright.physics import induction

# Pole pairs, R_s Ω, L_ls H, L_m H, L_lr H, R_r Ω
MACHINES = {
    "large": (2.0, 0.015, 0.12e-3, 4.0e-3, 0.13e-3, 0.012),
    "small": (2.0, 0.641, 2.93e-3, 69.8e-3, 1.23e-3, 0.332),
    "leaky": (3.0, 0.03, 0.5e-3, 3.0e-3, 0.6e-3, 0.05),
}
LIMITS = {"large": (450.0, 130.0), "small": (40.0, 14.0), "leaky": (300.0, 100.0)}
VOLTAGES = {"large": (96.0, 300.0), "small": (300.0, 650.0), "leaky": (144.0, 350.0)}


def searched(
    speed: float, voltage: float, current: float, most: float, machine: tuple[float, ...]
) -> float:
    pairs, rs, stator, main, rotor, rr = machine
    ls, lr = stator + main, rotor + main
    sigma = 1 - main**2 / (ls * lr)
    centre, width = (most / 2, current / 2), (most / 2, current / 2)
    best = -math.inf
    for points in [1200] + 8 * [200]:
        d = np.linspace(centre[0] - width[0], centre[0] + width[0], points)
        q = np.linspace(centre[1] - width[1], centre[1] + width[1], points)
        i_d, i_q = np.meshgrid(np.clip(d, most * 1e-6, most), q)
        w = pairs * speed + rr * i_q / (lr * i_d)
        u = np.hypot(rs * i_d - w * sigma * ls * i_q, rs * i_q + w * ls * i_d)
        torque = 1.5 * pairs * main**2 / lr * i_d * i_q
        torque[(u > voltage / math.sqrt(3)) | (np.hypot(i_d, i_q) > current)] = -math.inf
        at = torque.argmax()
        if torque.flat[at] > best:
            best, centre = float(torque.flat[at]), (float(i_d.flat[at]), float(i_q.flat[at]))
        width = (width[0] / 3, width[1] / 3)
    return best


@pytest.mark.parametrize("name", MACHINES)
@pytest.mark.parametrize("speed", [0.0, 40.0, 120.0, 250.0, 500.0, 1000.0, -60.0, -300.0, -900.0])
def test_search_finds_no_more_and_hardly_less(name: str, speed: float) -> None:
    machine = MACHINES[name]
    pairs, rs, stator, main, rotor, rr = machine
    current, most = LIMITS[name]
    for voltage in VOLTAGES[name]:
        found = induction.torque_limit(
            speed,
            voltage,
            current,
            most,
            pairs,
            rs,
            induction.leakage(stator, main, rotor),
            induction.rotor_flux_inductance(main, rotor),
            induction.rotor_flux_resistance(rr, main, rotor),
            induction.current_ratio(current, most),
        )
        want = searched(speed, voltage, current, most, machine)
        assert want <= found * (1 + 1e-9)
        assert want >= found * (1 - 1e-3)
