"""Charts: ticks, places, names that keep apart, lines told apart without colour."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattwright import kinds
from wattwright.paper import NARROW, WIDE, Axis, Box, DrawingError, both, nice_step, scale_of
from wattwright.paper.chart import Band, Chart, Line, Mark, Reference, draw
from wattwright.paper.svg import render

SPEED, FORCE = Axis("Road speed", kinds.SPEED), Axis("Tractive force", kinds.FORCE)
VOLTAGE = Axis("Voltage", kinds.VOLTAGE)
TASTES = ("metric", "inch", "mixed")
KM_H = 1 / 3.6
SVG = "{http://www.w3.org/2000/svg}"


def curve(of, to, steps=40):
    return tuple((to * step / steps, of(to * step / steps)) for step in range(steps + 1))


def traction(**more):
    gears = tuple(
        Line(f"gear {n}", curve(lambda v, f=f: min(f, 50e3 / v if v else f), to), label_at="start")
        for n, f, to in ((1, 7200.0, 15.0), (2, 4200.0, 26.0), (3, 2800.0, 38.0), (4, 2000.0, 53.0))
    )
    roads = tuple(
        Line(f"{grade} % grade", curve(lambda v, g=grade: 130 + 115 * g + 0.5 * v * v, 53.0), False)
        for grade in (0, 10, 20)
    )
    grip = Reference("grip of the driven axle", 5600.0)
    return Chart("Force", "Four gears.", SPEED, FORCE, (*gears, *roads), references=(grip,), **more)


def torque():
    lines = tuple(
        Line(f"at {volts} V", curve(lambda w, v=volts: min(150.0, 190 * v / w if w else 150), 900))
        for volts in (180, 252, 350)
    )
    flat = curve(lambda _: 60.0, 900.0)
    bands = (
        Band("all day", tuple((w, 0.0) for w, _ in flat), flat),
        Band("half an hour", flat, tuple((w, 90.0) for w, _ in flat)),
    )
    return Chart(
        "Torque at three voltages",
        "Torque against speed.",
        Axis("Motor speed", kinds.ROTATIONAL_SPEED),
        Axis("Torque", kinds.TORQUE),
        lines,
        bands,
        (Mark("nameplate", (314.0, 95.0)),),
        (Reference("speed limit", 838.0, "x"),),
    )


def bunched(count=14):
    """Many lines that end at the same place."""
    lines = tuple(
        Line(f"a line with a long name, number {n}", ((0, 0), (10, 100 + n / 9)), n % 2 == 0)
        for n in range(count)
    )
    marks = tuple(Mark(f"point {n}", (5.0, 52.0 + n / 10)) for n in range(8))
    return Chart("Bunched", "Lines in a bunch.", SPEED, FORCE, lines, marks=marks)


SAMPLES = [
    *(traction(), traction(width=WIDE), torque(), bunched(), bunched(24)),
    Chart("One point", "A point.", SPEED, FORCE, marks=(Mark("alone", (1.0, 1.0)),)),
]


def words_of(drawing):
    return [shape.words for shape in drawing.shapes if shape.words]


def overlaps(drawing):
    texts = [shape for shape in drawing.shapes if shape.words]
    return [
        (one.words, two.words)
        for one, two in itertools.combinations(texts, 2)
        if one.box.grown(-0.3).meets(two.box.grown(-0.3))
    ]


@pytest.mark.parametrize("chart", SAMPLES, ids=lambda chart: f"{chart.title} {chart.width:g}")
@pytest.mark.parametrize("taste", TASTES)
def test_no_text_overlaps_and_all_stays_on_the_paper(chart, taste):
    drawing = draw(chart, taste)
    assert overlaps(drawing) == []
    paper = Box(0.0, 0.0, drawing.width, drawing.height)
    assert all(paper.holds(shape.box) for shape in drawing.shapes)
    assert render(drawing) == render(draw(chart, taste))
    sizes = [e.get("font-size") for e in ET.fromstring(render(drawing)).iter(f"{SVG}text")]
    assert min(map(float, sizes)) >= 3.2


def test_the_check_for_overlaps_finds_one():
    drawing = draw(traction())
    twice = (*drawing.shapes, next(s for s in drawing.shapes if s.words == "gear 1"))
    assert overlaps(type(drawing)("", "", twice)) == [("gear 1", "gear 1")]


@pytest.mark.parametrize("chart", SAMPLES, ids=lambda chart: f"{chart.title} {chart.width:g}")
def test_every_name_is_in_the_drawing(chart):
    said = " ".join(words_of(draw(chart)))
    for each in (*chart.lines, *chart.bands, *chart.marks, *chart.references):
        assert each.name.split()[-1] in said


def looks(drawing):
    """Weight, dashes and marks of each line that is told apart by them."""
    found = []
    for shape in drawing.shapes:
        element = ET.fromstring(shape.markup)
        if re.fullmatch(r"ww-[0-7]", element.get("class") or ""):
            found.append((element.get("stroke-width"), element.get("stroke-dasharray"), set()))
        elif element.get("class") == "ww-paper" and shape.box.width < 4.0:
            found[-1][2].add((element.tag, element.get("d", "").count("L")))
    return [(weight, dash, frozenset(symbols)) for weight, dash, symbols in found]


@pytest.mark.parametrize("count", [7, 24])
def test_lines_differ_without_colour(count):
    lines = tuple(Line(f"line {n}", ((0, n), (10, n + 1)), n % 3 == 0) for n in range(count))
    shown = looks(draw(Chart("Lines", "Many.", SPEED, FORCE, lines, height=130.0)))
    assert len(shown) == len(set(shown)) == count


def test_reference_lines_look_like_no_other_line():
    shown = {weight for weight, _, _ in looks(draw(traction()))}
    assert shown == {"0.8", "0.4"}
    dashed = [
        element.get("stroke-width")
        for element in map(ET.fromstring, (shape.markup for shape in draw(traction()).shapes))
        if element.get("stroke-dasharray") and not element.get("class")
    ]
    assert dashed == ["0.25"]


def test_more_lines_than_can_be_told_apart_are_refused():
    lines = tuple(Line(f"line {n}", ((0, n), (10, n))) for n in range(25))
    with pytest.raises(DrawingError, match="too many lines"):
        draw(Chart("Lines", "Many.", SPEED, FORCE, lines))


@given(st.floats(1e-9, 1e9), st.integers(2, 9))
def test_steps_are_one_two_or_five(span, most):
    step = nice_step(span, most)
    assert f"{step:.3e}"[:5] in ("1.000", "2.000", "5.000")
    assert span / step <= most * (1 + 1e-6)
    smaller = step / 2.5 if f"{step:e}".startswith("5") else step / 2
    assert span / smaller > most * (1 - 1e-6)


@pytest.mark.parametrize(
    ("low", "high", "step"), [(0, 160, 50), (0, 140, 20), (-3, 3, 1), (0, 0.7, 0.1), (0, 1, 0.2)]
)
def test_ticks_are_multiples_of_the_step_and_exact(low, high, step):
    scale = scale_of(Axis("Ratio", kinds.RATIO, low, high), [], "metric")
    assert scale.step == pytest.approx(step)
    for share, words in scale.ticks():
        assert Decimal(words) % Decimal(str(step)) == 0
        assert share == pytest.approx((float(words) - low) / (high - low))
    assert len(scale.ticks(scale.parts)) > len(scale.ticks())


def test_a_number_stands_where_its_tick_is_in_every_unit():
    """90 km/h is 25 m/s; 60 mph is 26.8224 m/s, the mile being 1609.344 m."""
    axis = Axis("v", kinds.SPEED, 0.0, 50.0)
    for taste, words, metres in (("metric", "100", 100 / 3.6), ("inch", "60", 26.8224)):
        scale = scale_of(axis, [], taste)
        assert {w: s for s, w in scale.ticks()}[words] == pytest.approx(metres / 50)
    metric, inch = both(kinds.SPEED, scale_of(axis, [], "mixed"), "mixed")
    assert (metric.unit.symbol, inch.unit.symbol) == ("km/h", "mph")
    assert {w: s for s, w in inch.ticks()}["100"] == pytest.approx(44.704 / 50)
    assert len(both(kinds.VOLTAGE, scale_of(VOLTAGE, [1.0], "mixed"), "mixed")) == 1


def test_a_scale_that_does_not_begin_at_zero_is_converted_too():
    """-40 °C is -40 °F, and 100 °C is 212 °F."""
    axis = Axis("T", kinds.TEMPERATURE, 233.15, 373.15)
    metric, inch = both(kinds.TEMPERATURE, scale_of(axis, [], "mixed"), "mixed")
    assert (metric.low, metric.high) == pytest.approx((-40.0, 100.0))
    assert (inch.low, inch.high) == pytest.approx((-40.0, 212.0))


@pytest.mark.parametrize("kind", kinds.KINDS.values(), ids=lambda kind: kind.name)
@pytest.mark.parametrize("taste", TASTES)
def test_every_kind_can_be_an_axis(kind, taste):
    for size in (1e-3, 1.0, 300.0, 1e5):
        line = Line("all", ((0.0, size / 3), (1.0, size)))
        drawing = draw(
            Chart("Any", "Any kind.", Axis("t", kinds.TIME), Axis("It", kind), (line,)), taste
        )
        assert overlaps(drawing) == []
        assert render(drawing)


@pytest.mark.parametrize("values", [(0.0, 0.0), (350.0, 350.0), (-2.0, -2.0), (1e-30, 1e-30)])
def test_data_without_a_spread_still_has_an_axis(values):
    scale = scale_of(VOLTAGE, values, "metric")
    assert all(0.0 <= scale.share(value) <= 1.0 for value in values)
    assert len(scale.ticks()) >= 2


def test_an_axis_that_ends_where_it_begins_is_refused():
    with pytest.raises(DrawingError, match="ends where it begins"):
        scale_of(Axis("U", kinds.VOLTAGE, 5.0, 5.0), [], "metric")


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_refused(bad):
    line = Line("bad", ((0.0, 1.0), (1.0, bad)))
    band = Band("bad", ((0.0, 0.0), (1.0, 0.0)), ((0.0, bad), (1.0, 1.0)))
    for more in (
        {"lines": (line,)},
        {"bands": (band,)},
        {"marks": (Mark("bad", (bad, 1.0)),)},
        {"lines": (Line("good", ((0, 0), (1, 1))),), "references": (Reference("bad", bad),)},
    ):
        with pytest.raises(DrawingError, match="only finite numbers"):
            draw(Chart("Bad", "Bad.", SPEED, FORCE, **more))
        fixed = (Axis("v", kinds.SPEED, 0.0, 1.0), Axis("F", kinds.FORCE, 0.0, 1.0))
        with pytest.raises(DrawingError):
            draw(Chart("Bad", "Bad.", *fixed, **more))


def test_a_chart_without_data_says_so():
    sentence = "Type the motor's peak torque to see this."
    drawing = draw(Chart("Torque", "None.", SPEED, FORCE, empty=sentence))
    assert " ".join(words_of(drawing)) == f"Torque {sentence}"
    empty = Line("nothing", ())
    assert "nothing to draw" in " ".join(words_of(draw(Chart("T", "", SPEED, FORCE, (empty,)))))


def test_what_lies_outside_the_axes_is_named_and_not_drawn():
    x, y = Axis("v", kinds.SPEED, 0.0, 10.0), Axis("F", kinds.FORCE, 0.0, 100.0)
    lines = (Line("inside", ((0, 0), (20, 200))), Line("far off", ((0, 500), (10, 600))))
    more = {"marks": (Mark("away", (50.0, 5.0)),), "references": (Reference("high", 900.0),)}
    said = " ".join(words_of(draw(Chart("Cut", "Cut.", x, y, lines, **more))))
    assert "Outside this chart: far off, high, away." in said


def test_a_line_is_drawn_where_its_numbers_are():
    """Half of both axes is the middle of the frame, whatever the units."""
    x, y = Axis("v", kinds.SPEED, 0.0, 200 * KM_H), Axis("F", kinds.FORCE, 0.0, 100.0)
    line = Line("line", ((0, 0), (100 * KM_H, 50.0), (200 * KM_H, 100.0)))
    shapes = [ET.fromstring(shape.markup) for shape in draw(Chart("C", "", x, y, (line,))).shapes]
    trace = next(e.get("d") for e in shapes if e.get("class") == "ww-0")
    start, middle, end = ([float(n) for n in at.split()] for at in trace[1:].split("L"))
    assert middle == pytest.approx([(a + b) / 2 for a, b in zip(start, end, strict=True)], abs=2e-3)
    assert end[1] < start[1]


def test_numbers_are_written_in_the_readers_units():
    assert "grip of the driven axle 5600 N" in " ".join(words_of(draw(traction(width=WIDE))))
    inch = words_of(draw(traction(width=WIDE), "inch"))
    assert "Road speed (mph)" in inch
    assert "Tractive force (lbf)" in inch
    assert "grip of the driven axle 1259 lbf" in inch


def test_hostile_names_stay_text():
    name = "</text><script>x</script>&\x00"
    line = Line(name, ((0, 0), (1, 1)))
    chart = Chart(name, name, Axis(name, kinds.SPEED), FORCE, (line,), marks=(Mark(name, (0, 1)),))
    root = ET.fromstring(render(draw(chart)))
    assert not [element for element in root.iter() if element.tag.endswith("script")]


def test_colours_are_offered_and_given_up_on_paper():
    markup = render(draw(traction(width=NARROW)))
    style = ET.fromstring(markup).find(f"{SVG}style").text
    assert ".ww .ww-3{color:var(--ww-3,inherit)}" in style
    assert "@media print{" in style
    assert set(re.findall(r'(?:stroke|fill)="([^"]+)"', markup)) == {"currentColor", "none", "#fff"}
