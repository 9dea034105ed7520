"""Half-shafts of the unit that is taped with round numbers: what follows by hand is typed.

Flanges at 0.25 m either side, outer joints at 0.65 m, all in one line at ride height: 0.4 m long.
"""

from __future__ import annotations

import math

import pytest

from builders import figure, finding, number, problems_of
from hung import HUNG, adjusted
from wattwright.assessment import Assessment, assess
from wattwright.findings import Verdict


def point(name: str, *place: float) -> dict[str, str]:
    axes = zip("xyz", place, strict=True)
    return {
        f"survey.point.{name}.on": '"vehicle"',
        **{f"survey.point.{name}.at.{axis}": f'"{at} m ± 0.001, measured"' for axis, at in axes},
    }


SHAFT: dict[str, str | None] = {
    **point("joint", 1.0, 0.65, 0.3),
    "half_shaft.right.inner": '"end_right"',
    "half_shaft.right.outer": '"joint"',
    "half_shaft.right.arm": '"straight"',
    "half_shaft.right.bump": '"60 mm ± 0, measured"',
    "half_shaft.right.droop": '"80 mm ± 0, measured"',
    "half_shaft.right.plunge_in": '"15 mm ± 0.5, measured"',
    "half_shaft.right.plunge_out": '"20 mm ± 0.5, measured"',
    "half_shaft.right.spare": '"9 mm"',
    "half_shaft.right.steady": '"7°, datasheet"',
    "half_shaft.right.inner_most": '"20°, datasheet"',
    "half_shaft.right.outer_most": '"20°, datasheet"',
}
PIVOTS: dict[str, str | None] = {
    "half_shaft.right.pivot_from": '"out"',
    "half_shaft.right.pivot_to": '"inside"',
}
TRAILING: dict[str, str | None] = {
    **PIVOTS,
    **point("out", 0.6, 0.7, 0.3),
    **point("inside", 0.6, 0.3, 0.3),
}


def made(changes: dict[str, str | None] | None = None) -> Assessment:
    return assess(adjusted({**SHAFT, **(changes or {})}))


def test_a_hub_that_goes_straight_up_bends_both_joints_alike_and_pulls_the_shaft() -> None:
    found = made()
    for height, rise in (("bump", 0.06), ("droop", -0.08), ("ride", 0.0)):
        angle = abs(math.atan2(rise, 0.4))
        for joint in ("inner", "outer"):
            said = figure(found, f"mounts.cv_{joint}_angle@right/{height}").value
            assert said.number == pytest.approx(angle, abs=2e-4)
        longer = math.hypot(0.4, rise) - 0.4
        assert number(found, f"mounts.cv_plunge@right/{height}") == pytest.approx(longer, abs=1e-5)
        out = number(found, f"mounts.cv_left_out@right/{height}")
        assert out == pytest.approx(0.02 - longer, abs=1e-5)
    assert number(found, "mounts.half_shaft_length@right") == pytest.approx(0.4, abs=5e-5)
    assert finding(found, "mounts.cv_inner@right/bump").verdict is Verdict.SOUND
    # 0.08 m down is 11.3 degrees.
    tight = made({"half_shaft.right.inner_most": '"11°, datasheet"'})
    assert finding(tight, "mounts.cv_inner@right/droop").verdict is Verdict.FAILING


def test_on_a_trailing_arm_the_hub_goes_forward_too_and_the_outer_joint_stays_in_line() -> None:
    found = made({**TRAILING, "half_shaft.right.arm": '"swing"'})
    # Pivot axis across: the hub keeps its axis, and goes forward by 0.4 (1 - cos θ).
    turn = math.asin(0.06 / 0.4)
    forward = 0.4 * (1 - math.cos(turn))
    angle = math.atan2(math.hypot(0.06, forward), 0.4)
    for joint in ("inner", "outer"):
        said = number(found, f"mounts.cv_{joint}_angle@right/bump")
        assert said == pytest.approx(angle, abs=3e-4)
    longer = math.hypot(0.4, 0.06, forward) - 0.4
    assert number(found, "mounts.cv_plunge@right/bump") == pytest.approx(longer, abs=2e-5)


def test_on_a_swing_axle_the_outer_joint_does_not_bend() -> None:
    along = {
        **PIVOTS,
        **point("out", 1.2, 0.25, 0.3),
        **point("inside", 0.8, 0.25, 0.3),
        "half_shaft.right.arm": '"swing"',
    }
    found = made(along)
    turn = math.asin(0.06 / 0.4)
    assert number(found, "mounts.cv_inner_angle@right/bump") == pytest.approx(turn, abs=3e-4)
    assert number(found, "mounts.cv_outer_angle@right/bump") == pytest.approx(0.0, abs=3e-4)
    assert number(found, "mounts.cv_plunge@right/bump") == pytest.approx(0.0, abs=2e-5)
    # On wishbones of that length the hub keeps its angle, and the outer joint bends instead.
    kept = made({**along, "half_shaft.right.arm": '"parallel"'})
    assert number(kept, "mounts.cv_outer_angle@right/bump") == pytest.approx(turn, abs=3e-4)


def test_the_way_that_is_left_counts_at_its_least() -> None:
    found = made({"half_shaft.right.plunge_out": '"16 mm ± 0.5, measured"'})
    # Hanging it is 7.92 mm longer: 8.08 mm are left out, and 9 are wanted.
    out = finding(found, "mounts.cv_spare@right/out")
    assert out.value.number == pytest.approx(0.016 - (math.hypot(0.4, 0.08) - 0.4), abs=1e-5)
    assert out.verdict is Verdict.FAILING
    inside = finding(found, "mounts.cv_spare@right/in")
    assert inside.value.number == pytest.approx(0.015, abs=1e-5)
    assert inside.verdict is Verdict.SOUND


STEERED: dict[str, str | None] = {"half_shaft.right.steer": '"30° ± 0, measured"'}


def test_at_full_lock_the_outer_joint_bends_by_the_lock_and_by_the_travel() -> None:
    found = made({**STEERED, "half_shaft.right.outer_most": '"32°, datasheet"'})
    assert number(found, "mounts.cv_outer_steered@right/ride/left_lock") == pytest.approx(
        math.radians(30), abs=3e-4
    )
    # Hanging: hub's axis 30° off in plan, shaft down by 0.08 in 0.4.
    hanging = math.acos(math.cos(math.radians(30)) * 0.4 / math.hypot(0.4, 0.08))
    for lock in ("left_lock", "right_lock"):
        said = number(found, f"mounts.cv_outer_steered@right/droop/{lock}")
        assert said == pytest.approx(hanging, abs=3e-4)
    lock_found = finding(found, "mounts.cv_lock@right")
    assert lock_found.value.number == pytest.approx(hanging, abs=3e-4)
    assert lock_found.verdict is Verdict.MARGINAL
    assert finding(made(STEERED), "mounts.cv_lock@right").verdict is Verdict.FAILING
    # The centre of the joint stays where it is: the way left is as without steering.
    assert number(found, "mounts.cv_spare@right/out") == pytest.approx(
        number(made(), "mounts.cv_spare@right/out"), abs=1e-9
    )


def test_a_joint_beside_the_axis_of_steering_plunges_with_the_lock() -> None:
    kingpin = {
        **STEERED,
        **point("lower", 1.0, 0.62, 0.1),
        **point("upper", 1.0, 0.62, 0.6),
        "half_shaft.right.steer_from": '"lower"',
        "half_shaft.right.steer_to": '"upper"',
    }
    # The joint goes round the axis on an arm of 30 mm, by 30°; at full droop it is 80 mm lower.
    across, along = 0.37 + 0.03 * math.cos(math.radians(30)), 0.03 * math.sin(math.radians(30))
    shorter = math.hypot(across, along) - 0.4
    found = made(kingpin)
    inside = finding(found, "mounts.cv_spare@right/in")
    assert inside.value.number == pytest.approx(0.015 + shorter, abs=2e-5)
    between = math.atan2(along, across)
    bent = {math.radians(30) - between, math.radians(30) + between}
    said = number(found, "mounts.cv_outer_steered@right/ride/left_lock")
    assert any(said == pytest.approx(each, abs=4e-4) for each in bent)


def test_a_wheel_that_is_not_steered_has_no_lock_and_one_not_said_is_unknown() -> None:
    fixed = made({"half_shaft.right.steer": '"none"'})
    assert "mounts.cv_lock@right" not in fixed.by_address
    unsaid = finding(made(), "mounts.cv_lock@right")
    assert unsaid.verdict is Verdict.UNKNOWN
    assert {lack.path for lack in unsaid.lacks} == {"half_shaft.right.steer"}


def test_life_falls_with_the_angle_at_ride_height_and_judges_nothing() -> None:
    assert number(made(), "mounts.cv_life@right/outer") == pytest.approx(1.0, abs=2e-3)
    # Joint 40 mm lower at ride height: tan 5.71° = 0.1; sine 0.0995, cosine² 0.990.
    low = made({**point("joint", 1.0, 0.65, 0.26)})
    wanted = ((1 - 0.0995) * 0.990) ** 3
    assert number(low, "mounts.cv_life@right/outer") == pytest.approx(wanted, rel=3e-3)


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"half_shaft.right.inner": None}, "half_shaft.right.inner"),
        ({"half_shaft.right.outer": None}, "half_shaft.right.outer"),
        ({"half_shaft.right.bump": None}, "half_shaft.right.bump"),
        ({"half_shaft.right.arm": '"swing"'}, "half_shaft.right.pivot_from"),
    ],
)
def test_what_is_missing_is_named(changes: dict[str, str | None], path: str) -> None:
    bump = finding(made(changes), "mounts.cv_inner@right/bump")
    assert bump.verdict is Verdict.UNKNOWN
    assert path in {lack.path for lack in bump.lacks}


def test_an_arm_too_short_for_its_travel_says_so() -> None:
    near = {
        **PIVOTS,
        **point("out", 0.97, 0.7, 0.3),
        **point("inside", 0.97, 0.3, 0.3),
        "half_shaft.right.arm": '"swing"',
    }
    bump = finding(made(near), "mounts.cv_inner@right/bump")
    assert any("does not reach" in lack.why for lack in bump.lacks)


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        ({"half_shaft.right.inner": '"joint"'}, "half_shaft.right.inner", "on the vehicle"),
        ({"half_shaft.right.outer": '"joints"'}, "half_shaft.right.outer", "no such point"),
        (
            {"half_shaft.right.pivot_from": '"hub_left"'},
            "half_shaft.right.pivot_from",
            "straight up and down",
        ),
        (
            {
                "half_shaft.right.arm": '"swing"',
                "half_shaft.right.pivot_from": '"hub_left"',
                "half_shaft.right.pivot_to": '"hub_left"',
            },
            "half_shaft.right.pivot_to",
            "same point",
        ),
        (
            {"half_shaft.right.steer_from": '"hub_left"'},
            "half_shaft.right.steer_from",
            "steer_to is left out",
        ),
        (
            {
                "half_shaft.right.steer_from": '"hub_left"',
                "half_shaft.right.steer_to": '"hub_left"',
            },
            "half_shaft.right.steer_to",
            "same point",
        ),
    ],
)
def test_names_that_do_not_agree_are_refused(
    changes: dict[str, str], path: str, words: str
) -> None:
    lines = {**HUNG, **SHAFT, **changes}
    text = "".join(f"{name} = {value}\n" for name, value in lines.items() if value is not None)
    (problem,) = problems_of(text)
    assert problem.path == path
    assert words in problem.what
