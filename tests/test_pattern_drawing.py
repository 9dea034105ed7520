"""The drawing of a hole pattern, against what was measured."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from patterns import READ, TRUE, built, pattern, true_distance
from wattwright.assessment import assess
from wattwright.drawings import drawing, of_area
from wattwright.errors import UsageError
from wattwright.paper import SMALLEST_TEXT
from wattwright.paper.svg import Drawing, render

EXACT = {key: true_distance(key) for key in READ}
NS = "{http://www.w3.org/2000/svg}"


def drawn(*patterns: str, name: str = "pattern@plate") -> Drawing:
    read = built(*patterns)
    return drawing(name, read, assess(read), "metric")


def words_of(made: Drawing) -> list[str]:
    return [shape.words for shape in made.shapes if shape.words]


def rings(made: Drawing) -> list[tuple[float, float, float, bool]]:
    """Every circle: centre, radius, and whether it is dashed."""
    return [
        (
            *(float(each.attrib[key]) for key in ("cx", "cy", "r")),
            "stroke-dasharray" in each.attrib,
        )
        for each in ET.fromstring(render(made)).iter(f"{NS}circle")
    ]


def test_holes_stand_to_scale_at_their_distances_and_diameters() -> None:
    holes = rings(drawn(pattern(readings=EXACT)))
    assert len(holes) == 6
    pairs = [(i, j) for i in range(6) for j in range(i + 1, 6)]
    scales = [math.dist(holes[i][:2], holes[j][:2]) / EXACT[f"{i + 1}-{j + 1}"] for i, j in pairs]
    assert max(scales) == pytest.approx(min(scales), rel=1e-4)
    assert holes[0][2] == pytest.approx(5.5 * scales[0], abs=1e-3)
    # y runs upwards: the third hole is above the axis, whose holes stand level.
    assert holes[0][1] == pytest.approx(holes[1][1], abs=2e-3)
    assert holes[2][1] < holes[0][1]


def test_every_reading_stands_there_with_what_it_differs_by() -> None:
    """By a general solver, hole 1 to 2: 152.6192 mm, and 152.59 mm was read: -0.03 mm."""
    words = words_of(drawn(pattern()))
    assert set(READ) <= set(words)
    assert "-0.03 mm" in words
    assert "within" in words
    sizes = [float(x) for x in re.findall(r'font-size="([0-9.]+)"', render(drawn(pattern())))]
    assert min(sizes) >= SMALLEST_TEXT


def test_a_suspect_is_told_by_its_line_and_in_words() -> None:
    made = drawn(pattern(readings={**READ, "2-5": READ["2-5"] + 5.0}))
    words = words_of(made)
    assert any("does not agree with the others; measure it again" in each for each in words)
    assert sum(each.endswith("mm ?") for each in words) == 2
    assert render(made).count('stroke-dasharray="3 1.2"') == 1
    clean = drawn(pattern())
    assert 'stroke-dasharray="3 1.2"' not in render(clean)
    assert not [each for each in words_of(clean) if "?" in each]


def test_a_pattern_laid_on_another_shows_its_holes_offsets_and_slots() -> None:
    places = {**TRUE, "4": (TRUE["4"][0] + 2.5, TRUE["4"][1])}
    new = {key: math.dist(places[key[0]], places[key[2]]) for key in READ}
    made = drawn(
        pattern("old", EXACT, band="0.05"), pattern("plate", new, {"like": '"old"'}, band="0.05")
    )
    found = rings(made)
    assert sum(dashed for *_, dashed in found) == 6
    words = " ".join(words_of(made))
    assert re.search(r"Dashed rings: holes of old. Arrows: the way there, \d+ times as long", words)
    assert " long " in words
    assert words.count(" none") == 5


def test_mirror_images_are_told() -> None:
    made = drawn(
        pattern("old", EXACT),
        pattern("plate", EXACT, {"like": '"old"', "seen_from": '"back"'}),
    )
    words = " ".join(words_of(made))
    assert "mirror images of each other" in words
    assert "Seen from the back, mirrored" in words


@pytest.mark.parametrize("units", ["metric", "inch", "mixed"])
@pytest.mark.parametrize(
    "readings",
    [
        {"1-2": 40.0},
        {"1-2": 400.0, "2-3": 410.0, "1-3": 809.0},
        {"first_of_all_holes-b": 40.0, "b-c": 30.0, "first_of_all_holes-c": 50.0},
    ],
)
def test_patterns_of_any_form_fit_the_paper(readings: dict[str, float], units: str) -> None:
    read = built(pattern(readings=readings))
    ET.fromstring(render(drawing("pattern@plate", read, assess(read), units)))


def test_each_pattern_has_a_drawing_on_the_page_of_its_area() -> None:
    read = built(pattern(), pattern("other"))
    assert of_area("mounts", read)[-2:] == ("pattern@other", "pattern@plate")
    assert not [name for name in of_area("mounts", built()) if "pattern" in name]
    assert of_area("pack", read) == ("windows",)


def test_what_cannot_be_drawn_is_said() -> None:
    with pytest.raises(UsageError, match="no pattern 'none'; there are plate"):
        drawn(pattern(), name="pattern@none")
    words = " ".join(words_of(drawn(pattern(readings={"1-2": 100.0, "2-3": 80.0}))))
    assert "Measure pattern.plate.centres.1-3" in words
