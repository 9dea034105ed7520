"""Ranges side by side: what is open, what is not known and what is left uncovered."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest

from wattwright import kinds
from wattwright.paper import MARGIN, WIDE, Box, DrawingError
from wattwright.paper.ranges import Range, Ranges, draw_ranges
from wattwright.paper.svg import render

NEEDED = Range("pack, cold and empty to full", 240.0, 403.0)
ROWS = (
    Range("Inverter", 180.0, 420.0, "sound"),
    Range("On-board charger", 200.0, 420.0, "sound"),
    Range("Converter for the twelve volt side", 220.0, 450.0, "sound"),
    Range("Cabin heater", 280.0, 420.0, "failing"),
    Range("Air compressor", 200.0, 380.0, "failing"),
    Range("Main contactors", None, 900.0, "sound", unlimited=True),
    Range("Main fuse", None, 500.0, "unknown"),
    Range("Link capacitor", word="unknown, nobody has read its plate yet"),
)


def ranges(*rows, needed=NEEDED, **more):
    return Ranges("Windows", "Eight devices.", kinds.VOLTAGE, rows, needed, **more)


def bars(drawing):
    """Outlines drawn closed on white: bars of rows, and what they leave uncovered."""
    elements = [(ET.fromstring(s.markup), s.box) for s in drawing.shapes if not s.words]
    return [
        (element.get("d"), box.grown(-0.2))
        for element, box in elements
        if element.get("class") == "ww-paper" and element.tag == "path"
    ]


@pytest.mark.parametrize("width", [120.0, WIDE])
@pytest.mark.parametrize("taste", ["metric", "inch", "mixed"])
def test_nothing_overlaps_or_leaves_the_paper(width, taste):
    drawing = draw_ranges(ranges(*ROWS, width=width), taste)
    texts = [shape for shape in drawing.shapes if shape.words]
    for place, one in enumerate(texts):
        assert not [two.words for two in texts[:place] if one.box.grown(-0.3).meets(two.box)]
    paper = Box(0.0, 0.0, drawing.width, drawing.height)
    assert all(paper.holds(shape.box) for shape in drawing.shapes)
    assert render(drawing) == render(draw_ranges(ranges(*ROWS, width=width), taste))


def test_each_row_has_its_name_numbers_and_word():
    said = [shape.words for shape in draw_ranges(ranges(*ROWS)).shapes if shape.words]
    joined = " ".join(said)
    assert "Shaded: pack, cold and empty to full, 240 V to 403 V" in joined
    for words in ("280 V to 420 V", "up to 900 V", "? to 500 V", "not known"):
        assert words in said
    assert said.count("sound") == 4


@pytest.mark.parametrize(
    ("row", "written"),
    [
        (Range("a", 1.0, 2.0), "1 V to 2 V"),
        (Range("a", 1.0), "1 V to ?"),
        (Range("a", None, 2.0), "? to 2 V"),
        (Range("a"), "not known"),
        (Range("a", unlimited=True), "no limit"),
        (Range("a", 1.0, unlimited=True), "from 1 V"),
        (Range("a", None, 2.0, unlimited=True), "up to 2 V"),
    ],
)
def test_an_end_that_is_not_known_is_not_an_end_without_limit(row, written):
    assert row.written(kinds.VOLTAGE, "metric") == written


def test_a_bar_has_its_length_and_leaves_its_gap_to_scale():
    row = Range("heater", 280.0, 420.0)
    ((_, bar), (_, gap)) = bars(draw_ranges(ranges(row)))
    assert gap.width / bar.width == pytest.approx((280 - 240) / (420 - 280), rel=1e-3)
    assert gap.right == pytest.approx(bar.left, abs=1e-3)


def test_what_is_covered_or_not_known_leaves_no_gap():
    assert len(bars(draw_ranges(ranges(Range("wide", 200.0, 420.0))))) == 1
    assert len(bars(draw_ranges(ranges(Range("both", 280.0, 380.0))))) == 3
    half = draw_ranges(ranges(Range("half", None, 500.0)))
    assert bars(half) == []
    assert "?" in [shape.words for shape in half.shapes]


def test_bars_that_run_on_are_pointed_there():
    square, pointed = (
        bars(draw_ranges(ranges(row)))[0][0].count("L")
        for row in (Range("a", 200.0, 420.0), Range("a", None, 900.0, unlimited=True))
    )
    assert (square, pointed) == (3, 5)


@pytest.mark.parametrize("row", [Range("above", 600.0, 900.0), Range("below", 10.0, 60.0)])
def test_a_range_off_the_axis_is_still_seen_at_its_edge(row):
    drawing = draw_ranges(ranges(row))
    assert all(box.width > 2.0 for _, box in bars(drawing))
    assert all(MARGIN <= box.left <= box.right <= 120.0 - MARGIN for _, box in bars(drawing))
    render(drawing)


def test_without_a_range_to_be_held_against_the_rows_fill_the_axis():
    drawing = draw_ranges(ranges(*ROWS[:3], needed=Range("")))
    assert not [shape.words for shape in drawing.shapes if shape.words.startswith("Shaded")]
    assert len(bars(drawing)) == 3


def test_nothing_known_is_said_in_a_sentence():
    drawing = draw_ranges(ranges(Range("Inverter"), needed=Range(""), empty="No device is known."))
    assert [shape.words for shape in drawing.shapes] == ["Windows", "No device is known."]
    assert "nothing to draw" in " ".join(s.words for s in draw_ranges(ranges()).shapes)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_finite_is_refused(bad):
    with pytest.raises(ValueError, match=r"cannot be written|only finite"):
        draw_ranges(ranges(Range("bad", 100.0, bad)))
    with pytest.raises(ValueError, match=r"cannot be written|only finite"):
        draw_ranges(ranges(ROWS[0], needed=Range("bad", 100.0, bad)))


def test_a_range_that_ends_before_it_begins_is_refused():
    with pytest.raises(DrawingError, match="before it begins"):
        Range("wrong", 420.0, 180.0)
