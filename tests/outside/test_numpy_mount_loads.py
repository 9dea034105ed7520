"""Loads at mounts against equilibrium and a general solver.

Sources: the six equations of equilibrium of a rigid body, which must hold to round-off; NumPy's
least-squares solver on forces weighed by stiffness, another way to the same shares (least strain
energy); moments by hand for a beam on two supports and a third.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.elastic_support import by_stiffness, carried
from wattwright.errors import FormulaError

places = st.floats(-0.5, 0.5).map(lambda x: round(x, 3))
points = st.tuples(places, places, places)
stiff = st.floats(50e3, 2e6)


def spread(springs: list[tuple[float, float, float]]) -> bool:
    apart = np.array(springs) - np.mean(springs, axis=0)
    return float(np.linalg.svd(apart)[1][1]) > 0.05


@given(st.lists(st.tuples(points, stiff), min_size=3, max_size=6), points)
def test_what_the_mounts_carry_balances_every_force_and_moment(mounts, at) -> None:
    springs = [point for point, _ in mounts]
    if not spread(springs):
        return
    shares = np.array(carried(tuple(springs), tuple(k for _, k in mounts), at))
    # What the supports push back is the opposite of what they carry.
    np.testing.assert_allclose(shares.sum(axis=0), np.eye(3, 6), atol=1e-8)
    moments = sum(np.cross(point, share.T).T for point, share in zip(springs, shares, strict=True))
    wanted = np.hstack([np.cross(at, np.eye(3)).T, np.eye(3)])
    np.testing.assert_allclose(moments, wanted, atol=1e-8)


@given(st.lists(st.tuples(points, stiff), min_size=3, max_size=6), points)
def test_shares_are_those_of_least_strain_energy(mounts, at) -> None:
    """Of all forces in equilibrium those with the least Σ F²/k: a weighted least-norm solution."""
    springs = [point for point, _ in mounts]
    if not spread(springs):
        return
    stiffness = np.array([k for _, k in mounts])
    shares = np.array(carried(tuple(springs), tuple(stiffness.tolist()), at))
    balance = np.vstack(
        [
            np.hstack([np.eye(3)] * len(springs)),
            np.hstack([np.cross(point, np.eye(3)).T for point in springs]),
        ]
    )
    roots = np.sqrt(np.repeat(stiffness, 3))
    loads = np.eye(6)
    loads[3:, :3] = np.cross(at, np.eye(3)).T
    scaled, *_ = np.linalg.lstsq(balance * roots, loads, rcond=None)
    np.testing.assert_allclose(shares.reshape(-1, 6), roots[:, None] * scaled, atol=1e-6)


def test_a_weight_between_two_supports_is_shared_by_the_lever() -> None:
    # Two behind at 0.4 m and one in front at 0: a weight at 0.1 m puts three quarters in front.
    springs = ((0.0, 0.0, 0.0), (0.4, 0.2, 0.0), (0.4, -0.2, 0.0))
    shares = np.array(carried(springs, (1.0, 5.0, 5.0), (0.1, 0.0, 0.0)))
    assert shares[:, 2, 2] == pytest.approx([0.75, 0.125, 0.125])
    # A moment that lifts the nose pulls the front mount up by 1/0.4 m, and presses those behind.
    assert shares[:, 2, 4] == pytest.approx([2.5, -1.25, -1.25])


def test_how_stiff_a_mount_is_changes_shares_as_differences_say() -> None:
    springs = ((0.0, 0.0, 0.1), (0.4, 0.2, 0.0), (0.4, -0.25, 0.0), (0.1, 0.3, 0.05))
    stiffness, at = (3e5, 2e5, 4e5, 1e5), (0.2, 0.02, 0.1)
    slopes = np.array(by_stiffness(springs, stiffness, at, 1, 1e3))
    more, less = (
        np.array(carried(springs, (3e5, 2e5 + side, 4e5, 1e5), at)) for side in (10.0, -10.0)
    )
    np.testing.assert_allclose(slopes, (more - less) / 20.0, rtol=1e-3, atol=1e-12)


def test_mounts_in_one_line_hold_no_moment_about_it() -> None:
    with pytest.raises(FormulaError, match="one line"):
        carried(((0.0, 0.0, 0.0), (0.2, 0.0, 0.0), (0.5, 0.0, 0.0)), (1.0,) * 3, (0.1, 0.0, 0.1))
    with pytest.raises(FormulaError, match="three"):
        carried(((0.0, 0.0, 0.0), (0.2, 0.1, 0.0)), (1.0,) * 2, (0.1, 0.0, 0.1))
