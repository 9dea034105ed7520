"""Bolts in holes: the fixed fastener case of ASME Y14.5, ISO 273, and plain geometry.

- ASME Y14.5, fixed fasteners: H = F + T1 + T2. Its usual example, as textbooks give it: a fastener
  of at most 3.5 mm and clearance holes of at least 3.94 mm leave 0.22 mm for each part.
- ISO 273: clearance holes of M6, M8, M10 and M12, as published engineering tables give them.
- Circles drawn one after another: does a bolt go through two holes at an offset?
"""

from __future__ import annotations

import math

import pytest

from wattwright.physics import hole_pattern
from wattwright.tables import load

MM = 1e-3


def test_the_example_of_fixed_fasteners() -> None:
    """A tolerance zone of 0.22 mm is a radius of 0.11 mm."""
    needed = hole_pattern.still_assembles(3.5 * MM, 0.11 * MM, 0.11 * MM)
    assert needed == pytest.approx(3.94 * MM)


@pytest.mark.parametrize(
    ("bolt", "sizes"),
    [
        ("M6", (6.4, 6.6, 7.0)),
        ("M8", (8.4, 9.0, 10.0)),
        ("M10", (10.5, 11.0, 12.0)),
        ("M12", (13.0, 13.5, 14.5)),
    ],
)
def test_clearance_holes_are_those_of_the_standard(bolt: str, sizes: tuple[float, ...]) -> None:
    row = load("clearance_holes").row(bolt)
    assert tuple(row.number(f"{name}_mm") for name in ("fine", "medium", "coarse")) == sizes
    assert row.limits


def test_clearance_holes_grow_with_the_bolt_and_with_the_series() -> None:
    before = (0.0,) * 4
    for row in load("clearance_holes"):
        here = tuple(row.number(f"{n}_mm") for n in ("diameter", "fine", "medium", "coarse"))
        assert list(here) == sorted(set(here))
        assert all(now > then for now, then in zip(here, before, strict=True))
        before = here


def goes_through(bolt: float, hole: float, other: float, apart: float) -> bool:
    """Try places of the bolt along the line of both centres: it must lie within both circles."""
    for step in range(20001):
        at = -1.0 + (2.0 + apart) * step / 20000
        if abs(at) + bolt / 2 <= hole / 2 and abs(apart - at) + bolt / 2 <= other / 2:
            return True
    return False


@pytest.mark.parametrize(
    ("bolt", "hole", "other"), [(10.0, 11.0, 10.5), (8.0, 9.0, 8.0), (10.0, 11.0, 8.5)]
)
def test_the_play_is_the_offset_up_to_which_the_bolt_goes_in(
    bolt: float, hole: float, other: float
) -> None:
    play = hole_pattern.play(hole, other, bolt)
    # A thread narrower than the bolt holds it where the thread is.
    other = max(other, bolt)
    assert goes_through(bolt, hole + 1e-3, other + 1e-3, play)
    assert not goes_through(bolt, hole, other, play + 0.01)


def test_a_slot_takes_the_bolt_at_its_far_end() -> None:
    """An offset of 1.2 mm, 0.5 mm allowed: the hole of 11 mm becomes a slot of 11.7 mm."""
    assert hole_pattern.slot_length(11.0, 1.2, 0.5) == pytest.approx(11.7)
    assert hole_pattern.slot_length(11.0, 0.3, 0.5) == 11.0
    # At its end the slot is a hole whose centre lies 0.7 mm nearer to the bolt.
    assert hole_pattern.play(11.0, 10.0, 10.0) == pytest.approx(1.2 - 0.7)


def test_edges_and_centres() -> None:
    """Holes of 10 mm and 14 mm, 100 mm apart: 88 mm between the edges, 112 mm over them."""
    assert hole_pattern.between_edges(88.0, 10.0, 14.0) == 100.0
    assert hole_pattern.over_edges(112.0, 10.0, 14.0) == 100.0


def test_the_radius_of_a_place_holds_95_percent_where_all_directions_are_alike() -> None:
    """Rayleigh distribution: P(r) = 1 - exp(-r²/2σ²), so 95 % lie within 2.4477 σ."""
    radius = hole_pattern.place_radius([1.0], [1.959964])
    assert radius == pytest.approx(2.4477, abs=1e-4)
    assert 1.0 - math.exp(-(radius**2) / 2.0) == pytest.approx(0.95)


def test_a_place_is_turned_counter_clockwise() -> None:
    turn = math.radians(30.0)
    assert hole_pattern.turned_x(2.0, 0.0, turn) == pytest.approx(math.sqrt(3.0))
    assert hole_pattern.turned_y(2.0, 0.0, turn) == pytest.approx(1.0)
    assert hole_pattern.turned_x(0.0, 2.0, turn) == pytest.approx(-1.0)
