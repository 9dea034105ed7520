"""Fits, retaining rings and run-out against published tables and textbooks.

- ISO 286-2: 30 H7 is +21/0 µm, 30 g6 is -7/-20 µm, 50 k6 is +18/+2 µm, 100 H7 is +35/0 µm, 70 m6 is
  +30/+11 µm, as published tables of limits give them.
- ISO 286-1: a grade is 10 (IT6) or 16 (IT7) times i = 0.45·D^(1/3) + 0.001·D, D the geometric mean
  of the range in mm, rounded; js lies evenly about the nominal size.
- DIN 471 and DIN 472, reprints of table 1: rows of 12 mm, 18 mm and 16 mm.
- Handbooks of materials: a metre of steel, 11.7 µm/(m·K), grows by 1.17 mm in 100 K.
"""

from __future__ import annotations

import cmath
import itertools
import math
import random

import pytest

from wattwright.physics import fits, retaining_ring, run_out
from wattwright.tables import load

MM = 1e-3
MICRO = 1e-6


@pytest.mark.parametrize(
    ("key", "upper", "lower"),
    [
        ("H7 over 18", 21, 0),
        ("g6 over 18", -7, -20),
        ("k6 over 30", 18, 2),
        ("H7 over 80", 35, 0),
        ("m6 over 50", 30, 11),
        ("p6 over 18", 35, 22),
        ("h6 over 180", 0, -29),
    ],
)
def test_limits_are_those_of_published_tables(key: str, upper: float, lower: float) -> None:
    row = load("iso_286_limits").row(key)
    assert (row.number("upper_um"), row.number("lower_um")) == (upper, lower)
    assert row.limits


@pytest.mark.parametrize("key", list(load("iso_286_limits").rows))
def test_every_row_is_as_wide_as_its_grade(key: str) -> None:
    """The standard rounds a formula; what it prints is within 1 µm or a tenth of that."""
    row = load("iso_286_limits").row(key)
    over, to = row.number("over_mm"), row.number("to_mm")
    unit = 0.45 * math.sqrt(over * to) ** (1 / 3) + 0.001 * math.sqrt(over * to)
    wide = row.number("upper_um") - row.number("lower_um")
    assert wide == pytest.approx({"6": 10, "7": 16}[row.cells["class"][-1]] * unit, rel=0.1, abs=1)


def test_limits_run_on_without_a_gap_and_shafts_grow_from_letter_to_letter() -> None:
    by_class: dict[str, list[tuple[float, float, float]]] = {}
    for row in load("iso_286_limits"):
        cells = (row.number("over_mm"), row.number("to_mm"), row.number("lower_um"))
        by_class.setdefault(row.cells["class"], []).append(cells)
    for rows in by_class.values():
        assert (rows[0][0], rows[-1][1]) == (3.0, 250.0)
        assert all(one[1] == other[0] for one, other in itertools.pairwise(rows))
    letters = ["g6", "h6", "js6", "k6", "m6", "p6"]
    for place in range(9):
        lowers = [by_class[letter][place][2] for letter in letters]
        assert lowers == sorted(set(lowers))


def test_play_of_a_sliding_fit() -> None:
    """30 H7/g6 as tables of fits give it: least clearance 7 µm, most 41 µm."""
    assert fits.loosest(21 * MICRO, -20 * MICRO) == pytest.approx(41 * MICRO)
    assert fits.tightest(0.0, -7 * MICRO) == pytest.approx(7 * MICRO)
    # 50 H7/k6: from 23 µm of play to 18 µm of interference.
    assert fits.loosest(25 * MICRO, 2 * MICRO) == pytest.approx(23 * MICRO)
    assert fits.tightest(0.0, 18 * MICRO) == pytest.approx(-18 * MICRO)
    assert fits.offset_of_play(41 * MICRO) == pytest.approx(20.5 * MICRO)
    assert fits.offset_of_play(-18 * MICRO) == 0.0


def test_a_metre_of_steel_grows_by_a_millimetre_and_a_bit_in_a_hundred_kelvin() -> None:
    assert fits.grown(1.0, 11.7e-6, 100.0) == pytest.approx(1.17 * MM)


@pytest.mark.parametrize(
    ("table", "key", "cells"),
    [
        ("shaft_rings", "12", {"groove_mm": 11.5, "load_kN": 1.53}),
        (
            "shaft_rings",
            "18",
            {"groove_mm": 17.0, "width_mm": 1.3, "edge_mm": 1.5, "load_kN": 4.58},
        ),
        ("bore_rings", "16", {"groove_mm": 16.8, "load_kN": 3.40}),
    ],
)
def test_rows_of_rings_are_those_of_the_reprints(
    table: str, key: str, cells: dict[str, float]
) -> None:
    row = load(table).row(key)
    assert {column: row.number(column) for column in cells} == cells
    assert row.limits


@pytest.mark.parametrize(
    ("table", "size"), [("shaft_rings", "shaft_mm"), ("bore_rings", "bore_mm")]
)
def test_the_groove_carries_what_the_standard_states_in_every_row(table: str, size: str) -> None:
    """200 N/mm² over 1.2 on the face of the groove: within 2 % of every load that is printed."""
    for row in load(table):
        carries = retaining_ring.groove_capacity(
            200e6, row.number(size) * MM, row.number("groove_mm") * MM
        )
        assert carries == pytest.approx(row.number("load_kN") * 1e3, rel=0.02)


@pytest.mark.parametrize(("table", "outward"), [("shaft_rings", -1), ("bore_rings", 1)])
def test_rings_and_grooves_hang_together(table: str, outward: int) -> None:
    """A ring presses on the bottom of its groove, leaves play beside it, has land of 3 depths."""
    for row in load(table):
        size = float(next(iter(row.cells.values())))
        groove, free = row.number("groove_mm"), row.number("free_mm")
        assert outward * (groove - size) > 0
        assert outward * (free - groove) > 0
        assert 0.09 < row.number("width_mm") - row.number("thickness_mm") < 0.16
        depth = retaining_ring.groove_depth(size * MM, groove * MM) / MM
        assert row.number("edge_mm") == pytest.approx(3.0 * depth, rel=0.08)
        assert row.number("groove_upper_mm") >= 0.0 >= row.number("groove_lower_mm")


def test_run_out_of_features_in_chance_directions_is_the_root_of_their_squares() -> None:
    """Offsets as vectors in the plane, a hundred thousand assemblies: mean square and the worst."""
    parts = (0.08, 0.03, 0.0133)
    rng = random.Random(471)
    sizes = [
        abs(sum(part * cmath.exp(2j * math.pi * rng.random()) for part in parts))
        for _ in range(100_000)
    ]
    mean_square = math.sqrt(sum(size**2 for size in sizes) / len(sizes))
    assert run_out.likely(parts) == pytest.approx(mean_square, rel=0.005)
    worst = run_out.worst(parts)
    assert max(sizes) <= worst
    assert max(sizes) == pytest.approx(worst, rel=0.01)


def test_run_out_of_a_tilted_face_is_that_of_the_circle_it_draws() -> None:
    """A face 0.02 mm out over 180 mm across: at 60 mm the axis draws a circle of that diameter."""
    angle = math.atan(0.02 / 180)
    assert run_out.of_tilt(0.02 * MM, 90 * MM, 60 * MM) == pytest.approx(
        2 * 60 * MM * math.sin(angle), rel=1e-6
    )
    assert run_out.of_offset(0.04 * MM) == pytest.approx(0.08 * MM)
