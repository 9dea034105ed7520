"""Propshafts on round numbers: what follows by hand is typed."""

from __future__ import annotations

import math

import pytest

from builders import build_text, figure, finding, number, problems_of
from shafts import BASE, SHAFT, TWO_SHAFTS, shafted
from wattwright.assessment import Assessment, assess
from wattwright.findings import Finding, Verdict

# 90 km/h over 2 m, times 4: 50 turns a second.
TURNING = 2 * math.pi * 50.0


def found(changes: dict[str, str | None] | None = None) -> Assessment:
    return assess(shafted(changes))


def degrees(assessment: Assessment, address: str) -> float:
    return math.degrees(number(assessment, address))


def test_two_equal_joints_leave_nothing_and_each_shakes_the_shaft() -> None:
    seen = found()
    for joint in ("1", "2"):
        assert degrees(seen, f"mounts.joint_ride@main/{joint}") == pytest.approx(3.0)
        assert finding(seen, f"mounts.joint_running@main/{joint}/ride").verdict is Verdict.SOUND
    assert number(seen, "mounts.shaft_torsion@main/ride") == pytest.approx(0.0, abs=1e-9)
    # (2π·50)²·(3°)² = 98 696 · 0.0027416
    for end in ("driving", "coasting"):
        assert number(seen, f"mounts.shaft_inertia@main/{end}/ride") == pytest.approx(
            270.6, abs=0.1
        )
    assert number(seen, "mounts.shaft_fastest") == pytest.approx(TURNING)


def test_a_motor_hung_level_shakes_where_the_engine_did_not() -> None:
    """The trade's first mistake: level instead of at the old engine's angle."""
    seen = found({"propshaft.main.axis.1_gearbox.rise": '"0° ± 0, measured"'})
    assert degrees(seen, "mounts.residual_angle@main/ride") == pytest.approx(math.sqrt(36 - 9))
    torsion = finding(seen, "mounts.shaft_torsion@main/ride")
    assert torsion.value.number == pytest.approx(TURNING**2 * math.radians(1) ** 2 * 27)
    assert torsion.verdict is Verdict.FAILING


def test_crossed_forks_add_up_and_an_error_of_phase_is_followed() -> None:
    crossed = found({"propshaft.main.axis.2_shaft.yokes": '"crossed"'})
    assert degrees(crossed, "mounts.residual_angle@main/ride") == pytest.approx(math.sqrt(18))
    # 20° off: β² |1 - e^{2i·20°}| = 9·2·sin 20°
    off = found({"propshaft.main.axis.2_shaft.phase_error": '"20° ± 0, measured"'})
    left = math.sqrt(18 * math.sin(math.radians(20)))
    assert degrees(off, "mounts.residual_angle@main/ride") == pytest.approx(left)
    assert degrees(off, "mounts.joint_ride@main/1") == pytest.approx(3.0)


def test_plan_counts_as_much_as_elevation() -> None:
    seen = found({"propshaft.main.axis.2_shaft.turn": '"4° ± 0, measured"'})
    assert degrees(seen, "mounts.joint_ride@main/1") == pytest.approx(5.0, rel=3e-3)
    assert finding(seen, "mounts.joint_running@main/1/ride").verdict is Verdict.MARGINAL


def test_the_axle_swings_the_last_shaft() -> None:
    seen = found()
    back, down = 1.5 * math.cos(math.radians(6)), 1.5 * math.sin(math.radians(6))
    for height, up in (("bump", 0.080), ("droop", -0.090)):
        rise = math.degrees(math.atan2(up - down, back))
        longer = math.hypot(back, up - down) - 1.5
        assert degrees(seen, f"mounts.joint_angle@main/1/{height}") == pytest.approx(abs(rise + 3))
        assert degrees(seen, f"mounts.joint_{height}@main/2") == pytest.approx(abs(rise + 3))
        assert number(seen, f"mounts.shaft_longer@main/{height}") == pytest.approx(longer)
    shortest = math.hypot(back, 0.080 - down) - 1.5
    longest = math.hypot(back, -0.090 - down) - 1.5
    assert number(seen, "mounts.slip@main/pushed in") == pytest.approx(0.030 + shortest)
    assert number(seen, "mounts.slip@main/pulled out") == pytest.approx(0.040 - longest)
    order = 1.5 + (shortest + longest) / 2 - 0.035
    assert number(seen, "mounts.shaft_to_order@main") == pytest.approx(order)
    need = longest - shortest + 0.020
    assert number(seen, "mounts.plunge_needed@main") == pytest.approx(need)
    # Ordered so, as much is left at either end.
    assert order + 0.070 - (1.5 + longest) == pytest.approx(1.5 + shortest - order)


def test_wound_up_the_pinion_lifts_its_nose_and_its_joint() -> None:
    seen = found()
    back, down = 1.5 * math.cos(math.radians(6)), 1.5 * math.sin(math.radians(6))
    rise = math.degrees(math.atan2(0.250 * math.sin(math.radians(4)) - down, back))
    assert degrees(seen, "mounts.joint_pulling@main/2") == pytest.approx(abs(-3.0 - 4.0 - rise))
    assert degrees(seen, "mounts.joint_pulling@main/1") == pytest.approx(abs(rise + 3.0))


def test_a_shaft_that_is_short_of_slip_bottoms() -> None:
    seen = found({"propshaft.main.slip_at_ride": '"3 mm ± 0, measured"'})
    assert finding(seen, "mounts.slip@main/pushed in").verdict is Verdict.FAILING
    assert finding(seen, "mounts.slip@main/pulled out").verdict is Verdict.SOUND


def test_critical_speed_is_held_against_the_fastest_gear() -> None:
    """Beam theory, computed: 5623 rpm for this tube; three quarters of that are 4217 rpm."""
    seen = found()
    rpm = 2 * math.pi / 60
    assert number(seen, "mounts.shaft_critical@main/2_shaft") == pytest.approx(
        5623.1 * rpm, rel=1e-4
    )
    limit = finding(seen, "mounts.shaft_speed@main/2_shaft").limit.number
    assert limit == pytest.approx(0.75 * 5623.1 * rpm, rel=1e-4)
    highest = float(BASE["part.motor.max_speed"].strip('"').split()[0])
    ratios = [
        float(text.strip('"').split(",")[0].split()[0])
        for path, text in BASE.items()
        if path.startswith("drive.gear.") and path.endswith(".ratio")
    ]
    assert number(seen, "mounts.shaft_highest") == pytest.approx(highest * rpm / min(ratios))
    fastest = finding(seen, "mounts.shaft_speed@main/2_shaft/fastest driving")
    assert fastest.value.number == pytest.approx(3000 * rpm)
    assert fastest.verdict is Verdict.SOUND


def test_a_joint_that_stands_straight_is_marginal_for_its_needles() -> None:
    seen = found({"propshaft.main.axis.1_gearbox.rise": '"-5.8° ± 0, measured"'})
    needles = finding(seen, "mounts.joint_needles@main/1")
    assert degrees(seen, needles.address) == pytest.approx(0.2)
    assert needles.verdict is Verdict.MARGINAL
    assert finding(seen, "mounts.joint_needles@main/2").verdict is Verdict.SOUND


def test_a_line_of_two_shafts_has_three_joints_and_only_the_last_swings() -> None:
    seen = found(TWO_SHAFTS)
    # 3°, then 1° the other way, then 2°: √|9 - 1 + 4|
    for joint, angle in (("1", 3.0), ("2", 1.0), ("3", 2.0)):
        assert degrees(seen, f"mounts.joint_ride@main/{joint}") == pytest.approx(angle)
    assert degrees(seen, "mounts.residual_angle@main/ride") == pytest.approx(math.sqrt(12))
    for height in ("bump", "droop"):
        assert degrees(seen, f"mounts.joint_{height}@main/1") == pytest.approx(3.0)
        assert degrees(seen, f"mounts.joint_{height}@main/2") != pytest.approx(1.0, abs=0.5)
    # Driven: 3° before the first shaft, √|9 - 1| before the second, which is less.
    driving = TURNING**2 * math.radians(3) ** 2
    assert number(seen, "mounts.shaft_inertia@main/driving/ride") == pytest.approx(driving)
    # Coasting: 2° behind the second, √|1 - 4| behind the first.
    coasting = TURNING**2 * math.radians(2) ** 2
    assert number(seen, "mounts.shaft_inertia@main/coasting/ride") == pytest.approx(coasting)
    assert {"mounts.shaft_speed@main/2_shaft", "mounts.shaft_speed@main/3_rear"} <= set(
        seen.by_address
    )


def test_one_joint_and_a_tube_that_is_one_with_the_axle() -> None:
    lost = {path: None for path in SHAFT if ".3_pinion." in path}
    seen = found(lost)
    assert degrees(seen, "mounts.residual_angle@main/ride") == pytest.approx(3.0)
    assert number(seen, "mounts.shaft_inertia@main/coasting/ride") == 0.0
    assert "mounts.joint_ride@main/2" not in seen.by_address


def test_frequencies_are_by_road_speed() -> None:
    seen = found()
    for road, wheel in (("50 km/h", 6.944), ("80 km/h", 11.111), ("100 km/h", 13.889)):
        assert number(seen, f"mounts.felt_wheel@{road}") == pytest.approx(wheel, abs=5e-4)
        assert number(seen, f"mounts.felt_shaft@{road}") == pytest.approx(4 * wheel, abs=2e-3)
        assert number(seen, f"mounts.felt_joints@{road}") == pytest.approx(8 * wheel, abs=4e-3)


def test_printed_angles_are_shown_and_limit_nothing() -> None:
    seen = found()
    printed = figure(seen, "mounts.trade_angle@main/3000 rpm").value
    assert math.degrees(printed.number or 0.0) == pytest.approx(5.833)
    assert printed.given is not None
    assert printed.given.soft
    assert "from memory" in printed.given.detail
    limits = [
        said.limit
        for said in seen.by_address.values()
        if isinstance(said, Finding) and said.about.startswith("main")
    ]
    assert limits
    assert not any(
        origin.path.startswith("tables.propshaft_angles")
        for limit in limits
        for origin in limit.effects
    )
    # 1000 rad/s² at 3000 rpm: √1000/314.16 rad
    assert degrees(seen, "mounts.angle_at_speed@main/3000 rpm") == pytest.approx(5.767, abs=1e-3)


def test_default_limits_make_everything_provisional() -> None:
    fields = ("torsion_limit", "inertia_limit", "critical_share", "slip_spare", "angle_running")
    assert not finding(found(), "mounts.shaft_inertia@main/driving/ride").provisional
    seen = found({f"propshaft.main.{field}": None for field in fields})
    for address in (
        "mounts.shaft_torsion@main/ride",
        "mounts.shaft_inertia@main/driving/ride",
        "mounts.shaft_speed@main/2_shaft/fastest driving",
        "mounts.slip@main/pushed in",
        "mounts.joint_running@main/1/ride",
    ):
        assert finding(seen, address).provisional, address


def test_what_is_missing_is_unknown_and_says_what_to_measure() -> None:
    seen = found({"propshaft.main.bump.by": None, "targets.top_speed": None})
    for address, path in (
        ("mounts.joint_angle@main/1/bump", "propshaft.main.bump.by"),
        ("mounts.slip@main/pushed in", "propshaft.main.bump.by"),
        ("mounts.shaft_torsion@main/ride", "targets.top_speed"),
    ):
        lacking = finding(seen, address)
        assert lacking.verdict is Verdict.UNKNOWN
        assert path in {lack.path for lack in lacking.lacks}
    assert finding(seen, "mounts.joint_angle@main/1/droop").verdict is Verdict.SOUND


def test_an_axle_bolted_to_the_body_has_no_travel_and_nothing_to_say_of_it() -> None:
    still: dict[str, str | None] = {
        path: None for path in SHAFT if ".bump." in path or ".droop." in path
    }
    still |= {
        "propshaft.main.bump.by": '"none"',
        "propshaft.main.droop.by": '"none"',
        "propshaft.main.wind_up": '"none"',
    }
    seen = found(still)
    said = {address for address in seen.by_address if address.startswith("mounts.joint_")}
    assert "mounts.joint_running@main/1/ride" in said
    assert not [address for address in said if "/bump" in address or "/pulling" in address]
    assert number(seen, "mounts.slip@main/pushed in") == pytest.approx(0.030)


def test_a_line_only_to_compare_with_is_shown_and_not_judged() -> None:
    old = {
        path.replace("propshaft.main", "propshaft.as_found"): text for path, text in SHAFT.items()
    }
    old["propshaft.as_found.compared_only"] = "true"
    seen = found({**old, "propshaft.as_found.axis.1_gearbox.rise": '"0° ± 0, measured"'})
    about = [each for each in seen.by_address.values() if each.about.startswith("as_found")]
    assert about
    assert not [each for each in about if isinstance(each, Finding)]
    before, after = (number(seen, f"mounts.torsion@{name}/ride") for name in ("as_found", "main"))
    assert before > 400.0 > after


@pytest.mark.parametrize("names", [(), ("1_gearbox",)])
def test_a_line_without_two_axes_says_what_to_write(names: tuple[str, ...]) -> None:
    changes: dict[str, str | None] = {
        path: None
        for path in SHAFT
        if ".axis." in path and not any(f".{name}." in path for name in names)
    }
    seen = found(changes)
    lacking = finding(seen, "mounts.joint_needles@main/1")
    assert lacking.verdict is Verdict.UNKNOWN
    (lack,) = [lack for lack in lacking.lacks if lack.path == "propshaft.main.axis"]
    assert "1_gearbox" in lack.how


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        (
            {"propshaft.main.axis.tail.rise": '"0°"'},
            "propshaft.main.axis.tail",
            "needs a number in front",
        ),
        (
            {"propshaft.main.axis.2_tail.rise": '"0°"'},
            "propshaft.main.axis.2_tail",
            "has the number of 2_shaft",
        ),
        (
            {"propshaft.main.axis.2_shaft.length": '"70 mm"'},
            "propshaft.main.axis.2_shaft.length",
            "shorter than its joints",
        ),
        (
            {"propshaft.main.axis.2_shaft.wall": '"40 mm"'},
            "propshaft.main.axis.2_shaft.wall",
            "more than half the diameter",
        ),
        (
            {"propshaft.main.axis.3_pinion.length": '"300 mm"'},
            "propshaft.main.axis.3_pinion.length",
            "one joint only",
        ),
        (
            {"propshaft.main.axis.1_gearbox.yokes": '"crossed"'},
            "propshaft.main.axis.1_gearbox.yokes",
            "one joint only",
        ),
        (
            {"propshaft.main.slip_at_ride": '"80 mm"'},
            "propshaft.main.slip_at_ride",
            "more than the slip there is",
        ),
        (
            {"propshaft.main.axis.2_shaft.yokes": '"out of phase"'},
            "propshaft.main.axis.2_shaft.yokes",
            "should be 'in line' or 'crossed'",
        ),
    ],
)
def test_fields_that_do_not_agree_are_refused_where_they_stand(
    changes: dict[str, str | None], path: str, words: str
) -> None:
    problems = problems_of(build_text(changes, BASE))
    problem = next(each for each in problems if each.path == path)
    assert words in problem.what
    assert problem.line
    assert problem.do or problem.what.startswith("should be")
