"""Threads and keys against published figures.

Sources: ISO 898-1, nominal stress areas of coarse threads, and SAE J429, those of unified threads,
both in published reprints of the load tables: A_s = π/4·((d_2 + d_3)/2)², with the pitch diameter
d_2 = d - 0.75·H from the same profile (ISO 68-1). Printed to three digits, so within half of the
last: 1 % for the smallest. Keys: DIN 6885-1 in the shaft table of a published gear unit data sheet;
the table here up to 58 mm was copied from another page.
"""

from __future__ import annotations

import itertools
import math

import pytest

from wattwright.errors import FormulaError
from wattwright.physics.thread import core_diameter
from wattwright.tables import load

IN = 25.4


def stress_area(diameter: float, pitch: float) -> float:
    """Stress area in mm² from a diameter and a pitch in mm, with the core of the formula."""
    pitch_diameter = diameter - 0.75 * math.sqrt(3) / 2 * pitch
    return (
        math.pi / 4 * ((pitch_diameter + 1e3 * core_diameter(diameter / 1e3, pitch / 1e3)) / 2) ** 2
    )


@pytest.mark.parametrize(
    ("bolt", "area"),
    [
        *(("M5", 14.2), ("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3)),
        *(("M14", 115.0), ("M16", 157.0), ("M18", 192.0), ("M20", 245.0)),
    ],
)
def test_the_core_of_a_thread_gives_its_stress_area(bolt: str, area: float) -> None:
    row = load("bolt_threads").row(bolt)
    found = stress_area(row.number("diameter_mm"), row.number("pitch_mm"))
    assert found == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize(
    ("bolt", "area"),
    [
        *(("1/4-20 UNC", 0.0318), ("3/8-16 UNC", 0.0775), ("3/8-24 UNF", 0.0878)),
        *(("1/2-13 UNC", 0.1419), ("1/2-20 UNF", 0.1599), ("3/4-10 UNC", 0.334)),
    ],
)
def test_unified_threads_have_their_stress_area(bolt: str, area: float) -> None:
    """ASME B1.1: π/4·(d - 0.9743·P)², a rule of its own; this holds diameter and pitch alone."""
    row = load("bolt_threads").row(bolt)
    diameter, pitch = (row.number(c) / IN for c in ("diameter_mm", "pitch_mm"))
    assert math.pi / 4 * (diameter - 0.9743 * pitch) ** 2 == pytest.approx(area, rel=0.003)


@pytest.mark.parametrize("asked", [(0.01, 0.0), (0.01, 0.005)])
def test_a_thread_is_finer_than_its_bolt(asked: tuple[float, float]) -> None:
    with pytest.raises(FormulaError, match="less than half"):
        core_diameter(*asked)


@pytest.mark.parametrize(
    ("over", "to", "width", "height", "in_shaft", "in_hub"),
    [
        (38, 44, 12, 8, 5, 3.3),
        (44, 50, 14, 9, 5.5, 3.8),
        (50, 58, 16, 10, 6, 4.3),
    ],
)
def test_keys_are_those_of_another_print_of_the_standard(
    over: float, to: float, width: float, height: float, in_shaft: float, in_hub: float
) -> None:
    row = load("parallel_keys").row(f"{width}x{height}")
    columns = ("over_mm", "to_mm", "shaft_depth_mm", "hub_depth_mm")
    assert [row.number(c) for c in columns] == [over, to, in_shaft, in_hub]


def test_keys_follow_each_other_without_a_gap_and_are_let_in_by_more_than_half() -> None:
    rows = list(load("parallel_keys"))
    for row, after in itertools.pairwise(rows):
        assert row.number("to_mm") == after.number("over_mm")
        assert row.number("width_mm") < after.number("width_mm")
    for row in rows:
        height, shaft, hub = (row.number(f"{c}_mm") for c in ("height", "shaft_depth", "hub_depth"))
        assert shaft >= height / 2
        # The hub's slot leaves the key a little air above: at most half a millimetre.
        assert 0 < shaft + hub - height <= 0.5
