"""Turned vectors, lines and planes against general-purpose libraries.

Sources: SciPy's ``Rotation`` for turns; NumPy's linear solvers for planes through three heights and
of least squares through more; vector products of NumPy for distances from lines.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from wattwright.errors import FormulaError
from wattwright.physics import rigid_body as body

lengths = st.floats(-2.0, 2.0)
angles = st.floats(-1.5, 1.5)
vectors = st.tuples(lengths, lengths, lengths)


@given(vectors, angles, angles, angles)
def test_a_vector_is_turned_as_scipy_turns_it(vector, yaw, pitch, roll) -> None:
    turned = (
        body.turned_x(*vector, yaw, pitch, roll),
        body.turned_y(*vector, yaw, pitch, roll),
        body.turned_z(*vector, pitch, roll),
    )
    wanted = Rotation.from_euler("ZYX", [yaw, pitch, roll]).apply(vector)
    np.testing.assert_allclose(turned, wanted, atol=1e-12)
    assert body.span(*turned) == pytest.approx(np.linalg.norm(vector), abs=1e-12)


def test_angles_turn_the_way_they_are_called() -> None:
    """x back, y right, z up: nose left, nose up, right side up are above nought."""
    nose, right = (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0)
    assert body.turned_y(*nose, 0.1, 0.0, 0.0) < 0.0
    assert body.turned_z(*nose, 0.1, 0.0) > 0.0
    assert body.turned_z(*right, 0.0, 0.1) > 0.0


@given(angles, angles)
def test_a_level_across_shows_the_rise_of_the_turned_cross_axis(pitch, roll) -> None:
    across = Rotation.from_euler("ZYX", [0.7, pitch, roll]).apply([0.0, 1.0, 0.0])
    assert body.crosswise_level(pitch, roll) == pytest.approx(np.arcsin(across[2]), abs=1e-9)


@given(vectors, vectors)
def test_the_distance_from_a_line_is_that_of_the_vector_product(point, line) -> None:
    if np.linalg.norm(line) < 1e-3:
        return
    wanted = np.linalg.norm(np.cross(point, line)) / np.linalg.norm(line)
    assert body.off_line(*point, *line) == pytest.approx(wanted, abs=1e-9)


def test_a_line_that_is_a_point_has_no_distance() -> None:
    with pytest.raises(FormulaError, match="one point"):
        body.off_line(1.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    with pytest.raises(FormulaError, match="no direction"):
        body.yaw_onto(0.0, 0.0, 1.0, 0.0)


@given(lengths, lengths, st.floats(-3.0, 3.0))
def test_yaw_brings_the_shaft_over_the_line(back, right, yaw) -> None:
    if np.hypot(back, right) < 1e-3:
        return
    line = Rotation.from_euler("Z", yaw).apply([back, right, 0.0])
    found = body.yaw_onto(line[0], line[1], back, right)
    assert np.cos(found - yaw) == pytest.approx(1.0, abs=1e-9)


places = st.lists(st.tuples(lengths, lengths, st.floats(-0.01, 0.01)), min_size=3, max_size=6)


@given(places)
def test_a_body_on_raised_mounts_tilts_as_the_plane_of_least_squares(mounts) -> None:
    backs, rights, raised = (list(column) for column in zip(*mounts, strict=True))
    count = float(len(mounts))
    xx, xy, yy = (
        body.spread(one, other, count)
        for one, other in ((backs, backs), (backs, rights), (rights, rights))
    )
    sums = (xx, xy, yy, body.spread(backs, raised, count), body.spread(rights, raised, count))
    if not xx * yy - xy**2 > body.FLAT * max(xx, yy) ** 2:
        with pytest.raises(FormulaError, match="one line"):
            body.plane_roll(*sums)
        return
    matrix = np.column_stack([np.ones(len(mounts)), backs, rights])
    (level, by_back, by_right), *_ = np.linalg.lstsq(matrix, np.array(raised), rcond=None)
    roll, pitch = body.plane_roll(*sums), body.plane_pitch(*sums)
    assert roll == pytest.approx(by_right, abs=1e-8)
    assert pitch == pytest.approx(-by_back, abs=1e-8)
    middle = [body.middle(each, count) for each in (backs, rights, raised)]
    for back, right, up in mounts:
        lift = body.plane_lift(middle[2], pitch, roll, back - middle[0], right - middle[1])
        assert lift == pytest.approx(level + by_back * back + by_right * right, abs=1e-8)
        if len(mounts) == 3:
            assert body.proud(up, lift) == pytest.approx(0.0, abs=1e-8)


def test_small_turns_are_the_turns_of_a_rigid_body_to_first_order() -> None:
    """Raised by 5 mm on half a metre: less than a ten-thousandth is left out."""
    rotation = Rotation.from_euler("ZYX", [0.0, 0.008, -0.006])
    mounts = np.array([[-0.3, 0.0, 0.0], [0.2, -0.2, 0.0], [0.2, 0.25, 0.0]])
    raised = (rotation.apply(mounts) - mounts)[:, 2]
    backs, rights = mounts[:, 0].tolist(), mounts[:, 1].tolist()
    sums = [
        body.spread(one, other, 3.0)
        for one, other in (
            (backs, backs),
            (backs, rights),
            (rights, rights),
            (backs, raised.tolist()),
            (rights, raised.tolist()),
        )
    ]
    assert body.plane_pitch(*sums) == pytest.approx(0.008, rel=1e-4)
    assert body.plane_roll(*sums) == pytest.approx(-0.006, rel=1e-4)
