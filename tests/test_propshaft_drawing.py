"""The drawings of propshafts, against what was measured."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from shafts import SHAFT, TWO_SHAFTS, shafted
from wattwright.assessment import assess
from wattwright.drawings import drawing, of_area
from wattwright.errors import UsageError
from wattwright.paper.svg import Drawing, render

NS = "{http://www.w3.org/2000/svg}"
OLD = {path.replace("propshaft.main", "propshaft.as_found"): text for path, text in SHAFT.items()}
OLD |= {"propshaft.as_found.compared_only": "true"}


def drawn(name: str, changes: dict[str, str | None] | None = None) -> Drawing:
    read = shafted(changes)
    return drawing(name, read, assess(read), "metric")


def words_of(made: Drawing) -> str:
    return " ".join(shape.words for shape in made.shapes if shape.words)


def rings(made: Drawing) -> list[tuple[float, float]]:
    circles = ET.fromstring(render(made)).iter(f"{NS}circle")
    return [(float(each.attrib["cx"]), float(each.attrib["cy"])) for each in circles]


def test_the_line_is_to_scale() -> None:
    """Droop, bump and ride from the side, then ride from above: two joints each."""
    places = rings(drawn("shaft_line@main"))
    assert len(places) == 8
    droop, bump, ride = (places[at : at + 2] for at in (0, 2, 4))
    (x1, y1), (x2, y2) = ride
    assert math.degrees(math.atan2(y2 - y1, x2 - x1)) == pytest.approx(6.0, abs=0.05)
    scale = math.dist(*ride) / 1.5
    assert ride[1][1] - bump[1][1] == pytest.approx(0.080 * scale, abs=0.05)
    assert droop[1][1] - ride[1][1] == pytest.approx(0.090 * scale, abs=0.05)
    assert droop[0] == bump[0] == ride[0]


def test_the_line_says_every_angle_and_no_words_overlap() -> None:
    for changes, joints in ((None, 2), (TWO_SHAFTS, 3)):
        made = drawn("shaft_line@main", changes)
        words = words_of(made)
        for joint in range(1, joints + 1):
            assert f"Joint {joint}: " in words
        assert "at ride height" in words
        boxes = [shape.box for shape in made.shapes if shape.words]
        for place, one in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert (
                    one.right <= other.left + 0.1
                    or other.right <= one.left + 0.1
                    or one.bottom <= other.top + 0.35
                    or other.bottom <= one.top + 0.35
                ), (one, other)


def test_excitation_shows_before_and_after_with_both_limits() -> None:
    made = drawn("shaft_excitation", {**OLD, "propshaft.as_found.axis.1_gearbox.rise": '"0°"'})
    words = words_of(made)
    for name in ("as found: all joints", "as found: shaft", "main: all joints", "main: shaft"):
        assert name in words.replace("  ", " ")
    assert re.search(r"most, all joints: 400 rad/s²", words)
    assert re.search(r"most, shaft: 1000 rad/s²", words)


def test_drawings_stand_with_the_propshafts_there_are() -> None:
    read = shafted(OLD)
    names = of_area("mounts", read)
    assert names[-3:] == ("shaft_line@as_found", "shaft_line@main", "shaft_excitation")
    nothing: dict[str, str | None] = dict.fromkeys(SHAFT)
    assert not [name for name in of_area("mounts", shafted(nothing)) if "shaft" in name]
    assert "Measure rise" in words_of(drawn("shaft_line", nothing))
    assert "Give top speed" in words_of(drawn("shaft_excitation", nothing))
    short: dict[str, str | None] = {"propshaft.main.axis.2_shaft.length": None}
    assert "Measure rise" in words_of(drawn("shaft_line@main", short))
    with pytest.raises(UsageError, match="there are main"):
        drawn("shaft_line@mian")
