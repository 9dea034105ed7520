"""What the adjustment says of surveys that are wrong, thin or mirrored."""

from __future__ import annotations

import pytest

from hung import HUNG, UNIT, hung
from wattwright.areas.mounts.adjusting import adjust_survey
from wattwright.build.reader import parse_build
from wattwright.errors import UsageError
from wattwright.said_of_survey import sections


def said(changes: dict[str, str | None] | None = None) -> dict[str, tuple[str, ...]]:
    return dict(sections(adjust_survey(hung(changes))))


def test_a_sound_survey_says_where_everything_is_and_what_would_help() -> None:
    found = said()
    assert "Does not fit the others, and is left out" not in found
    assert any(line.startswith("nose (unit): back -300.00 mm ±") for line in found["Points"])
    assert any(line.startswith("zero back 1000.0") for line in found["The unit"])
    assert "more than needed" in found["How well they agree"][0]
    assert all(line.startswith("survey.") for line in found["What would help most"])


def test_a_triangle_that_cannot_be_is_named_with_all_three_sides() -> None:
    found = said({"survey.distance.hub_left-hub_right": '"1.6 m ± 0.002, measured"'})
    (line,) = [each for each in found["Cannot be"] if "nose-hub_left" in each]
    assert line.startswith("distance.hub_left-hub_right is longer than")
    suspects = found["Does not fit the others, and is left out"]
    assert any("distance.hub_left-hub_right" in each for each in suspects)


def test_what_no_reading_tells_is_named_with_what_to_measure() -> None:
    changes: dict[str, str | None] = {
        "survey.point.lost.on": '"vehicle"',
        "survey.distance.lost-hub_left": '"0.5 m ± 0.002, measured"',
    }
    (line,) = [each for each in said(changes)["No reading tells"] if each.startswith("lost")]
    for field in ("behind", "right", "height"):
        assert f"survey.{field}.lost" in line


def test_with_nothing_measured_of_the_unit_it_is_said_what_is_missing() -> None:
    changes: dict[str, str | None] = dict.fromkeys(
        (path for path in HUNG if path.startswith(("survey.distance.", "survey.height."))), None
    )
    found = said(changes)
    (line,) = [each for each in found["No reading tells"] if each.startswith("unit")]
    assert "distances from its points" in line


def test_points_that_are_typed_mirrored_are_recognised() -> None:
    changes: dict[str, str | None] = {
        f"survey.point.{name}.at.y": f'"{-y} m ± 0.001, measured"'
        for name, (_, y, _) in UNIT.items()
    }
    assert "Left and right are changed over" in said(changes)
    assert "Left and right are changed over" not in said()


def test_a_point_that_distances_alone_place_on_either_side_is_named() -> None:
    changes: dict[str, str | None] = {
        "survey.point.lamp.on": '"vehicle"',
        # 0.4 m above the plane of both hubs and a third point at their height, or as far below
        "survey.point.sill.on": '"vehicle"',
        "survey.point.sill.at.x": '"0.2 m ± 0.001, measured"',
        "survey.point.sill.at.y": '"0.1 m ± 0.001, measured"',
        "survey.point.sill.at.z": '"0.3 m ± 0.001, measured"',
        "survey.distance.lamp-hub_left": '"0.806226 m ± 0.002, measured"',
        "survey.distance.lamp-hub_right": '"0.806226 m ± 0.002, measured"',
        "survey.distance.lamp-sill": '"0.5 m ± 0.002, measured"',
    }
    changes["survey.distance.lamp-sill"] = f'"{(0.4**2 + 0.5**2 + 0.1**2) ** 0.5:.6f} m ± 0.002"'
    x, y, z = 0.7, 0.0, 0.7
    for name, (hx, hy, hz) in (("hub_left", (1, -0.6, 0.3)), ("hub_right", (1, 0.6, 0.3))):
        length = ((x - hx) ** 2 + (y - hy) ** 2 + (z - hz) ** 2) ** 0.5
        changes[f"survey.distance.lamp-{name}"] = f'"{length:.6f} m ± 0.002, measured"'
    found = said(changes)
    (line,) = found["Fits as well on the other side of the points it was taped to"]
    assert line == "lamp: measure survey.height.lamp"
    changes["survey.height.lamp"] = '"0.7 m ± 0.005, measured"'
    assert "Fits as well on the other side of the points it was taped to" not in said(changes)


def test_two_readings_that_cannot_be_told_apart_are_both_named() -> None:
    changes: dict[str, str | None] = dict.fromkeys(
        (path for path in HUNG if path.startswith("survey.distance.")), None
    )
    # Height and coordinate of one hole say the same thing: one of the two is wrong.
    changes["survey.height.nose_hole"] = '"0.37 m ± 0.001, measured"'
    (line,) = said(changes)["Does not fit the others, and is left out"]
    assert "nose_hole" in line
    assert "cannot be told apart" in line


def test_what_was_set_aside_is_held_against_the_rest() -> None:
    changes = {
        "survey.distance.nose-hub_left": '"0.698 m ± 0.002, measured"',
        "survey.set_aside": '"distance.nose-hub_left"',
    }
    (line,) = said(changes)["Set aside before"]
    assert "19.8 mm more than what fits" in line  # 0.698 - √0.46 = 0.01977


def test_without_points_or_readings_there_is_nothing_to_adjust() -> None:
    bare = parse_build(b'format = 1\nbuild.name = "Bare"\n')
    with pytest.raises(UsageError, match="no point to adjust"):
        adjust_survey(bare)
    named = parse_build(b'format = 1\nbuild.name = "Bare"\n[survey.point.one]\non = "vehicle"\n')
    with pytest.raises(UsageError, match="no reading"):
        adjust_survey(named)
