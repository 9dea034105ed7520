"""The adaptor plate: places from datum B, tolerances from run-out and bolts, what is asked for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from couplings import finding, number
from plates import GEARBOX, MOTOR, plated
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Verdict
from wattwright.values import State

MM = 1e-3


def test_every_hole_is_where_it_was_put_and_the_motors_holes_are_mirrored() -> None:
    said = plated()
    for face, places in (("motor", MOTOR), ("gearbox", GEARBOX)):
        for name, (x, y) in places.items():
            assert number(said, f"mounts.adaptor_x@{face}/{name}") == pytest.approx(
                x * MM, abs=1e-8
            )
            assert number(said, f"mounts.adaptor_y@{face}/{name}") == pytest.approx(
                y * MM, abs=1e-8
            )


@settings(max_examples=15, deadline=None)
@given(
    st.floats(-180.0, 180.0),
    st.floats(-50.0, 50.0),
    st.floats(-50.0, 50.0),
    st.sampled_from(["to the motor", "to the gearbox"]),
)
def test_a_pattern_laid_askew_keeps_its_distances_and_turns_over_for_the_motor(
    turn: float, x: float, y: float, looking: str
) -> None:
    laid = {
        "x": f"{x:.4f} mm ± 0, measured",
        "y": f"{y:.4f} mm ± 0, measured",
        "turn": f"{turn:.4f}° ± 0, measured",
        "looking": looking,
    }
    said = plated({"coupling.adaptor.gearbox_holes": laid})
    at = {
        name: tuple(number(said, f"mounts.adaptor_{axis}@gearbox/{name}") for axis in "xy")
        for name in GEARBOX
    }
    assert at["1"] == pytest.approx((round(x, 4) * MM, round(y, 4) * MM), abs=1e-8)
    along = math.atan2(at["2"][1] - at["1"][1], at["2"][0] - at["1"][0])
    assert math.cos(along - math.radians(round(turn, 4))) == pytest.approx(1.0)
    for one in GEARBOX:
        for two in GEARBOX:
            true = math.dist(GEARBOX[one], GEARBOX[two]) * MM
            assert math.dist(at[one], at[two]) == pytest.approx(true, abs=1e-7)
    # The way round three holes: to the left as they were put, to the right where turned over.
    way = (at["2"][0] - at["1"][0]) * (at["3"][1] - at["1"][1]) - (at["2"][1] - at["1"][1]) * (
        at["3"][0] - at["1"][0]
    )
    assert (way > 0.0) is (looking == "to the gearbox")


def test_run_out_that_the_coupler_leaves_is_shared() -> None:
    """0.05 mm less 0.02 mm, half each: 0.015 mm, and 0.015 mm · 100 mm / 50 mm."""
    said = plated()
    assert number(said, "mounts.adaptor_left") == pytest.approx(0.03 * MM)
    assert number(said, "mounts.adaptor_coaxiality") == pytest.approx(0.015 * MM)
    assert number(said, "mounts.adaptor_parallelism") == pytest.approx(0.030 * MM)
    assert finding(said, "mounts.adaptor_used").verdict is Verdict.SOUND
    # A third for the face: 0.02 mm, and 0.01 mm · 2.
    third = plated({"coupling.adaptor": {"face_share": "33.333333 %"}})
    assert number(third, "mounts.adaptor_coaxiality") == pytest.approx(0.020 * MM, rel=1e-6)
    assert number(third, "mounts.adaptor_parallelism") == pytest.approx(0.020 * MM, rel=1e-6)


def test_a_coupler_that_uses_it_up_fails_and_leaves_no_tolerance() -> None:
    said = plated({"coupling.run_out": {"flange": "0.06 mm ± 0, measured"}})
    assert finding(said, "mounts.adaptor_used").verdict is Verdict.FAILING
    assert number(said, "mounts.adaptor_left") == pytest.approx(-0.01 * MM)
    coaxiality = said.by_address["mounts.adaptor_coaxiality"].value
    assert coaxiality.number is None
    assert "the coupler alone uses up the run-out allowed" in coaxiality.lacks[0].why
    assert finding(said, "mounts.adaptor_dowel@gearbox/5").verdict is Verdict.UNKNOWN


def test_without_a_coupler_to_run_out_all_of_it_is_left() -> None:
    said = plated({"coupling.run_out": {"flange": "none", "face": "none"}})
    assert number(said, "mounts.adaptor_left") == pytest.approx(0.05 * MM)
    assert said.by_address["mounts.adaptor_parallelism"].value.state is State.NONE


def test_a_reading_that_is_missing_travels() -> None:
    said = plated({"coupling.run_out": {"flange": "unknown", "reach": None}})
    assert finding(said, "mounts.adaptor_used").verdict is Verdict.UNKNOWN
    lacks = said.by_address["mounts.adaptor_parallelism"].value.lacks
    assert {lack.path for lack in lacks} == {"coupling.run_out.flange", "coupling.run_out.reach"}


def test_bolts_say_what_their_holes_may_be_off() -> None:
    """Thread in the motor: (11 - 10)/2; thread in the plate, 13 mm in the housing: (13 - 12)/2.

    Clearance in both: 11 - 10, of 11 mm in the motor.
    """
    said = plated({"pattern.motor_face.hole.2": {"diameter": "11 mm ± 0, measured"}})
    close = pytest.approx
    assert number(said, "mounts.adaptor_position@motor/1") == close(0.5 * MM, rel=1e-3)
    assert number(said, "mounts.adaptor_position@gearbox/1") == close(0.5 * MM, rel=1e-3)
    assert number(said, "mounts.adaptor_position@motor/2") == close(1.0 * MM, rel=1e-3)


def test_a_place_that_is_badly_known_takes_from_the_tolerance() -> None:
    """The pattern may lie 0.3 mm off along x: of 1 mm between 11 mm and 10 mm, 0.4 mm is left."""
    said = plated({"coupling.adaptor.motor_holes": {"x": "50 mm ± 0.3, measured"}})
    assert number(said, "mounts.adaptor_position@motor/1") == pytest.approx(0.4 * MM, abs=0.01 * MM)


def test_a_hole_of_the_other_part_that_nobody_measured_is_asked_for() -> None:
    said = plated({"pattern.motor_face.hole.1": {"diameter": None}})
    zone = said.by_address["mounts.adaptor_position@motor/1"].value
    assert zone.number is None
    assert "pattern.motor_face.hole.1.diameter" in {lack.path for lack in zone.lacks}


def test_dowels_are_held_against_the_run_out_and_against_how_well_their_place_is_known() -> None:
    said = plated()
    assert finding(said, "mounts.adaptor_dowel@gearbox/5").verdict is Verdict.SOUND
    assert finding(said, "mounts.adaptor_place@gearbox/5").verdict is Verdict.SOUND
    wide = plated({"coupling.adaptor": {"dowel_position": "0.02 mm"}})
    assert finding(wide, "mounts.adaptor_dowel@gearbox/5").verdict is Verdict.FAILING
    loose = plated({"coupling.adaptor.gearbox_holes": {"y": "-90 mm ± 0.05, measured"}})
    known = finding(loose, "mounts.adaptor_place@gearbox/5")
    assert known.value.number == pytest.approx(0.10 * MM, rel=0.01)
    assert known.verdict is Verdict.MARGINAL
    assert "mounts.adaptor_place@gearbox/1" not in said.by_address
    assert "mounts.adaptor_place@spigot" not in said.by_address


def test_what_stands_on_the_axis_is_held_coaxial_and_the_datum_to_nothing() -> None:
    pilot = {"fit": "dowel", "face": "gearbox", "x": "0 mm", "y": "0 mm", "depth": "5 mm"}
    said = plated({"coupling.adaptor.feature.pilot": pilot})
    assert number(said, "mounts.adaptor_position@pilot") == pytest.approx(0.015 * MM)
    assert "mounts.adaptor_position@spigot" not in said.by_address
    holes = said.descriptions[MountsDescription].adaptor.holes
    assert holes["pilot"].centres
    assert holes["spigot"].is_datum


def test_a_view_that_nobody_stated_leaves_places_unknown() -> None:
    said = plated({"coupling.adaptor.motor_holes": {"looking": None}})
    lacks = said.by_address["mounts.adaptor_x@motor/1"].value.lacks
    assert [lack.path for lack in lacks] == ["coupling.adaptor.motor_holes.looking"]


def test_holes_that_are_not_cut_are_not_there() -> None:
    said = plated({"pattern.motor_face.hole.1": {"drill": "none"}})
    assert "mounts.adaptor_x@motor/1" not in said.by_address


def test_a_thread_in_the_new_part_is_held_by_the_other_parts_hole() -> None:
    """13 mm in the housing; 10.2 mm, the core of the thread, would never take a bolt of 12 mm."""
    about = "mounts.pattern_hole@housing/1"
    said = plated({"pattern.housing": {"drilled_within": "0.1 mm ± 0.01, measured"}})
    assert finding(said, about).value.number == pytest.approx(13.0 * MM)
    assert finding(said, about).verdict is Verdict.SOUND
    assert "mounts.pattern_hole@housing/5" not in said.by_address


def test_without_a_plate_nothing_is_said_of_one() -> None:
    without = {
        "coupling.adaptor": None,
        "coupling.adaptor.feature.spigot": None,
        "coupling.adaptor.motor_holes": None,
        "coupling.adaptor.gearbox_holes": None,
    }
    assert not [name for name in plated(without).by_address if "adaptor" in name]
