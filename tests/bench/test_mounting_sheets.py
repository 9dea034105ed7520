"""Sheets of the mounts: what they ask for, and what they let expect."""

from __future__ import annotations

import pytest

from hung import adjusted, hung
from wattwright.assessment import assess
from wattwright.bench.sheet import Line, Sheet
from wattwright.bench.sheets import sheet
from wattwright.build.catalogue import find
from wattwright.build.reader import Opened


def made(name: str, opened: Opened) -> Sheet:
    return sheet(name, opened.build, assess(opened))


def line(found: Sheet, name: str) -> Line:
    one = found.line(name)
    assert one is not None
    return one


def test_every_reading_of_the_survey_is_a_line_that_goes_back_into_it() -> None:
    found = made("measure_mounts", adjusted())
    taped = line(found, "distance_nose-hub_left")
    assert taped.path == "survey.distance.nose-hub_left"
    assert find(taped.path) is not None
    assert taped.expected is not None
    # √(0.3² + 0.6² + 0.1²) m, by all other readings
    assert taped.expected.number == pytest.approx(0.46**0.5, abs=2e-5)
    assert 0.001 < taped.expected.band < 0.004
    assert line(found, "height_nose").path == "survey.height.nose"
    assert {"lengthwise", "crosswise"} <= {each.name for each in found.lines}
    assert any("two holds" in caution for caution in found.cautions)


def test_a_reading_that_was_set_aside_is_expected_where_the_others_say() -> None:
    wrong = {"survey.distance.nose-hub_left": '"0.698 m ± 0.002, measured, tape"'}
    taped = line(made("measure_mounts", adjusted(wrong)), "distance_nose-hub_left")
    assert taped.expected is not None
    assert taped.expected.number == pytest.approx(0.46**0.5, abs=5e-5)


def test_before_anything_is_adjusted_nothing_is_expected() -> None:
    found = made("measure_mounts", hung())
    assert line(found, "distance_nose-hub_left").expected is None
    assert not [each for each in made("check_pose", hung()).lines if each.name == "adjust"]


def test_how_the_unit_hangs_is_checked_against_what_is_wanted() -> None:
    found = made("check_pose", adjusted({"mounts.wanted.pitch": '"3°"'}))
    along = line(found, "lengthwise")
    assert along.expects("metric") == "3.0° ± 0.5"
    assert along.path == "survey.lengthwise"
    assert "0.5°" in along.stop_if
    bracket = line(found, "bracket_front")
    assert bracket.expected is not None
    assert bracket.expected.number is not None
    end = line(found, "shaft_end_left")
    assert end.path == "survey.height.end_left"
    assert end.expected is not None
    assert end.expected.number == pytest.approx(0.3, abs=1e-4)
    assert "3 mm" in end.stop_if
