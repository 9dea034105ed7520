"""The drawing of clearances says what the assessment says, and what it cannot show."""

from __future__ import annotations

from pathlib import Path

import pytest

from builders import opened
from wattwright.assessment import assess, shown
from wattwright.build.reader import Opened, open_build
from wattwright.drawings import DRAWINGS
from wattwright.paper.svg import Drawing, render
from wattwright.units import Taste

ISLAND = Path(__file__).parents[1] / "examples" / "island-runabout"
PLACED = {
    "format": "1",
    "build.name": '"Two boxes"',
    "body.a.at": '{ x = "1 m", y = "0 m", z = "500 mm" }',
    "body.a.size": '{ length = "200 mm", width = "200 mm", height = "200 mm" }',
    "body.b.at": '{ x = "1.1 m", y = "0 m", z = "500 mm" }',
    "body.b.size": '{ length = "200 mm", width = "200 mm", height = "200 mm" }',
    "body.b.moves_with": '"unit"',
}


def drawn(build: Opened, taste: Taste = "metric") -> Drawing:
    return DRAWINGS["clearances"](build, assess(build), taste)


def words_of(drawing: Drawing) -> str:
    return " ".join(shape.words for shape in drawing.shapes if shape.words)


@pytest.mark.parametrize("taste", ["metric", "inch", "mixed"])
def test_the_tightest_gaps_are_those_of_the_assessment(taste: Taste) -> None:
    build = open_build(ISLAND)
    drawing = drawn(build, taste)
    said = assess(build).by_address
    words = words_of(drawing)
    for address in ("gap@drive_unit/inverter", "gap@arm_left/pack_tray", "ground@drive_unit"):
        assert shown(said[f"mounts.{address}"].value, taste) in words
    assert "rear left hanging" in words
    assert "Not drawn: coolant hose" in words
    assert "body.coolant_hose.via.3_coupling.at.z" in words
    assert render(drawing)


def test_two_that_overlap_are_said_to_meet() -> None:
    words = words_of(drawn(opened(PLACED, {})))
    assert "a to b: they meet, " in words
    assert "over the ground, laden" not in words


def test_a_body_without_measures_is_asked_for() -> None:
    words = words_of(drawn(opened({**PLACED, "body.b.at": '{ x = "1.1 m" }'}, {})))
    assert "Not drawn: b; needs body.b.at.y, body.b.at.z" in words
