"""The sheet for power cables: dead first, then every cable in full, and nothing of removed ones."""

from __future__ import annotations

from builders import opened
from cabled import cabled_build
from wattwright.assessment import assess
from wattwright.bench.sheets import sheet
from wattwright.build.reader import Opened


def lines_of(build: Opened) -> dict[str, str]:
    return {each.name: each.act for each in sheet("hv_cables", build.build, assess(build)).lines}


def test_it_begins_with_proving_dead_and_says_the_cautions() -> None:
    build = cabled_build()
    made = sheet("hv_cables", build.build, assess(build))
    assert made.lines[0].name == "dead"
    assert "proven dead" in made.lines[0].act
    cautions = " ".join(made.cautions)
    for word in ("Local codes", "Gloves", "insulated tools", "tried on a live source"):
        assert word in cautions


def test_every_cable_is_crimped_pulled_bolted_measured_and_labelled() -> None:
    lines = lines_of(cabled_build({"part.traction.lug_torque": '"10 N·m, datasheet"'}))
    steps = "length crimp pull lug isolation torque bend clips label"
    assert {f"traction_{step}" for step in steps.split()} <= set(lines)
    assert "traction_shield" not in lines
    assert "from pack to inverter" in lines["traction_label"]
    build = cabled_build({"part.traction.lug_torque": '"10 N·m, datasheet"'})
    torque = sheet("hv_cables", build.build, assess(build)).line("traction_torque")
    assert torque is not None
    assert torque.expects("metric") == "10 N·m"


def test_a_shield_is_read_through_where_there_is_one() -> None:
    both = lines_of(cabled_build({"part.traction.shield": '"both_ends"'}))
    assert "from case to case" in both["traction_shield"]
    one = lines_of(cabled_build({"part.traction.shield": '"one_end"'}))
    assert "at the end that is bonded" in one["traction_shield"]


def test_removed_cables_and_builds_without_any_leave_what_holds_for_all() -> None:
    every = {"dead", "poles", "covers", "again"}
    assert set(lines_of(cabled_build({"part.traction.state": '"removed"'}))) == every
    assert set(lines_of(opened())) == every
