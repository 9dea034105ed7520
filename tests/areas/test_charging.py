"""The chain from the wall to the pack, on one outlet with round numbers: what follows by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from builders import build_text, figure, finding, number, problems_of
from outlets import BASE, charged
from wattwright.areas.charging import Charging
from wattwright.areas.pack import Pack
from wattwright.assessment import assess
from wattwright.build.reader import open_build
from wattwright.descriptions.charging import ChargingDescription
from wattwright.findings import Verdict

SOUND, FAILING, MARGINAL = Verdict.SOUND, Verdict.FAILING, Verdict.MARGINAL
UNKNOWN = Verdict.UNKNOWN
REEL = {"cord.long.wound": "true", "cord.long.layers": '"3 ± 0, measured"'}


def test_the_cord_loses_what_its_length_and_section_say() -> None:
    """1.5 mm² flexible has 13.3 Ω/km at 20 °C (IEC 60228): 40 m out and back 1.064 Ω, 10.6 V.

    At 10 A it is some 40 °C warm in air of 30 °C: 0.393 %/K make 8 % more of it.
    """
    found = charged()
    assert number(found, "charging.draws@barn") == pytest.approx(10.0)
    warm = number(found, "charging.warm@barn/cord_long")
    assert 35.0 < warm - 273.15 < 45.0
    loop = 2 * 40 * 13.3e-3 * (1 + 0.00393 * (warm - 293.15))
    assert number(found, "charging.link_heat@barn/cord_long") == pytest.approx(100 * loop, rel=1e-6)
    volts = number(found, "charging.volts@barn")
    assert volts == pytest.approx(230 - 10 * loop, abs=0.01)
    assert finding(found, "charging.drop@barn").value.number == pytest.approx(
        10 * loop / 230, abs=1e-4
    )


def test_the_weakest_link_is_named_and_what_it_costs() -> None:
    found = charged({"supply_box.box.pilot": '"16 A"', "cord.long.plug_current": '"12 A"'})
    # NFPA 70 allows a cord of 16 AWG, the gauge next below 1.5 mm², 13 A; the plug bears 12 A.
    assert number(found, "charging.allows@barn/cord_long") == pytest.approx(13.0)
    assert number(found, "charging.weakest@barn/plug_long") == pytest.approx(12.0)
    volts = number(found, "charging.volts@barn")
    assert number(found, "charging.gain@barn/plug_long") == pytest.approx(volts * 1.0)
    assert finding(found, "charging.link@barn/plug_long").verdict is FAILING
    assert finding(found, "charging.link@barn/cord_long").verdict is FAILING
    assert finding(found, "charging.link@barn/breaker").verdict in (SOUND, MARGINAL)


def test_a_pilot_of_63_a_on_a_socket_of_10_a_fails_at_the_socket() -> None:
    wild = {
        "supply_box.box.pilot": '"63 A"',
        "outlet.barn.socket_current": '"10 A"',
        "part.charger.input_current": '"32 A ± 0, datasheet"',
        "part.charger.output_power": '"7 kW ± 0, datasheet"',
    }
    found = charged(wild)
    socket = finding(found, "charging.link@barn/socket")
    assert socket.verdict is FAILING
    assert socket.limit.number == pytest.approx(10.0)
    # The charger takes what the pilot offers, up to its own 32 A; 7 kW behind such a cord take all.
    assert socket.value.number == pytest.approx(32.0)
    assert finding(found, "charging.link@barn/cord_long").verdict is FAILING
    assert finding(found, "charging.link@barn/breaker").verdict is FAILING


def test_a_reel_that_stays_wound_bears_less_and_says_what_unwinding_gives() -> None:
    found = charged(REEL)
    # Three layers leave 45 %: of 13 A by the table 5.85 A, less than any pilot can say.
    assert number(found, "charging.allows@barn/cord_long") == pytest.approx(0.45 * 13, rel=1e-6)
    assert finding(found, "charging.smallest@barn").verdict is FAILING
    assert finding(found, "charging.link@barn/cord_long").verdict is FAILING
    laid_out = charged()
    for name in ("allows", "drop", "volts", "time"):
        other = number(found, f"charging.other_{name}@barn/long_laid_out")
        same = {
            "allows": number(laid_out, "charging.allows@barn/cord_long"),
            "drop": finding(laid_out, "charging.drop@barn").value.number,
            "volts": number(laid_out, "charging.volts@barn"),
            "time": number(laid_out, "charging.time@barn"),
        }[name]
        assert other == pytest.approx(same, rel=1e-9)
    # A thicker one, 2.5 mm² at 7.98 Ω/km, loses six tenths of it.
    thicker = number(found, "charging.other_drop@barn/long_thicker")
    assert thicker == pytest.approx(
        number(found, "charging.other_drop@barn/long_laid_out") * 7.98 / 13.3, rel=0.02
    )
    assert finding(charged({"cord.long.wound": None}), "charging.link@barn/cord_long").verdict is (
        UNKNOWN
    )


def test_warmth_inside_a_reel_goes_with_the_square_of_the_current() -> None:
    found = charged(REEL)
    allowed = 0.45 * charged_ampacity()
    warm = finding(found, "charging.wire_temperature@barn/cord_long")
    assert warm.value.number == pytest.approx(303.15 + 30.0 * (10.0 / allowed) ** 2, rel=1e-4)
    assert warm.verdict is FAILING


def charged_ampacity() -> float:
    """What physics alone allows the cord laid out."""
    found = charged({"cord.long.section": '"1.5 mm² ± 0, measured"'})
    wire = number(found, "charging.warm@barn/cord_long")
    assert wire > 303.15
    from outlets import plugged
    from wattwright.areas.wired import wired
    from wattwright.kinds import TEMPERATURE
    from wattwright.values import constant

    cord = plugged().build.cord["long"]
    run = wired(cord, "cord.long", 2, constant(TEMPERATURE, 303.15, "air"))
    return run.allows().number or math.nan


def test_a_breaker_leaves_what_the_rule_and_other_things_leave() -> None:
    shared = {"outlet.barn.continuous_share": '"80 %"', "outlet.barn.other_load": '"3 A"'}
    found = charged(shared)
    assert number(found, "charging.allows@barn/breaker") == pytest.approx(0.8 * 16 - 3)
    assert finding(found, "charging.link@barn/breaker").verdict is FAILING


def test_a_charge_takes_what_power_and_energy_say() -> None:
    found = charged()
    volts = number(found, "charging.volts@barn")
    into = 0.9 * volts * 10
    assert number(found, "charging.into_pack@barn") == pytest.approx(into)
    assert number(found, "charging.rate@barn") == pytest.approx(into / 720)
    # From 20 % to 80 % of 50 Ah at the voltage of the cells: between 3.3 V and 4.2 V each.
    time, energy = (number(found, f"charging.{what}@barn") for what in ("time", "energy"))
    held = time * into
    assert 0.6 * 50 * 3600 * 96 * 3.4 < held < 0.6 * 50 * 3600 * 96 * 4.1
    assert energy == pytest.approx(held / 0.9, rel=1e-6)
    assert number(found, "charging.cost@barn") == pytest.approx(0.5 * energy / 3.6e6)
    drawn = found.descriptions[ChargingDescription].outlets["barn"].charge.to_draw()
    assert drawn[0].charge == pytest.approx(0.2 + 0.6 / len(drawn))
    assert drawn[-1].time == pytest.approx(time)
    assert all(each.power == pytest.approx(into, rel=1e-4) for each in drawn)


def test_a_curve_says_how_much_arrives_at_a_small_power(tmp_path: Path) -> None:
    """Some 2.2 kW lie between 1 kW at 80 % and 3 kW at 90 %: 80 % and 10 % · (P - 1 kW)/2 kW."""
    lines = {**BASE, "part.charger.mains_efficiency_curve": '"charger.csv, datasheet"'}
    (tmp_path / "charger.csv").write_text("power (W), efficiency (%)\n1000, 80\n3000, 90\n")
    (tmp_path / "build.toml").write_text(build_text(lines, {}))
    found = assess(open_build(tmp_path), (Pack(), Charging()))
    power = number(found, "charging.power@barn")
    share = 0.8 + 0.1 * (power - 1000) / 2000
    assert number(found, "charging.into_pack@barn") == pytest.approx(share * power, rel=1e-6)


def test_a_cold_pack_takes_less_and_a_frozen_one_nothing() -> None:
    half = charged({"charging.cells": '"5 °C ± 0, measured"', "charging.pack_current": '"10 A"'})
    # Half of 10 A is some 5 A times 355 V: less than the outlet gives.
    assert number(half, "charging.draws@barn") < 10.0
    assert number(half, "charging.into_pack@barn") == pytest.approx(
        5 * number(half, "pack.open_circuit@half"), rel=2e-3
    )
    frozen = charged({"charging.cells": '"-4 °C ± 0, measured"'})
    assert finding(frozen, "charging.cold").verdict is FAILING
    assert number(frozen, "charging.draws@barn") == 0.0
    assert figure(frozen, "charging.time@barn").value.number is None


@pytest.mark.parametrize(
    ("changes", "address", "verdict"),
    [
        ({}, "charging.touch_voltage@barn", SOUND),
        # 2000 Ω times 30 mA are 60 V.
        ({"outlet.barn.earth.rod": '"2 kΩ, measured"'}, "charging.touch_voltage@barn", FAILING),
        # Without an earth the case floats at 115 V.
        ({"outlet.barn.earth.system": '"none"'}, "charging.touch_voltage@barn", FAILING),
        ({"outlet.barn.earth.system": '"IT"'}, "charging.touch_voltage@barn", FAILING),
        ({"outlet.barn.earth.system": None}, "charging.touch_voltage@barn", UNKNOWN),
        (
            {"outlet.barn.earth.system": '"IT"', "supply_box.box.earth_check": "true"},
            "charging.box_begins@barn",
            FAILING,
        ),
        (
            {"outlet.barn.earth.system": '"none"', "supply_box.box.earth_check": "false"},
            "charging.box_begins@barn",
            SOUND,
        ),
        ({"outlet.barn.earth.system": '"IT"'}, "charging.box_begins@barn", UNKNOWN),
        ({}, "charging.dc_residual@barn", SOUND),
        ({"supply_box.box.dc_detection": '"none"'}, "charging.dc_residual@barn", FAILING),
        ({"outlet.barn.earth.device": '"AC"'}, "charging.dc_residual@barn", FAILING),
        ({"outlet.barn.earth.device": None}, "charging.dc_residual@barn", UNKNOWN),
        ({}, "charging.leakage@barn/house", SOUND),
        # 3 mA and 14 mA are more than half of 30 mA.
        ({"outlet.barn.earth.shared": '"14 mA, measured"'}, "charging.leakage@barn/house", FAILING),
        ({"charging.inlet.drive_lock": "false"}, "charging.drive_lock", FAILING),
        ({"charging.inlet.drive_lock": None}, "charging.drive_lock", UNKNOWN),
        ({"part.charger.isolated": "false"}, "charging.isolated", FAILING),
        (
            {"outlet.barn.contact": '"60 mΩ ± 0, measured"'},
            "charging.contact_warmth@barn/socket",
            FAILING,
        ),
        ({"part.charger.input_low": '"222 V ± 0, datasheet"'}, "charging.input_low@barn", FAILING),
        (
            {"supply_box.box.stops_below": '"225 V ± 0, datasheet"'},
            "charging.box_low@barn",
            FAILING,
        ),
        (
            {"part.charger.input_high": '"225 V ± 0, datasheet"'},
            "charging.input_high@barn",
            FAILING,
        ),
    ],
)
def test_what_is_wrong_fails_and_what_nobody_said_is_unknown(
    changes: dict[str, str | None], address: str, verdict: Verdict
) -> None:
    assert finding(charged(changes), address).verdict is verdict


def test_type_b_needs_no_detection_of_direct_current() -> None:
    found = charged({"outlet.barn.earth.device": '"B"'})
    assert "charging.dc_residual@barn" not in found.by_address


def test_a_breaker_opens_at_once_where_the_loop_lets_enough_through() -> None:
    tn = {"outlet.barn.earth.system": '"TN"', "outlet.barn.earth.rod": '"none"'}
    # B16 opens at once from 80 A: 230 V over 2.875 Ω.
    for loop, verdict in (("2.8 Ω", SOUND), ("2.95 Ω", FAILING)):
        found = charged({**tn, "outlet.barn.earth.loop": f'"{loop} ± 0, measured"'})
        assert finding(found, "charging.loop@barn").verdict is verdict
        assert finding(found, "charging.loop@barn").limit.number == pytest.approx(80.0)


def test_behind_a_post_stands_its_owner_s_wiring() -> None:
    post = {
        "outlet.barn.socket": '"fixed"',
        "outlet.barn.cords": None,
        "supply_box.box.pilot": '"32 A"',
        "supply_box.box.current": '"32 A"',
    }
    found = charged(post)
    links = [link.name for link in found.descriptions[ChargingDescription].outlets["barn"].links]
    assert links == ["box", "pilot", "inlet", "charger", "charger_power", "pack"]
    # 3.3 kW at 90 % are 3.67 kW: 15.94 A at 230 V, a little less than the charger bears.
    assert number(found, "charging.draws@barn") == pytest.approx(3300 / 0.9 / 230)
    assert number(found, "charging.weakest@barn/charger_power") == pytest.approx(3300 / 0.9 / 230)


def test_the_coding_of_a_cable_holds_the_vehicle_back() -> None:
    coded = {
        "supply_box.box.pilot": '"16 A"',
        "supply_box.box.coding": '"1500 Ω ± 1, measured"',
        "charging.inlet.kind": '"type_2"',
    }
    assert number(charged(coded), "charging.draws@barn") == pytest.approx(13.0)
    # Between two codes nobody may bet a cable on either.
    between = charged({**coded, "supply_box.box.coding": '"400 Ω ± 1, measured"'})
    link = finding(between, "charging.link@barn/socket")
    assert link.verdict is UNKNOWN
    assert "supply_box.box.coding" in {lack.path for lack in link.lacks}


def test_three_phases_lose_nothing_in_the_neutral() -> None:
    three = {
        "outlet.barn.phases": '"3"',
        "part.charger.input_phases": '"3"',
        "part.charger.output_power": '"11 kW ± 0, datasheet"',
        "charging.pack_current": '"100 A"',
    }
    found = charged(three)
    warm = number(found, "charging.warm@barn/cord_long")
    one_way = 40 * 13.3e-3 * (1 + 0.00393 * (warm - 293.15))
    assert number(found, "charging.link_heat@barn/cord_long") == pytest.approx(300 * one_way)
    assert number(found, "charging.power@barn") == pytest.approx(
        3 * 10 * number(found, "charging.volts@barn")
    )


def test_a_charger_of_one_phase_draws_all_of_its_current_from_one_of_three() -> None:
    """It is no charger of three phases that would spread its power: 10 A on one, not 5.4 A."""
    alone = charged()
    for phases in ("2", "3"):
        # What it uses is one phase where nothing else is written.
        found = charged({"outlet.barn.phases": f'"{phases}"'})
        for what in ("draws", "power", "volts", "time"):
            address = f"charging.{what}@barn"
            assert number(found, address) == pytest.approx(number(alone, address)), what
        for link in ("cord_long", "wiring"):
            address = f"charging.warm@barn/{link}"
            assert number(found, address) == pytest.approx(number(alone, address)), link


def test_two_of_three_phases_come_back_by_the_neutral() -> None:
    two = {
        "outlet.barn.phases": '"3"',
        "part.charger.input_phases": '"2"',
        "part.charger.output_power": '"11 kW ± 0, datasheet"',
        "charging.pack_current": '"100 A"',
    }
    found = charged(two)
    warm = number(found, "charging.warm@barn/cord_long")
    # Three conductors get warm in it: warmer than of one phase.
    assert warm > number(charged(), "charging.warm@barn/cord_long")
    both_ways = 2 * 40 * 13.3e-3 * (1 + 0.00393 * (warm - 293.15))
    assert number(found, "charging.link_heat@barn/cord_long") == pytest.approx(200 * both_ways)


def test_a_second_charger_is_never_passed_over() -> None:
    second = {
        "part.second.kind": '"charger"',
        "part.second.mass": '"5 kg, datasheet"',
        "part.second.output_power": '"3.3 kW ± 0, datasheet"',
    }
    found = charged(second)
    for address in ("charging.link@barn/socket", "charging.isolated", "charging.input_low@barn"):
        said = finding(found, address)
        assert said.verdict is UNKNOWN, address
        assert any("charger, second" in lack.why for lack in said.lacks), address
    spare = charged({**second, "part.second.state": '"removed"'})
    assert number(spare, "charging.draws@barn") == pytest.approx(10.0)


def test_the_charger_is_asked_for_by_its_own_name() -> None:
    renamed: dict[str, str | None] = {
        path: None for path in BASE if path.startswith("part.charger.")
    }
    renamed |= {
        path.replace(".charger.", ".obc."): BASE[path]
        for path in renamed
        if path != "part.charger.isolated"
    }
    found = charged({**renamed, "part.obc.kind": '"charger"'})
    assert number(found, "charging.draws@barn") == pytest.approx(10.0)
    (lack,) = finding(found, "charging.isolated").lacks
    assert lack.path == "part.obc.isolated"


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        ({"outlet.barn.box": '"bix"'}, "outlet.barn.box", "no such supply box"),
        ({"outlet.barn.cords": '"lang"'}, "outlet.barn.cords", "no such cord"),
        ({"outlet.barn.cords": '"long, long"'}, "outlet.barn.cords", "same cord twice"),
        ({"supply_box.box.pilot": '"4 A"'}, "supply_box.box.pilot", "6 A to 80 A"),
        ({"supply_box.box.pilot": '"52 A"'}, "supply_box.box.pilot", "steps from 51 A"),
        ({"cord.long.section": '"0 mm²"'}, "cord.long.section", "cannot be"),
        ({"cord.long.section": '"1.5 mm"'}, "cord.long.section", "mm²"),
    ],
)
def test_what_cannot_be_is_located(changes: dict[str, str], path: str, words: str) -> None:
    lines = {**BASE, **changes}
    text = "".join(f"{name} = {value}\n" for name, value in lines.items())
    (problem,) = problems_of(text)
    assert problem.path == path
    assert words in f"{problem.what} {problem.got} {problem.do}"


def test_everything_it_says_is_declared() -> None:
    area = Charging()
    tn = charged({"outlet.barn.earth.system": '"TN"', "outlet.barn.earth.loop": '"1 Ω, measured"'})
    floating = charged({"outlet.barn.earth.system": '"IT"'})
    said = [*charged(REEL).reports, *tn.reports, *floating.reports]
    reports = [each for each in said if each.area.name == area.name]
    findings = {found.check.id for report in reports for found in report.findings}
    figures = {found.declared.id for report in reports for found in report.figures}
    assert findings <= {each.id for each in area.checks}
    assert {each.id for each in area.checks} == findings
    assert figures <= {each.id for each in area.figures}
