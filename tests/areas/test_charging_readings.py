"""Readings of the inlet: which there are, what is missing, what is no code, what bands come to."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from builders import opened
from wattwright.areas.charging import reading_checks as checks
from wattwright.areas.charging.readings import describe_readings, judge_readings
from wattwright.findings import Figure, Finding, Verdict

INLET: dict[str, str | None] = {
    "charging.inlet.kind": '"type_2"',
    "charging.inlet.pilot_plugged": '"2740 Ω ± 0, measured"',
    "charging.inlet.pilot_asking": '"1300 Ω ± 0, measured"',
    "charging.inlet.diode": '"0.7 V ± 0, measured"',
    "charging.inlet.earth": '"40 mΩ ± 5, measured"',
    "supply_box.barn.pilot": '"16 A"',
    "supply_box.barn.coding": '"220 Ω ± 2, measured"',
}


def said(changes: Mapping[str, str | None] | None = None) -> dict[str, Finding | Figure]:
    build = opened({**INLET, **(changes or {})}).build
    found = describe_readings(build.charging.inlet, build.supply_box)
    return {each.address: each for each in judge_readings(found)}


def number(all_said: dict[str, Finding | Figure], address: str) -> float:
    found = all_said[address].value.number
    assert found is not None, address
    return found


def finding(all_said: dict[str, Finding | Figure], address: str) -> Finding:
    found = all_said[address]
    assert isinstance(found, Finding)
    return found


def test_every_reading_of_type_2_is_there_once_and_declared() -> None:
    build = opened(INLET).build
    found = list(judge_readings(describe_readings(build.charging.inlet, build.supply_box)))
    addresses = [each.address for each in found]
    assert len(addresses) == len(set(addresses))
    assert set(addresses) == {
        "charging.bonding",
        *(f"charging.pilot_levels@{level}" for level in ("plugged", "asking", "low")),
        *(f"charging.pilot_ohms@{state}" for state in ("plugged", "asking")),
        *(f"charging.pilot_high@{state}" for state in ("alone", "plugged", "asking")),
        "charging.pilot_low@with_diode",
        *(f"charging.pilot_low_no_diode@{state}" for state in ("plugged", "asking")),
        "charging.pilot_duty@barn",
        *(f"charging.pilot_meter@barn/{state}" for state in ("plugged", "asking")),
        "charging.coding_current@barn",
    }
    for each in found:
        if isinstance(each, Finding):
            assert each.check in checks.CHECKS
        else:
            assert each.declared in checks.FIGURES


def test_numbers_by_hand() -> None:
    all_said = said()
    for address, by_hand in {
        "pilot_ohms@plugged": 2740.0,
        "pilot_ohms@asking": 881.7,
        "pilot_high@alone": 12.0,
        "pilot_high@plugged": 8.979,
        "pilot_high@asking": 5.995,
        "pilot_low@with_diode": -12.0,
        "pilot_low_no_diode@plugged": -8.791,
        "pilot_low_no_diode@asking": -5.623,
        "pilot_duty@barn": 0.26667,
        # 4/15 of the level less 11/15 of 12 V
        "pilot_meter@barn/plugged": -6.406,
        "pilot_meter@barn/asking": -7.201,
        "coding_current@barn": 32.0,
    }.items():
        assert number(all_said, f"charging.{address}") == pytest.approx(by_hand, rel=2e-4), address


def test_bands_of_resistors_carry_through() -> None:
    exact, loose = said(), said({"charging.inlet.pilot_plugged": '"2740 Ω ± 82, measured"'})
    address = "charging.pilot_high@plugged"
    # The steeper side, beside what the box brings: 0.7 V + 11.3 V · 2658/3658 is 0.0677 V less.
    added = loose[address].value.band ** 2 - exact[address].value.band ** 2
    assert added**0.5 == pytest.approx(0.0677, rel=0.002)
    assert exact["charging.pilot_ohms@asking"].value.band == 0.0


def test_levels_as_they_should_be_are_sound_and_rest_on_what_a_box_usually_feeds() -> None:
    for level in ("plugged", "asking", "low"):
        found = finding(said(), f"charging.pilot_levels@{level}")
        assert found.verdict is Verdict.SOUND
        assert found.provisional


@pytest.mark.parametrize(
    ("changes", "failing"),
    [
        # 0.7 V + 11.3 V · 0.7/1.7 = 5.4 V plugged in; asking less still
        ({"charging.inlet.pilot_plugged": '"700 Ω, measured"'}, {"plugged", "asking"}),
        # 2740 Ω beside 10 kΩ are 2151 Ω: 8.4 V, which no box takes for asking
        ({"charging.inlet.pilot_asking": '"10 kΩ, measured"'}, {"asking"}),
        ({"charging.inlet.diode": '"none"'}, {"low"}),
    ],
    ids=["small", "large", "no diode"],
)
def test_a_level_that_the_box_does_not_take_fails(
    changes: dict[str, str | None], failing: set[str]
) -> None:
    all_said = said(changes)
    found = {
        level
        for level in ("plugged", "asking", "low")
        if finding(all_said, f"charging.pilot_levels@{level}").verdict is Verdict.FAILING
    }
    assert found == failing


def test_without_a_diode_there_is_no_level_with_it_and_the_mean_is_another() -> None:
    all_said = said({"charging.inlet.diode": '"none"'})
    assert all_said["charging.pilot_low@with_diode"].value.absent
    # 12 V · 2740/3740 = 8.791 V up and down: (4/15 - 11/15) of it
    mean = number(all_said, "charging.pilot_meter@barn/plugged")
    assert mean == pytest.approx(-8.791 * 7 / 15, rel=1e-3)


def test_what_is_not_known_travels() -> None:
    all_said = said({"charging.inlet.pilot_plugged": '"unknown"', "supply_box.barn.pilot": None})
    for address in ("pilot_high@plugged", "pilot_ohms@asking", "pilot_levels@asking"):
        lacks = all_said[f"charging.{address}"].value.lacks
        assert [lack.path for lack in lacks] == ["charging.inlet.pilot_plugged"]
    mean = all_said["charging.pilot_meter@barn/asking"].value.lacks
    assert {each.path for each in mean} == {
        "supply_box.barn.pilot",
        "charging.inlet.pilot_plugged",
    }
    found = finding(all_said, "charging.pilot_levels@plugged")
    assert found.verdict is Verdict.UNKNOWN
    earth = finding(said({"charging.inlet.earth": None}), "charging.bonding")
    assert earth.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in earth.lacks] == ["charging.inlet.earth"]


@pytest.mark.parametrize(
    ("earth", "verdict"),
    [
        ("40 mΩ ± 5, measured", Verdict.SOUND),
        ("95 mΩ ± 1, measured", Verdict.MARGINAL),
        ("60 mΩ ± 50, measured", Verdict.MARGINAL),
        ("120 mΩ ± 1, measured", Verdict.FAILING),
        # A hand-held ohmmeter cannot tell.
        ("0.1 Ω ± 0.3, measured", Verdict.UNKNOWN),
    ],
)
def test_the_earth_of_the_inlet(earth: str, verdict: Verdict) -> None:
    found = finding(said({"charging.inlet.earth": f'"{earth}"'}), "charging.bonding")
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("typed", "amperes"),
    [("100 Ω", 63), ("214 Ω ± 1, measured", 32), ("700 Ω, measured", 20), ("1.5 kΩ, measured", 13)],
)
def test_a_resistor_near_a_code_stands_for_its_current(typed: str, amperes: float) -> None:
    found = said({"supply_box.barn.coding": f'"{typed}"'})["charging.coding_current@barn"].value
    assert found.number == amperes
    assert found.band == 0.0
    assert not found.doubts


@pytest.mark.parametrize(
    ("typed", "names"),
    [
        (
            "450 Ω ± 5, measured",
            [
                *("450 Ω is the resistor of no code", "220 Ω for 32 A"),
                *("150 Ω to 330 Ω", "680 Ω for 20 A", "330 Ω to 1000 Ω"),
            ],
        ),
        ("240 Ω ± 1, measured", ["above 220 Ω for 32 A", "below 680 Ω for 20 A"]),
        ("60 Ω ± 1, measured", ["below 100 Ω for 63 A (taken from 75 Ω to 150 Ω)"]),
        ("4 kΩ ± 10 Ω, measured", ["above 1500 Ω for 13 A (taken from 1000 Ω to 2200 Ω)"]),
    ],
)
def test_a_resistor_between_codes_is_no_current_and_names_its_neighbours(
    typed: str, names: list[str]
) -> None:
    found = said({"supply_box.barn.coding": f'"{typed}"'})["charging.coding_current@barn"].value
    (lack,) = found.lacks
    assert lack.path == "supply_box.barn.coding"
    assert "ohmmeter" in lack.how
    for name in names:
        assert name in lack.why


def test_what_a_cable_is_coded_for_hangs_on_the_kind_of_inlet() -> None:
    address = "charging.coding_current@barn"
    (lack,) = said({"charging.inlet.kind": None})[address].value.lacks
    assert lack.path == "charging.inlet.kind"
    (lack,) = said({"supply_box.barn.coding": None})[address].value.lacks
    assert (lack.path, lack.why) == ("supply_box.barn.coding", "not given")
    assert address not in said({"charging.inlet.kind": '"type_1"'})
    assert address not in said({"supply_box.barn.coding": '"none"'})


def test_type_1_reads_ohms_and_volts_of_its_proximity() -> None:
    all_said = said({"charging.inlet.kind": '"type_1"'})
    for where, ohms, volts in (
        ("open", 2700.0, 4.455),
        ("pressed", 480.0, 2.763),
        ("latched", 150.0, 1.505),
    ):
        assert number(all_said, f"charging.proximity_ohms@{where}") == pytest.approx(ohms)
        found = number(all_said, f"charging.proximity_volts@{where}")
        assert found == pytest.approx(volts, rel=5e-4)


def test_an_inlet_without_a_pilot_has_its_earth_alone() -> None:
    assert list(said({"charging.inlet.kind": '"industrial"'})) == ["charging.bonding"]
