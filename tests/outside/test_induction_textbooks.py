"""Induction motors on the mains, after two textbooks.

Sources, both from memory. Chapman, Electric Machinery Fundamentals, examples on a 460 V, 25 hp,
60 Hz, four-pole motor in star; the impedances were seen in exercises that quote the book. Its
printed slip and torque at breakdown, 0.198 and 229 N·m, do not follow to their last digit from the
Thévenin values printed just before, 0.332/√(0.590² + 1.539²) being 0.2014; two per cent are
allowed there. Fitzgerald, Kingsley and Umans, Electric Machinery, example on a 220 V, six-pole,
60 Hz motor of 7.5 kW in star, whose numbers agree with one another.

Everything else is held to half a unit of the last printed digit; a current or torque that a book
reached through rounded steps, to what those steps leave open, as the test says.
"""

from __future__ import annotations

import math

import pytest

from wattwright.physics import induction_on_mains as mains


class Motor:
    def __init__(
        self, line: float, pairs: float, rs: float, rr: float, xs: float, xr: float, xm: float
    ) -> None:
        self.peak = mains.phase_peak(line)
        self.stator, self.rotor, self.pairs = (rs, xs, xm), (xr, rr), pairs
        self.thevenin = (
            mains.thevenin_voltage(self.peak, *self.stator),
            mains.thevenin_resistance(*self.stator),
            mains.thevenin_reactance(*self.stator),
        )

    def torque(self, slip: float) -> float:
        return mains.torque_at_slip(slip, *self.thevenin, *self.rotor, 60.0, self.pairs)

    def breakdown(self) -> tuple[float, float]:
        return (
            mains.breakdown_slip(*self.thevenin[1:], *self.rotor),
            mains.breakdown_torque(*self.thevenin, self.rotor[0], 60.0, self.pairs),
        )


CHAPMAN = Motor(460.0, 2.0, 0.641, 0.332, 1.106, 0.464, 26.3)
FITZGERALD = Motor(220.0, 3.0, 0.294, 0.144, 0.503, 0.209, 13.25)


def test_chapman_at_full_load() -> None:
    """Slip 2.2 %: 18.88 A through an impedance rounded to 14.07 Ω, 62.8 N·m."""
    current = mains.line_current(0.022, CHAPMAN.peak, *CHAPMAN.stator, *CHAPMAN.rotor)
    assert abs(current / math.sqrt(2) - 18.88) <= 0.015
    assert abs(CHAPMAN.torque(0.022) - 62.8) <= 0.05


def test_chapman_thevenin() -> None:
    """0.590 Ω, 1.075 Ω, and 255.2 V of a phase voltage rounded to 266 V, which is 0.16 % more."""
    voltage, resistance, reactance = CHAPMAN.thevenin
    assert abs(resistance - 0.590) <= 0.0005
    assert abs(reactance - 1.075) <= 0.0005
    assert abs(voltage / math.sqrt(2) * 266 / (460 / math.sqrt(3)) - 255.2) <= 0.05


def test_chapman_breakdown() -> None:
    slip, torque = CHAPMAN.breakdown()
    assert slip == pytest.approx(0.198, rel=0.02)
    assert torque == pytest.approx(229, rel=0.02)
    assert CHAPMAN.torque(slip) == pytest.approx(torque)


def test_fitzgerald_current() -> None:
    """Slip 2 %: 18.8 A."""
    current = mains.line_current(0.02, FITZGERALD.peak, *FITZGERALD.stator, *FITZGERALD.rotor)
    assert abs(current / math.sqrt(2) - 18.8) <= 0.05


def test_fitzgerald_torque() -> None:
    """122.3 V behind 0.273 + j 0.490 Ω; at start 77.6 N·m; breakdown 175 N·m at 0.192."""
    voltage, resistance, reactance = FITZGERALD.thevenin
    assert abs(voltage / math.sqrt(2) - 122.3) <= 0.05
    assert abs(resistance - 0.273) <= 0.0005
    assert abs(reactance - 0.490) <= 0.0005
    assert abs(FITZGERALD.torque(1.0) - 77.6) <= 0.05
    slip, torque = FITZGERALD.breakdown()
    assert abs(slip - 0.192) <= 0.0005
    assert abs(torque - 175) <= 1
