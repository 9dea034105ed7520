"""Hunts at a build: its own numbers beside each test, and words where it has none."""

from __future__ import annotations

from importlib.resources import files

import pytest

from builders import SMALL, assessed, opened
from hunted import CHARGED, build, of_kind, volts, with_figures, with_findings
from wattwright import hunts
from wattwright.areas import AREAS
from wattwright.assessment import Assessment
from wattwright.bench import hunts as bench_hunts
from wattwright.bench.accepting import place, what_it_tells
from wattwright.bench.hunts import Step, at_outlet
from wattwright.bench.sheet import Line
from wattwright.bench.sheets import OF_OUTLET, is_sheet, sheet
from wattwright.errors import UsageError
from wattwright.findings import Check
from wattwright.formula import Source
from wattwright.hunts import NAMES
from wattwright.hunts.reading import FIRST, parse
from wattwright.journal.readings import Taken
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


def test_what_an_area_says_nothing_of_is_not_asked_for() -> None:
    """An inlet of type 2 has no resistor on its proximity, and no section to write for one."""
    said = with_figures(("charging.pilot_high@alone", volts(12.0)))
    assert step("proximity_ohms", said).missing == "not worked out for this build"


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


SKIPS = """
title = "T"
symptom = "S"
cautions = ["C"]
first = ["log"]
source = "those who asked"
flag = "practice"
cause.cord = { short = "cord", says = "cord broken", weight = 3, place = "cord", mends = "new" }

[test.each]
act = "Feel."
where = "LINK"
tools = []
minutes = 2
danger = "none"
place = "cord"
expects = "charging.contact_warmth@OUTLET/LINK"
outcome = [{ reads = "warm", points_to = ["cord"] }, { reads = "cold", go_on = "last" }]

[test.between]
act = "Look."
where = "cord"
tools = []
minutes = 3
danger = "none"
place = "cord"
outcome = [{ reads = "bad", points_to = ["cord"] }, { reads = "good", rules_out = ["cord"] }]

[test.last]
act = "Look again."
where = "cord"
tools = []
minutes = 4
danger = "none"
place = "cord"
outcome = [{ reads = "bad", points_to = ["cord"] }, { reads = "good", rules_out = ["cord"] }]
"""


@pytest.mark.parametrize(("links", "number"), [((), 4), (("socket", "inlet", "box"), 6)])
def test_the_number_to_go_on_with_counts_the_lines_there_are(
    monkeypatch: pytest.MonkeyPatch, links: tuple[str, ...], number: int
) -> None:
    steps = files(hunts.__name__).joinpath(FIRST).read_text(encoding="utf-8")
    monkeypatch.setattr(bench_hunts, "hunt", lambda name: parse(name, SKIPS, steps))
    said = with_figures(*((f"charging.contact_warmth@barn/{each}", volts(1.0)) for each in links))
    found = at_outlet("skips", build(), said).steps
    assert found[1].outcomes[1].words == f"cold: go on with line {number}"
    assert found[number - 1].name == "last"
    assert {each.outcomes[1].go_on for each in found[1:-2]} == {number}


def test_a_current_is_a_limit_and_no_expectation() -> None:
    found = line(
        "set_current", with_figures(("charging.current@barn", of_kind("current", 9.5))), "hot_plug"
    )
    assert found.expected is None
    assert found.expects("metric") == "at most 9.5 A"


BONDING = Check(
    "charging.bonding", "bonding", "a stub", "a stub", RESISTANCE, Source("a stub", flag="computed")
)


def test_a_finding_is_expected_with_the_limit_it_is_held_to() -> None:
    value, limit = of_kind("resistance", 0.03), of_kind("resistance", 0.1)
    said = with_findings(BONDING.at_most(value, limit))
    found = line("earth_path", said)
    assert found.expects("metric") == "30 mΩ; at most 100 mΩ"
    assert (found.expected, found.limit, found.sense) == (value, limit, "at most")
    unmeasured = lacking(RESISTANCE, Lack("charging.inlet.earth", "earth", "not given"))
    found = line("earth_path", with_findings(BONDING.at_most(unmeasured, limit)))
    assert found.expects("metric") == "at most 100 mΩ; not worked out: needs charging.inlet.earth"
    assert (found.expected, found.limit) == (None, limit)


def test_a_reading_is_told_against_the_number_of_the_build() -> None:
    read = opened(CHARGED)
    said = with_figures(("charging.pilot_high@plugged", volts(8.71, 0.3)))
    about = "hunt_charge_will_not_start/pilot_plugged"
    for text, verdict in (("8.6 V", "as expected"), ("12 V", "not as expected")):
        taken = Taken(about=about, text=text, instrument="", date="2026-11-20")
        told = what_it_tells(taken, place(about, read, said), read)
        assert told is not None
        assert told.verdict == verdict


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
