"""Hunts at a build: its own numbers beside each test, and words where it has none."""

from __future__ import annotations

import pytest

from builders import SMALL, assessed, opened
from hunted import CHARGED, build, of_kind, volts, with_figures
from wattwright.areas import AREAS
from wattwright.assessment import Assessment
from wattwright.bench.accepting import place
from wattwright.bench.hunts import Step, at_outlet
from wattwright.bench.sheet import Line
from wattwright.bench.sheets import OF_OUTLET, is_sheet, sheet
from wattwright.errors import UsageError
from wattwright.hunts import NAMES
from wattwright.kinds import RESISTANCE, VOLTAGE
from wattwright.pages import areas_for
from wattwright.values import Lack, lacking, nonexistent

START = "charge_will_not_start"


def step(name: str, assessment: Assessment, of: str = START, outlet: str = "") -> Step:
    steps = at_outlet(of, build(), assessment, "metric", outlet).steps
    return next(each for each in steps if each.name == name)


def line(name: str, assessment: Assessment, of: str = START) -> Line:
    found = sheet(f"hunt_{of}", build(), assessment).line(name)
    assert found is not None
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_hunt_stands_where_nobody_has_begun_to_charge(name: str) -> None:
    made = sheet(f"hunt_{name}", opened(SMALL).build, assessed(SMALL))
    assert made.cautions
    assert made.answers
    assert made.answers_from.endswith("(common practice)")
    assert not made.others
    assert len({each.name for each in made.lines}) == len(made.lines)
    for each in made.lines:
        assert each.tells
        assert each.limit is None
    words = [each.expects("metric") for each in made.lines]
    assert any("(usual); not worked out: write [outlet.NAME]" in each for each in words)


def test_the_number_of_the_build_takes_the_place_of_what_is_usual() -> None:
    without = line("pilot_plugged", with_figures())
    assert without.expected is None
    assert without.expects("metric") == "9 V (usual); not worked out: write [charging]"
    known = line("pilot_plugged", with_figures(("charging.pilot_high@plugged", volts(8.71))))
    assert known.expects("metric") == "8.71 V"
    assert known.kind is VOLTAGE
    assert not any("usual" in each for each in (known.said,))


def test_what_an_outcome_reads_has_the_number_of_the_build_too() -> None:
    said = step("pilot_low", with_figures(("charging.pilot_low_no_diode@asking", volts(-5.13))))
    assert said.outcomes[0].reads == "about -5.13 V"
    assert said.expects("metric").startswith("-12 V (usual); not worked out")
    assert step("pilot_low", with_figures()).outcomes[0].reads == "about -5.6 V (usual)"


def test_a_number_that_lacks_something_says_what() -> None:
    lack = lacking(VOLTAGE, Lack("charging.inlet.diode", "diode", "not given"))
    said = step("pilot_plugged", with_figures(("charging.pilot_high@plugged", lack)))
    assert said.expects("metric") == ("9 V (usual); not worked out: needs charging.inlet.diode")
    many = tuple(Lack(f"charging.inlet.{each}", each, "not given") for each in "abcde")
    value = type(lack)(VOLTAGE, None, lacks=many)
    said = step("pilot_plugged", with_figures(("charging.pilot_high@plugged", value)))
    assert said.missing.endswith("charging.inlet.c and 2 more")


def test_what_the_build_does_not_have_is_not_worked_out() -> None:
    gone = ("charging.proximity_ohms@open", nonexistent(RESISTANCE))
    assert step("proximity_ohms", with_figures(gone)).missing == "this build has none"


def test_outlet_and_box_are_those_of_the_build() -> None:
    said = with_figures(
        ("charging.open_volts@barn", volts(229.0)),
        ("charging.open_volts@carport", volts(241.0)),
        ("charging.pilot_duty@handy", of_kind("fraction", 0.267)),
    )
    assert step("outlet_volts", said).expects("metric").startswith("229")
    assert step("outlet_volts", said, outlet="carport").expects("metric").startswith("241")
    assert step("pilot_duty", said).expects("metric") == "26.7 %"
    missing = step("pilot_duty", said, outlet="carport").missing
    assert missing == "not worked out: write outlet.carport.box"


def test_every_link_of_the_chain_has_a_line_of_its_own() -> None:
    warm = [
        (f"charging.contact_warmth@barn/{link}", of_kind("temperature difference", kelvin))
        for link, kelvin in (("socket", 21.0), ("cord_reel", 26.0))
    ]
    heat = ("charging.link_heat@barn/cord_reel", of_kind("power", 2.6))
    other = ("charging.contact_warmth@carport/socket", of_kind("temperature difference", 9.0))
    steps = at_outlet("hot_plug", build(), with_figures(*warm, heat, other)).steps
    links = {each.name: each for each in steps if each.name.startswith("warmth")}
    assert list(links) == ["warmth_socket", "warmth_cord_reel"]
    assert links["warmth_cord_reel"].where == "cord reel"
    assert links["warmth_cord_reel"].expects("metric").startswith("26")
    assert "2.6 W into heat" in links["warmth_cord_reel"].act
    assert "1 to 2 W (usual) into heat" in links["warmth_socket"].act


def test_the_number_to_go_on_with_counts_the_lines_there_are() -> None:
    for links in ((), ("socket", "inlet", "box")):
        said = with_figures(
            *((f"charging.contact_warmth@barn/{link}", volts(1.0)) for link in links)
        )
        steps = at_outlet("charge_stops", build(), said).steps
        at = {each.test.name: number for number, each in reversed([*enumerate(steps, 1)])}
        for each in steps:
            for told, outcome in zip(each.outcomes, each.test.outcomes, strict=True):
                assert told.go_on == (at[outcome.go_on] if outcome.go_on else 0)


def test_a_current_is_a_limit_and_no_expectation() -> None:
    found = line(
        "set_current", with_figures(("charging.current@barn", of_kind("current", 9.5))), "hot_plug"
    )
    assert found.expected is None
    assert found.expects("metric") == "at most 9.5 A"


def test_live_lines_say_that_a_licensed_person_does_them() -> None:
    made = sheet(f"hunt_{START}", build(), with_figures())
    care = {each.name: each.care for each in made.lines}
    assert care["charger_output"] == "live: licensed person only"
    assert care["pilot_plugged"] == "mains or high voltage is there and is not touched"
    assert care["log"] == ""


def test_a_sheet_may_name_an_outlet_and_others_lead_there() -> None:
    said = with_figures()
    first = sheet("hunt_hot_plug", build(), said)
    other = sheet("hunt_hot_plug@carport", build(), said)
    assert (first.title, other.title) == ("Hot plug, barn", "Hot plug, carport")
    assert (first.name, other.name) == ("hunt_hot_plug", "hunt_hot_plug@carport")
    assert first.others == {"carport": "hunt_hot_plug@carport"}
    assert other.others == {"barn": "hunt_hot_plug@barn"}
    with pytest.raises(UsageError, match=r"no outlet 'cellar'; there are barn, carport"):
        sheet("hunt_hot_plug@cellar", build(), said)
    with pytest.raises(UsageError, match=r"there are none yet: write \[outlet.NAME\]"):
        sheet("hunt_hot_plug@barn", opened(SMALL).build, assessed(SMALL))
    assert not is_sheet("weigh_in@barn")
    assert set(OF_OUTLET) == {f"hunt_{name}" for name in NAMES}


def test_a_reading_belongs_to_the_line_of_an_outlet() -> None:
    read = opened(CHARGED)
    where = place("hunt_hot_plug@carport/volts_idle", read, with_figures())
    assert where.kind is VOLTAGE
    assert where.path == ""
    assert where.says == "Hot plug, carport, outlet"


def test_a_fault_is_hunted_through_all_of_the_vehicle() -> None:
    assert areas_for("hunt_hot_plug@barn") == AREAS
    assert areas_for("hunt_charge_trips") == AREAS
