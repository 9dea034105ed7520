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


# -------------------------------------------------------------------- the states a drive works in


def test_voltage_at_rest_by_charge_is_read_off_the_table(small: Assessment) -> None:
    # NMC: 3.7155 V half charged, 3.5847 V at a fifth; ± 0.05 V a cell between makes
    for word, cell in (("half", 3.7155), ("low", 3.5847)):
        value = figure(small, f"pack.open_circuit@{word}").value
        assert value.number == pytest.approx(96 * cell)
        assert value.band == pytest.approx(96 * 0.05)
    # 12.5 % lies halfway from 3.5107 V to 3.5395 V.
    lower = electric({"pack.low_charge": '"12.5 %"'})
    assert number(lower, "pack.open_circuit@low") == pytest.approx(96 * (3.5107 + 3.5395) / 2)
    assert number(lower, "pack.open_circuit@half") == pytest.approx(96 * 3.7155)


@pytest.mark.parametrize("written", ["nmc", " NMC ", "Nmc"])
def test_a_chemistry_is_read_however_it_is_written(small: Assessment, written: str) -> None:
    other = electric({"pack.chemistry": f'"{written}"'})
    for address in ("pack.open_circuit@half", "pack.power@low"):
        assert number(other, address) == number(small, address)


def test_a_chemistry_no_table_knows_names_those_that_are_known() -> None:
    odd = electric({"pack.chemistry": '"lead"'})
    (lack,) = figure(odd, "pack.open_circuit@half").value.lacks
    assert lack.path == "pack.chemistry"
    assert "'lead'" in lack.why
    assert "NMC" in lack.why


def test_power_is_what_current_and_lowest_voltage_leave(small: Assessment) -> None:
    # Half charged 400 A are allowed: 400 A * (356.688 - 46.4) V = 124.1 kW
    assert number(small, "pack.power@half") == pytest.approx(400 * (356.688 - 400 * 0.116))
    # Nearly empty 3 V a cell come first: (344.131 - 288) V/0.452 Ω = 124.18 A, 35.8 kW
    assert number(small, "pack.power@low") == pytest.approx(288 * (344.1312 - 288) / 0.452)
    # A lowest voltage below half of the one at rest counts for nothing: there a source gives most.
    deep = electric({"pack.discharge_limit": '"1 V, datasheet"', "pack.cell_resistance": '"9 mΩ"'})
    worst = number(deep, "pack.resistance_worst")
    most = 344.1312**2 / 4 / worst
    assert 344.1312 / 2 / worst < 400
    assert number(deep, "pack.power@low") == pytest.approx(most)


def test_limits_nobody_gave_are_those_usual_for_the_chemistry() -> None:
    bare = electric({"pack.charge_limit": None, "pack.discharge_limit": None})
    # NMC: 4.2 V and, lowest of what cells bear, 2.5 V
    assert number(bare, "pack.v_max") == pytest.approx(96 * 4.2)
    assert number(bare, "pack.v_min") == pytest.approx(96 * 2.5)
    for address in ("v_max", "v_min"):
        effects = figure(bare, f"pack.{address}").value.effects
        (origin,) = [each for each in effects if each.path.endswith("_limit")]
        assert origin.soft
        assert "data sheet" in origin.how
    assert all(
        each.provisional for each in bare.findings if each.check.id.startswith("drive.window")
    )


@pytest.mark.parametrize(
    ("chemistry", "asked", "known"),
    # LFP's upper limit is only from memory, so it must be found out; its lower one is not.
    [("LFP", {"pack.charge_limit"}, "v_min"), ("LMO", {"pack.charge_limit"}, None)],
)
def test_limits_known_only_from_memory_are_asked_for(
    chemistry: str, asked: set[str], known: str | None
) -> None:
    bare = electric(
        {
            "pack.chemistry": f'"{chemistry}"',
            "pack.charge_limit": None,
            "pack.discharge_limit": None,
        }
    )
    assert lacks(bare, "pack.v_max") == asked
    if known:
        assert number(bare, f"pack.{known}") == pytest.approx(96 * 2.0)
    else:
        assert lacks(bare, "pack.v_min") == {"pack.discharge_limit"}


def test_a_limit_that_is_typed_goes_before_the_usual_one() -> None:
    assert number(electric({"pack.charge_limit": '"4.1 V"'}), "pack.v_max") == pytest.approx(393.6)
