"""Templates of hole patterns: measured on paper, and read back from DXF and SVG."""

from __future__ import annotations

import io
import math
import re
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pypdfium2
import pytest
from ezdxf.units import MM

from patterns import HOLE, READ, built, pattern, true_distance
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened
from wattwright.errors import UsageError
from wattwright.pages import Format, PageAbout, names, printed

ABOUT = PageAbout(3, "2026-05-02")
EXACT = {key: true_distance(key) for key in READ}
NAME = "template@pattern.plate"
ADVICE = "A paper template never locates a shaft or a fit."


def read(*patterns: str) -> tuple[Opened, Assessment]:
    opened = built(*patterns)
    return opened, assess(opened)


def drawn(*patterns: str, name: str = NAME):
    made = printed(name, *read(*patterns), "metric", "a4", ABOUT, "dxf")
    return ezdxf.read(io.StringIO(made.content.decode("utf-8")))


def words_of(document) -> str:
    return " | ".join(text.dxf.text for text in document.modelspace().query("TEXT"))


def test_the_dxf_has_holes_at_their_true_distances_in_millimetres_on_a_layer() -> None:
    document = drawn(pattern(readings=EXACT, hole={**HOLE, "drill": '"11.5 mm"'}))
    assert document.dxfversion >= "AC1024"
    assert document.units == MM
    assert {"holes", "centre", "words", "direction"} <= {
        layer.dxf.name for layer in document.layers
    }
    holes = [each for each in document.modelspace().query("CIRCLE") if each.dxf.layer == "holes"]
    assert {round(each.dxf.radius, 6) for each in holes} == {5.75}
    centres = [(each.dxf.center.x, each.dxf.center.y) for each in holes]
    found = sorted(math.dist(centres[i], centres[j]) for i in range(6) for j in range(i + 1, 6))
    assert found == pytest.approx(sorted(EXACT.values()), abs=1e-4)


def test_every_hole_has_an_unbroken_cross_at_its_centre() -> None:
    document = drawn(pattern(readings=EXACT))
    space = document.modelspace()
    starts = [(line.dxf.start.x, line.dxf.start.y) for line in space.query("LINE")]
    for hole in space.query("CIRCLE"):
        here = (hole.dxf.center.x, hole.dxf.center.y)
        assert sum(math.dist(here, start) < 1e-6 for start in starts) >= 4


def test_the_words_say_distances_sides_and_how_well_it_is_known() -> None:
    words = words_of(drawn(pattern(plain={"label": '"gearbox face"'})))
    for said in (
        "gearbox face",
        "seen from the front",
        # By a general solver: 152.6192 mm.
        "1 to 2: 152.62 mm",
        "centres as measured within 0.201 mm, 95 %",
        "x axis",
        ADVICE,
    ):
        assert said in words
    assert "DO NOT DRILL" not in words


def test_seen_from_the_back_it_is_mirrored_and_says_so() -> None:
    front, back = (
        drawn(pattern(readings=EXACT, plain={"seen_from": side})) for side in ('"front"', '"back"')
    )
    assert "mirrored: seen from the back" in words_of(back)
    front_holes, back_holes = (
        [(c.dxf.center.x, c.dxf.center.y) for c in each.modelspace().query("CIRCLE")]
        for each in (front, back)
    )
    assert np.array(back_holes) == pytest.approx(np.array(front_holes) * [1.0, -1.0], abs=1e-6)


def test_a_suspect_is_told_in_large_letters() -> None:
    words = words_of(drawn(pattern(readings={**READ, "2-5": READ["2-5"] + 5.0})))
    assert "DO NOT DRILL: centres.2-5 does not agree" in words


def test_a_slot_is_drawn_with_its_far_end() -> None:
    hole = {"diameter": '"10.2 mm ± 0.01, measured"', "bolt": '"10 mm ± 0.01, measured"'}
    astray = {**EXACT, "1-4": EXACT["1-4"] + 2.0, "2-4": EXACT["2-4"] + 2.0}
    astray["3-4"] += 0.5
    document = drawn(
        pattern("old", EXACT, hole=hole, band="5"),
        pattern("plate", astray, {"like": '"old"'}, hole=hole, band="5"),
    )
    arcs = [each for each in document.modelspace().query("ARC") if each.dxf.layer == "holes"]
    assert arcs
    assert all(each.dxf.radius == pytest.approx(5.1) for each in arcs)
    assert "hole 4: slot" in words_of(document)


def test_it_is_listed_and_written_as_svg() -> None:
    opened, assessment = read(
        pattern(plain={"label": '"gearbox face"'}), pattern("x", {"1-2": 9.0}, hole={})
    )
    listed = names(opened, assessment)
    assert listed[NAME] == "gearbox face: holes, full size"
    assert "template@pattern.x" in listed
    made = printed(NAME, opened, assessment, "metric", "a4", ABOUT, "svg")
    assert ElementTree.fromstring(made.content).tag.endswith("svg")
    assert made.file_name == "holes-template-pattern-plate.svg"


FIT = '[coupling.fit.dowel]\nnominal = "12 mm"\nhole_class = "H7"\n'


def with_a_dowel(*names: str) -> str:
    """Text of the pattern with holes that carry a fit."""
    text = pattern(readings=EXACT, hole={"diameter": '"11 mm ± 0.1, measured"'})
    for name in names:
        here = f"[pattern.plate.hole.{name}]"
        text = text.replace(here, f'{here}\nfit = "dowel"')
    return FIT + text


def test_a_hole_that_carries_a_fit_is_left_out_of_the_dxf_and_the_words_say_so() -> None:
    document, whole = drawn(with_a_dowel("4")), drawn(with_a_dowel())
    centres = [(c.dxf.center.x, c.dxf.center.y) for c in whole.modelspace().query("CIRCLE")]
    fourth = centres[3]
    assert len(centres) == 6
    space = document.modelspace()
    assert len(space.query("CIRCLE")) == 5
    for circle in space.query("CIRCLE"):
        assert math.dist((circle.dxf.center.x, circle.dxf.center.y), fourth) > 50.0
    for line in space.query("LINE"):
        for end in (line.dxf.start, line.dxf.end):
            assert math.dist((end.x, end.y), fourth) > 20.0
    words = words_of(document)
    assert "LEFT OUT: 4. What carries a fit is bored by its dimensions" in words
    assert "no template and no centre punch locates it" in words
    assert not re.search(r"4 to|to 4", words)
    assert "LEFT OUT" not in words_of(whole)


@pytest.mark.parametrize("kind", ["svg", "pdf"])
def test_neither_picture_nor_paper_marks_a_fit(kind: Format) -> None:
    opened, assessment = read(with_a_dowel("4"))
    content = printed(NAME, opened, assessment, "metric", "a4", ABOUT, kind).content
    if kind == "svg":
        found = ElementTree.fromstring(content)
        assert len([*found.iter("{http://www.w3.org/2000/svg}circle")]) == 5
        words = " ".join(found.itertext())
    else:
        pages = pypdfium2.PdfDocument(content)
        words = " ".join(page.get_textpage().get_text_range() for page in pages)
    assert "LEFT OUT: 4" in words


def test_a_pattern_of_fits_alone_has_no_template() -> None:
    opened, assessment = read(with_a_dowel(*"123456"))
    assert NAME not in names(opened, assessment)
    with pytest.raises(UsageError, match="every hole carries a fit, and no paper template"):
        printed(NAME, opened, assessment, "metric", "a4", ABOUT)


def longest_runs(pixels: np.ndarray) -> np.ndarray:
    dark = np.pad(pixels < 128, ((0, 0), (1, 1))).astype(np.int8)
    steps = np.diff(dark, axis=1)
    (rows, starts), (_, ends) = np.nonzero(steps == 1), np.nonzero(steps == -1)
    longest = np.zeros(len(pixels), dtype=int)
    np.maximum.at(longest, rows, ends - starts)
    return longest


def test_over_several_sheets_both_bars_measure_what_they_say() -> None:
    content = printed(NAME, *read(pattern()), "metric", "a4", ABOUT).content
    document = pypdfium2.PdfDocument(content)
    # 290 mm by 250 mm and words below: more than one sheet of 210 mm by 297 mm.
    assert len(document) > 1
    mm = 600 / 25.4
    words = ""
    for page in document:
        words += page.get_textpage().get_text_range()
        pixels = page.render(scale=600 / 72, grayscale=True).to_numpy().squeeze()
        for strip in (pixels[-int(38 * mm) :], pixels[:, : int(22.5 * mm)].T):
            lengths = {round(run, 1) for run in longest_runs(strip) / mm if 95 < run < 105}
            assert min(lengths) == pytest.approx(100.0, abs=0.2)
            assert max(lengths) == pytest.approx(101.6, abs=0.2)
    assert ADVICE in words.replace("\r\n", " ")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("template@pattern.nothing", "there is no pattern 'nothing'; there are part, plate"),
        ("template@pattern.part", "measure pattern.part.centres.1-3"),
        ("template@nothing", "there are check, pattern.part, pattern.plate"),
    ],
)
def test_what_has_no_template_is_said(name: str, says: str) -> None:
    opened, assessment = read(pattern(), pattern("part", {"1-2": 100.0, "2-3": 80.0}))
    with pytest.raises(UsageError) as caught:
        printed(name, opened, assessment, "metric", "a4", ABOUT)
    assert says in str(caught.value)
