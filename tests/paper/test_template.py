"""Templates: one geometry, written as SVG, as DXF and over sheets, measured in each."""

from __future__ import annotations

import io
import math
import re
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.units import MM

from wattwright.paper import DrawingError
from wattwright.paper.template import (
    CENTRE,
    CHECK_BARS,
    OUTLINE,
    WORDS,
    Arc,
    Circle,
    Line,
    Polyline,
    Template,
    Words,
    arrow,
    check_bar,
    cross,
    millimetres,
    rectangle,
)
from wattwright.paper.template_dxf import template_dxf
from wattwright.paper.template_svg import template_svg
from wattwright.paper.template_tiles import OVERLAP, Paper, tile_svg, tiling

A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)
PLATE = Template(
    "plate <1> & #2",
    (
        rectangle(OUTLINE, (-150.0, -60.0), (150.0, 60.0)),
        Circle(OUTLINE, (50.0, 10.0), 12.5),
        Arc(OUTLINE, (-50.0, 0.0), 20.0, 300.0, 60.0),
        Line(CENTRE, (0.0, -70.0), (0.0, 70.0)),
        *cross((50.0, 10.0), 20.0),
        Words(WORDS, (-140.0, -40.0), "50%%d ^J <Häuser> & Ω", 5.0),
    ),
    "lay it flat",
)


def read(template):
    return ezdxf.read(io.StringIO(template_dxf(template).decode("utf-8")))


def test_a_box_is_that_of_all_shapes():
    box = Template(
        "", (rectangle(OUTLINE, (-1.0, 2.0), (3.0, 7.0)), Circle(OUTLINE, (3, 7), 2))
    ).box
    assert (box.left, box.top, box.right, box.bottom) == (-1.0, 2.0, 5.0, 9.0)


@pytest.mark.parametrize(
    ("start", "end", "box"),
    [
        (0.0, 90.0, (0.0, 0.0, 1.0, 1.0)),
        (300.0, 60.0, (0.5, -math.sqrt(0.75), 1.0, math.sqrt(0.75))),
        (90.0, 270.0, (-1.0, -1.0, 0.0, 1.0)),
        (10.0, 5.0, (-1.0, -1.0, 1.0, 1.0)),
    ],
)
def test_an_arc_takes_the_space_of_its_ends_and_the_sides_it_passes(start, end, box):
    found = Arc(OUTLINE, (0.0, 0.0), 1.0, start, end).box
    assert (found.left, found.top, found.right, found.bottom) == pytest.approx(box)


def test_an_arc_all_the_way_round_is_refused():
    with pytest.raises(DrawingError, match="circle"):
        Arc(OUTLINE, (0.0, 0.0), 1.0, 30.0, 390.0)


def test_nothing_is_no_template():
    with pytest.raises(DrawingError, match="nothing to draw"):
        _ = Template("empty", ()).box


def test_an_arrow_ends_where_it_points():
    line, head = arrow(OUTLINE, (0.0, 0.0), (-30.0, 0.0), 5.0)
    assert head.points[1] == (-30.0, 0.0)
    assert [point[0] for point in (head.points[0], head.points[2])] == [-25.0, -25.0]
    assert line.end == (-30.0, 0.0)


@pytest.mark.parametrize(("bar", "length"), [(CHECK_BARS[0], 100.0), (CHECK_BARS[1], 101.6)])
@pytest.mark.parametrize("upright", [False, True])
def test_a_bar_is_as_long_as_it_says_from_outer_edge_to_outer_edge(bar, length, upright):
    areas = [
        each for each in check_bar((7.0, 9.0), bar, upright=upright) if each.layer.name == "bars"
    ]
    assert all(each.filled for each in areas)
    boxes = [each.box for each in areas]
    low = min(box.top if upright else box.left for box in boxes)
    high = max(box.bottom if upright else box.right for box in boxes)
    assert low == (9.0 if upright else 7.0)
    assert high - low == pytest.approx(length, abs=1e-9)
    assert len(areas) == bar.parts + 2


def test_metres_become_millimetres():
    assert millimetres(0.3302) == pytest.approx(330.2)


# ------------------------------------------------------------------------------------------- as SVG


def test_svg_is_as_large_as_the_drawing_in_millimetres_and_names_its_layers():
    root = ElementTree.fromstring(template_svg(PLATE))
    assert (root.get("width"), root.get("height")) == ("310mm", "150mm")
    assert root.get("viewBox") == "0 0 310 150"
    layers = [each.get("data-layer") for each in root]
    assert layers[1:] == ["outline", "centre", "words"]


def test_svg_turns_upwards_round():
    text = template_svg(PLATE)
    assert 'cx="205" cy="65" r="12.5"' in text
    start, end = "M115 92.321", "115 57.679"
    assert f"{start}A20 20 0 0 0 {end}" in text


def test_svg_takes_any_words():
    root = ElementTree.fromstring(template_svg(PLATE))
    assert root[0].text == PLATE.title
    assert "50%%d ^J <Häuser> & Ω" in "".join(root.itertext())


# ------------------------------------------------------------------------------------------- as DXF


def test_dxf_keeps_unit_release_and_layers_and_audits_clean():
    made = read(PLATE)
    audit = made.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert made.dxfversion >= "AC1024"
    assert made.units == made.header["$INSUNITS"] == MM
    assert {"outline", "centre", "words"} <= {layer.dxf.name for layer in made.layers}
    used = {entity.dxf.layer for entity in made.modelspace()}
    assert used == {"outline", "centre", "words"}


def test_dxf_has_the_measures_of_the_drawing():
    space = read(PLATE).modelspace()
    (outline,) = space.query("LWPOLYLINE")
    across, up = zip(*((x, y) for x, y, *_ in outline.get_points()), strict=True)
    assert outline.closed
    assert (max(across) - min(across), max(up) - min(up)) == (300.0, 120.0)
    (circle,) = space.query("CIRCLE")
    assert (circle.dxf.radius, circle.dxf.center.x, circle.dxf.center.y) == (12.5, 50.0, 10.0)
    (arc,) = space.query("ARC")
    assert (arc.dxf.radius, arc.dxf.start_angle, arc.dxf.end_angle) == (20.0, 300.0, 60.0)
    lengths = sorted(math.dist(each.dxf.start, each.dxf.end) for each in space.query("LINE"))
    assert lengths == [40.0, 40.0, 140.0]
    (text,) = space.query("TEXT")
    assert text.dxf.height == 5.0
    # Signs that a drawing program would obey are kept apart, and are still to be read.
    assert text.dxf.text == "50% %d ^ J <Häuser> & Ω"


def test_the_same_template_gives_the_same_dxf_without_a_date_of_now():
    first = template_dxf(PLATE)
    assert template_dxf(PLATE) == first
    # Read as text: the library writes its own dates into what it reads.
    dates = re.findall(rb"\$TDU?(?:CREATE|UPDATE)\r?\n *40\r?\n(\S+)", first)
    assert set(dates) == {b"2451544.5"}
    names = re.findall(rb"\$(?:FINGERPRINT|VERSION)GUID\r?\n *2\r?\n(\S+)", first)
    assert len(names) == 2
    assert set(b"".join(names)) <= set(b"{}-0")
    assert not re.search(rb"20[2-9]\d-\d\d-\d\d", first)


# -------------------------------------------------------------------------------------- over sheets


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
@pytest.mark.parametrize("size", [(20.0, 20.0), (400.0, 90.0), (1250.0, 700.0)])
def test_sheets_cover_the_whole_and_overlap(paper, size):
    wide, high = size
    laid = tiling(Template("box", (rectangle(OUTLINE, (5.0, 5.0), (5 + wide, 5 + high)),)), paper)
    assert len(laid.tiles) == laid.rows * laid.columns
    boxes = {(tile.row, tile.column): tile.shows for tile in laid.tiles}
    first, last = boxes[0, 0], boxes[laid.rows - 1, laid.columns - 1]
    assert first.left <= 5.0
    assert first.bottom >= 5.0 + high
    assert last.right >= 5.0 + wide
    assert last.top <= 5.0
    for (row, column), box in boxes.items():
        assert (box.width, box.height) == pytest.approx((paper.window.width, paper.window.height))
        if (row, column + 1) in boxes:
            assert box.right - boxes[row, column + 1].left == pytest.approx(OVERLAP)
        if (row + 1, column) in boxes:
            assert boxes[row + 1, column].bottom - box.top == pytest.approx(OVERLAP)
    # Not a row or column more than it takes.
    assert (laid.columns - 1) * (paper.window.width - OVERLAP) < wide + 4.0
    assert (laid.rows - 1) * (paper.window.height - OVERLAP) < high + 4.0


def test_both_sheets_beside_a_join_show_its_marks():
    laid = tiling(Template("box", (rectangle(OUTLINE, (0.0, 0.0), (300.0, 300.0)),)), A4)
    assert (laid.rows, laid.columns) == (2, 2)
    rings = [each for each in laid.joins if isinstance(each, Circle)]
    assert len(rings) == 8
    for ring in rings:
        assert sum(tile.shows.holds(ring.box) for tile in laid.tiles) == 2


def test_sheets_are_named_by_row_and_column_and_numbered_on_their_face():
    laid = tiling(Template("box", (rectangle(OUTLINE, (0.0, 0.0), (300.0, 300.0)),)), A4)
    assert [tile.name for tile in laid.tiles] == ["A1", "A2", "B1", "B2"]
    face = tile_svg(laid, laid.tiles[2], "Build <&> · page 3 of 4", "build 0123")
    words = "".join(ElementTree.fromstring(face).itertext())
    assert "Sheet B1 of 2 × 2: box" in words
    assert "Build <&> · page 3 of 4 · build 0123" in words
    assert words.count("100 mm") == words.count("4 in") == 2


def test_more_sheets_than_anybody_glues_are_refused():
    wall = Template("wall", (Polyline(OUTLINE, ((0.0, 0.0), (8000.0, 0.0), (8000.0, 3000.0))),))
    with pytest.raises(DrawingError, match="SVG or DXF"):
        tiling(wall, A4)


@pytest.mark.parametrize("shift", [0.0, 3.0, -7.0])
def test_no_join_runs_through_a_hole_where_there_is_room_to_move_it(shift):
    # Three holes, one of them where the middle of both sheets would meet.
    holes = [Circle(OUTLINE, (x + shift, 0.0), 6.0) for x in (-100.0, 0.0, 100.0)]
    laid = tiling(Template("row", tuple(holes)), A4)
    assert (laid.rows, laid.columns) == (1, 2)
    (first, second) = laid.tiles
    strip = second.shows.left, first.shows.right
    assert strip[1] - strip[0] == pytest.approx(OVERLAP)
    for hole in holes:
        assert hole.box.right <= strip[0] or hole.box.left >= strip[1]
        # And each is whole on one of the two.
        shown = [
            t.shows.left <= hole.box.left and hole.box.right <= t.shows.right for t in laid.tiles
        ]
        assert any(shown)


def test_where_every_place_cuts_something_joins_stay_in_the_middle():
    laid = tiling(Template("ring", (Circle(OUTLINE, (0.0, 0.0), 115.0),)), A4)
    left, right = laid.tiles[0].shows.left, laid.tiles[-1].shows.right
    assert left + right == pytest.approx(0.0, abs=1e-9)
