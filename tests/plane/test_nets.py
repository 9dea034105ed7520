"""Nets of points: what holds for any of them, and what is asked for where distances do not do."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wattwright.plane import fits, nets
from wattwright.plane.fits import Point
from wattwright.plane.solving import factored, solved

SPOT = st.tuples(st.integers(-200, 200), st.integers(-200, 200))
SPOTS = st.lists(SPOT, min_size=4, max_size=7, unique=True)


def distances(points: list[Point]) -> tuple[tuple[tuple[int, int], ...], tuple[float, ...]]:
    pairs = tuple(itertools.combinations(range(len(points)), 2))
    return pairs, tuple(math.dist(points[i], points[j]) for i, j in pairs)


def well_spread(points: list[Point]) -> bool:
    """No three of them nearly in a row, none nearly on another."""
    return all(
        abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
        > 0.1 * max(math.dist(p, q) for p, q in itertools.combinations((a, b, c), 2)) ** 2
        for a, b, c in itertools.combinations(points, 3)
    )


@settings(max_examples=60, deadline=None)
@given(points=SPOTS, turn=st.floats(-3.0, 3.0), mirrored=st.booleans())
def test_distances_say_the_pattern_up_to_where_it_lies(
    points: list[Point], turn: float, mirrored: bool
) -> None:
    if not well_spread(points):
        return
    pairs, lengths = distances(points)
    net = nets.adjust(len(points), pairs, lengths, (0.1,) * len(pairs))
    assert net.points[0] == (0.0, 0.0)
    assert net.points[1][1] == 0.0
    assert net.points[1][0] > 0.0
    laid = [
        fits.fit(net.points, [tuple(p) for p in points], mirrored=side) for side in (False, True)
    ]
    assert min(each.squares for each in laid) < 1e-12
    # Turned or mirrored, it is the same pattern in the frame.
    cos, sin = math.cos(turn), math.sin(turn)
    side = -1.0 if mirrored else 1.0
    moved = [(x * cos - side * y * sin + 7.0, x * sin + side * y * cos - 3.0) for x, y in points]
    pairs, lengths = distances(moved)
    again = nets.adjust(len(points), pairs, lengths, (0.1,) * len(pairs))
    for here, there in zip(net.points, again.points, strict=True):
        assert math.dist(here, there) < 1e-6


@settings(max_examples=30, deadline=None)
@given(points=SPOTS, noise=st.lists(st.floats(-0.2, 0.2), min_size=21, max_size=21))
def test_the_unit_of_length_changes_nothing(points: list[Point], noise: list[float]) -> None:
    if not well_spread(points):
        return
    pairs, lengths = distances(points)
    lengths = tuple(each + more for each, more in zip(lengths, noise, strict=False))
    sds = (0.1,) * len(pairs)
    mm = nets.adjust(len(points), pairs, lengths, sds)
    metres = nets.adjust(
        len(points), pairs, tuple(x / 1e3 for x in lengths), tuple(x / 1e3 for x in sds)
    )
    for here, there in zip(mm.points, metres.points, strict=True):
        assert (here[0] / 1e3, here[1] / 1e3) == pytest.approx(there, abs=1e-9)
    assert mm.standard == pytest.approx(metres.standard, abs=1e-4)
    # What the residuals do not use up is what fixes the places.
    free = sum(1.0 - mm.shares[k][k] for k in range(len(pairs)))
    assert free == pytest.approx(mm.spare, abs=1e-6)


SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 90.0), (50.0, 130.0)]


def some(points: list[Point], *pairs: tuple[int, int]) -> tuple[tuple[float, ...], ...]:
    return (
        pairs,
        tuple(math.dist(points[i], points[j]) for i, j in pairs),
        (0.1,) * len(pairs),
    )


def test_four_sides_of_a_square_are_asked_for_a_diagonal() -> None:
    asked, on_a_line = nets.missing(4, *some(SQUARE, (0, 1), (1, 2), (2, 3), (0, 3)))
    assert set(asked) <= {(0, 2), (1, 3)}
    assert asked
    assert not on_a_line


def test_one_diagonal_leaves_a_mirror_image_and_the_other_is_asked_for() -> None:
    """Two triangles over one side: either may lie on the other's side."""
    readings = some(SQUARE, (0, 1), (1, 2), (2, 3), (0, 3), (0, 2))
    assert nets.missing(4, *readings) == (((1, 3),), False)
    whole = some(SQUARE, (0, 1), (1, 2), (2, 3), (0, 3), (0, 2), (1, 3))
    assert nets.missing(4, *whole) == ((), False)


def test_a_point_nobody_measured_is_asked_for_until_it_is_held() -> None:
    readings = some(SQUARE, *itertools.combinations(range(4), 2))
    asked, _ = nets.missing(5, *readings)
    assert all(4 in pair for pair in asked)
    assert len(set(asked)) == 3


def test_what_was_asked_for_is_enough() -> None:
    pairs, _, _ = some(SQUARE, (0, 1), (1, 2), (3, 4))
    asked, _ = nets.missing(5, *some(SQUARE, *pairs))
    assert nets.missing(5, *some(SQUARE, *pairs, *asked)) == ((), False)


def test_points_in_a_row_are_said_to_stand_in_one() -> None:
    row = [(0.0, 0.0), (100.0, 0.0), (250.0, 0.0)]
    asked, on_a_line = nets.missing(3, *some(row, (0, 1), (0, 2), (1, 2)))
    assert (asked, on_a_line) == ((), True)


def test_a_start_that_leads_astray_is_left() -> None:
    """A ring of points with few distances across: the least squares are those of the true ring."""
    ring = [(100 * math.cos(k), 60 * math.sin(k)) for k in range(7)]
    pairs = tuple((i, (i + step) % 7) for i in range(7) for step in (1, 2))
    lengths = tuple(math.dist(ring[i], ring[j]) for i, j in pairs)
    sds = (0.1,) * len(pairs)
    assert nets.missing(7, pairs, lengths, sds)[0] == ()
    assert nets.adjust(7, pairs, lengths, sds).squares < 1e-9


def test_where_one_reading_is_spare_nobody_can_tell_which_is_wrong() -> None:
    pairs = tuple(itertools.combinations(range(4), 2))
    lengths = [math.dist(SQUARE[i], SQUARE[j]) for i, j in pairs]
    lengths[2] += 4.0
    found = nets.suspects(nets.adjust(4, pairs, tuple(lengths), (0.1,) * 6))
    assert set(found) == set(range(6))


def test_a_reading_that_nothing_controls_is_no_suspect() -> None:
    pairs = ((0, 1), (0, 2), (1, 2))
    net = nets.adjust(3, pairs, (100.0, 80.0, 70.0), (0.1,) * 3)
    assert net.controlled == (False, False, False)
    assert nets.suspects(net) == ()


def test_a_floppy_net_is_refused() -> None:
    with pytest.raises(nets.FloppyError):
        nets.adjust(4, *some(SQUARE, (0, 1), (1, 2), (2, 3), (0, 3)))


def test_names_that_say_nothing_are_matched_by_how_the_points_lie() -> None:
    there = [(-y + 12.0, x - 4.0) for x, y in (SQUARE[k] for k in (3, 1, 4, 0, 2))]
    assert fits.best_fit(SQUARE, there) == ((0, 3), (1, 1), (2, 4), (3, 0), (4, 2))
    # Mirrored too, and where one set has more.
    mirrored = [(x, -y) for x, y in there]
    assert fits.best_fit(SQUARE[:4], mirrored) == ((0, 3), (1, 1), (2, 4), (3, 0))
    assert fits.best_fit(mirrored, SQUARE[:4]) == ((0, 3), (1, 1), (3, 0), (4, 2))


def test_equations_are_solved() -> None:
    lower, held = factored([[4.0, 2.0], [2.0, 3.0]])
    assert held
    assert solved(lower, [8.0, 8.0]) == pytest.approx([1.0, 2.0])
    assert not factored([[1.0, 1.0], [1.0, 1.0]], 1e-9)[1]


def test_a_circle_of_points_in_a_row_is_none() -> None:
    assert fits.circle([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)]) is None
