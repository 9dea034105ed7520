"""The coupling: run-out feature by feature, fits, end float, joints under the drive's torque."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from couplings import END_FLOAT, RUN_OUT, SPIGOT, assessed, finding, number
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import parse_build
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Verdict

MM = 1e-3


def test_an_offset_and_a_flange_within_the_limit_each_exceed_it_together() -> None:
    """Offset 0.04 mm shows 0.08 mm; with 0.03 mm that is √(0.08² + 0.03²), at worst 0.11 mm."""
    said = assessed({"coupling.run_out": RUN_OUT})
    both = finding(said, "mounts.run_out")
    assert both.verdict is Verdict.FAILING
    assert both.value.number == pytest.approx(0.085440 * MM, rel=1e-5)
    assert number(said, "mounts.run_out_worst") == pytest.approx(0.11 * MM)
    assert finding(said, "mounts.run_out_worst").verdict is Verdict.MARGINAL


def test_the_feature_to_cut_again_is_the_one_that_gains_most() -> None:
    said = assessed({"coupling.run_out": RUN_OUT})
    recut = [f for f in said.findings if f.check.id == "mounts.run_out_recut"]
    assert [each.about for each in recut] == ["spigot"]
    assert recut[0].value.number == pytest.approx(0.03 * MM)
    assert recut[0].verdict is Verdict.SOUND
    other = {**RUN_OUT, "spigot_offset": "0.01 mm ± 0.002, measured", "flange": "0.07 mm, measured"}
    again = assessed({"coupling.run_out": other})
    assert finding(again, "mounts.run_out_recut@flange").value.number == pytest.approx(0.02 * MM)
    assert "mounts.run_out_recut@spigot" not in again.by_address


def test_a_true_coupling_is_sound_and_nothing_is_to_be_cut() -> None:
    true = {**RUN_OUT, "spigot_offset": "0.01 mm ± 0.002, measured", "flange": "0.02 mm, measured"}
    said = assessed({"coupling.run_out": true})
    assert finding(said, "mounts.run_out").verdict is Verdict.SOUND
    assert not [f for f in said.findings if f.check.id == "mounts.run_out_recut"]


def test_a_feature_nobody_read_leaves_the_run_out_unknown_and_is_asked_for() -> None:
    said = assessed({"coupling.run_out": {**RUN_OUT, "flange": "unknown"}})
    both = finding(said, "mounts.run_out")
    assert both.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in both.lacks] == ["coupling.run_out.flange"]
    assert said.descriptions[MountsDescription].coupling.stack.recut == ""


def test_a_face_out_of_square_counts_by_its_reach() -> None:
    """0.04 mm at 80 mm radius, 60 mm away: 0.03 mm."""
    face = {"face": "0.04 mm, measured", "face_radius": "80 mm", "reach": "60 mm"}
    said = assessed({"coupling.run_out": {**RUN_OUT, **face}})
    assert number(said, "mounts.run_out_part@face") == pytest.approx(0.03 * MM)


def test_without_a_reading_the_play_of_the_spigot_says_how_far_it_may_sit_off() -> None:
    """Play 0.040 mm: 0.020 mm off, which shows 0.040 mm; by the classes alone 0.069 mm."""
    run_out = {key: text for key, text in RUN_OUT.items() if key != "spigot_offset"}
    said = assessed({"coupling.run_out": run_out, "coupling.fit.spigot": SPIGOT})
    assert number(said, "mounts.run_out_part@spigot") == pytest.approx(0.040 * MM)
    bare = {key: SPIGOT[key] for key in ("nominal", "hole_class", "shaft_class")}
    said = assessed({"coupling.run_out": run_out, "coupling.fit.spigot": bare})
    assert number(said, "mounts.run_out_part@spigot") == pytest.approx(0.069 * MM)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.001, 0.4), st.floats(0.001, 0.4))
def test_no_assembly_is_better_than_its_worst_feature_or_worse_than_their_sum(
    offset: float, flange: float
) -> None:
    fields = {"spigot_offset": f"{offset:.6f} mm", "flange": f"{flange:.6f} mm", "face": "none"}
    stack = assessed({"coupling.run_out": fields}).descriptions[MountsDescription].coupling.stack
    parts = [part.number or 0.0 for part in stack.parts.values()]
    likely, worst = stack.likely.number or 0.0, stack.worst.number or 0.0
    assert max(parts) <= likely * (1 + 1e-12)
    assert likely <= worst * (1 + 1e-12)
    assert stack.recut == max(stack.parts, key=lambda name: stack.parts[name].number or 0.0)


def test_a_run_out_of_no_feature_at_all_is_not_judged() -> None:
    nothing = dict.fromkeys(("spigot_offset", "flange", "face"), "none")
    said = assessed({"coupling.run_out": nothing})
    assert not [
        each for each in said.findings if each.check.identifier.startswith("mounts.run_out")
    ]


def test_a_fit_is_held_against_the_limits_of_its_class() -> None:
    """100 H7 is +35/0 µm, 100 g6 is -12/-34 µm: 100.020 is 2.5 µm off the middle, 99.980 3 µm."""
    said = assessed({"coupling.fit.spigot": SPIGOT})
    hole = finding(said, "mounts.fit_hole@spigot")
    assert hole.value.number == pytest.approx(2.5e-6)
    assert hole.limit.number == pytest.approx(17.5e-6)
    shaft = finding(said, "mounts.fit_shaft@spigot")
    assert shaft.value.number == pytest.approx(3e-6)
    assert shaft.limit.number == pytest.approx(11e-6)
    play = finding(said, "mounts.fit@spigot")
    assert play.value.number == pytest.approx(40e-6)
    assert play.limit.number == pytest.approx(69e-6)
    assert {each.verdict for each in (hole, shaft, play)} == {Verdict.SOUND}
    worn = assessed({"coupling.fit.spigot": {**SPIGOT, "hole": "100.06 mm ± 0.002, measured"}})
    assert finding(worn, "mounts.fit_hole@spigot").verdict is Verdict.FAILING
    assert finding(worn, "mounts.fit@spigot").verdict is Verdict.FAILING


def test_a_nominal_diameter_in_inches_finds_the_same_row() -> None:
    inch = assessed({"coupling.fit.spigot": {**SPIGOT, "nominal": f"{100 / 25.4:.9f} in"}})
    assert number(inch, "mounts.fit_loosest@spigot") == pytest.approx(69e-6)


def test_a_class_from_memory_makes_no_limit_until_somebody_reads_it() -> None:
    fields = {**SPIGOT, "nominal": "150 mm", "shaft_class": "m6"}
    fields |= {"hole": "150.02 mm, measured", "shaft": "150.03 mm ± 0.002, measured"}
    said = assessed({"coupling.fit.spigot": fields})
    shaft = finding(said, "mounts.fit_shaft@spigot")
    assert shaft.verdict is Verdict.UNKNOWN
    whys = {lack.path: lack.why for lack in shaft.lacks}
    assert whys == {
        "coupling.fit.spigot.shaft_upper": "40 µm only from memory; read it in ISO 286-2",
        "coupling.fit.spigot.shaft_lower": "15 µm only from memory; read it in ISO 286-2",
    }
    # It is shown all the same, as what it is.
    assert number(said, "mounts.fit_shaft_upper@spigot") == pytest.approx(40e-6)
    typed = {**fields, "shaft_upper": "0.040 mm", "shaft_lower": "0.015 mm"}
    read = assessed({"coupling.fit.spigot": typed})
    assert finding(read, "mounts.fit_shaft@spigot").verdict is Verdict.SOUND


def test_without_a_class_the_fit_is_unknown_and_a_class_is_asked_for() -> None:
    fields = {key: text for key, text in SPIGOT.items() if key != "hole_class"}
    hole = finding(assessed({"coupling.fit.spigot": fields}), "mounts.fit_hole@spigot")
    assert hole.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in hole.lacks] == ["coupling.fit.spigot.hole_class"]


def test_aluminium_gives_back_more_float_than_steel_takes() -> None:
    """300 mm, 50 K: housing +0.345 mm, shaft +0.1755 mm: 0.8 + 0.345 - 0.1755."""
    said = assessed({"coupling.end_float": END_FLOAT})
    assert number(said, "mounts.end_float@cold") == pytest.approx(0.8 * MM)
    hot = finding(said, "mounts.end_float@hot")
    assert hot.value.number == pytest.approx(0.9695 * MM)
    assert hot.verdict is Verdict.SOUND
    iron = {**END_FLOAT, "housing_expansion": "10.5 µm/(m·K), datasheet", "housing_warmer": "10 K"}
    tight = assessed({"coupling.end_float": {**iron, "cold": "0.6 mm ± 0.01, measured"}})
    assert finding(tight, "mounts.end_float@cold").verdict is Verdict.SOUND
    assert finding(tight, "mounts.end_float@hot").verdict is Verdict.FAILING


def test_a_kept_clutch_finds_its_face_where_it_was() -> None:
    """38 mm out of the motor, 22 mm of plate: 16 mm, where it was 15.2 mm."""
    fields = {"stands_out": "38 mm ± 0.05, measured", "plate": "22 mm ± 0.02, measured"}
    fields |= {"before": "15.2 mm ± 0.05, measured", "within": "0.5 mm"}
    said = finding(assessed({"coupling.faces": fields}), "mounts.flywheel_face")
    assert said.value.number == pytest.approx(0.8 * MM)
    assert said.verdict is Verdict.FAILING
    without = assessed({"coupling.faces": {**fields, "before": "none"}})
    assert "mounts.flywheel_face" not in without.by_address


KEY = {
    "diameter": "50 mm ± 0.01, measured",
    "width": "12.5 mm ± 0.01, measured",
    "height": "6.25 mm ± 0.01, measured",
    "length": "37.5 mm ± 0.1, measured",
    "shear_allowed": "100 MPa",
    "pressure_allowed": "180 MPa",
}
MOTOR = {"kind": "motor", "peak_torque": "400 N·m, datasheet", "fault_torque": "900 N·m, datasheet"}
LINK = {"turns_with": "motor", "torque": "2000 N·m, datasheet"}


def test_a_joint_without_a_link_asks_for_one() -> None:
    said = finding(assessed({"coupling.key": KEY}), "mounts.key_shear@fault")
    assert said.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in said.lacks] == ["coupling.link"]


def test_a_key_bears_the_fault_torque_of_its_link() -> None:
    """2·900/(0.05·0.0125·0.0375) is 76.8 MPa of shear, twice that on the flank of a square key."""
    tables = {"coupling": {"link": "hub"}, "coupling.key": KEY}
    said = assessed({**tables, "drive.link.hub": LINK, "part.motor": MOTOR})
    shear = finding(said, "mounts.key_shear@fault")
    assert shear.value.number == pytest.approx(76.8e6)
    assert shear.verdict is Verdict.SOUND
    assert number(said, "mounts.key_pressure@fault") == pytest.approx(153.6e6)


def test_splines_flange_and_cone_are_judged_where_they_are_written() -> None:
    tables = {
        "coupling": {"link": "hub"},
        "drive.link.hub": LINK,
        "part.motor": MOTOR,
        "coupling.spline": {
            "mean_diameter": "27 mm ± 0.01, measured",
            "teeth": "24",
            "flank": "1 mm ± 0.01, measured",
            "length": "30 mm ± 0.1, measured",
            "bearing": "50 %, measured",
            "pressure_allowed": "150 MPa",
        },
        "coupling.flange": {
            "bolts": "6",
            "circle": "90 mm ± 0.1, measured",
            "clamp": "25 kN ± 1, computed",
            "friction": "0.12 ± 0.01, measured",
            "bolt": "8 mm ± 0.01, measured",
            "shear_allowed": "150 MPa",
        },
        "coupling.taper": {
            "mean_diameter": "40 mm ± 0.1, measured",
            "half_angle": "5° ± 0.1, measured",
            "pull": "60 kN ± 1, computed",
            "friction": "0.12 ± 0.01, measured",
        },
    }
    said = assessed(tables)
    # 2·900/(0.027·24·0.001·0.03·0.5) Pa; six times 25 kN by 0.12 at 45 mm; cone by hand.
    assert number(said, "mounts.spline_pressure@fault") == pytest.approx(185.185e6, rel=1e-5)
    slip = finding(said, "mounts.flange_slip@fault")
    assert slip.limit.number == pytest.approx(810.0)
    assert slip.verdict is Verdict.FAILING
    assert number(said, "mounts.flange_shear@fault") == pytest.approx(66.315e6, rel=1e-4)
    cone = finding(said, "mounts.taper_slip@fault")
    assert cone.limit.number == pytest.approx(
        0.12 * 60e3 * 0.02 / (0.0871557 + 0.1195434), rel=1e-5
    )
    assert cone.verdict is Verdict.FAILING


OVERHANG = {
    "mass": "50 kg ± 0.5, measured",
    "centre": "200 mm ± 2, measured",
    "tail": "none",
    "jolt": "3 ± 0.1, measured",
    "allowed": "400 N·m ± 10, computed",
}


def test_a_motor_hangs_on_the_face_or_on_its_tail_mount() -> None:
    """50 kg at 9.80665 m/s², three times, 200 mm out: 294.2 N·m, or 735.5 N at 400 mm."""
    said = assessed({"coupling.overhang": OVERHANG})
    assert finding(said, "mounts.overhang").value.number == pytest.approx(294.2, rel=1e-4)
    assert finding(said, "mounts.overhang").verdict is Verdict.SOUND
    tail = assessed({"coupling.overhang": {**OVERHANG, "tail": "400 mm ± 2, measured"}})
    assert number(tail, "mounts.tail_load") == pytest.approx(735.5, rel=1e-4)
    assert "mounts.overhang" not in tail.by_address
    unsaid = {key: text for key, text in OVERHANG.items() if key != "mass"}
    unknown = finding(assessed({"coupling.overhang": unsaid}), "mounts.overhang")
    assert [lack.path for lack in unknown.lacks] == ["coupling.overhang.mass"]


def test_oil_falls_at_what_rises_with_the_nose() -> None:
    """From 1° to 5° nose up: tan 4° is 0.069927, so at 200 mm ahead of the plug 13.99 mm lower."""
    oil = {
        "pitch_before": "1° ± 0.1, measured",
        "pitch_now": "5° ± 0.1, measured",
        "roll_before": "0° ± 0.1, measured",
        "roll_now": "1° ± 0.1, measured",
        "pick_up": "200 mm ± 2, measured",
        "within": "3°",
    }
    said = assessed({"coupling.oil": oil})
    assert finding(said, "mounts.oil_tilt@nose").verdict is Verdict.FAILING
    assert finding(said, "mounts.oil_tilt@across").verdict is Verdict.SOUND
    assert number(said, "mounts.oil_level") == pytest.approx(-13.985 * MM, rel=1e-4)


TURNING = {"motor": "anticlockwise", "gearbox": "clockwise"}


def turning(changes: dict[str, str], *, both: str = "", reverse: str = "gear") -> Assessment:
    fields = {key: text for key, text in {**TURNING, **changes}.items() if text}
    rows = ["format = 1", "[build]", 'name = "Joined"', "[coupling.turning]"]
    rows += [f'{key} = "{text}"' for key, text in fields.items()]
    rows += [f"both_ways = {both}"] if both else []
    rows += ["[drive]", f'reverse = "{reverse}"'] if reverse else []
    return assess(parse_build("\n".join(rows).encode("utf-8")))


@pytest.mark.parametrize("motor", ["clockwise", "anticlockwise"])
@pytest.mark.parametrize("gearbox", ["clockwise", "anticlockwise"])
def test_ends_face_to_face_are_seen_to_turn_opposite_ways(motor: str, gearbox: str) -> None:
    said = finding(turning({"motor": motor, "gearbox": gearbox}, both="true"), "mounts.rotation")
    assert said.verdict is (Verdict.SOUND if motor != gearbox else Verdict.FAILING)


@pytest.mark.parametrize(
    ("motor", "both", "reverse", "verdict"),
    [
        ("anticlockwise", "false", "gear", Verdict.SOUND),
        ("anticlockwise", "false", "motor", Verdict.FAILING),
        ("anticlockwise", "true", "motor", Verdict.SOUND),
        # It turns the gearbox back and has to be set the other way.
        ("clockwise", "false", "gear", Verdict.FAILING),
        ("clockwise", "true", "gear", Verdict.SOUND),
        ("anticlockwise", "", "gear", Verdict.UNKNOWN),
        ("anticlockwise", "true", "", Verdict.UNKNOWN),
    ],
)
def test_a_motor_made_for_one_way_may_not_be_turned_round(
    motor: str, both: str, reverse: str, verdict: Verdict
) -> None:
    said = turning({"motor": motor}, both=both, reverse=reverse)
    assert finding(said, "mounts.rotation_allowed").verdict is verdict


def test_a_way_nobody_looked_at_is_asked_for() -> None:
    said = finding(turning({"gearbox": ""}, both="true"), "mounts.rotation")
    assert said.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in said.lacks] == ["coupling.turning.gearbox"]
    assert "turn a wheel forward by hand" in said.lacks[0].how
    nothing = assessed({"coupling.run_out": RUN_OUT})
    assert "mounts.rotation" not in nothing.by_address


SHAFT_KEY = {"diameter": "28 mm", "width": "8 mm", "height": "3 mm", "length": "40 mm"}


@pytest.mark.parametrize(
    ("width", "verdict"),
    [
        ("8.02 mm ± 0.02, measured", Verdict.SOUND),
        ("7.94 mm ± 0.01, measured", Verdict.SOUND),
        ("9 mm ± 0.02, measured", Verdict.MARGINAL),
        ("unknown", Verdict.UNKNOWN),
    ],
)
def test_a_key_of_no_standard_size_is_said(width: str, verdict: Verdict) -> None:
    """DIN 6885-1: shafts over 22 mm up to 30 mm have keys of 8 x 7 mm, 4 mm deep in the shaft."""
    said = assessed({"coupling.key": {**SHAFT_KEY, "width": width}})
    assert finding(said, "mounts.key_size").verdict is verdict
    assert number(said, "mounts.key_width") == pytest.approx(8 * MM)
    assert number(said, "mounts.key_in_hub") == pytest.approx(3 * MM)


def test_a_shaft_thicker_than_the_table_says_so() -> None:
    said = finding(
        assessed({"coupling.key": {**SHAFT_KEY, "diameter": "125 mm"}}), "mounts.key_size"
    )
    assert said.verdict is Verdict.UNKNOWN
    assert said.lacks[0].path == "coupling.key.diameter"
    assert said.lacks[0].why == "125 mm is outside of the table here, 6 to 110 mm"
    # A shaft of 30 mm belongs to the smaller key, one of 30.01 mm to the next.
    assert number(
        assessed({"coupling.key": {**SHAFT_KEY, "diameter": "30 mm"}}), "mounts.key_width"
    ) == (pytest.approx(8 * MM))
    next_up = assessed({"coupling.key": {**SHAFT_KEY, "diameter": "30.01 mm"}})
    assert number(next_up, "mounts.key_width") == pytest.approx(10 * MM)


BOLTED = {"bolts": "6", "circle": "90 mm", "clamp": "30 kN"}


@pytest.mark.parametrize(
    ("bolt", "nominal"),
    # Shanks of M10 and 3/8 in, and the core of M10: 10 - 1.2269 * 1.5.
    [("9.95 mm", 10.0), ("9.5 mm", 9.525), ("8.16 mm", 8.160)],
)
def test_a_bolt_is_found_by_its_shank_or_by_its_core(bolt: str, nominal: float) -> None:
    said = finding(
        assessed({"coupling.flange": {**BOLTED, "bolt": f"{bolt} ± 0.02, measured"}}),
        "mounts.flange_bolt_size",
    )
    assert said.verdict is Verdict.SOUND
    off = float(bolt.removesuffix(" mm")) - nominal
    assert said.value.number == pytest.approx(off * MM, abs=1e-6)


def test_a_bolt_of_no_standard_names_the_two_nearest() -> None:
    said = finding(
        assessed({"coupling.flange": {**BOLTED, "bolt": "22.4 mm ± 0.02, measured"}}),
        "mounts.flange_bolt_size",
    )
    assert said.verdict is Verdict.UNKNOWN
    assert said.lacks[0].path == "coupling.flange.bolt"
    assert said.lacks[0].why == (
        "no bolt here measures 22.4 mm; nearest are shank of M20, 20 mm and shank of M20x1.5, 20 mm"
    )
