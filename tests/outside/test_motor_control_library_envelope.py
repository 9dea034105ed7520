"""Torque envelope of a laboratory traction motor, by a general motor-control library.

Source: parameters after DOI 10.1109/TPEL.2020.3006779, read in a general motor-control library:
3 pole pairs, 18 mΩ, 0.37 mH, 1.2 mH, 66 mWb, 240 A nominal and 400 A largest peak current. The
expected numbers come from two places, neither of them this program: a maximisation of torque
under both limits, made for the table, with and without resistance; and, in the last column, the
independent routine of another general motor-control library, with 500 points and without
resistance. Peak values, |u| up to U_dc/√3.

Numbers are held to half a unit of their last printed digit, those of the library's point-wise
routine to one unit. The machine does not saturate here; it is no claim about hardware.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from wattwright import kinds
from wattwright.physics import pmsm
from wattwright.units import read

POLE_PAIRS, FLUX, LD, LQ = 3.0, 0.066, 0.37e-3, 1.2e-3
RESISTANCE = 0.018

# DC voltage V, speed rpm, resistance Ω, i_d A, i_q A, torque N·m, power kW, torque of the library;
# all at 240 A.
TABLE = [
    (300, 1000, 0, -150.99, 186.56, 160.61, 16.82, None),
    (300, 1000, 0.018, -150.99, 186.56, 160.61, 16.82, None),
    (300, 1500, 0, -150.99, 186.56, 160.61, 25.23, None),
    (300, 1500, 0.018, -150.99, 186.56, 160.61, 25.23, None),
    (300, 2000, 0, -150.99, 186.56, 160.61, 33.64, 160.612),
    (300, 2000, 0.018, -150.99, 186.56, 160.61, 33.64, None),
    (300, 3000, 0, -184.8, 153.13, 151.18, 47.49, 151.177),
    (300, 3000, 0.018, -187.22, 150.17, 149.6, 47.0, None),
    (300, 4000, 0, -210.97, 114.42, 124.14, 52.0, 124.142),
    (300, 4000, 0.018, -212.28, 111.96, 122.03, 51.11, None),
    (300, 6000, 0, -227.97, 75.03, 86.17, 54.14, 86.171),
    (300, 6000, 0.018, -228.53, 73.29, 84.33, 52.99, None),
    (300, 8000, 0, -233.65, 54.84, 64.15, 53.74, 64.149),
    (300, 8000, 0.018, -233.96, 53.52, 62.66, 52.49, None),
    (350, 1000, 0, -150.99, 186.56, 160.61, 16.82, None),
    (350, 1000, 0.018, -150.99, 186.56, 160.61, 16.82, None),
    (350, 1500, 0, -150.99, 186.56, 160.61, 25.23, None),
    (350, 1500, 0.018, -150.99, 186.56, 160.61, 25.23, None),
    (350, 2000, 0, -150.99, 186.56, 160.61, 33.64, 160.612),
    (350, 2000, 0.018, -150.99, 186.56, 160.61, 33.64, None),
    (350, 3000, 0, -160.34, 178.58, 159.99, 50.26, 159.986),
    (350, 3000, 0.018, -163.26, 175.92, 159.52, 50.11, None),
    (350, 4000, 0, -199.21, 133.85, 139.34, 58.37, 139.343),
    (350, 4000, 0.018, -200.77, 131.5, 137.66, 57.66, None),
    (350, 6000, 0, -223.18, 88.26, 99.79, 62.7, 99.787),
    (350, 6000, 0.018, -223.85, 86.55, 98.07, 61.62, None),
    (350, 8000, 0, -231.03, 65.01, 75.4, 63.17, 75.399),
    (350, 8000, 0.018, -231.39, 63.69, 73.96, 61.96, None),
]

# DC voltage V, base speed rpm, torque N·m at 3000, 4000, 6000 and 8000 rpm; without resistance.
AT_400_A = [
    (300, 1521.6, 238.58, 165.82, 94.64, 65.46),
    (350, 1775.2, 279.62, 204.08, 116.44, 79.53),
]


def rpm(number: float) -> float:
    return read(f"{number} rpm", kinds.ROTATIONAL_SPEED).number


def limit(speed: float, voltage: float, current: float, resistance: float) -> float:
    start = pmsm.mtpa_d_current(current, FLUX, LD, LQ)
    return pmsm.torque_limit(
        rpm(speed), voltage, current, POLE_PAIRS, FLUX, LD, LQ, resistance, start
    )


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} V {row[1]} rpm {row[2]} ohm")
def test_torque_and_currents(row: tuple[float, ...]) -> None:
    voltage, speed, resistance, d, q, torque, kilowatts, library = row
    at = pmsm.limit_currents(rpm(speed), voltage, 240.0, POLE_PAIRS, FLUX, LD, LQ, resistance)
    assert abs(at.d - d) <= 0.005
    assert abs(at.q - q) <= 0.005
    found = limit(speed, voltage, 240.0, resistance)
    assert abs(found - torque) <= 0.005
    assert abs(found * rpm(speed) / 1e3 - kilowatts) <= 0.005
    if library is not None:
        assert abs(found - library) <= 0.001


@pytest.mark.parametrize("voltage", [300.0, 350.0])
@pytest.mark.parametrize("resistance", [0.0, RESISTANCE])
def test_the_whole_envelope_at_once(voltage: float, resistance: float) -> None:
    rows = [row for row in TABLE if (row[0], row[2]) == (voltage, resistance)]
    speeds = np.array([rpm(row[1]) for row in rows])
    found = pmsm.envelope(speeds, voltage, 240.0, POLE_PAIRS, FLUX, LD, LQ, resistance)
    assert np.abs(found - [row[5] for row in rows]).max() <= 0.005


@pytest.mark.parametrize(
    ("current", "d", "q", "torque"),
    [(240.0, -150.99, 186.56, 160.612), (400.0, -263.66, 300.80, 385.562)],
)
def test_most_torque_per_ampere(current: float, d: float, q: float, torque: float) -> None:
    found = pmsm.mtpa_d_current(current, FLUX, LD, LQ)
    across = pmsm.q_current(current, found)
    assert abs(found - d) <= 0.005
    assert abs(across - q) <= 0.005
    assert abs(pmsm.torque(POLE_PAIRS, FLUX, LD, LQ, found, across) - torque) <= 0.0005


@pytest.mark.parametrize(
    ("current", "voltage", "base"),
    [(240.0, 300.0, 2460.2), (240.0, 350.0, 2870.3)]
    + [(400.0, float(row[0]), row[1]) for row in AT_400_A],
)
def test_base_speed(current: float, voltage: float, base: float) -> None:
    d = pmsm.mtpa_d_current(current, FLUX, LD, LQ)
    q = pmsm.q_current(current, d)
    found = pmsm.base_speed(voltage, POLE_PAIRS, FLUX, LD, LQ, 0.0, d, q)
    assert abs(found - rpm(base)) <= rpm(0.05)


@pytest.mark.parametrize("row", AT_400_A, ids=lambda row: f"{row[0]} V")
def test_most_torque_per_volt(row: tuple[float, ...]) -> None:
    """ψ/L_d is 178.4 A, below the limit: fast, less than the whole current gives most torque."""
    voltage, _, *torques = row
    for speed, torque in zip((3000, 4000, 6000, 8000), torques, strict=True):
        assert abs(limit(speed, voltage, 400.0, 0.0) - torque) <= 0.005
    at = pmsm.limit_currents(rpm(8000), voltage, 400.0, POLE_PAIRS, FLUX, LD, LQ, 0.0)
    assert math.hypot(at.d, at.q) < 399.0
