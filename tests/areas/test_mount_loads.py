"""Loads at the mounts of the unit that is taped with round numbers: by hand in the comments.

60 kg at the middle of its three mounts' plane: mounts at 0.7, 1.2 and 1.2 m back, 0 and ∓0.2 m
across, 0.4 m up; all equally stiff, so that their middle is 1.033 m back.
"""

from __future__ import annotations

import math

import pytest

from areas_loaded import loaded_build
from builders import figure, finding, number
from wattwright.assessment import Assessment, assess
from wattwright.findings import Verdict

G = 9.80665
MASS = 60.0


def loaded(changes: dict[str, str | None] | None = None) -> Assessment:
    return assess(loaded_build(changes))


@pytest.fixture(scope="module")
def whole() -> Assessment:
    return loaded()


def test_standing_each_mount_carries_a_third(whole: Assessment) -> None:
    for name in ("front", "left", "right"):
        assert number(whole, f"mounts.load_up@{name}/standing") == pytest.approx(-MASS * G / 3)
        assert number(whole, f"mounts.load_size@{name}/standing") == pytest.approx(MASS * G / 3)
        assert number(whole, f"mounts.load_up@{name}/bump") == pytest.approx(-4 * MASS * G / 3)
        assert number(whole, f"mounts.load_back@{name}/braking") == pytest.approx(-MASS * G / 3)


def test_driving_off_lifts_the_nose_by_the_torque_of_the_axle(whole: Assessment) -> None:
    # The drive's own load of one half-shaft, of two behind an open differential.
    half = number(whole, "drive.launch_torque@half_shaft")
    torque = 2 * half
    # Front mount 0.5 m before the two behind.
    up = number(whole, "mounts.load_up@front/driving off")
    assert up == pytest.approx(-MASS * G / 3 + torque / 0.5, rel=1e-6)
    back = number(whole, "mounts.load_up@left/driving off")
    assert back == pytest.approx(-MASS * G / 3 - torque / 1.0, rel=1e-6)
    behind = number(whole, "mounts.load_up@front/driving off backwards")
    assert behind == pytest.approx(-MASS * G / 3 - torque / 0.5, rel=1e-6)


def test_of_a_gearbox_along_the_vehicle_it_is_the_torque_of_its_output(whole: Assessment) -> None:
    along = loaded({"mounts.reacts": '"propshaft"'})
    torque = number(whole, "drive.launch_torque@propshaft")
    # About the length of the vehicle: 0.4 m between the two behind, nothing in front.
    for name, sign in (("left", -1), ("right", 1)):
        up = number(along, f"mounts.load_up@{name}/driving off")
        assert up == pytest.approx(-MASS * G / 3 + sign * torque / 0.4, rel=1e-6)


def test_the_worst_case_of_each_mount_is_judged_and_named(whole: Assessment) -> None:
    worst = [each for each in whole.findings if each.check.id == "mounts.load"]
    assert len(worst) == 3
    for each in worst:
        name, _, case = each.about.partition("/")
        sizes = {
            said.about: said.value.number
            for said in whole.figures
            if said.declared.id == "mounts.load_size"
            and said.about.startswith(f"{name}/")
            and "crash" not in said.about
        }
        assert each.value.number == max(sizes.values())
        assert "fault" in case
    failing = loaded({"mounts.mount.front.rated": '"900 N, datasheet"'})
    (front,) = [f for f in failing.findings if f.about.startswith("front/inverter")]
    assert front.verdict is Verdict.FAILING


def test_what_the_rules_do_not_say_yet_is_unknown() -> None:
    found = loaded()
    (front,) = [f for f in found.findings if f.address.startswith("mounts.crash_load@front")]
    assert front.verdict is Verdict.UNKNOWN
    assert {lack.path.partition(".")[0] for lack in front.lacks} == {"rules"}
    answered = {
        f"rules.restraint_{way}.{field}": text
        for way in ("forward", "rearward", "sideways", "upward")
        for field, text in (
            ("value", '"20 g"' if way == "forward" else '"8 g"'),
            ("date", '"2026-03-14"'),
            ("answered_by", '"engineer"'),
        )
    }
    (front,) = [
        f for f in loaded(answered).findings if f.address.startswith("mounts.crash_load@front")
    ]
    assert front.about == "front/crash, from the front"
    size = math.hypot(20 * MASS * G / 3, MASS * G / 3)
    assert front.value.number == pytest.approx(size, rel=1e-6)
    assert front.verdict is Verdict.SOUND


def test_stiffness_that_is_only_usual_makes_it_provisional_and_widens_its_band() -> None:
    # With the nose higher than the others a moment across pulls along the vehicle too, and how
    # that is shared follows from the stiffness.
    higher = {"survey.point.nose.at.z": '"0.2 m ± 0.001, measured"'}
    unsaid = {f"mounts.mount.{n}.stiffness": None for n in ("front", "left", "right")}
    usual = loaded({**higher, **unsaid})
    (front,) = [f for f in usual.findings if f.address.startswith("mounts.load@front")]
    assert front.provisional
    paths = {origin.path for origin, _ in front.rests_on}
    assert "mounts.mount.left.stiffness" in paths
    back = "mounts.load_back@front/braking"
    assert figure(usual, back).value.band > figure(loaded(higher), back).value.band


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"mounts.unit": None}, "mounts.unit"),
        ({"part.motor.mass": None}, "part.motor.mass"),
        ({"survey.point.nose.at.x": None}, "survey.adjusted"),
        ({"mounts.mount.front.rated": None}, "mounts.mount.front.rated"),
    ],
)
def test_what_is_missing_is_named(changes: dict[str, str | None], path: str) -> None:
    found = loaded(changes)
    (front,) = [f for f in found.findings if f.address.startswith("mounts.load@front")]
    assert front.verdict is Verdict.UNKNOWN
    assert path in {lack.path for lack in front.lacks}


def test_mounts_that_hold_no_moment_say_so() -> None:
    changes: dict[str, str | None] = {
        f"survey.point.{name}.at.y": '"0 m ± 0.001, measured"'
        for name in ("back_left", "back_right", "left_hole", "right_hole")
    }
    found = loaded({**changes, "survey.point.back_left.at.z": '"0.1 m ± 0.001, measured"'})
    (front,) = [f for f in found.findings if f.address.startswith("mounts.load@front")]
    assert any("one line" in lack.why for lack in front.lacks)
    assert finding(found, front.address).verdict is Verdict.UNKNOWN
