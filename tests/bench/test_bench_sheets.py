"""The sheets there are: what they expect follows from the build, and which field a line is for."""

from __future__ import annotations

import pytest

from builders import SMALL, assessed, opened
from wattwright.assessment import Assessment
from wattwright.bench.accepting import acceptance, accepted, leaf_text, place
from wattwright.bench.sheet import Line, Sheet
from wattwright.bench.sheets import SHEETS, sheet, stale
from wattwright.build.catalogue import find
from wattwright.build.edits import Edit, quote, splice
from wattwright.build.reader import parse_build
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.errors import EditError, UsageError
from wattwright.journal.readings import Reading
from wattwright.kinds import RESISTANCE
from wattwright.values import constant

WHEELS = ("fl", "fr", "rl", "rr")


def made(name: str, changes: dict[str, str | None] | None = None) -> Sheet:
    texts = {**SMALL, **(changes or {})}
    return sheet(name, opened(texts).build, assessed(texts))


def reading(about: str, text: str, instrument: str = "", **more: object) -> Reading:
    return Reading(about=about, text=text, instrument=instrument, date="2026-11-20", id=7, **more)


@pytest.mark.parametrize("name", SHEETS)
def test_every_line_that_is_read_into_a_field_names_one_that_exists(name: str) -> None:
    found = made(name)
    assert found.cautions
    assert found.tools
    assert len({line.name for line in found.lines}) == len(found.lines)
    for line in found.lines:
        assert line.act
        if line.path:
            assert find(line.path) is not None, line.path
    wheels = list(WHEELS) if name.startswith("weigh_") else []
    assert [line.name for line in found.lines if line.name in WHEELS] == wheels


def test_the_donor_is_expected_to_weigh_what_it_weighed_before() -> None:
    line = made("weigh_donor").line("fl")
    assert line is not None
    assert line.expected is not None
    assert line.expected.number == pytest.approx(310.0)
    # The axle may carry 800 kg.
    assert "400 kg" in line.stop_if
    new = made("weigh_donor", {f"donor.weighed.{wheel}": None for wheel in WHEELS}).line("fl")
    assert new is not None
    assert new.expected is None


def test_the_conversion_is_expected_to_weigh_what_the_book_of_what_is_fitted_says() -> None:
    said: Assessment = assessed(SMALL)
    kerb = said.descriptions[VehicleDescription].to_draw().fitted["kerb"]
    found = made("weigh_in")
    for wheel in WHEELS:
        line = found.line(wheel)
        assert line is not None
        assert line.expected is not None
        assert line.expected.number == pytest.approx(getattr(kerb, wheel).number)
    assert "live" in found.cautions[0]


def test_a_sheet_says_what_changed_since_it_was_printed() -> None:
    then, same = made("weigh_in"), made("weigh_in")
    assert stale(then, same) == ()
    heavier = made("weigh_in", {"part.motor.mass": '"90 kg ± 0.5, measured"'})
    assert len(stale(then, heavier)) == 4
    assert all("then" in each and "now" in each for each in stale(then, heavier))


def test_an_accepted_reading_reads_as_a_builder_would_type_it() -> None:
    build, said = opened(SMALL), assessed(SMALL)
    where = place("weigh_donor/fl", build, said)
    assert where.path == "donor.weighed.fl"
    taken = reading("weigh_donor/fl", "318 kg", "wheel scales")
    typed = leaf_text(taken, where, build)
    assert typed == "318 kg ± 1.8 kg, measured, wheel scales, reading 7, 2026-11-20"
    own = leaf_text(reading("x", "318 kg ± 1", "a scale, from next door"), where, build)
    assert own == "318 kg ± 1, measured, a scale  from next door, reading 7, 2026-11-20"
    text = splice(build.source, [acceptance(taken, where, build)])
    after = parse_build(text.encode())
    value = after.build.donor.weighed.fl
    assert value.number == 318.0
    assert value.given is not None
    assert value.given.origin.value == "measured"
    assert value.given.date == "2026-11-20"
    assert value.given.detail == "wheel scales, reading 7"
    assert value.band == pytest.approx(1.8)
    assert accepted([taken], after) == {7: "donor.weighed.fl"}
    assert accepted([taken], build) == {}


def test_an_acceptance_finds_what_it_replaces_or_changes_nothing() -> None:
    build, said = opened(SMALL), assessed(SMALL)
    where = place("donor.weighed.fl", build, said)
    edit = acceptance(reading("donor.weighed.fl", "318 kg"), where, build)
    other = opened({**SMALL, "donor.weighed.fl": '"311 kg ± 1, measured"'})
    with pytest.raises(EditError, match="was expected to be"):
        splice(other.source, [edit])


def test_what_is_no_field_or_was_corrected_is_not_accepted() -> None:
    build, said = opened(SMALL), assessed(SMALL)
    with pytest.raises(UsageError, match="belongs to no field"):
        acceptance(reading("the rust", "a hand wide"), place("the rust", build, said), build)
    fl = place("donor.weighed.fl", build, said)
    with pytest.raises(UsageError, match="corrected by reading 9"):
        acceptance(reading("donor.weighed.fl", "318 kg", replaced_by=9), fl, build)
    with pytest.raises(UsageError, match="no line"):
        place("weigh_in/none", build, said)
    with pytest.raises(UsageError, match="no sheet"):
        sheet("none", build.build, said)


@pytest.mark.parametrize("text", ['"0.5 V"', '"-1 kg"'])
def test_how_far_an_instrument_may_be_off_is_of_what_it_measures(text: str) -> None:
    from builders import build_text, problems_of

    found = problems_of(build_text({**SMALL, "instrument.scale.within": text}))
    assert [each.path for each in found] == ["instrument.scale.within"]


def test_a_reading_of_the_journal_a_build_was_copied_from_is_none_of_this_one() -> None:
    typed = '"318 kg ± 1.8 kg, measured, wheel scales, reading 7, 2026-11-20"'
    build = opened({**SMALL, "donor.weighed.fl": typed})
    assert accepted([reading("weigh_donor/fl", "318 kg")], build) == {7: "donor.weighed.fl"}
    assert accepted([reading("donor.wheelbase", "2547 mm")], build) == {}


def test_how_far_a_thermometer_may_be_off_is_a_difference() -> None:
    own = {"instrument.probe.measures": '"temperature"', "instrument.probe.within": '"2 K"'}
    texts = {**SMALL, **own, "instrument.probe.of_reading": '"1 %"'}
    build, said = opened(texts), assessed(texts)
    where = place("targets.hill_outside", build, said)
    typed = leaf_text(reading("targets.hill_outside", "30 °C", "probe"), where, build)
    # Of 30 °C, not of 303 K.
    assert typed.startswith("30 °C ± 2.3 K, measured, probe")
    parse_build(splice(build.source, [Edit(("targets", "hill_outside"), quote(typed))]).encode())


def test_a_limit_that_changed_makes_a_sheet_stale() -> None:
    def made_with(number: float) -> Sheet:
        limit = constant(RESISTANCE, number)
        return Sheet("s", "s", "", (), (), (Line("bond", "bond", kind=RESISTANCE, limit=limit),))

    assert stale(made_with(0.1), made_with(0.1)) == ()
    assert stale(made_with(0.1), made_with(0.2)) == (
        "bond: at most 100 mΩ then, at most 200 mΩ now",
    )
