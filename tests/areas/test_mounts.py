"""The mounts area on a unit that is taped with round numbers: what follows by hand is typed."""

from __future__ import annotations

import math

import pytest

from builders import figure, finding, number, problems_of
from hung import HUNG, adjusted, hung, taped
from wattwright.areas.mounts.adjusting import adjust_survey, edits
from wattwright.assessment import assess
from wattwright.build.edits import splice
from wattwright.build.reader import parse_build
from wattwright.findings import Verdict


def test_points_and_pose_are_where_they_were_taped() -> None:
    found = assess(adjusted())
    for name, wanted in (("nose", -0.3), ("hub_right", 1.0), ("left_hole", 1.2)):
        assert number(found, f"mounts.x@{name}") == pytest.approx(wanted, abs=2e-5)
    for angle in ("yaw", "pitch", "roll"):
        assert number(found, f"mounts.{angle}@now") == pytest.approx(0.0, abs=2e-5)
    for word in ("across", "nose", "plan"):
        assert finding(found, f"mounts.angle@{word}").verdict is Verdict.SOUND
    for end in ("end_left", "end_right"):
        assert number(found, f"mounts.shaft@{end}") == pytest.approx(0.0, abs=1e-4)


def test_brackets_are_from_hole_to_hole_with_the_band_of_all_readings() -> None:
    found = assess(adjusted())
    # nose 0.4 m up over its hole at 0.35 m; the two behind over 0.36 m
    for name, length in (("front", 0.05), ("left", 0.04), ("right", 0.04)):
        bracket = figure(found, f"mounts.bracket_length@{name}").value
        assert bracket.number == pytest.approx(length, abs=2e-5)
        assert 0.0005 < bracket.band < 0.003
        assert number(found, f"mounts.bracket_band@{name}") == pytest.approx(bracket.band)
        assert number(found, f"mounts.change_up@{name}") == pytest.approx(0.0, abs=5e-5)
    rests = {origin.path for origin in figure(found, "mounts.bracket_up@front").value.effects}
    assert {"survey.point.nose_hole.at.z", "survey.distance.nose-hub_left"} <= rests


def test_a_wanted_pitch_lifts_the_nose_about_the_shaft() -> None:
    found = assess(adjusted({"mounts.wanted.pitch": '"3°"'}))
    turn = math.radians(3.0)
    # The nose is 0.3 m before the shaft and 0.1 m above it, the others 0.2 m behind it.
    front = 0.3 * math.sin(turn) + 0.1 * math.cos(turn) - 0.1
    behind = -0.2 * math.sin(turn) + 0.1 * math.cos(turn) - 0.1
    assert number(found, "mounts.change_up@front") == pytest.approx(front, abs=5e-5)
    assert number(found, "mounts.change_up@left") == pytest.approx(behind, abs=5e-5)
    back = 0.1 * math.sin(turn) - 0.3 * math.cos(turn) + 0.3
    assert number(found, "mounts.change_back@front") == pytest.approx(back, abs=5e-5)
    assert finding(found, "mounts.angle@nose").verdict is Verdict.FAILING
    assert finding(found, "mounts.angle@across").verdict is Verdict.SOUND


def test_rolled_and_pitched_a_level_across_shows_less_than_the_roll() -> None:
    changes = {"mounts.wanted.pitch": '"30°"', "mounts.wanted.roll": '"20°"'}
    found = assess(adjusted(changes))
    shown = math.asin(math.cos(math.radians(30)) * math.sin(math.radians(20)))
    assert number(found, "mounts.level_across") == pytest.approx(shown)


def test_what_one_millimetre_does_follows_from_the_geometry() -> None:
    found = assess(adjusted())
    # Raised in front by 1 mm it turns about the line through the two behind, 0.5 m further back.
    assert number(found, "mounts.pitch_per_mm@front") == pytest.approx(0.001 / 0.5, rel=1e-3)
    assert number(found, "mounts.roll_per_mm@front") == pytest.approx(0.0, abs=1e-6)
    # On the right by 1 mm: about the line from the nose to the left one; 0.4 m between them.
    assert number(found, "mounts.roll_per_mm@right") == pytest.approx(0.001 / 0.4, rel=1e-3)
    assert number(found, "mounts.pitch_per_mm@right") == pytest.approx(-0.001 / 1.0, rel=1e-3)
    lifted = 0.001 * (0.5 * 0.3 / 0.5 + 0.25 / 0.4)
    assert number(found, "mounts.shaft_to_per_mm@right") == pytest.approx(lifted, rel=1e-3)


def test_equal_shims_at_a_rear_and_a_side_mount_do_not_keep_the_unit_level() -> None:
    """Common practice of the trade: the mount further out needs more."""
    equal = {f"mounts.mount.{name}.added": '"4 mm"' for name in ("left", "front")}
    found = assess(adjusted(equal))
    roll = number(found, "mounts.roll@with shims tried")
    assert roll == pytest.approx(-0.004 / 0.4, rel=1e-3)
    # Level across again once the right one is raised as much, whatever stands in front.
    level = assess(adjusted({**equal, "mounts.mount.right.added": '"4 mm"'}))
    assert number(level, "mounts.roll@with shims tried") == pytest.approx(0.0, abs=2e-5)
    assert number(level, "mounts.pitch@with shims tried") == pytest.approx(0.0, abs=2e-5)


FOURTH = {
    "survey.point.fourth.on": '"unit"',
    **{
        f"survey.point.fourth.at.{axis}": f'"{value} m ± 0.001, measured"'
        for axis, value in (("x", 0.2), ("y", 0.0), ("z", 0.1))
    },
    "survey.point.fourth_hole.on": '"vehicle"',
    **{
        f"survey.point.fourth_hole.at.{axis}": f'"{value} m ± 0.001, measured"'
        for axis, value in (("x", 1.2), ("y", 0.0), ("z", 0.36))
    },
    "mounts.mount.middle.unit_point": '"fourth"',
    "mounts.mount.middle.vehicle_point": '"fourth_hole"',
}


def test_a_fourth_mount_is_forced_by_what_does_not_lie_in_one_plane() -> None:
    found = assess(adjusted({**FOURTH, "mounts.mount.middle.added": '"3 mm"'}))
    # Between two others a third takes 2/3 of the misfit where it stands, and gives each -1/3.
    assert number(found, "mounts.forced@middle") == pytest.approx(0.002, rel=1e-3)
    assert number(found, "mounts.forced@left") == pytest.approx(-0.001, rel=1e-3)
    assert number(found, "mounts.forced@front") == pytest.approx(0.0, abs=1e-6)
    assert finding(found, "mounts.forced@middle").verdict is Verdict.FAILING
    three = assess(adjusted({"mounts.mount.left.added": '"3 mm"'}))
    assert number(three, "mounts.forced@left") == pytest.approx(0.0, abs=1e-9)


def test_mounts_in_one_line_carry_no_plane_and_that_is_said() -> None:
    changes = {
        f"survey.point.{name}.at.y": '"0 m ± 0.001, measured"'
        for name in ("back_left", "back_right", "left_hole", "right_hole")
    }
    changes |= {path: None for path in HUNG if "back_" in path and "distance" in path}
    changes |= {f"survey.distance.nose-{side}_hole": None for side in ("left", "right")}
    found = assess(adjusted(changes))
    lacks = figure(found, "mounts.roll_per_mm@front").value.lacks
    assert any("do not stand in one line" in lack.why for lack in lacks)


def test_a_reading_that_does_not_fit_is_named_and_set_aside() -> None:
    wrong = {"survey.distance.nose-hub_left": '"0.705000 m ± 0.002, measured, tape"'}
    made = adjust_survey(hung(wrong))
    # 0.3 back, 0.6 across, 0.1 up: 0.678 m; the reading is 27 mm more.
    (suspect,) = made.found.suspects
    assert suspect.observation.name == "distance.nose-hub_left"
    assert suspect.residual == pytest.approx(0.705 - math.hypot(0.3, 0.6, 0.1), abs=5e-5)
    kept = adjusted(wrong)
    assert kept.build.survey.set_aside == "distance.nose-hub_left"
    found = assess(kept)
    failing = finding(found, "mounts.reading@distance.nose-hub_left")
    assert failing.verdict is Verdict.FAILING
    assert number(found, "mounts.pitch@now") == pytest.approx(0.0, abs=1e-4)
    # Read again and taken out of the list, everything fits.
    again = {"survey.distance.nose-hub_left": taped("nose", "hub_left")}
    mended = splice(kept.source, edits(adjust_survey(hung(again))))
    assert finding(assess(parse_build(mended.encode())), "mounts.survey_spare")


def test_after_a_change_what_was_adjusted_is_provisional_until_it_is_adjusted_again() -> None:
    kept = adjusted()
    text = kept.source.text.replace(
        'survey.height.nose = "0.4 m ± 0.002', 'survey.height.nose = "0.401 m ± 0.002'
    )
    assert text != kept.source.text
    found = assess(parse_build(text.encode()))
    assert finding(found, "mounts.angle@nose").provisional
    assert not finding(assess(kept), "mounts.angle@nose").provisional
    # Yet the reading is followed at once: the last step is linear in the readings.
    moved = number(found, "mounts.pitch@now")
    again = parse_build(text.encode())
    anew = assess(parse_build(splice(again.source, edits(adjust_survey(again))).encode()))
    assert moved == pytest.approx(number(anew, "mounts.pitch@now"), abs=2e-5)
    assert moved > 5e-4


def test_what_nobody_has_adjusted_is_unknown_and_says_how() -> None:
    found = assess(hung())
    unknown = finding(found, "mounts.angle@nose")
    assert unknown.verdict is Verdict.UNKNOWN
    assert any("wattwright adjust" in lack.how for lack in unknown.lacks)
    spare = finding(found, "mounts.survey_spare")
    assert spare.verdict is Verdict.UNKNOWN
    # What was measured directly needs no adjustment: brackets of a unit as wanted are known.
    assert number(found, "mounts.x@nose_hole") == pytest.approx(0.7)


def test_without_names_of_points_the_mounts_say_what_to_name() -> None:
    found = assess(adjusted({"mounts.shaft_from": None, "mounts.line_to": None}))
    lacks = {lack.path for lack in figure(found, "mounts.bracket_length@front").value.lacks}
    assert {"mounts.shaft_from", "mounts.line_to"} <= lacks


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        (
            {"survey.distance.nose-hub_middle": '"1 m"'},
            "survey.distance.nose-hub_middle",
            "does not name two points",
        ),
        ({"survey.distance.nose-nose": '"1 m"'}, "survey.distance.nose-nose", "itself"),
        (
            {"survey.distance.hub_left-nose": '"0.678 m"'},
            "survey.distance.nose-hub_left",
            "says again",
        ),
        ({"survey.height.noes": '"0.4 m"'}, "survey.height.noes", "no such point"),
        ({"survey.set_aside": '"height.noze"'}, "survey.set_aside", "no such reading"),
        ({"mounts.shaft_from": '"hub_left"'}, "mounts.shaft_from", "a point on the vehicle"),
        ({"mounts.line_to": '"hub_left"'}, "mounts.line_to", "the same point"),
        ({"mounts.unit": '"motor"'}, "mounts.unit", "no such part"),
        (
            {"mounts.mount.left.unit_point": '"back_right"'},
            "mounts.mount.right.unit_point",
            "already",
        ),
        (
            {"mounts.mount.left.vehicle_point": '"lefthole"'},
            "mounts.mount.left.vehicle_point",
            "no such point",
        ),
    ],
)
def test_names_that_do_not_agree_are_refused_where_they_stand(
    changes: dict[str, str], path: str, words: str
) -> None:
    lines = {**HUNG, **changes}
    text = "".join(f"{name} = {value}\n" for name, value in lines.items())
    (problem,) = problems_of(text)
    assert problem.path == path
    assert words in problem.what
    assert problem.do
