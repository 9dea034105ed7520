"""Cardan joints against a chain of forks turned with SciPy's rotations, and printed closed forms.

The chain knows no formula of a joint: the fork of the driven shaft is what is perpendicular to its
shaft and to the fork of the driving one, and the fork at the other end of a shaft is turned with
it. The closed-form table was computed from 1/cos β, cos β, sin β tan β and the largest difference
of θ₂ and θ, to the digits that are typed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from wattwright.physics import cardan

Vector = Any
# β, 1/cos β, cos β, U, lead and θ₂ at θ = 45°, angles in degrees (computed, closed form)
CLOSED = [
    (1.0, 1.00015233, 0.9998477, 0.00030463, 0.004364, 45.004364),
    (3.0, 1.00137235, 0.99862953, 0.00274281, 0.039288, 45.039288),
    (5.0, 1.00381984, 0.9961947, 0.00762514, 0.109222, 45.109222),
    (10.0, 1.01542661, 0.98480775, 0.03061886, 0.438561, 45.438549),
    (15.0, 1.03527618, 0.96592583, 0.06935035, 0.993122, 45.992973),
    (20.0, 1.06417777, 0.93969262, 0.12448515, 1.781682, 46.780821),
    (30.0, 1.15470054, 0.8660254, 0.28867513, 4.117194, 49.106605),
]
WAYS = (((3, -2), (-4, 5)), ((0, 0), (6, 0)), ((2, 1), (2, 1.01)), ((60, 0), (9, 170)))
TURNS = np.radians(np.arange(0.0, 360.0, 2.0))


def pointing(rise: float, turn: float) -> Vector:
    """Direction of an axis: level and straight back, lifted, then turned to the right."""
    lifted = Rotation.from_rotvec([0.0, -rise, 0.0])
    turned = Rotation.from_rotvec([0.0, 0.0, turn])
    return (turned * lifted).apply([1.0, 0.0, 0.0])


def spun(axis: Vector, arm: Vector, clockwise: float) -> Vector:
    """An arm turned about its shaft, clockwise seen from behind: from up to the right."""
    return Rotation.from_rotvec(-clockwise * axis).apply(arm)


def square_to(axis: Vector) -> Vector:
    up = np.array([0.0, 0.0, 1.0])
    arm = up - axis * (up @ axis)
    return arm / np.linalg.norm(arm)


def turned_out(
    line: Sequence[tuple[float, float]], forks: Sequence[float], first: float = 0.0
) -> Vector:
    """How far the last shaft has turned while the first is turned through ``TURNS``.

    ``forks`` says, for each shaft between, how far its rear fork is clockwise of its front one.
    """
    axes = [pointing(*each) for each in line]
    found = []
    for theta in TURNS:
        arm = spun(axes[0], square_to(axes[0]), first + theta)
        for place, axis in enumerate(axes[1:]):
            arm = np.cross(arm, axis)
            arm /= np.linalg.norm(arm)
            if place < len(forks):
                arm = spun(axis, arm, forks[place])
        up = square_to(axes[-1])
        right = spun(axes[-1], up, math.pi / 2)
        found.append(math.atan2(arm @ right, arm @ up))
    return np.unwrap(found)


def swing(line: Sequence[tuple[float, float]], forks: Sequence[float]) -> float:
    """How far the last shaft swings, twice a turn: half of it in angle, by its Fourier sum."""
    off = turned_out(line, forks) - TURNS
    return float(abs(2.0 * np.mean(off * np.exp(-2j * TURNS))))


def residual(line: Sequence[tuple[float, float]], forks: Sequence[float]) -> float:
    """The same by the formulas: angle of one joint that swings as much."""
    yoke, alongs, acrosses = 0.0, [], []
    for place in range(len(line) - 1):
        if place:
            # Part as meant and part as error: both turn the same way.
            yoke = cardan.yoke_after(yoke, 0.4, forks[place - 1] - 0.4)
        ways = (*line[place], *line[place + 1], yoke)
        alongs.append(cardan.swing_along(*ways))
        acrosses.append(cardan.swing_across(*ways))
    return cardan.residual_angle(alongs, acrosses)


def rad(*degrees: float) -> tuple[float, ...]:
    return tuple(math.radians(each) for each in degrees)


@pytest.mark.parametrize(("angle", "high", "low", "uneven", "lead", "at_45"), CLOSED)
def test_one_joint_as_in_the_table_of_closed_forms(
    angle: float, high: float, low: float, uneven: float, lead: float, at_45: float
) -> None:
    bent = math.radians(angle)
    assert cardan.fastest(bent) == pytest.approx(high, abs=6e-9)
    assert cardan.slowest(bent) == pytest.approx(low, abs=6e-8)
    assert cardan.unevenness(bent) == pytest.approx(uneven, abs=6e-9)
    assert math.degrees(cardan.lead(bent)) == pytest.approx(lead, abs=6e-7)
    turned = cardan.turned_out(bent, math.radians(45.0))
    assert math.degrees(turned) == pytest.approx(at_45, abs=6e-7)


@pytest.mark.parametrize("angle", [1.0, 5.0, 10.0, 20.0, 35.0])
def test_one_joint_turns_as_its_forks_do(angle: float) -> None:
    """Bent upwards, the fork that stands upright lies in the plane of both shafts."""
    bent = math.radians(angle)
    # The chain counts the driven fork, a quarter turn on.
    off = turned_out([(0.0, 0.0), (bent, 0.0)], ()) - TURNS
    off -= off[0]
    ours = np.array([cardan.turned_out(bent, theta) - theta for theta in TURNS])
    assert off == pytest.approx(ours, abs=1e-9)
    # Speed and acceleration by differences over a small step.
    for theta in (0.0, 0.3, 0.8, 1.2, 2.5):
        step = 1e-5
        ahead, here, behind = (
            cardan.turned_out(bent, theta + way * step) for way in (1.0, 0.0, -1.0)
        )
        assert cardan.speed_ratio(bent, theta) == pytest.approx((ahead - behind) / (2 * step))
        second = (ahead - 2 * here + behind) / step**2
        assert cardan.acceleration_out(1.0, bent, theta) == pytest.approx(second, abs=3e-5)


@pytest.mark.parametrize(("angle", "most"), [(3.25, 882.6), (5.0, 1024.3), (11.5, 1001.2)])
def test_exact_peak_and_small_angle_peak_of_the_acceleration(angle: float, most: float) -> None:
    """Exact peaks at 5000, 3500 and 1500 rpm (computed elsewhere), with ω²β² beside them."""
    speed = {3.25: 5000.0, 5.0: 3500.0, 11.5: 1500.0}[angle] * 2 * math.pi / 60
    bent = math.radians(angle)
    peak = -cardan.acceleration_out(speed, bent, cardan.steepest_at(bent))
    assert peak == pytest.approx(most, abs=0.06)
    places = np.linspace(0.0, math.pi, 20001)
    searched = max(abs(cardan.acceleration_out(speed, bent, at)) for at in places)
    assert peak == pytest.approx(searched, rel=1e-6)
    assert cardan.excitation(speed, bent) == pytest.approx(peak, rel=8e-3)


def test_angle_of_a_joint_is_that_between_both_axes() -> None:
    for one, other in WAYS:
        first, second = rad(*one), rad(*other)
        ours = cardan.joint_angle(*first, *second)
        a, b = pointing(*first), pointing(*second)
        assert ours == pytest.approx(math.atan2(np.linalg.norm(np.cross(a, b)), a @ b), abs=1e-12)
    # Small ones: root of the squares of both differences (the trade's way to add plan and side).
    assert cardan.joint_angle(*rad(0, 0, 3, 4)) == pytest.approx(math.radians(5.0), rel=2e-3)


def test_two_equal_angles_with_forks_in_line_turn_evenly() -> None:
    for line in ([(-3, 0), (-9, 0), (-3, 0)], [(0, 0), (6, 0), (12, 0)]):
        bent = [rad(*each) for each in line]
        assert swing(bent, (0.0,)) < 2e-5
        assert residual(bent, (0.0,)) == pytest.approx(0.0, abs=1e-8)
        # Crossed they add up: twice the swing of one joint of 6°.
        one = math.radians(6.0) ** 2 / 4
        assert swing(bent, (math.pi / 2,)) == pytest.approx(2 * one, rel=3e-3)
        assert residual(bent, (math.pi / 2,)) == pytest.approx(math.radians(6.0) * math.sqrt(2))


def test_in_one_plane_with_forks_in_line_signs_alternate() -> None:
    """Published for joints in series: √|β1² - β2² + β3²| (memory), and by the chain."""
    two = [rad(*each) for each in ((0, 0), (5, 0), (8, 0))]
    assert residual(two, (0.0,)) == pytest.approx(math.radians(4.0))
    three = [rad(*each) for each in ((0, 0), (4, 0), (7, 0), (9, 0))]
    assert residual(three, (0.0, 0.0)) == pytest.approx(math.radians(math.sqrt(16 - 9 + 4)))
    for line, forks in ((two, (0.0,)), (three, (0.0, 0.0))):
        assert swing(line, forks) == pytest.approx(residual(line, forks) ** 2 / 4, rel=0.02)


def test_joints_in_planes_at_right_angles_add_up_with_forks_in_line() -> None:
    """One joint bent up, the next bent aside by as much: forks in line make it worse."""
    line = [rad(*each) for each in ((0, 0), (5, 0), (5, 5))]
    assert swing(line, (0.0,)) == pytest.approx(residual(line, (0.0,)) ** 2 / 4, rel=0.02)
    assert residual(line, (0.0,)) > math.radians(7.0)
    assert residual(line, (math.pi / 2,)) < math.radians(0.8)


SMALL = st.floats(-0.1, 0.1)
WAY = st.tuples(SMALL, SMALL)
FORKS = st.floats(-math.pi, math.pi)


@settings(max_examples=60, deadline=None)
@given(line=st.lists(WAY, min_size=2, max_size=4), forks=st.tuples(FORKS, FORKS))
def test_any_line_swings_as_the_chain_of_forks_does(
    line: list[tuple[float, float]], forks: tuple[float, float]
) -> None:
    between = forks[: len(line) - 2]
    largest = max(cardan.joint_angle(*one, *other) for one, other in pairwise(line))
    ours = residual(line, between) ** 2 / 4
    assert ours == pytest.approx(swing(line, between), abs=0.06 * largest**2 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(line=st.lists(WAY, min_size=3, max_size=4), forks=st.tuples(FORKS, FORKS))
def test_seen_from_the_other_end_or_in_a_mirror_it_is_the_same(
    line: list[tuple[float, float]], forks: tuple[float, float]
) -> None:
    between = forks[: len(line) - 2]
    ours = residual(line, between)
    mirrored = [(rise, -turn) for rise, turn in line]
    assert residual(mirrored, [-each for each in between]) == pytest.approx(ours, abs=1e-7)
    # The vehicle turned round: what rose now falls, what was clockwise still is.
    back = [(-rise, turn) for rise, turn in reversed(line)]
    assert residual(back, list(reversed(between))) == pytest.approx(ours, abs=1e-7)


@settings(max_examples=60, deadline=None)
@given(rolled=st.floats(-math.pi, math.pi), angles=st.tuples(SMALL, SMALL, SMALL))
def test_the_plane_of_a_flat_line_does_not_matter(
    rolled: float, angles: tuple[float, float, float]
) -> None:
    upright = [(each, 0.0) for each in angles]
    rolling = [(each * math.cos(rolled), each * math.sin(rolled)) for each in angles]
    assert residual(rolling, (0.0,)) ** 2 == pytest.approx(residual(upright, (0.0,)) ** 2, abs=3e-4)
