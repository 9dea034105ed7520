"""Bars from nought, and drawings one below the other."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

from wattwright.kinds import ENERGY_PER_DISTANCE
from wattwright.paper.bars import Bar, Bars, draw_bars
from wattwright.paper.stack import stacked
from wattwright.paper.svg import render


def bars(*each: Bar) -> Bars:
    return Bars("Where it goes", "Bars.", ENERGY_PER_DISTANCE, each)


def widths(text: str) -> list[float]:
    found = re.findall(r'd="M([\d.]+) [\d.]+L([\d.]+) [\d.]+L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z"', text)
    return [float(right) - float(left) for left, right in found][1:]


def test_bars_are_as_long_as_their_numbers() -> None:
    text = render(draw_bars(bars(Bar("rolling", 200.0, 10.0), Bar("air", 100.0))))
    first, second = widths(text)
    assert second / first == 0.5 or abs(second / first - 0.5) < 1e-3
    assert "rolling" in text
    assert "56 Wh/km ± 3" in text or "55.6 Wh/km ± 2.8" in text
    ET.fromstring(text)


def test_a_bar_below_nought_leads_the_other_way() -> None:
    drawing = draw_bars(bars(Bar("climb", -100.0), Bar("air", 100.0)))
    text = render(drawing)
    down, up = widths(text)
    assert abs(down - up) < 1e-3
    assert all(shape.box.left >= 0 for shape in drawing.shapes)


def test_without_bars_there_is_a_sentence() -> None:
    words = [shape.words for shape in draw_bars(bars()).shapes]
    assert "There is nothing to draw yet." in words


def test_stacked_drawings_do_not_overlap() -> None:
    one = draw_bars(bars(Bar("air", 100.0)))
    both = stacked("Both", "Two drawings.", [one, one])
    assert both.height > 2 * one.height - 10
    ET.fromstring(render(both))
    tops = [shape.box.top for shape in both.shapes if shape.words == "Where it goes"]
    assert len(tops) == 2
    assert tops[1] - tops[0] > one.height - 10
