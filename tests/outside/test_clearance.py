"""Gaps between bodies against closed forms, a general optimiser and rotations by SciPy.

Closed forms (solid geometry, as in any handbook of analytic geometry):
  upright boxes      square root of the squares of the gaps along each axis; 3, 4, 12 give 13
  turned square      half the diagonal reaches out: side times 0.70710678
  parallel lines     distance of the axes less both radii
  skew lines         |d . (u x v)| / |u x v| less both radii
  line and edge      distance of a point from a line, less the radius
Boxes and hoses at random are held against ``scipy.optimize.lsq_linear``: the least distance of two
bodies with flat faces is a least-squares problem with bounds; cylinders against
``scipy.optimize.minimize``. An arm that swings is turned by
``scipy.spatial.transform.Rotation`` through two thousand positions. Nothing of the program's own
geometry is used for an expected number.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, lsq_linear, minimize
from scipy.spatial.transform import Rotation

from wattwright.areas.mounts import Mounts
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import parse_build
from wattwright.findings import Finding, Verdict
from wattwright.physics import clearance as physics
from wattwright.values import Value

HEAD = """\
format = 1
[build]
name = "room"
[donor]
wheelbase = "2000 mm ± 3"
front.track = "1300 mm ± 3"
rear.track = "1200 mm ± 3"
[clearance.front]
bump = "70 mm ± 2"
droop = "60 mm ± 2"
laden_drop = "20 mm ± 1"
hub = "300 mm ± 2"
[clearance.rear]
bump = "80 mm ± 2"
droop = "90 mm ± 2"
laden_drop = "40 mm ± 1"
hub = "300 mm ± 2"
"""
STIFF = '[clearance.rubber]\nalong = "0 mm"\nacross = "0 mm"\nup = "0 mm"\n'
AXES = ("x", "y", "z")
SIZES = ("length", "width", "height")


def table(names: tuple[str, ...], numbers: tuple[float, ...], unit: str = "mm") -> str:
    scale = {"mm": 1e3, "in": 1 / 0.0254}[unit]
    pairs = zip(names, numbers, strict=True)
    return "{ " + ", ".join(f'{n} = "{x * scale:.9f} {unit} ± 1 mm"' for n, x in pairs) + " }"


def box(at: tuple[float, ...], size: tuple[float, ...], more: str = "", *, unit: str = "mm") -> str:
    return f"at = {table(AXES, at, unit)}\nsize = {table(SIZES, size, unit)}\n{more}"


def rod(at: tuple[float, ...], length: float, diameter: float, more: str = "") -> str:
    measures = f'length = "{length * 1e3:.9f} mm ± 1"\ndiameter = "{diameter * 1e3:.9f} mm ± 1"\n'
    return f'shape = "cylinder"\nat = {table(AXES, at)}\n{measures}{more}'


def hose(name: str, diameter: float, *points: tuple[float, ...], more: str = "") -> str:
    ways = "".join(
        f"[body.{name}.via.{count}_clip]\nat = {table(AXES, point)}\n"
        for count, point in enumerate(points)
    )
    return f'shape = "hose"\ndiameter = "{diameter * 1e3:.9f} mm ± 1"\n{more}{ways}'


def turned(angles: tuple[float, ...]) -> str:
    words = zip(("yaw", "pitch", "roll"), angles, strict=True)
    return "".join(f'{word} = "{angle:.12f}°"\n' for word, angle in words)


def assessed(bodies: Mapping[str, str], head: str = HEAD + STIFF) -> Assessment:
    text = head + "".join(f"[body.{name}]\n{body}" for name, body in bodies.items())
    return assess(parse_build(text.encode()), (Mounts(),))


def finding(assessment: Assessment, address: str) -> Finding:
    found = assessment.by_address[address]
    assert isinstance(found, Finding)
    return found


def gap_of(one: str, other: str, head: str = HEAD + STIFF) -> float:
    """Gap of a body of the vehicle and one of the unit."""
    found = assessed({"a": one, "b": f'moves_with = "unit"\n{other}'}, head)
    number = finding(found, "mounts.gap@a/b").value.number
    assert number is not None
    return number


# ------------------------------------------------------------------------------------ closed forms

CUBE = (0.2, 0.2, 0.2)


@pytest.mark.parametrize(
    ("apart", "gap"),
    [
        ((0.25, 0.0, 0.0), 0.05),
        ((0.0, -0.27, 0.1), 0.07),
        ((0.23, 0.24, 0.0), 0.05),  # 30 and 40 mm
        ((0.23, -0.24, 0.32), 0.13),  # 30, 40 and 120 mm
        ((0.15, 0.0, 0.0), -0.05),
        ((0.0, 0.0, 0.0), -0.2),
    ],
)
def test_upright_boxes(apart: tuple[float, ...], gap: float) -> None:
    at = (1.0, 0.1, 0.5)
    other = tuple(a + b for a, b in zip(at, apart, strict=True))
    assert gap_of(box(at, CUBE), box(other, CUBE)) == pytest.approx(gap, abs=1e-9)


def test_a_square_on_edge_reaches_half_its_diagonal() -> None:
    # 0.3 - 0.1 - 0.2 * 0.70710678 / 1
    found = gap_of(box((1, 0, 0.5), CUBE), box((1.3, 0, 0.5), CUBE, 'yaw = "45°"\n'))
    assert found == pytest.approx(0.058578644, abs=1e-9)


@pytest.mark.parametrize(
    ("turn", "gap"),
    [
        # + roll lifts the right side, + pitch the nose: a plate of 400 mm by 200 mm by 0 turned 30°
        # about its middle reaches 0.2 * sin 30° = 100 mm over it along, 50 mm across.
        ('pitch = "30°"\n', 0.5 - 0.1 - 0.1 - 0.0005 * math.cos(math.radians(30))),
        ('roll = "30°"\n', 0.5 - 0.1 - 0.05 - 0.0005 * math.cos(math.radians(30))),
    ],
)
def test_a_tilted_plate_under_a_box(turn: str, gap: float) -> None:
    plate = box((1, 0, 0.5), (0.4, 0.2, 0.001), turn)
    assert gap_of(plate, box((1, 0, 1.0), (2.0, 1.0, 0.2))) == pytest.approx(gap, abs=1e-9)


@pytest.mark.parametrize(
    ("turn", "under", "away"),
    [
        # What rises is the nose, the right side, the left of the tail (as the nose turns left).
        ('pitch = "30°"\n', (0.8268, 0.0), (1.1732, 0.0)),
        ('roll = "30°"\n', (1.0, 0.0866), (1.0, -0.0866)),
    ],
)
def test_which_side_rises(turn: str, under: tuple[float, float], away: tuple[float, float]) -> None:
    plate = box((1, 0, 0.5), (0.4, 0.2, 0.001), turn)
    gaps = [gap_of(plate, box((*at, 0.8), (0.01, 0.01, 0.01))) for at in (under, away)]
    assert gaps[0] < gaps[1] - 0.05


def test_yaw_turns_the_nose_left() -> None:
    beam = box((1, 0, 0.5), (0.8, 0.02, 0.02), 'yaw = "30°"\n')
    left = gap_of(beam, box((0.65, -0.2, 0.5), (0.01, 0.01, 0.01)))
    right = gap_of(beam, box((0.65, 0.2, 0.5), (0.01, 0.01, 0.01)))
    assert left < 0.01 < right


@pytest.mark.parametrize(
    ("apart", "gap"),
    [
        ((0.18, 0.24, 0.0), 0.3 - 0.08),  # parallel axes 300 mm apart, radii 50 and 30 mm
        ((0.0, 0.0, 0.56), 0.56 - 0.25 - 0.2),  # ends over one another
        ((0.35, 0.0, 0.57), math.hypot(0.27, 0.12)),  # rim to rim: 270 mm aside, 120 mm up
    ],
)
def test_parallel_cylinders(apart: tuple[float, ...], gap: float) -> None:
    at = (1.0, 0.0, 0.6)
    other = tuple(a + b for a, b in zip(at, apart, strict=True))
    up = 'axis = "up"\n'
    found = gap_of(rod(at, 0.5, 0.1, up), rod(other, 0.4, 0.06, up))
    assert found == pytest.approx(gap, abs=1e-8)


def test_skew_cylinders() -> None:
    # u = (1, 0, 0); v is x turned by yaw 30° and pitch 20°: (0.813798, 0.469846, -0.342020).
    # u x v = (0, 0.342020, 0.469846), of length 0.5811484; d = (0.1, 0.2, 0.4) gives
    # 0.2563426 / 0.5811484 = 0.4410966, less 50 and 30 mm.
    one = rod((1.0, 0.0, 0.5), 2.0, 0.1, 'axis = "along"\n')
    other = rod((1.1, 0.2, 0.9), 2.0, 0.06, 'axis = "along"\nyaw = "30°"\npitch = "20°"\n')
    assert gap_of(one, other) == pytest.approx(0.4410966 - 0.08, abs=1e-7)


@pytest.mark.parametrize("axis", ["along", "across", "up"])
def test_a_cylinder_beside_an_edge(axis: str) -> None:
    # The axis runs along an edge, 90 mm beyond one face and 120 mm beyond the other: 150 mm.
    place = AXES.index({"along": "x", "across": "y", "up": "z"}[axis])
    apart = [0.0, 0.0, 0.0]
    apart[(place + 1) % 3], apart[(place + 2) % 3] = 0.19, 0.22
    at = tuple(a + b for a, b in zip((1.0, 0.0, 0.8), apart, strict=True))
    found = gap_of(box((1.0, 0.0, 0.8), CUBE), rod(at, 0.15, 0.04, f'axis = "{axis}"\n'))
    assert found == pytest.approx(0.15 - 0.02, abs=1e-9)


def test_hoses_cross_and_end() -> None:
    # The two lines cross at a right angle 70 mm apart; where the second is drawn back by 240 mm
    # beyond the first its end is the hypotenuse of 70 and 240 mm away: 250 mm.
    first = hose("a", 0.02, (0.5, 0.0, 0.5), (1.5, 0.0, 0.5))
    for start, gap in ((-0.3, 0.07), (0.24, 0.25)):
        second = hose("b", 0.03, (1.0, start, 0.57), (1.0, 0.9, 0.57))
        assert gap_of(first, second) == pytest.approx(gap - 0.025, abs=1e-9)


def test_reach_by_hand() -> None:
    # Of a box 3 by 4 by 12 towards its corner half its diagonal: 6.5. Of a cylinder 6 long and 8
    # wide along the slope 3 : 4 it is 3 * 0.6 + 4 * 0.8 = 5.
    corner = (3 / 13, 4 / 13, 12 / 13)
    assert physics.reach_of_box(3.0, 4.0, 12.0, *corner) == pytest.approx(6.5)
    assert physics.reach_of_cylinder(6.0, 8.0, -0.6, 0.0, 0.8) == pytest.approx(5.0)
    assert physics.reach_of_movement(1.0, 2.0, 3.0, 0.6, -0.8, 0.0) == pytest.approx(2.2)
    assert physics.reach_where_touched(3.0, 4.0, 12.0, *corner, 0.5, 0.5, 0.5) == pytest.approx(6.5)


@pytest.mark.parametrize("angles", [(0.3, -0.2, 0.4), (-1.2, 0.7, 2.0), (0.0, 1.3, -0.1)])
def test_turning_is_that_of_scipy(angles: tuple[float, float, float]) -> None:
    yaw, pitch, roll = angles
    way = np.array([0.36, -0.48, 0.8])
    own = Rotation.from_euler("ZYX", [yaw, pitch, roll]).inv().apply(way)
    assert physics.along_length(*way, yaw, pitch) == pytest.approx(own[0])
    assert physics.along_width(*way, yaw, pitch, roll) == pytest.approx(own[1])
    assert physics.along_height(*way, yaw, pitch, roll) == pytest.approx(own[2])


# -------------------------------------------------------------------------------------- at random


def spans(body: tuple[str, tuple[float, ...], tuple[float, ...], tuple[float, ...]]) -> np.ndarray:
    """Columns: how a box with flat faces is spanned by its half measures."""
    _, _, size, angles = body
    turn = Rotation.from_euler("ZYX", angles, degrees=True).as_matrix()
    return turn * (np.array(size) / 2)


def least(one: tuple, other: tuple) -> float:
    """Least distance by a general solver: minimise |a + A u - b - B v| with all within -1 to 1."""
    first, second = spans(one), spans(other)
    target = np.array(other[1]) - np.array(one[1])
    found = lsq_linear(np.hstack([first, -second]), target, (-1.0, 1.0), tol=1e-14)
    return math.sqrt(2 * found.cost)


@pytest.mark.parametrize("seed", range(25))
def test_boxes_at_random_against_a_general_solver(seed: int) -> None:
    rng = np.random.default_rng(seed)
    bodies = []
    for at in ((1.0, -0.3, 0.8), (1.5, 0.4, 1.2)):
        place = tuple(np.array(at) + rng.uniform(-0.1, 0.1, 3))
        angles = tuple(rng.uniform(-40, 40, 3))
        bodies.append(("box", place, tuple(rng.uniform(0.05, 0.5, 3)), angles))
    texts = [box(at, size, turned(angles)) for _, at, size, angles in bodies]
    assert gap_of(*texts) == pytest.approx(least(*bodies), abs=3e-7)


@pytest.mark.parametrize("seed", range(10))
def test_a_hose_past_a_turned_box_at_random(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    ends = [np.array(at) + rng.uniform(-0.15, 0.15, 3) for at in ((0.8, 0.4, 0.9), (1.6, 0.5, 0.7))]
    angles = tuple(rng.uniform(-40, 40, 3))
    body = box((1.2, -0.1, 0.8), (0.3, 0.4, 0.2), turned(angles))
    span = spans(("box", (), (0.3, 0.4, 0.2), angles))
    line = (ends[1] - ends[0])[:, None] / 2
    target = (ends[0] + ends[1]) / 2 - np.array([1.2, -0.1, 0.8])
    found = lsq_linear(np.hstack([span, -line]), target, (-1.0, 1.0), tol=1e-14)
    pipe = hose("b", 0.03, *(tuple(end) for end in ends))
    expected = math.sqrt(2 * found.cost) - 0.015
    assert gap_of(body, pipe) == pytest.approx(expected, abs=3e-7)


@pytest.mark.parametrize("seed", range(10))
def test_a_turned_cylinder_by_a_turned_box_against_a_general_optimiser(seed: int) -> None:
    # Six shares within -1 to 1, two of them in a disc: where on either body the least way begins.
    rng = np.random.default_rng(200 + seed)
    at = [
        np.array(each) + rng.uniform(-0.1, 0.1, 3) for each in ((1.0, -0.3, 0.8), (1.5, 0.4, 1.2))
    ]
    angles = [tuple(rng.uniform(-60, 60, 3)) for _ in at]
    size = tuple(rng.uniform(0.1, 0.4, 3))
    length, diameter = rng.uniform(0.1, 0.5), rng.uniform(0.05, 0.3)
    span = np.hstack(
        [
            spans(("box", (), size, angles[0])),
            -spans(("box", (), (length, diameter, diameter), angles[1])),
        ]
    )

    def off(shares: np.ndarray) -> float:
        return float(np.sum((span @ shares + at[0] - at[1]) ** 2))

    disc = {"type": "ineq", "fun": lambda shares: 1.0 - shares[4] ** 2 - shares[5] ** 2}
    found = minimize(
        off, np.zeros(6), bounds=[(-1, 1)] * 6, constraints=disc, tol=1e-15, method="SLSQP"
    )
    pin = rod(tuple(at[1]), length, diameter, 'axis = "along"\n' + turned(angles[1]))
    body = box(tuple(at[0]), size, turned(angles[0]))
    assert gap_of(body, pin) == pytest.approx(math.sqrt(found.fun), abs=2e-6)


# --------------------------------------------------------------------------------- what moves them


def test_rubber_widens_a_box_by_its_movement() -> None:
    # 50 mm along less 8; where the corner is nearest, 30 and 40 mm become 22 and 28: 35.6090 mm.
    rubber = '[clearance.rubber]\nalong = "8 mm"\nacross = "12 mm"\nup = "5 mm"\n'
    one = box((1, 0, 0.5), CUBE)
    assert gap_of(one, box((1.25, 0, 0.5), CUBE), HEAD + rubber) == pytest.approx(0.042, abs=1e-9)
    corner = gap_of(one, box((1.23, 0.24, 0.5), CUBE), HEAD + rubber)
    assert corner == pytest.approx(math.hypot(0.022, 0.028), abs=1e-7)


def test_a_wheel_goes_up_to_its_bump_stop_and_down_to_its_droop() -> None:
    tray = box((2.0, 0.0, 0.8), (0.4, 2.0, 0.2))
    wheel = 'moves_with = "wheel_rl"\n' + box((2.0, -0.5, 0.4), (0.1, 0.1, 0.1))
    found = assessed({"arm": wheel, "tray": tray, "low": box((2.0, -0.5, 0.05), (0.1, 0.1, 0.1))})
    # 800 - 100 - 400 - 50 = 250 mm less 80 of bump; 400 - 50 - 100 = 250 mm less 90 of droop.
    assert finding(found, "mounts.gap@arm/tray").value.number == pytest.approx(0.17)
    assert finding(found, "mounts.gap@arm/low").value.number == pytest.approx(0.16)
    travel = found.by_address["mounts.gap_travel@arm/tray"].value.number
    assert travel == pytest.approx(0.08)


def test_the_tightest_place_may_lie_between_the_positions() -> None:
    # A ball-ended rod of 20 mm passes the edge of a plate at 37 mm of bump: 60 mm less 10 mm.
    plate = box((1.0, 0.0, 0.437), (0.2, 0.2, 0.001))
    pin = 'moves_with = "wheel_rl"\n' + hose("pin", 0.02, (1.16, 0, 0.4), (1.4, 0, 0.4))
    found = assessed({"plate": plate, "pin": pin})
    assert finding(found, "mounts.gap@pin/plate").value.number == pytest.approx(0.05, abs=1e-6)


def test_two_wheels_go_together_and_against_each_other() -> None:
    left = 'moves_with = "wheel_rl"\n' + box((1.0, -0.2, 0.5), CUBE)
    right = 'moves_with = "wheel_rr"\n' + box((1.0, 0.2, 0.9), CUBE)
    found = assessed({"left": left, "right": right})
    # Together always 200 mm of height and 200 mm across; against each other 200 - 80 - 90 = 30 mm.
    expected = math.hypot(0.2, 0.03)
    assert finding(found, "mounts.gap@left/right").value.number == pytest.approx(expected, abs=1e-7)


@pytest.mark.parametrize("axis", ["across", "along"])
@pytest.mark.parametrize("wheel", ["wheel_fl", "wheel_rr"])
def test_a_swinging_arm_against_rotations(axis: str, wheel: str) -> None:
    bump, droop = (0.07, 0.06) if wheel == "wheel_fl" else (0.08, 0.09)
    track, sign = (1.3, -1.0) if wheel == "wheel_fl" else (1.2, 1.0)
    hub = np.array([0.0 if wheel == "wheel_fl" else 2.0, sign * track / 2, 0.3])
    pivot = hub + ([-0.35, 0.1, -0.04] if axis == "across" else [0.05, -0.4 * sign, -0.03])
    middle = (hub + pivot) / 2
    size, angles = np.array([0.3, 0.08, 0.06]), (8.0, -5.0, 3.0)
    turn = np.array([0.0, -1.0, 0.0]) if axis == "across" else np.array([1.0, 0.0, 0.0])
    corners = np.array(np.meshgrid([-1, 1], [-1, 1], [-1, 1])).reshape(3, -1).T * size / 2
    own = Rotation.from_euler("ZYX", angles, degrees=True).apply(corners) + middle - pivot
    highest = -np.inf
    for travel in np.linspace(-droop, bump, 2001):

        def missing(angle: float, travel: float = travel) -> float:
            return float(Rotation.from_rotvec(angle * turn).apply(hub - pivot)[2]) - (
                hub[2] - pivot[2] + travel
            )

        angle = brentq(missing, -1.0, 1.0, xtol=1e-13)
        swung = Rotation.from_rotvec(angle * turn).apply(own) + pivot
        highest = max(highest, swung[:, 2].max())
    arm = box(tuple(middle), tuple(size), turned(angles)) + (
        f'moves_with = "{wheel}"\npivot_axis = "{axis}"\npivot = {table(AXES, tuple(pivot))}\n'
    )
    roof = box((1.0, 0.0, 0.9), (4.0, 3.0, 0.2))
    found = finding(assessed({"arm": arm, "roof": roof}), "mounts.gap@arm/roof").value.number
    assert found == pytest.approx(0.8 - highest, abs=2e-8)


def test_over_the_ground_laden() -> None:
    # A tray 100 mm high, its middle at 300 mm: 250 mm, less 20 + (40 - 20) * 1.5 / 2 = 35 mm.
    # On the unit 10 mm of rubber more. An arm at the rear axle goes with its wheel: 250 mm stay.
    at = (1.5, 0.0, 0.3)
    size = (0.3, 0.3, 0.1)
    bodies = {
        "tray": box(at, size),
        "unit": f'moves_with = "unit"\n{box(at, size)}',
        "axle": 'moves_with = "axle_rear"\n' + box((2.0, 0.0, 0.3), size),
        "tyre": 'moves_with = "wheel_rl"\nground = "none"\n' + box((2.0, -0.5, 0.3), size),
    }
    found = assessed(bodies, HEAD)
    lowest = {
        name: finding(found, f"mounts.ground@{name}").value.number
        for name in bodies
        if name != "tyre"
    }
    assert lowest == {
        "tray": pytest.approx(0.215),
        "unit": pytest.approx(0.205),
        "axle": pytest.approx(0.25),
    }
    assert "mounts.ground@tyre" not in found.by_address


# -------------------------------------------------------------------------------- what must hold

angles_ = st.tuples(*[st.floats(-60, 60).map(lambda x: round(x, 3))] * 3)
places_ = st.tuples(*[st.floats(-0.3, 0.3).map(lambda x: round(x, 4))] * 3)


@given(places_, angles_, angles_)
@settings(max_examples=25, deadline=None)
def test_either_may_be_named_first(apart, first, second) -> None:
    at = tuple(a + b for a, b in zip((1.2, 0.2, 0.9), apart, strict=True))
    one = box((1.0, 0.0, 0.7), (0.3, 0.2, 0.1), turned(first))
    other = rod(at, 0.3, 0.08, turned(second))
    forwards, backwards = gap_of(one, other), gap_of(other, one)
    # Where they overlap, with one of them round, the least way out is searched for and may be
    # missed; what touches is told from what does not all the same.
    assert (forwards > 0) == (backwards > 0)
    if forwards > 0:
        assert forwards == pytest.approx(backwards, abs=1e-7)


@given(places_, angles_, st.floats(-90, 90).map(lambda x: round(x, 3)))
@settings(max_examples=25, deadline=None)
def test_the_whole_may_stand_elsewhere_and_turned(shift, angles, yaw) -> None:
    bodies = [((1.0, 0.0, 0.7), (0.3, 0.2, 0.1)), ((1.3, 0.25, 0.9), (0.2, 0.2, 0.2))]
    before = gap_of(*(box(at, size, turned(angles)) for at, size in bodies))
    turn = Rotation.from_euler("Z", yaw, degrees=True)
    after = gap_of(
        *(
            box(tuple(turn.apply(at) + shift), size, turned((angles[0] + yaw, *angles[1:])))
            for at, size in bodies
        )
    )
    assert after == pytest.approx(before, abs=1e-7)


@given(angles_, st.floats(0.001, 0.05).map(lambda x: round(x, 4)))
@settings(max_examples=25, deadline=None)
def test_a_smaller_body_leaves_more_room(angles, by) -> None:
    one = box((1.0, 0.0, 0.7), (0.3, 0.2, 0.1), turned(angles))
    before = gap_of(one, rod((1.4, 0.2, 0.9), 0.3, 0.12))
    after = gap_of(one, rod((1.4, 0.2, 0.9), 0.3, 0.12 - by))
    assert before - 1e-9 <= after <= before + by / 2 + 1e-9


def test_the_unit_of_entry_changes_nothing() -> None:
    at, size = (1.3, 0.25, 0.9), (0.2, 0.15, 0.1)
    one = box((1.0, 0.0, 0.7), CUBE)
    inches = gap_of(one, box(at, size, unit="in"))
    assert inches == pytest.approx(gap_of(one, box(at, size)), abs=1e-9)


# ------------------------------------------------------------------------------------- influences

PIVOT = f'pivot_axis = "across"\npivot = {table(AXES, (1.6, -0.45, 0.28))}\n'
TILTED = 'yaw = "4° ± 1"\npitch = "5° ± 1"\nroll = "6° ± 1"\n'
MOVING = {
    "arm": rod((1.8, -0.45, 0.29), 0.36, 0.06, 'moves_with = "wheel_rl"\naxis = "along"\n') + PIVOT,
    "axle": 'moves_with = "axle_rear"\n' + rod((2.0, 0.1, 0.33), 0.9, 0.07, 'axis = "across"\n'),
    "pipe": hose("pipe", 0.03, (1.3, -0.1, 0.82), (1.7, -0.3, 0.6), (2.2, -0.2, 0.8)),
    "tray": box((1.1, 0.0, 0.45), (0.9, 0.8, 0.2), 'yaw = "3° ± 1"\npitch = "2° ± 1"\n'),
    "unit": 'moves_with = "unit"\n' + box((1.95, 0.1, 0.66), (0.4, 0.3, 0.24), TILTED),
}


def gaps(head: str, bodies: Mapping[str, str]) -> dict[str, Value]:
    found = assessed(bodies, head).by_address.items()
    return {address: each.value for address, each in found if "gap@" in address}


def nudged(text: str, path: str, by: float) -> str:
    """The text with the number of one input moved by ``by`` millimetres or degrees."""
    lines = text.split("\n")
    *section, key = path.split(".")
    where = ""
    for place, line in enumerate(lines):
        if line.startswith("["):
            where = line.strip("[]")
        for inner in range(len(section) + 1):
            head, rest = ".".join(section[:inner]), section[inner:]
            if where == head and line.startswith(f"{'.'.join([*rest, key])} ="):
                return "\n".join([*lines[:place], moved_in(line, key, by), *lines[place + 1 :]])
            if where == head and rest and line.startswith(f"{'.'.join(rest)} = {{"):
                return "\n".join([*lines[:place], moved_in(line, key, by), *lines[place + 1 :]])
    raise AssertionError(path)


def moved_in(line: str, key: str, by: float) -> str:
    start = line.index(f'{key} = "') + len(key) + 4
    end = (
        line.index(" ", start)
        if "°" not in line[start:].partition('"')[0]
        else line.index("°", start)
    )
    return f"{line[:start]}{float(line[start:end]) + by:.9f}{line[end:]}"


def test_effects_are_those_of_the_whole_computation_with_each_input_moved() -> None:
    text = HEAD + "".join(f"[body.{name}]\n{body}" for name, body in MOVING.items())

    def known(changed: str) -> dict[str, float]:
        found = assess(parse_build(changed.encode()), (Mounts(),)).by_address.items()
        return {a: v.value.number for a, v in found if "gap@" in a and v.value.number is not None}

    whole = assess(parse_build(text.encode()), (Mounts(),))
    stated = {a: each.value for a, each in whole.by_address.items() if "gap@" in a}
    assert len(stated) >= 4
    looked_at = 0
    paths = sorted({origin.path for value in stated.values() for origin in value.effects})
    for path in paths:
        if path.startswith("clearance.rubber"):
            continue
        angle = path.rpartition(".")[2] in ("yaw", "pitch", "roll")
        step = 0.01
        higher, lower = known(nudged(text, path, step)), known(nudged(text, path, -step))
        size = math.radians(step) if angle else step / 1e3
        for address, value in stated.items():
            shift = sum(
                shift / origin.band
                for origin, shift in value.effects.items()
                if origin.path == path and origin.band
            )
            slope = (higher[address] - lower[address]) / (2 * size)
            assert shift == pytest.approx(slope, abs=3e-3), (path, address)
            looked_at += abs(slope) > 0.01
    assert looked_at > 25


# ---------------------------------------------------------------------------- names and what lacks


def test_what_is_not_known_is_asked_for_and_passes_nothing() -> None:
    blind = (
        f'moves_with = "wheel_rl"\nat = {{ x = "1 m", y = "0 m" }}\nsize = {table(SIZES, CUBE)}\n'
    )
    found = assessed({"a": box((1, 0, 0.5), CUBE), "blind": blind})
    for check in ("gap", "ground"):
        each = finding(found, f"mounts.{check}@blind")
        assert each.verdict is Verdict.UNKNOWN
        assert [lack.path for lack in each.lacks] == ["body.blind.at.z"]
    bare = assessed(
        {"a": box((1, 0, 0.5), CUBE), "blind": blind}, 'format = 1\n[build]\nname = "x"\n'
    )
    paths = {lack.path for lack in finding(bare, "mounts.gap@blind").lacks}
    assert paths == {"body.blind.at.z", "clearance.rear.bump", "clearance.rear.droop"}


def test_an_arm_too_short_for_its_travel_is_told() -> None:
    pivot = f'pivot_axis = "across"\npivot = {table(AXES, (1.95, -0.5, 0.28))}\n'
    arm = f'moves_with = "wheel_rl"\n{pivot}{box((1.97, -0.5, 0.3), (0.05, 0.05, 0.05))}'
    each = finding(assessed({"a": box((1, 0, 0.5), CUBE), "arm": arm}), "mounts.gap@arm")
    assert each.verdict is Verdict.UNKNOWN
    assert "too short for so much travel" in " ".join(lack.why for lack in each.lacks)


def test_what_moves_together_or_is_joined_asks_for_no_gap() -> None:
    one = box((1, 0, 0.5), CUBE)
    found = assessed({"a": one, "b": box((1.3, 0, 0.5), CUBE)})
    assert not [address for address in found.by_address if "gap@" in address]
    bolted = 'moves_with = "unit"\njoined = "a"\n' + one
    found = assessed({"a": one, "b": bolted})
    assert not [address for address in found.by_address if "gap@" in address]
    touching = 'moves_with = "unit"\ngap = "none"\n' + one
    assert not [x for x in assessed({"a": one, "b": touching}).by_address if "gap@" in x]


@pytest.mark.parametrize(
    ("first", "second", "wanted"),
    [
        ("", "unit", 0.015),
        ("", "wheel_rl", 0.025),
        ("unit", "axle_front", 0.025),
    ],
)
def test_the_gap_wanted_follows_what_moves(first: str, second: str, wanted: float) -> None:
    moved = [f'moves_with = "{each}"\n' if each else "" for each in (first, second)]
    one, other = box((1, 0, 0.5), CUBE), box((1.5, 0.5, 0.5), CUBE)
    bodies = {"a": moved[0] + one, "b": moved[1] + other}
    each = finding(assessed(bodies), "mounts.gap@a/b")
    assert each.limit.number == wanted
    assert each.limit.given is not None
    assert "common practice" in f"{each.limit.given.detail} {each.limit.given.text}"
    bodies["a"] += 'gap = "70 mm"\n'
    bodies["b"] += 'gap = "60 mm"\n'
    assert finding(assessed(bodies), "mounts.gap@a/b").limit.number == 0.07


def test_a_part_lends_its_place_and_measures() -> None:
    part = f'[part.motor]\nmass = "60 kg"\n{box((1.3, 0, 0.5), CUBE)}'
    lent = '[body.motor]\npart = "motor"\nmoves_with = "unit"\n'
    text = f"{HEAD}{STIFF}{part}[body.a]\n{box((1, 0, 0.5), CUBE)}{lent}"
    each = finding(assess(parse_build(text.encode()), (Mounts(),)), "mounts.gap@a/motor")
    assert each.value.number == pytest.approx(0.1)
    assert "part.motor.at.x" in {origin.path for origin in each.value.effects}


def test_the_nearest_of_many_is_that_of_all_pairs_taken_one_by_one() -> None:
    rng = np.random.default_rng(7)
    movers = ("body", "unit", "wheel_rl", "axle_front")
    bodies = {}
    for count in range(12):
        at = tuple(rng.uniform((0.2, -0.6, 0.3), (2.2, 0.6, 1.3)))
        size = tuple(rng.uniform(0.05, 0.25, 3))
        shape = box(at, size) if count % 3 else rod(at, size[0], size[1])
        bodies[f"b{count:02}"] = f'moves_with = "{movers[count % 4]}"\n{shape}'
    alone = {}
    for first, second in combinations(bodies, 2):
        pair = {name: bodies[name] for name in (first, second)}
        found = assessed(pair).by_address.get(f"mounts.gap@{first}/{second}")
        if found is not None:
            alone[first, second] = found.value.number
    whole = assessed(bodies).by_address
    for name in bodies:
        nearest = min((gap, pair) for pair, gap in alone.items() if name in pair)
        stated = whole["mounts.gap@{}/{}".format(*nearest[1])].value.number
        assert stated == pytest.approx(nearest[0], abs=1e-6)
    close = [pair for pair, gap in alone.items() if gap < 2 * 0.015]
    assert all("mounts.gap@{}/{}".format(*pair) in whole for pair in close)
