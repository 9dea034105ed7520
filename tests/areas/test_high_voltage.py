"""The high-voltage area on a traction cable of 35 mm²: what follows by hand is in the comments.

0.554 mΩ for each metre at 20 °C, 0.393 % more for each kelvin; the pack has 403.2 V full, 288 V
empty and 116 mΩ warm.
"""

from __future__ import annotations

import pytest

from builders import figure, finding, number
from cabled import cabled, cabled_build
from wattwright.areas import AREAS
from wattwright.areas.traction import branch_fuses
from wattwright.assessment import assess
from wattwright.build.reader import parse_build
from wattwright.findings import Verdict

ICE = 273.15
PER_METRE = 0.554e-3


def needs(found, address: str) -> set[str]:
    return {lack.path for lack in finding(found, address).lacks}


def hot(kelvin: float) -> float:
    return PER_METRE * (1 + 0.00393 * (kelvin - ICE - 20.0))


def test_drop_heat_and_lugs_follow_from_the_hot_resistance() -> None:
    found = cabled()
    warm = number(found, "high_voltage.warm@traction")
    assert ICE + 40 < warm < ICE + 90
    lost = 150.0 * 2 * 2.0 * hot(warm)
    assert number(found, "high_voltage.lost_voltage@traction") == pytest.approx(lost)
    assert number(found, "high_voltage.drop@traction") == pytest.approx(lost / 288.0)
    assert number(found, "high_voltage.heat@traction") == pytest.approx(150.0 * lost)
    # 150² · 20 µΩ
    assert number(found, "high_voltage.lug_heat@traction") == pytest.approx(0.45)
    # 403.2 V over 116 mΩ and 2 · 2 m · 0.554 mΩ/m
    assert number(found, "high_voltage.fault@traction") == pytest.approx(403.2 / 0.118216)


def test_what_is_warm_enough_is_warm_at_exactly_what_it_allows() -> None:
    found = cabled()
    allowed = finding(found, "high_voltage.current@traction").limit.number
    assert allowed is not None
    again = cabled({"part.traction.carries": f'"{allowed:.6f} A, datasheet"'})
    assert number(again, "high_voltage.temperature@traction") == pytest.approx(ICE + 90, abs=0.01)


def test_every_limit_is_held() -> None:
    found = cabled()
    for check, verdict in (
        ("temperature", Verdict.SOUND),
        ("current", Verdict.SOUND),
        ("drop", Verdict.SOUND),
        ("rated_voltage", Verdict.SOUND),
        ("fuse_carries", Verdict.SOUND),
        ("fuse_breaks", Verdict.SOUND),
        ("short_circuit", Verdict.SOUND),
        # The curve begins at 2000 A, and the cable burns slowly from some 300 A on.
        ("fuse_reach", Verdict.FAILING),
        ("clips", Verdict.SOUND),
    ):
        assert finding(found, f"high_voltage.{check}@traction").verdict is verdict, check
    assert "high_voltage.fuse_rating@traction" not in found.by_address
    # Four times 10.5 mm are wanted, by common practice.
    bend = finding(found, "high_voltage.bend@traction")
    assert bend.limit.number == pytest.approx(0.042)
    assert bend.provisional
    shielded = cabled({"part.traction.shield": '"both_ends"'})
    assert finding(shielded, "high_voltage.bend@traction").verdict is Verdict.FAILING


@pytest.mark.parametrize(
    ("change", "check"),
    [
        ({"part.traction.carries": '"500 A, datasheet"'}, "current"),
        ({"part.traction.carries": '"240 A, datasheet"'}, "fuse_carries"),
        ({"part.traction.rated_voltage": '"300 V, datasheet"'}, "rated_voltage"),
        ({"part.main.breaks": '"3 kA, datasheet"'}, "fuse_breaks"),
        ({"part.traction.wire.length": '"40 m ± 0, measured"'}, "drop"),
        ({"part.traction.bend": '"20 mm ± 0, measured"'}, "bend"),
        ({"part.traction.clips": '"700 mm ± 0, measured"'}, "clips"),
        ({"part.traction.wire.section": '"4 mm², datasheet"'}, "short_circuit"),
        ({"part.traction.warmest": '"85 °C ± 0, measured"'}, "temperature"),
    ],
)
def test_each_check_can_fail(change: dict[str, str | None], check: str) -> None:
    said = finding(cabled(change), f"high_voltage.{check}@traction")
    assert said.verdict is Verdict.FAILING


def test_without_its_curve_a_fuse_is_held_against_what_the_cable_carries() -> None:
    plain = {"part.main.opening_curve": None}
    said = finding(cabled(plain), "high_voltage.fuse_rating@traction")
    assert said.value.number == pytest.approx(200.0)
    large = cabled({**plain, "part.main.current": '"400 A, datasheet"'})
    assert finding(large, "high_voltage.fuse_rating@traction").verdict is Verdict.FAILING
    assert needs(large, "high_voltage.short_circuit@traction") == {"part.main.opening_curve"}
    assert "high_voltage.fuse_curve@traction" not in large.by_address


def test_a_cable_without_a_fuse_is_unknown_and_asks_for_it() -> None:
    found = cabled({"part.traction.fuse": None})
    said = finding(found, "high_voltage.fuse_rating@traction")
    assert said.verdict is Verdict.UNKNOWN
    assert needs(found, "high_voltage.fuse_rating@traction") == {"part.traction.fuse"}


def test_what_is_removed_protects_nothing_and_keeps_nothing() -> None:
    removed = cabled({"part.main.state": '"removed"'})
    assert "high_voltage.fuse_curve@traction" not in removed.by_address
    (lack,) = finding(removed, "high_voltage.fuse_rating@traction").lacks
    assert (lack.path, lack.why) == ("part.traction.fuse", "main is removed")
    kept = {
        **SHORT,
        "part.traction.kept_by": '"main"',
        "part.traction.peak_time": '"5 s, datasheet"',
    }
    address = "high_voltage.peak@traction"
    assert finding(cabled(kept), address).verdict in (Verdict.SOUND, Verdict.MARGINAL)
    assert needs(cabled({**kept, "part.main.state": '"removed"'}), address) == {
        "part.traction.kept_by"
    }


def test_a_fuse_that_only_a_removed_branch_names_carries_the_traction_current() -> None:
    branch = {"part.traction.ends": '"charger"', "part.charger.kind": '"charger"'}
    parts = cabled_build(branch).build.part
    assert branch_fuses(parts) == {"main"}
    removed = cabled_build({**branch, "part.traction.state": '"removed"'}).build.part
    assert not branch_fuses(removed)


def test_a_curve_that_ends_below_the_short_circuit_asks_for_one_more_point() -> None:
    found = cabled(curve="current (A), time (s)\n2000, 4\n3000, 1.8\n")
    said = finding(found, "high_voltage.short_circuit@traction")
    assert said.verdict is Verdict.UNKNOWN
    (lack,) = said.lacks
    assert lack.path == "part.main.opening_curve"
    assert "ends at 3000 A, and the short circuit gives 3411 A" in lack.why


SHORT = {"part.traction.peak": '"600 A, datasheet"', "part.traction.carries": '"100 A, datasheet"'}


def test_a_thin_cable_passes_its_peak_only_where_something_is_named_that_keeps_it() -> None:
    address = "high_voltage.peak@traction"
    assert needs(cabled(SHORT), address) == {"part.traction.kept_by"}
    kept = {**SHORT, "part.traction.kept_by": '"inverter"'}
    assert needs(cabled(kept), address) == {"part.traction.peak_time"}
    timed = finding(cabled({**kept, "part.traction.peak_time": '"5 s, datasheet"'}), address)
    assert timed.verdict in (Verdict.SOUND, Verdict.MARGINAL)
    long = finding(cabled({**kept, "part.traction.peak_time": '"60 s, datasheet"'}), address)
    assert long.verdict is Verdict.FAILING
    ages = finding(cabled({**kept, "part.traction.peak_time": '"1 h, datasheet"'}), address)
    assert ages.verdict is Verdict.FAILING


def test_a_cable_that_carries_its_peak_for_hours_needs_no_keeper() -> None:
    said = finding(
        cabled({"part.traction.peak": '"160 A, datasheet"'}), "high_voltage.peak@traction"
    )
    assert said.value.number is not None
    warm = number(cabled(), "high_voltage.warm@traction")
    assert said.value.number > warm
    assert "high_voltage.peak@traction" not in cabled().by_address
    # Nothing typed: what the battery management allows, 400 A.
    assert needs(cabled({"part.traction.peak": None}), "high_voltage.peak@traction") == {
        "part.traction.kept_by"
    }


def test_the_peak_is_higher_the_longer_it_lasts_and_comes_to_that_for_hours() -> None:
    def reached(time: str) -> float:
        kept = {
            "part.traction.kept_by": '"main"',
            "part.traction.peak_time": f'"{time}, datasheet"',
        }
        peak = {"part.traction.peak": '"260 A, datasheet"', **kept}
        return number(cabled(peak), "high_voltage.peak@traction")

    times = ("1 s", "10 s", "50 s", "5 min", "20 min", "1 h")
    found = [reached(time) for time in times]
    assert found == sorted(found)
    hours = cabled({"part.traction.carries": '"260 A, datasheet"'})
    assert found[-1] == pytest.approx(number(hours, "high_voltage.warm@traction"), abs=1.0)


CHARGING = {
    "part.traction.ends": '"charger"',
    "part.traction.carries": None,
    "part.traction.peak": None,
}


def test_a_cable_to_a_device_carries_what_the_device_draws() -> None:
    asked = cabled(CHARGING)
    assert needs(asked, "high_voltage.current@traction") == {"part.charger.current"}
    told = cabled({**CHARGING, "part.charger.current": '"20 A, datasheet"'})
    assert number(told, "high_voltage.carries@traction") == pytest.approx(20.0)
    # 5.76 kW at the 288 V of the empty pack
    by_power = cabled({**CHARGING, "part.charger.output_power": '"5.76 kW, datasheet"'})
    assert number(by_power, "high_voltage.carries@traction") == pytest.approx(20.0)
    assert "high_voltage.peak@traction" not in told.by_address


def test_a_traction_cable_carries_what_the_drive_draws() -> None:
    found = cabled({"part.traction.carries": None, "part.motor.continuous_power": '"20 kW"'})
    carried = figure(found, "high_voltage.carries@traction").value
    thirty = figure(found, "drive.thirty_minute_current").value
    assert carried.number == thirty.number
    assert carried.lacks == thirty.lacks


def test_phases_have_no_fuse_of_their_own_and_no_way_back() -> None:
    phases = {
        "part.traction.begins": '"inverter"',
        "part.traction.ends": '"motor"',
        "part.traction.conductors": '"3"',
        "part.traction.fuse": None,
        "part.traction.peak": None,
    }
    found = cabled(phases)
    said = {
        each.partition("@")[0].partition(".")[2]
        for each in found.by_address
        if each.startswith("high_voltage.") and each.endswith("@traction")
    }
    assert said.isdisjoint({"drop", "fuse_rating", "fuse_curve", "fault"})
    for word in ("lost_voltage", "fuse"):
        assert figure(found, f"high_voltage.{word}@traction").value.absent
    warm = number(found, "high_voltage.warm@traction")
    heat = 150.0**2 * 3 * 2.0 * hot(warm)
    assert number(found, "high_voltage.heat@traction") == pytest.approx(heat)
    # Nobody says what the motor draws for hours.
    asked = cabled({**phases, "part.traction.carries": None})
    assert needs(asked, "high_voltage.current@traction") == {"part.traction.carries"}


def test_a_removed_cable_is_none() -> None:
    found = cabled({"part.traction.state": '"removed"'})
    assert not [each for each in found.by_address if each.startswith("high_voltage.")]


@pytest.mark.parametrize("laid", ["free", "bundle", "conduit", "wall"])
def test_a_thicker_cable_is_never_warmer_and_loses_no_more(laid: str) -> None:
    before = None
    for size in ("16", "25", "35", "50", "70", "95"):
        found = cabled(
            {
                "part.traction.wire.section": f'"{size} mm², datasheet"',
                "part.traction.wire.outside": None,
                "part.traction.wire.laid": f'"{laid}"',
                "part.traction.carries": '"60 A, datasheet"',
            }
        )
        now = [number(found, f"high_voltage.{word}@traction") for word in ("warm", "lost_voltage")]
        assert before is None or all(a < b for a, b in zip(now, before, strict=True))
        before = now


def test_both_poles_heat_each_other_in_a_tube_without_being_counted() -> None:
    tube = {"part.traction.wire.laid": '"conduit"'}
    two = number(cabled(tube), "high_voltage.warm@traction")
    one = {**tube, "part.traction.wire.grouped": '"1, measured"'}
    assert two > number(cabled(one), "high_voltage.warm@traction")


def test_mass_follows_from_the_wire_and_is_counted_in_the_weight_book() -> None:
    found = cabled()
    without = cabled({"part.traction.mass": '"0 kg, measured"'})
    # 2 · 2 m of 35 mm² · 8890 kg/m³, and what lies between 6.68 mm and 10.5 mm of 1500 kg/m³
    metal, cover = 35e-6 * 8890, 3.14159265 / 4 * (10.5e-3**2 - 4 * 35e-6 / 3.14159265) * 1500
    gained = number(found, "vehicle.mass@kerb") - number(without, "vehicle.mass@kerb")
    assert gained == pytest.approx(4 * (metal + cover), rel=1e-4)
    kerb = figure(found, "vehicle.mass@kerb").value
    assert {o.path for o in kerb.effects if o.soft} >= {"part.traction.mass"}


def test_the_main_fuse_carries_the_traction_current_and_a_branch_fuse_does_not() -> None:
    motor = {"part.motor.continuous_power": '"20 kW, datasheet"'}
    assert "drive.device_current@main" in cabled(motor).by_address
    branch = cabled({**motor, **CHARGING})
    assert "drive.device_current@main" not in branch.by_address


def test_nothing_is_left_out_of_what_a_finding_rests_on() -> None:
    for check in next(area for area in AREAS if area.name == "high_voltage").checks:
        assert check.strict, check.id


def test_a_cable_of_a_build_without_a_motor_is_unknown_and_no_fault_of_the_program() -> None:
    alone = parse_build(
        b'format = 1\nbuild.name = "B"\npart.thing.kind = "cable"\npart.thing.mass = "5 kg"\n'
    )
    found = finding(assess(alone), "high_voltage.temperature@thing")
    assert found.verdict is Verdict.UNKNOWN
