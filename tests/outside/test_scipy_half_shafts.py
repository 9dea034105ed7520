"""Arms, joints and plunge by finite rotation.

Sources: SciPy's ``Rotation.from_rotvec`` turns the arm; its height is brought to the wanted rise by
SciPy's root finder; angles between lines by NumPy's scalar products. Joint angle from elevation and
plan against √(a² + b²), common practice of the trade for small angles.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

from wattwright.errors import FormulaError
from wattwright.physics import half_shaft as shaft

lengths = st.floats(-0.6, 0.6)
vectors = st.tuples(lengths, lengths, lengths)


def directions(axis: tuple[float, float, float]) -> list[float]:
    return [shaft.direction(each, *axis) for each in axis]


def swung(arm: tuple[float, float, float], n: list[float], turn: float) -> np.ndarray:
    every = (shaft.swung_x, shaft.swung_y, shaft.swung_z)
    return np.array([formula(*arm, *n, turn) for formula in every])


@given(vectors, vectors, st.floats(-1.5, 1.5))
def test_a_vector_swings_as_scipy_turns_it(arm, axis, turn) -> None:
    assume(np.linalg.norm(axis) > 0.05)
    n = directions(axis)
    assert np.linalg.norm(n) == pytest.approx(1.0)
    wanted = Rotation.from_rotvec(turn * np.array(n)).apply(arm)
    np.testing.assert_allclose(swung(arm, n, turn), wanted, atol=1e-12)


# Arms that lie across their axis and near enough level, as arms do, either way round.
_sides = st.sampled_from((1.0, -1.0))
_arms = st.tuples(
    st.builds(lambda side, size: side * size, _sides, st.floats(0.3, 0.6)),
    st.floats(-0.15, 0.15),
    st.floats(-0.03, 0.03),
)
_axes = st.builds(
    lambda way, tilt, size: (size * math.sin(way), size * math.cos(way), size * tilt),
    st.floats(-0.5, 0.5),
    st.floats(-0.05, 0.05),
    st.floats(0.1, 0.6),
)


@given(_arms, _axes, st.floats(-0.06, 0.06))
def test_the_arm_turns_until_its_end_has_risen_by_so_much(arm, axis, rise) -> None:
    n = directions(axis)
    level, across = shaft.arm_level(*arm, *n), shaft.arm_across(arm[0], arm[1], n[0], n[1])
    turn = shaft.arm_turn(level, across, rise)

    def short(angle: float) -> float:
        turned = Rotation.from_rotvec(angle * np.array(n)).apply(arm)
        return float(turned[2] - arm[2] - rise)

    # Between the highest and the lowest place of the arm it rises or falls throughout.
    top = math.atan2(across, level)
    low, high = sorted((top, top - math.copysign(math.pi, top)))
    assert turn == pytest.approx(brentq(short, low, high, xtol=1e-13), abs=1e-9)


def test_an_arm_does_not_reach_beyond_its_length() -> None:
    with pytest.raises(FormulaError, match="does not reach"):
        shaft.arm_turn(0.0, 0.3, 0.31)
    with pytest.raises(FormulaError, match="one point"):
        shaft.direction(0.0, 0.0, 0.0, 0.0)


@given(vectors, vectors)
def test_a_joint_bends_by_the_angle_between_its_lines(first, second) -> None:
    sizes = np.linalg.norm(first) * np.linalg.norm(second)
    assume(sizes > 1e-3)
    cosine = min(1.0, abs(float(np.dot(first, second))) / sizes)
    found = shaft.joint_angle(*first, *second)
    assert math.cos(found) == pytest.approx(cosine, abs=1e-9)
    assert found == pytest.approx(shaft.joint_angle(*second, *first), abs=1e-12)
    # Either way round, and whatever the units.
    turned = [-3.0 * each for each in second]
    assert found == pytest.approx(shaft.joint_angle(*first, *turned), abs=1e-9)


def test_small_angles_in_side_view_and_plan_add_up_by_their_squares() -> None:
    elevation, plan = math.radians(2.0), math.radians(1.5)
    along = (math.tan(plan), 1.0, math.tan(elevation))
    found = shaft.joint_angle(0.0, 1.0, 0.0, *along)
    assert math.degrees(found) == pytest.approx(math.hypot(2.0, 1.5), abs=2e-3)


def test_a_swing_axle_keeps_its_length_and_a_straight_hub_needs_more() -> None:
    # About its own inner joint a shaft of 0.4 m only turns: sin θ = 0.06/0.4.
    n = directions((1.0, 0.0, 0.0))
    arm = (0.0, 0.4, 0.0)
    level, across = shaft.arm_level(*arm, *n), shaft.arm_across(arm[0], arm[1], n[0], n[1])
    turn = shaft.arm_turn(level, across, 0.06)
    assert turn == pytest.approx(math.asin(0.15))
    assert np.linalg.norm(swung(arm, n, turn)) == pytest.approx(0.4)
    straight = math.hypot(0.4, 0.06)
    assert shaft.plunge(straight, 0.4) == pytest.approx(0.404475 - 0.4, abs=1e-6)
