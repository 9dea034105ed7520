"""Position tolerances against ASME Y14.5 and geometry, tolerances of faces against a tilted plate.

- ASME Y14.5, appendix with formulas for positional tolerancing, as published: fasteners of 6 mm at
  most and clearance holes of 6.44 mm at least give 0.22 mm for each part where one holds the
  fastener, and 0.44 mm where both have clearance. The 0.22 mm was seen in a published copy; the two
  diameters and the 0.44 mm are from memory.
- The rules themselves stand in textbooks of geometric tolerancing: T = H - F where bolt and nut
  float, T = (H - F)/2 where one part holds the screw (a textbook of 2021, chapter on position).
- What the rules promise is tried: holes and bolt as circles, each as far off as its zone allows.
- Coaxiality and parallelism: a plate is turned with its shaft, and an indicator read at every
  degree, by vectors and a general numerical library.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from wattwright.errors import FormulaError
from wattwright.physics import position_tolerance as pt
from wattwright.physics import run_out

MM = 1e-3


def test_floating_and_fixed_fasteners_of_the_standard() -> None:
    assert pt.floating(6.44 * MM, 6.0 * MM) == pytest.approx(0.44 * MM)
    assert pt.fixed(6.44 * MM, 6.0 * MM) == pytest.approx(0.22 * MM)


def goes_in(hole: float, other: float, bolt: float, apart: float) -> bool:
    """Whether a bolt fits through two round holes so far apart, tried at many places."""
    for share in np.linspace(-1.5, 1.5, 3001):
        at = share * max(apart, 1e-9)
        room = hole / 2 - abs(at), other / 2 - abs(apart - at)
        if min(room) >= bolt / 2 - 1e-12:
            return True
    return False


@pytest.mark.parametrize(("hole", "bolt"), [(6.44, 6.0), (11.0, 10.0), (13.5, 12.0)])
def test_what_the_rules_allow_goes_in_and_a_little_more_does_not(hole: float, bolt: float) -> None:
    # Both off by half of their zone, away from each other.
    assert goes_in(hole, hole, bolt, pt.floating(hole, bolt))
    assert not goes_in(hole, hole, bolt, 1.02 * pt.floating(hole, bolt))
    # A thread takes the bolt with it.
    assert goes_in(hole, bolt, bolt, pt.fixed(hole, bolt))
    assert not goes_in(hole, bolt, bolt, 1.02 * pt.fixed(hole, bolt))


@pytest.mark.parametrize(
    ("hole", "other", "known"), [(11.0, 11.0, 0.3), (11.0, 8.5, 0.3), (8.5, 11.0, 0.4)]
)
def test_what_is_left_beside_a_hole_that_stands_already_goes_in(
    hole: float, other: float, known: float
) -> None:
    bolt = 10.0
    left = pt.left_over(hole, other, bolt, known)
    clear = max(hole, bolt), max(other, bolt)
    assert goes_in(*clear, bolt, (left + known) / 2)
    assert not goes_in(*clear, bolt, 1.02 * (left + known) / 2)


def test_a_place_known_along_two_axes_lies_in_its_zone() -> None:
    """3 and 4 hundredths make 5 about the middle, so a zone of a tenth across."""
    assert pt.known_zone(0.03 * MM, -0.04 * MM) == pytest.approx(0.10 * MM)


@pytest.mark.parametrize("fn", [pt.floating, pt.fixed])
def test_a_hole_no_wider_than_its_bolt_has_no_zone(fn: object) -> None:
    assert callable(fn)
    with pytest.raises(FormulaError, match="leaves the bolt no room"):
        fn(10 * MM, 10 * MM)


def test_a_hole_that_is_not_known_closely_enough_leaves_nothing() -> None:
    with pytest.raises(FormulaError, match="not known closely enough"):
        pt.left_over(11 * MM, 8.5 * MM, 10 * MM, 1.0 * MM)


def indicated(offset: float, tilt: float, reach: float) -> float:
    """Read an indicator on a true round pin whose axis is off and tilted, turned once round."""
    turns = np.radians(np.arange(360))
    axis = np.array([offset + math.tan(tilt) * reach, 0.0])
    centres = np.stack([np.cos(turns) * axis[0], np.sin(turns) * axis[0]], axis=1)
    # The tip looks along x at a pin of 30 mm; off its middle it touches the rim a little lower.
    tips = centres[:, 0] + np.sqrt((15 * MM) ** 2 - centres[:, 1] ** 2)
    return float(tips.max() - tips.min())


def test_zones_that_fill_up_the_run_out_are_read_as_just_that() -> None:
    """0.05 mm allowed, 0.02 mm of the coupler: 0.03 mm is left, half of it for each.

    By hand: a zone of 0.015 mm; and 0.015 mm · 100 mm / 50 mm = 0.03 mm for the face.
    """
    left = run_out.left(0.05 * MM, 0.02 * MM)
    assert left == pytest.approx(0.03 * MM)
    zone = run_out.coaxiality(left, 0.5)
    face = run_out.parallelism(left, 0.5, 100 * MM, 50 * MM)
    assert zone == pytest.approx(0.015 * MM)
    assert face == pytest.approx(0.030 * MM)
    # The axis at the edge of its zone; the face as far askew as its planes allow over 200 mm.
    tilt = math.atan(face / (200 * MM))
    assert indicated(zone / 2, tilt, 50 * MM) == pytest.approx(0.03 * MM, rel=1e-5)
    assert indicated(zone / 2, 0.0, 50 * MM) == pytest.approx(0.015 * MM, rel=1e-5)
    assert indicated(0.0, tilt, 50 * MM) == pytest.approx(0.015 * MM, rel=1e-5)


@pytest.mark.parametrize("flange", [0.05, 0.06])
def test_a_coupler_that_uses_up_the_run_out_leaves_no_zone(flange: float) -> None:
    left = run_out.left(0.05 * MM, flange * MM)
    with pytest.raises(FormulaError, match="the coupler alone uses up"):
        run_out.coaxiality(left, 0.5)
    with pytest.raises(FormulaError, match="the coupler alone uses up"):
        run_out.parallelism(left, 0.5, 100 * MM, 50 * MM)


def test_a_face_in_the_plane_of_the_coupling_has_no_limit_from_run_out() -> None:
    with pytest.raises(FormulaError, match="shows nothing there"):
        run_out.parallelism(0.03 * MM, 0.5, 100 * MM, 0.0)
