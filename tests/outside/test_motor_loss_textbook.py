"""Losses of a drive, after a textbook, and a fit against numpy's general least squares.

Source: Larminie and Lowry, Electric Vehicle Technology Explained, on the efficiency of electric
motors: losses k_c T² + k_i ω + k_w ω³ + C, and for the induction motor of about 100 kW of an
example k_c 0.3, k_i 0.01, k_w 5e-6, C 600. The equation is from memory. The four numbers were seen
in scripts that follow the book's example; which motor they belong to is from memory.

The expected losses and efficiencies are worked by hand from these, exactly. The fit is checked
with more points than terms against numpy.linalg.lstsq, where that gives nothing below zero.
"""

from __future__ import annotations

import numpy as np
import pytest

from wattwright.physics import motor_losses

COPPER, IRON, WINDAGE, CONSTANT = 0.3, 0.01, 5e-6, 600.0

# torque N·m, speed rad/s, loss W, efficiency to five digits
HAND = [
    # 0.3·10,000 + 0.01·500 + 5e-6·1.25e8 + 600 = 3000 + 5 + 625 + 600; 50,000/54,230
    (100.0, 500.0, 4230.0, 0.92200),
    # 0.3·400 + 0.01·1000 + 5e-6·1e9 + 600 = 120 + 10 + 5000 + 600; 20,000/25,730
    (20.0, 1000.0, 5730.0, 0.77730),
    # 0.3·2500 + 0.01·100 + 5e-6·1e6 + 600 = 750 + 1 + 5 + 600; 5000/6356
    (50.0, 100.0, 1356.0, 0.78666),
]


@pytest.mark.parametrize(("torque", "speed", "lost", "share"), HAND)
def test_losses_and_efficiency(torque: float, speed: float, lost: float, share: float) -> None:
    found = motor_losses.losses(torque, speed, COPPER, IRON, WINDAGE, CONSTANT)
    assert found == pytest.approx(lost, abs=1e-9)
    assert abs(motor_losses.efficiency(torque * speed, found) - share) <= 0.5e-5
    assert motor_losses.dc_power(torque * speed, found) == pytest.approx(torque * speed + lost)


def test_the_fit_is_that_of_a_general_library() -> None:
    """The same coefficients with each loss off by a few per cent, seed 1."""
    rng = np.random.default_rng(1)
    w, t = (axis.ravel() for axis in np.meshgrid(np.linspace(50, 900, 7), np.linspace(5, 150, 7)))
    known = (0.3 * t**2 + 0.5 * w + WINDAGE * w**3 + CONSTANT) * rng.normal(1, 0.03, w.size)
    matrix = np.array([t**2, w, w**3, np.ones_like(w)]).T / known[:, None]
    want = np.linalg.lstsq(matrix, np.ones_like(w), rcond=None)[0]
    assert want.min() > 0
    share = t * w / (t * w + known)
    found = motor_losses.fitted_losses(
        list(zip(w.tolist(), t.tolist(), share.tolist(), strict=True))
    )
    got = [found.copper, found.iron, found.windage, found.constant]
    assert got == pytest.approx(want.tolist(), rel=1e-6)
    assert found.left_out == ()
