"""Dimensions, hatching, loads, the centre of gravity and scale bars."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from wattwright.paper import MARGIN, NARROW, Box, DrawingError, View, around
from wattwright.paper.dimension import (
    centre_of_gravity,
    dimension,
    hatched,
    load,
    scale_bar,
)


def points(shape):
    path = ET.fromstring(shape.markup).get("d").strip("MZ")
    return [tuple(float(n) for n in at.split()) for at in path.split("L")]


def words(shapes):
    return [shape.words for shape in shapes if shape.words]


def test_a_view_places_metres_to_one_scale():
    view = View.of((-1.0, 0.0), (3.0, 2.0), Box(10.0, 10.0, 110.0, 60.0))
    assert view.mm_per_metre == pytest.approx(25.0)
    assert view.at(-1.0, 0.0) == pytest.approx((10.0, 60.0))
    assert view.at(3.0, 2.0) == pytest.approx((110.0, 10.0))
    narrow = View.of((0.0, 0.5), (1.0, 2.5), Box(0.0, 0.0, 100.0, 50.0))
    assert narrow.at(0.5, 0.5) == pytest.approx((50.0, 50.0))
    assert narrow.box((0.0, 0.5), (1.0, 1.5)) == Box(37.5, 25.0, 62.5, 50.0)
    for low, high in (((0.0, 0.0), (0.0, 1.0)), ((0.0, 0.0), (math.inf, 1.0))):
        with pytest.raises(DrawingError, match="nothing can be drawn"):
            View.of(low, high, Box(0, 0, 1, 1))


def test_a_dimension_spans_what_it_measures_and_says_its_length():
    shapes = dimension((20.0, 50.0), (80.0, 50.0), 2.54, name="wheelbase", offset=10.0)
    assert words(shapes) == ["wheelbase 2540 mm"]
    across = next(s for s in shapes if not s.words and s.box.width > 59 and s.box.height < 1)
    assert points(across) == [(20.0, 60.0), (80.0, 60.0)]
    tips = [points(s)[0] for s in shapes if not s.words and len(points(s)) == 3]
    assert tips == [(20.0, 60.0), (80.0, 60.0)]
    assert words(dimension((0, 0), (50, 0), 2.54, taste="inch")) == ["100.00 in"]


@pytest.mark.parametrize("turn", range(0, 360, 30))
@pytest.mark.parametrize("offset", [12.0, -12.0])
@pytest.mark.parametrize("span", [3.0, 40.0])
def test_a_dimension_in_any_direction_keeps_its_words_off_its_lines(turn, offset, span):
    """Turned words have a box larger than they are; those that lie flat can be compared."""
    end = (span * math.cos(math.radians(turn)), span * math.sin(math.radians(turn)))
    shapes = dimension((0.0, 0.0), end, 1.0, offset=offset)
    (text,) = (shape for shape in shapes if shape.words)
    turned = re.search(r"rotate\((-?[0-9.]+) ", text.markup)
    assert -90.0 <= float(turned[1] if turned else 0.0) < 90.0
    if turn % 180 == 0:
        lines = [shape for shape in shapes if not shape.words and len(points(shape)) == 2]
        assert not [s for s in lines if text.box.cut(*points(s))]


def test_heads_point_in_from_outside_where_there_is_no_room_between():
    wide, tight = (
        [points(s) for s in dimension((0, 0), (x, 0), 1.0) if not s.words and len(points(s)) == 3]
        for x in (40.0, 4.0)
    )
    assert wide[0][1][0] > wide[0][0][0]
    assert tight[0][1][0] < tight[0][0][0]


def test_a_dimension_of_nothing_is_refused():
    with pytest.raises(DrawingError, match="two points that differ"):
        dimension((1.0, 1.0), (1.0, 1.0), 1.0)
    with pytest.raises(ValueError, match="nan"):
        dimension((1.0, 1.0), (2.0, 1.0), math.nan)


@pytest.mark.parametrize("falling", [False, True])
@pytest.mark.parametrize(
    ("outline", "area"),
    [
        (((0, 0), (40, 0), (40, 30), (0, 30)), 1200.0),
        (((0, 0), (40, 0), (0, 30)), 600.0),
        # A U, whose hatching has to stop at the notch.
        (((0, 0), (60, 0), (60, 40), (40, 40), (40, 20), (20, 20), (20, 40), (0, 40)), 2000.0),
    ],
)
def test_hatching_covers_the_area_and_no_more(outline, area, falling):
    """Lines a distance apart, times that distance, are the area (Cavalieri)."""
    lines = [points(shape) for shape in hatched(outline, spacing=0.25, falling=falling)]
    assert sum(math.dist(*ends) for ends in lines) * 0.25 == pytest.approx(area, rel=0.01)
    for (x, y), (u, v) in lines:
        assert abs(u - x) == pytest.approx(abs(v - y), abs=2e-3)
        assert ((v - y) * (u - x) >= 0.0) == falling or abs(u - x) < 2e-3


def test_hatching_without_a_distance_is_refused():
    with pytest.raises(DrawingError, match="distance between its lines"):
        hatched(((0, 0), (1, 0), (1, 1)), spacing=0.0)


@pytest.mark.parametrize("up", [False, True])
def test_a_load_ends_at_its_point_with_its_number_at_the_tail(up):
    shapes = load((50.0, 50.0), ("Front axle", "520 kg"), up=up)
    assert words(shapes) == ["Front axle", "520 kg"]
    head = next(points(s) for s in shapes if not s.words and len(points(s)) == 3)
    assert head[0] == (50.0, 50.0)
    assert (head[1][1] > 50.0) == up
    label = [shape.box for shape in shapes if shape.words]
    assert all((box.top > 62.0) if up else (box.bottom < 38.0) for box in label)


@pytest.mark.parametrize("x", [4.0, NARROW - 4.0])
def test_a_load_near_the_edge_keeps_its_words_on_the_paper(x):
    (label,) = (s.box for s in load((x, 50.0), ("a load of 520 kg",)) if s.words)
    assert label.left >= MARGIN - 1e-9
    assert label.right <= NARROW - MARGIN + 1e-9


def test_the_mark_of_the_centre_of_gravity_is_half_black():
    shapes = centre_of_gravity((50.0, 50.0), 3.0)
    quarters = [points(s) for s in shapes if 'fill="currentColor"' in s.markup]
    pairs = [zip(q, [*q[1:], q[0]], strict=True) for q in quarters]
    black = sum(abs(sum(x * v - u * y for (x, y), (u, v) in pair)) / 2 for pair in pairs)
    assert black == pytest.approx(math.pi * 9 / 2, rel=0.01)
    open_ = centre_of_gravity((50.0, 50.0), 3.0, open_=True)
    assert not [shape for shape in open_ if 'fill="currentColor"' in shape.markup]


def test_a_band_wider_than_the_mark_is_a_bar_from_end_to_end():
    narrow = centre_of_gravity((50.0, 50.0), 2.0, bands=(1.0, 1.9))
    assert around(c for s in narrow for c in s.box.corners).width < 5.0
    up = centre_of_gravity((50.0, 50.0), 2.0, bands=(1.0, 7.5))
    bars = [points(s) for s in up if s.box.height > 14.9]
    assert bars == [[(50.0, 42.5), (50.0, 57.5)]]


@pytest.mark.parametrize(
    ("taste", "scale", "wide", "said"),
    [
        ("metric", 25.0, 25.0, "1000 mm"),
        ("metric", 60.0, 30.0, "500 mm"),
        ("metric", 15.0, 30.0, "2000 mm"),
        ("inch", 25.0, 0.0254 * 50 * 25, "50.00 in"),
    ],
)
def test_a_scale_bar_has_a_round_length_and_is_to_scale(taste, scale, wide, said):
    half, whole, label = scale_bar((10.0, 20.0), scale, taste)
    assert label.words == said
    assert [x for x, _ in points(whole)[:2]] == pytest.approx([10.0, 10.0 + wide], abs=1e-3)
    assert points(half)[1][0] == pytest.approx(10.0 + wide / 2, abs=1e-3)
