"""The document: well formed, the same every time, nothing off the paper, nothing from outside."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright.paper import (
    MARGIN,
    NARROW,
    SMALLEST_TEXT,
    TEXT,
    WIDE,
    Box,
    DrawingError,
    along,
    number,
    spread,
)
from wattwright.paper.svg import (
    Drawing,
    Label,
    beside,
    circle,
    fitted,
    free_place,
    heading,
    line,
    linked,
    path,
    rectangle,
    render,
    symbol,
    text,
    text_width,
    wrapped,
)

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "</text><script>alert(1)</script> & \" ' ]]> <!-- \x00\x1b\ud800\u202e &#0; %s {x}"
FRACTION_OF_A_MM = st.floats(-50.0, 50.0)
POINTS = st.tuples(FRACTION_OF_A_MM, FRACTION_OF_A_MM)


def drawn(*shapes, title="A title", description="What it shows.", width=NARROW):
    return render(Drawing(title, description, (*heading(title, width), *shapes), width))


def block(words):
    return Label(wrapped(words, NARROW - 2 * MARGIN)).at(MARGIN, 30.0)


def test_the_document_says_what_it_is_and_has_its_size_in_mm():
    root = ET.fromstring(drawn(rectangle(Box(10, 20, 50, 60))))
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert [child.tag for child in root[:2]] == [f"{SVG}title", f"{SVG}desc"]
    assert (root[0].text, root[1].text) == ("A title", "What it shows.")
    assert root.get("width") == "100%"
    assert root.get("viewBox") == f"0 0 120 {number(60.2 + MARGIN)}"
    assert "--ww-width:120mm" in root.get("style")


def test_it_brings_nothing_that_runs_loads_or_clashes():
    markup = drawn(path(((1, 1), (5, 5))), symbol("circle", (50, 50)), *block(HOSTILE))
    root = ET.fromstring(markup)
    assert {element.tag.removeprefix(SVG) for element in root.iter()} == {
        *("svg", "title", "desc", "style", "path", "circle", "text")
    }
    for element in root.iter():
        assert not {"id", "href", "onload"} & set(element.attrib)
    assert re.findall(r"https?:[^\"]*", markup) == ["http://www.w3.org/2000/svg"]
    assert "url(" not in markup
    assert "@import" not in markup


def test_hostile_text_stays_text_everywhere():
    markup = drawn(*block(HOSTILE), title=HOSTILE, description=HOSTILE)
    root = ET.fromstring(markup.encode())
    assert root.find(f"{SVG}script") is None
    for words in (root.get("aria-label"), root[0].text, root[1].text):
        assert words.startswith("</text><script>alert(1)</script> & \" ' ]]> <!-- ")
        assert not set(words) & set("\x00\x1b\ud800\u202e")


def test_a_shape_says_which_record_it_stands_for_and_takes_no_more_room():
    plain = (rectangle(Box(10, 20, 50, 60)), *block("charger"))
    shapes = linked(plain, "part", "charger")
    assert [(s.box, s.words) for s in shapes] == [(s.box, s.words) for s in plain]
    groups = ET.fromstring(drawn(*shapes)).findall(f"{SVG}g")
    assert [group.attrib for group in groups] == [{"data-part": "charger"}] * 2
    assert [[child.tag for child in group] for group in groups] == [[f"{SVG}path"], [f"{SVG}text"]]


def test_a_hostile_name_stays_one_attribute():
    (group,) = ET.fromstring(
        drawn(*linked([circle((20, 20), 2)], "part", HOSTILE)).encode()
    ).findall(f"{SVG}g")
    assert list(group.attrib) == ["data-part"]
    assert group.get("data-part").startswith("</text><script>alert(1)</script> & \" ' ]]> <!-- ")


@given(st.text(max_size=40), st.text(max_size=40))
def test_any_text_gives_well_formed_utf8(title, words):
    ET.fromstring(drawn(*block(words), title=title).encode())


def test_the_same_shapes_give_the_same_bytes():
    one, two = (drawn(circle((30.1, 30.2), 1 / 3), text((9, 40), "x")) for _ in range(2))
    assert one == two


@pytest.mark.parametrize(
    ("value", "written"),
    [(0.0, "0"), (-0.0, "0"), (-1e-9, "0"), (1 / 3, "0.333"), (100.0, "100"), (-2.5, "-2.5")],
)
def test_numbers_have_one_way_of_being_written(value, written):
    assert number(value) == written


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_not_finite_is_refused(value):
    for draw in (
        lambda: number(value),
        lambda: path(((0, 0), (value, 1))),
        lambda: circle((1, 1), value),
        lambda: text((value, 1), "x"),
        lambda: text((1, 1), "x", turn=value),
    ):
        with pytest.raises((DrawingError, ValueError)):
            draw()


def test_what_runs_off_the_paper_is_refused():
    with pytest.raises(DrawingError, match="runs off the paper: a long word"):
        drawn(text((NARROW - 5, 30), "a long word"))
    with pytest.raises(DrawingError, match="runs off the paper"):
        drawn(line((-1, 20), (20, 20)))


def test_text_is_never_too_small_to_read():
    with pytest.raises(DrawingError, match=r"smaller than 3\.2 mm"):
        text((5, 5), "x", size=SMALLEST_TEXT - 0.01)
    assert TEXT >= SMALLEST_TEXT == 3.2
    # A drawing as wide as a telephone of 390 px, and what a wider one is kept from shrinking to.
    assert TEXT * 390 / NARROW >= 11
    for width in (NARROW, WIDE):
        style = ET.fromstring(drawn(width=width)).get("style")
        least = float(re.search(r"min-width:([0-9.]+)px", style)[1])
        assert TEXT * least / width == pytest.approx(11.0, rel=1e-3)


def test_the_box_of_turned_text_turns_with_it():
    flat, turned = text((60, 60), "wheelbase").box, text((60, 60), "wheelbase", turn=-90).box
    assert (turned.width, turned.height) == pytest.approx((flat.height, flat.width))
    assert turned.top == pytest.approx(60 - flat.width)


def test_estimated_widths_reach_those_of_a_wide_face():
    """Advance widths in the metrics of DejaVu Sans, in 2048ths of an em, added up by hand."""
    digit, space = 1303, 651
    assert text_width("0123456789", 1.0) >= 10 * digit / 2048
    kg = 1186 + 1300
    assert text_width("1175 kg", 1.0) >= (4 * digit + space + kg) / 2048
    mmw = 1995 + 1995 + 2025
    assert text_width("mmW", 1.0) >= 0.98 * mmw / 2048
    assert text_width("車", 1.0) >= 1.0


@given(st.text(max_size=60), st.floats(10.0, 110.0), st.integers(1, 4))
def test_wrapped_text_fits_its_room(words, room, most):
    rows = wrapped(words, room, most=most)
    assert len(rows) <= most
    assert all(text_width(row) <= room for row in rows)
    assert bool(rows) == bool(words.split())


def test_shortened_text_shows_that_it_is_and_numbers_keep_their_unit():
    assert fitted("Motor and reduction gear", 30.0).endswith("…")
    assert fitted("Motor", 30.0) == "Motor"
    for room in range(20, 80):
        assert not any(row.startswith("V") for row in wrapped("pack from 240 V to 403 V", room))
    assert wrapped("level road", 100.0) == ("level road",)


@given(POINTS, POINTS)
def test_a_cut_line_is_the_part_within(start, end):
    box = Box(-10.0, -20.0, 30.0, 5.0)
    cut = box.cut(start, end)
    steps = [count / 200 for count in range(201)]
    walked = [
        (start[0] + (end[0] - start[0]) * by, start[1] + (end[1] - start[1]) * by) for by in steps
    ]
    # A line that runs along an edge is as good as on it for some way beside it.
    within = [at for at in walked if box.grown(-1e-3).holds(Box(*at, *at))]
    if cut is None:
        assert not within
    else:
        low, high = (Box(*at, *at) for at in cut)
        assert box.holds(low)
        assert box.holds(high)
        for x, y in within:
            assert min(cut[0][0], cut[1][0]) - 2e-3 <= x <= max(cut[0][0], cut[1][0]) + 2e-3
            assert min(cut[0][1], cut[1][1]) - 2e-3 <= y <= max(cut[0][1], cut[1][1]) + 2e-3


def area(outline):
    pairs = zip(outline, [*outline[1:], *outline[:1]], strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def test_a_trimmed_area_is_the_one_within():
    unit = Box(0.0, 0.0, 1.0, 1.0)
    assert area(unit.trim([(-1, -1), (3, -1), (3, 3), (-1, 3)])) == pytest.approx(1.0)
    assert area(unit.trim([(0, 0), (2, 0), (0, 2)])) == pytest.approx(1.0)
    assert area(unit.trim([(0.5, 0.5), (2.5, 0.5), (0.5, 2.5)])) == pytest.approx(0.25)
    assert unit.trim([(2, 2), (3, 2), (3, 3)]) == []


def test_a_line_that_leaves_and_returns_has_two_pieces():
    unit = Box(0.0, 0.0, 1.0, 1.0)
    assert unit.runs([(0, 0), (0.5, 2.0), (1.0, 0.0)]) == (
        ((0, 0), (0.25, 1.0)),
        ((0.75, 1.0), (1.0, 0.0)),
    )
    assert unit.runs([(0.5, 0.5)]) == (((0.5, 0.5), (0.5, 0.5)),)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 9)), max_size=10))
def test_spread_labels_stay_in_order_apart_and_inside(rows):
    rows.sort()
    wanted, heights = [row[0] for row in rows], [row[1] for row in rows]
    tops = spread(wanted, heights, 0.0, 100.0)
    bottoms = [top + height for top, height in zip(tops, heights, strict=True)]
    assert all(top >= -1e-9 for top in tops)
    assert all(bottom <= 100.0 + 1e-9 for bottom in bottoms)
    assert all(low >= high - 1e-9 for high, low in zip(bottoms, tops[1:], strict=False))


def test_labels_with_room_stand_where_they_are_wanted():
    assert spread([10.0, 30.0, 50.0], [5.0, 5.0, 5.0], 0.0, 100.0) == [10.0, 30.0, 50.0]


def test_a_name_takes_the_first_place_free_of_names_and_then_the_one_with_fewest_lines():
    label, room = Label(("name",)), Box(0, 0, 100, 100)
    places = [*beside(label, [(50.0, 50.0)])]
    assert free_place(places, room, []) == places[0]
    assert free_place(places, room, [places[0]]) != places[0]
    through = [((0.0, 49.0), (100.0, 49.0))]
    place = free_place(places, room, [], through)
    assert place.cut(*through[0]) is None
    assert free_place(places, room, [room]) is None
    for one, two in itertools.combinations(places[:4], 2):
        assert not (one.meets(two) and one == two)


def test_marks_along_a_line_are_evenly_spaced():
    at = [*along([(0.0, 0.0), (30.0, 0.0), (30.0, 30.0)], 10.0)]
    assert at == [(5, 0), (15, 0), (25, 0), (30, 5), (30, 15), (30, 25)]
