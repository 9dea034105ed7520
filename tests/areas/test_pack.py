"""The pack area on the small build made electric: numbers by hand in the comments.

96 cells in series, two in parallel, 3 to 4.2 V each; a cell of 2 mΩ, joints of 20 mΩ.
"""

from __future__ import annotations

import math

import pytest

from builders import ELECTRIC, assessed, electric, figure, number
from wattwright.areas import AREAS
from wattwright.assessment import Assessment

PACK = next(each for each in AREAS if each.name == "pack")
BARE = {"format": "1", "build.name": '"Bare"'}


@pytest.fixture(scope="module")
def small() -> Assessment:
    return electric()


# What is said once for each state of the pack.
POWERS = ("power@half", "power@low")
BY_STATE = ("open_circuit@half", "open_circuit@low", *POWERS)


def addresses(assessment: Assessment) -> list[str]:
    return [each.address for each in assessment.figures if each.declared in PACK.figures]


def lacks(assessment: Assessment, address: str) -> set[str]:
    return {lack.path for lack in figure(assessment, address).value.lacks}


def test_highest_and_lowest_voltage_are_cells_in_series_times_the_limit(small: Assessment) -> None:
    assert number(small, "pack.v_max") == pytest.approx(403.2)  # 96 * 4.2 V
    assert number(small, "pack.v_min") == pytest.approx(288.0)  # 96 * 3.0 V
    sixty = electric({"pack.series": '"60"'})
    assert number(sixty, "pack.v_max") == pytest.approx(252.0)
    assert number(sixty, "pack.v_min") == pytest.approx(180.0)


def test_resistance_warm_and_at_its_worst(small: Assessment) -> None:
    # 96 / 2 * 2 mΩ = 96 mΩ of cells; 20 mΩ of joints, which neither cold nor age changes.
    assert number(small, "pack.resistance") == pytest.approx(0.116)
    # 96 mΩ * 3 cold * 1.5 aged = 432 mΩ, and the joints
    assert number(small, "pack.resistance_worst") == pytest.approx(0.452)
    single = electric({"pack.parallel": '"1"'})
    assert number(single, "pack.resistance") == pytest.approx(0.212)
    assert number(single, "pack.resistance_worst") == pytest.approx(0.884)


def test_regeneration_lifts_the_full_pack_by_current_times_resistance(small: Assessment) -> None:
    # 403.2 V + 50 A * 0.452 Ω: cold and aged it is lifted most
    assert number(small, "pack.v_regen") == pytest.approx(425.8)
    milder = {"pack.cold_factor": '"1, datasheet"', "pack.age_factor": '"1, datasheet"'}
    assert number(electric(milder), "pack.v_regen") == pytest.approx(409.0)  # 50 A * 0.116 Ω


def test_where_no_regeneration_is_allowed_nothing_is_said_of_it() -> None:
    tapered = electric({"pack.regen_current_full": '"0 A"', "pack.joints": None})
    assert "pack.v_regen" not in tapered.by_address
    assert not any("window_regen" in address for address in tapered.by_address)
    perhaps = electric({"pack.regen_current_full": '"0 A ± 5, assumed"'})
    assert number(perhaps, "pack.v_regen") == pytest.approx(403.2)
    # 5 A * 0.452 Ω more at most
    assert figure(perhaps, "pack.v_regen").value.band == pytest.approx(2.26)


def test_bands_follow_the_cells(small: Assessment) -> None:
    measured = electric({"pack.charge_limit": '"4.2 V ± 0.01, measured"'})
    assert figure(measured, "pack.v_max").value.band == pytest.approx(0.96)
    assert figure(small, "pack.v_max").value.band == 0.0
    # a cell's ± 0.1 mΩ 48 times over, joints ± 1 mΩ
    warm = math.hypot(4.8e-3, 1e-3)
    assert figure(small, "pack.resistance").value.band == pytest.approx(warm)
    # cold and age make the cells' share four and a half times as wide
    worst = math.hypot(4.5 * 4.8e-3, 1e-3)
    assert figure(small, "pack.resistance_worst").value.band == pytest.approx(worst)
    # the rise alone has a band: 50 A through it
    assert figure(small, "pack.v_regen").value.band == pytest.approx(50 * worst)


@pytest.mark.parametrize(
    ("left_out", "asked_by"),
    [
        ("series", ("v_max", "v_regen", "v_min", "resistance", "resistance_worst", *BY_STATE)),
        ("cell_resistance", ("v_regen", "resistance", "resistance_worst", *POWERS)),
        ("joints", ("v_regen", "resistance", "resistance_worst", *POWERS)),
        ("regen_current_full", ("v_regen",)),
        ("cold_factor", ("v_regen", "resistance_worst", "power@low")),
        ("age_factor", ("v_regen", "resistance_worst", "power@low")),
        ("discharge_current", POWERS),
        ("chemistry", BY_STATE),
    ],
)
def test_what_is_left_out_is_asked_for_and_only_where_it_counts(
    left_out: str, asked_by: tuple[str, ...]
) -> None:
    assessment = electric({f"pack.{left_out}": None})
    for each in addresses(assessment):
        expected = {f"pack.{left_out}"} if each.removeprefix("pack.") in asked_by else set()
        assert lacks(assessment, each) == expected, each


def test_a_pack_alone_is_enough() -> None:
    own = {path: text for path, text in ELECTRIC.items() if path.startswith("pack.")}
    assessment = assessed(own, BARE)
    assert {each.declared for each in assessment.figures} == set(PACK.figures)
    assert number(assessment, "pack.v_regen") == pytest.approx(425.8)


def test_a_label_alone_does_not_begin_it() -> None:
    assessment = assessed({"pack.chemistry": '"NMC"'}, BARE)
    assert assessment.figures == ()
    begun = assessed({"pack.series": '"unknown"'}, BARE)
    assert {each.declared for each in begun.figures} == set(PACK.figures)


def test_everything_it_says_is_declared(small: Assessment) -> None:
    (report,) = [each for each in small.reports if each.area is PACK]
    assert report.findings == ()
    assert list(dict.fromkeys(each.declared for each in report.figures)) == list(PACK.figures)
    assert all(each.id.startswith("pack.") for each in PACK.figures)
