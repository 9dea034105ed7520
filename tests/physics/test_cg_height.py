"""Height of the centre of gravity: a vehicle of known height is tilted and must come out again."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wattwright.errors import FormulaError
from wattwright.formula import declaration
from wattwright.physics import cg_height as cg

masses = st.floats(400.0, 4000.0)
wheelbases = st.floats(1.5, 4.5)
shares = st.floats(0.2, 0.8)
heights = st.floats(0.3, 1.5)
angles = st.floats(0.03, 0.5)
axle_heights = st.floats(0.2, 0.5)


def load_on_floor(
    mass: float, base: float, share: float, height: float, angle: float, axle: float
) -> float:
    """Load on the axle on the floor from the places of both axles and the centre of gravity.

    ``share`` of the mass stands on the floor axle while level. In the tilted vehicle the levers
    are measured along the ground, as a plumb line would.
    """

    def along_ground(x: float, z: float) -> float:
        return x * math.cos(angle) - z * math.sin(angle)

    # Floor axle at x = 0, lifted axle at x = base, heights from the line of the wheel centres.
    lever = along_ground(base * (1 - share), height - axle)
    return mass * (1 - lever / along_ground(base, 0.0))


@given(masses, wheelbases, shares, heights, angles, axle_heights)
def test_a_known_height_comes_out_again(
    mass: float, base: float, share: float, height: float, angle: float, axle: float
) -> None:
    lifted = load_on_floor(mass, base, share, height, angle, axle)
    gain = cg.gain_on_floor_axle(mass * share, lifted)
    assert cg.cg_height(mass, base, gain, angle, axle) == pytest.approx(height, abs=1e-6)


def test_by_hand() -> None:
    # tan 45° is one, so the height above the axles is wheelbase times the share gained
    assert cg.cg_height(1000.0, 2.5, 120.0, math.pi / 4, 0.3) == pytest.approx(0.6)
    assert cg.lift_angle_from_height(1.25, 2.5) == pytest.approx(math.radians(30))
    assert cg.gain_on_floor_axle(600.0, 630.0) == 30.0
    assert cg.height_moment([100.0, 50.0], [0.5, 1.0]) == 100.0
    assert cg.height_after(1000.0, 0.6, 90.0, 30.0, 900.0) == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("mass", "angle"), [(0.0, 0.2), (-5.0, 0.2), (1000.0, 0.0), (1000.0, -0.1)]
)
def test_without_mass_or_tilt_there_is_no_height(mass: float, angle: float) -> None:
    with pytest.raises(FormulaError, match="above zero"):
        cg.cg_height(mass, 2.5, 30.0, angle, 0.3)


@pytest.mark.parametrize("lift", [0.0, -0.1, 2.5, 3.0])
def test_a_lift_is_less_than_the_wheelbase(lift: float) -> None:
    with pytest.raises(FormulaError, match="below the wheelbase"):
        cg.lift_angle_from_height(lift, 2.5)


def test_very_small_and_very_large_tilts_are_not_vouched_for() -> None:
    declared = declaration(cg.cg_height)
    assert declared.outside([1000.0, 2.5, 30.0, 0.2, 0.3]) == ()
    assert declared.outside([1000.0, 2.5, 30.0, 0.01, 0.3]) != ()
    assert declared.outside([1000.0, 2.5, 30.0, 0.8, 0.3]) != ()


@given(
    masses, wheelbases, heights, axle_heights, st.floats(0.1, 20.0), st.floats(1e-4, 0.01), angles
)
def test_the_band_is_the_first_order_band_of_the_formula(
    mass: float,
    base: float,
    height: float,
    axle: float,
    gain_band: float,
    angle_band: float,
    angle: float,
) -> None:
    assume(abs(height - axle) > 0.01)
    gain = (height - axle) * mass * math.tan(angle) / base
    step = 1e-6

    def at(gain: float, angle: float) -> float:
        return cg.cg_height(mass, base, gain, angle, axle)

    by_gain = (at(gain + step, angle) - at(gain - step, angle)) / (2 * step)
    by_angle = (at(gain, angle + step) - at(gain, angle - step)) / (2 * step)
    want = math.hypot(by_gain * gain_band, by_angle * angle_band)
    scales = cg.scales_part(mass, base, gain_band)
    level = cg.level_part(height, axle, angle_band)
    assert cg.height_band(scales, level, angle) == pytest.approx(want, rel=1e-4)


parts = st.floats(0.0005, 0.02)


@given(parts, parts, st.floats(0.005, 0.2))
def test_the_smallest_tilt_reaches_the_wanted_band_and_less_does_not(
    scales: float, level: float, wanted: float
) -> None:
    try:
        angle = cg.angle_for_accuracy(scales, level, wanted)
    except FormulaError:
        # No tilt is enough: then none of many tried reaches it either.
        tried = [cg.height_band(scales, level, math.radians(x / 4)) for x in range(1, 360)]
        assert min(tried) >= wanted * (1 - 1e-9)
        return
    assert 0 < angle < math.pi / 2
    assert cg.height_band(scales, level, angle) == pytest.approx(wanted, rel=1e-6)
    assert cg.height_band(scales, level, angle * 0.98) > wanted
