"""Sheets of the half-shafts: three heights with what to expect, and putting them together."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from wattwright.assessment import assess
from wattwright.bench.sheets import sheet
from wattwright.build.catalogue import find
from wattwright.build.reader import open_build

ISLAND = Path(__file__).parents[2] / "examples" / "island-runabout"


@pytest.mark.parametrize("name", ["half_shaft_angles", "half_shaft_reassembly"])
def test_both_shafts_have_their_lines_and_fields(name: str) -> None:
    opened = open_build(ISLAND)
    found = sheet(name, opened.build, assess(opened))
    assert any("stands" in caution for caution in found.cautions)
    for side in ("left", "right"):
        assert len([line for line in found.lines if line.name.startswith(f"{side}_")]) > 6
    for line in found.lines:
        if line.path:
            assert find(line.path) is not None, line.path


def test_each_height_says_what_to_expect_and_when_not_to_turn_it() -> None:
    opened = open_build(ISLAND)
    found = sheet("half_shaft_angles", opened.build, assess(opened))
    bump = found.line("left_bump_inner")
    assert bump is not None
    assert bump.expected is not None
    assert bump.expected.number is not None
    # About 75 mm on 344 mm, and 12 mm along the vehicle.
    assert 10.0 < math.degrees(bump.expected.number) < 14.0
    assert "22°" in bump.stop_if
