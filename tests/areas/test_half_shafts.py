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
