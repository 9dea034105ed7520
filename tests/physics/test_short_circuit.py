"""Shorted machine: closed forms by hand, and searches over speed and angle that know no theory."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.physics import pmsm, short_circuit

FLUXES = st.floats(0.005, 0.5)
INDUCTANCES = st.floats(5e-5, 5e-3)
RATIOS = st.floats(0.2, 6.0)


def shorted(w: float, flux: float, ld: float, lq: float, rs: float) -> tuple[float, float]:
    d, q = np.linalg.solve([[rs, -w * lq], [w * ld, rs]], [0.0, -w * flux])
    return float(d), float(q)


@settings(max_examples=100)
@given(FLUXES, INDUCTANCES, RATIOS, st.floats(1e-3, 1.0), st.floats(0.01, 3000.0))
def test_steady_torque_and_current_solve_the_circuit(
    flux: float, ld: float, ratio: float, rs: float, speed: float
) -> None:
    pairs, lq = 4.0, ratio * ld
    d, q = shorted(pairs * speed, flux, ld, lq, rs)
    found = short_circuit.steady_torque(speed, pairs, flux, ld, lq, rs)
    assert found == pytest.approx(-pmsm.torque(pairs, flux, ld, lq, d, q), rel=1e-6)
    current = short_circuit.steady_current(speed, pairs, flux, ld, lq, rs)
    assert current == pytest.approx(math.hypot(d, q), rel=1e-9)
    # Braking power is what the resistance turns to heat.
    assert found * speed == pytest.approx(1.5 * rs * current**2, rel=1e-9)
    if ld <= 2 * lq:
        assert current <= short_circuit.fast_current(flux, ld) * (1 + 1e-12)


@settings(max_examples=100)
@given(FLUXES, INDUCTANCES, RATIOS, st.floats(1e-3, 1.0))
def test_no_speed_brakes_harder(flux: float, ld: float, ratio: float, rs: float) -> None:
    pairs, lq = 3.0, ratio * ld
    reactance = short_circuit.reactance_at_greatest(ld, lq)
    greatest = short_circuit.greatest_steady_torque(reactance, pairs, flux, ld, lq)
    at = short_circuit.speed_of_greatest_steady_torque(reactance, pairs, lq, rs)
    assert short_circuit.steady_torque(at, pairs, flux, ld, lq, rs) == pytest.approx(greatest)
    w = pairs * at * np.geomspace(1e-3, 1e3, 6001)
    scan = 1.5 * pairs * flux**2 * rs * w * (rs**2 + (w * lq) ** 2) / (rs**2 + w**2 * ld * lq) ** 2
    assert scan.max() <= greatest * (1 + 1e-9)
    assert scan.max() == pytest.approx(greatest, rel=1e-5)


@settings(max_examples=100)
@given(FLUXES, INDUCTANCES, RATIOS, st.just(0.0) | st.floats(1e-12, 3.0))
def test_no_angle_gives_a_larger_jolt(flux: float, ld: float, ratio: float, share: float) -> None:
    pairs, lq, kept = 4.0, ratio * ld, share * flux
    greatest = short_circuit.greatest_short_circuit_torque(pairs, kept, flux, ld, lq)
    angle = np.linspace(0, 2 * np.pi, 20001)
    along, across = kept * np.cos(angle), -kept * np.sin(angle)
    scan = 1.5 * pairs * (along * across / lq - across * (along - flux) / ld)
    assert scan.max() <= greatest * (1 + 1e-9)
    assert scan.max() == pytest.approx(greatest, rel=1e-6, abs=1e-12)
    assert -scan.min() == pytest.approx(greatest, rel=1e-6, abs=1e-12)


def test_without_saliency_by_hand() -> None:
    # 3/2·4·0.05²/0.2 mH = 75 N·m; steady half of it, at 0.02 Ω/0.2 mH = 100 electrical rad/s
    assert short_circuit.greatest_short_circuit_torque(
        4, 0.05, 0.05, 0.2e-3, 0.2e-3
    ) == pytest.approx(75.0)
    assert short_circuit.reactance_at_greatest(0.2e-3, 0.2e-3) == pytest.approx(1.0)
    assert short_circuit.greatest_steady_torque(1.0, 4, 0.05, 0.2e-3, 0.2e-3) == pytest.approx(37.5)
    assert short_circuit.speed_of_greatest_steady_torque(1.0, 4, 0.2e-3, 0.02) == pytest.approx(25)
    assert short_circuit.steady_torque(25, 4, 0.05, 0.2e-3, 0.2e-3, 0.02) == pytest.approx(37.5)
    assert short_circuit.steady_torque(-25, 4, 0.05, 0.2e-3, 0.2e-3, 0.02) == pytest.approx(-37.5)
    # ψ/L = 250 A; at w = R/L it is 1/√2 of that
    assert short_circuit.fast_current(0.05, 0.2e-3) == pytest.approx(250.0)
    for speed in (25, -25):
        current = short_circuit.steady_current(speed, 4, 0.05, 0.2e-3, 0.2e-3, 0.02)
        assert current == pytest.approx(250 / math.sqrt(2))


def test_flux_of_the_stator_by_hand() -> None:
    # 0.05 - 0.02 along and 0.04 across: 0.05
    assert short_circuit.stator_flux(0.05, 0.2e-3, 0.4e-3, -100, 100) == pytest.approx(0.05)
    assert short_circuit.stator_flux(0.05, 0.2e-3, 0.4e-3, 0, 0) == pytest.approx(0.05)
    assert short_circuit.greatest_short_circuit_torque(4, 0.0, 0.05, 0.2e-3, 0.4e-3) == 0


@pytest.mark.parametrize(
    ("call", "numbers"),
    [
        (short_circuit.steady_torque, (25.0, 4.0, 0.05, 2e-4, 4e-4, 0.0)),
        (short_circuit.steady_current, (25.0, 4.0, 0.05, 0.0, 4e-4, 0.01)),
        (short_circuit.reactance_at_greatest, (2e-4, 0.0)),
        (short_circuit.greatest_steady_torque, (1.0, 4.0, 0.05, 0.0, 4e-4)),
        (short_circuit.speed_of_greatest_steady_torque, (1.0, 0.0, 4e-4, 0.01)),
        (short_circuit.fast_current, (0.05, 0.0)),
        (short_circuit.greatest_short_circuit_torque, (4.0, 0.05, 0.0, 2e-4, 4e-4)),
        (short_circuit.greatest_short_circuit_torque, (4.0, -0.01, 0.05, 2e-4, 4e-4)),
    ],
)
def test_numbers_that_make_no_sense_are_refused(call: object, numbers: tuple[float, ...]) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        call(*numbers)  # type: ignore[operator]
