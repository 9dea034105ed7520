"""Keys, splines, flanges and cones against problems of machine design textbooks.

- Square key of 12.5 mm, 37.5 mm long, in a shaft of 50 mm, stressed to 200 MPa in shear: 2.344 kN·m
  (a worked problem of statics, published with its solution).
- Shaft of 45 mm, yield 400 MPa; key 14 mm × 9 mm, yield 340 MPa; maximum shear stress, safety 2:
  the key has to be 105 mm long, crushing decides (a published tutorial; 104 mm before rounding).
- Shear of a round shaft, T = τ·π·d³/16, for the torque of the former.
- Cone clutches: T = μ·F·D/(2·sin α) for a cone that needs no force to go home.
"""

from __future__ import annotations

import math

import pytest

from wattwright.physics import friction_joint, key, shaft

MM = 1e-3


def test_a_square_key_in_shear() -> None:
    stress = key.key_shear(2.344e3, 50 * MM, 12.5 * MM, 37.5 * MM)
    assert stress == pytest.approx(200e6, rel=5e-4)


def test_crushing_decides_the_length_of_a_flat_key() -> None:
    torque = shaft.solid_yield_torque(400e6 / 2 / 2, 45 * MM)
    crushed = key.key_pressure(torque, 45 * MM, 9 * MM / 2, 105 * MM)
    sheared = key.key_shear(torque, 45 * MM, 14 * MM, 105 * MM)
    assert crushed == pytest.approx(340e6 / 2, rel=0.015)
    assert crushed < 340e6 / 2
    assert sheared < 340e6 / 2 / 2


def test_a_spline_of_one_tooth_is_a_key_and_all_teeth_share() -> None:
    one = key.spline_pressure(450.0, 35 * MM, 1, 3 * MM, 40 * MM, 1.0)
    assert one == pytest.approx(key.key_pressure(450.0, 35 * MM, 3 * MM, 40 * MM))
    all_of_them = key.spline_pressure(450.0, 35 * MM, 20, 3 * MM, 40 * MM, 0.5)
    assert all_of_them == pytest.approx(one / 10)
    assert key.force_at(450.0, 35 * MM) == pytest.approx(25714.3, rel=1e-5)


def test_a_cone_that_needs_no_force_to_go_home_is_a_cone_clutch() -> None:
    """Friction going home costs 1 + μ/tan α of it: α 12.5°, μ 0.2: 1.902."""
    torque = friction_joint.cone_torque(4000.0, 0.2, 0.3, math.radians(12.5))
    clutch = 0.2 * 4000.0 * 0.3 / (2 * math.sin(math.radians(12.5)))
    assert clutch / torque == pytest.approx(1.9021, rel=1e-4)


def test_a_flat_cone_is_a_flange() -> None:
    flat = friction_joint.cone_torque(6 * 25e3, 0.12, 90 * MM, math.radians(90.0))
    assert friction_joint.flange_torque(6, 25e3, 0.12, 90 * MM) == pytest.approx(flat)
    assert flat == pytest.approx(810.0)


def test_bolts_on_a_circle_share_the_force_at_it() -> None:
    """Six bolts of 8 mm on 90 mm, 810 N·m: 3 kN each on 50.265 mm²."""
    stress = friction_joint.flange_bolt_shear(810.0, 6, 8 * MM, 90 * MM)
    assert stress == pytest.approx(3000.0 / 50.265e-6, rel=1e-4)
