"""The passes over a build, areas that join in, and what an edit changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from builders import ELECTRIC, SMALL, assessed, electric, figure, finding, number, opened
from wattwright.areas import AREAS, Area
from wattwright.assessment import (
    WORST_FIRST,
    Assessment,
    assess,
    compare,
    find,
    in_order,
    shown,
    sorted_out,
    title,
    verdict_words,
)
from wattwright.build.model import Build
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.errors import UsageError, WattwrightError
from wattwright.findings import Check, Figure, FigureKind, Finding, Verdict
from wattwright.formula import Source
from wattwright.kinds import LENGTH, MASS
from wattwright.values import Given, Lack, Origin, Value, constant, given, lacking, nonexistent

VEHICLE = AREAS[0]
MINIMAL = {"format": "1", "build.name": '"Bare"'}


@dataclass(frozen=True)
class Wheelbase:
    """What the toy area describes."""

    value: Value


class Toy:
    """An area of its own, which looks at what the vehicle area describes."""

    name = "toy"
    title = "Toy"
    reads: tuple[type, ...] = (VehicleDescription,)
    makes: type = Wheelbase
    check = Check("toy.check", "toy", "meaning", "limit", LENGTH, Source("T"))
    figure = FigureKind("toy.figure", "toy figure", "meaning", LENGTH)
    checks: tuple[Check, ...] = (check,)
    figures: tuple[FigureKind, ...] = (figure,)
    table: tuple[FigureKind, ...] = ()
    tell_me_first = ("targets.top_speed",)

    def __init__(self, begins: bool = True) -> None:
        self.begins = begins

    def own(self, build: Build) -> Any:
        return build.targets

    def begun(self, own: Any) -> bool:
        del own
        return self.begins

    def describe(self, own: Any, seen: Descriptions) -> Wheelbase:
        del own
        return Wheelbase(seen[VehicleDescription].wheelbase)

    def judge(self, own: Any, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        del own, rules
        value = seen[Wheelbase].value
        yield self.figure.of(value)
        yield self.check.at_most(value, constant(LENGTH, 1.0), "low")
        yield self.check.at_most(value, constant(LENGTH, 9.0), "high")
        yield self.check.at_most(value, nonexistent(LENGTH), "no limit")
        yield self.check.at_most(nonexistent(LENGTH), constant(LENGTH, 9.0), "no value")
        yield self.check.at_most(nonexistent(LENGTH), nonexistent(LENGTH), "neither")


def area(name: str, makes: type, *reads: type) -> Area:
    """An area of which only the place in the order counts."""
    made = Toy()
    made.name, made.makes, made.reads = name, makes, reads  # type: ignore[misc]
    return made


class A: ...


class B: ...


class C: ...


def test_areas_come_after_those_whose_descriptions_they_read() -> None:
    one, two, three = area("one", A, B, C), area("two", B, C), area("three", C)
    for given_order in ([one, two, three], [three, two, one], [two, three, one]):
        assert [each.name for each in in_order(given_order)] == ["three", "two", "one"]


def test_a_description_that_nobody_makes_does_not_stop_the_order() -> None:
    assert [each.name for each in in_order([area("one", A, B)])] == ["one"]


def test_areas_that_read_each_other_are_refused_with_the_circle() -> None:
    circle = [area("one", A, B), area("two", B, C), area("three", C, A)]
    with pytest.raises(WattwrightError, match=r"in a circle: .*one.* -> ") as caught:
        in_order(circle)
    assert {"one", "two", "three"} <= set(str(caught.value).replace("->", " ").split())


def test_the_areas_that_ship_describe_themselves_in_an_order() -> None:
    assert {each.name for each in in_order(AREAS)} == {each.name for each in AREAS}
    assert len({each.name for each in AREAS}) == len(AREAS)


@pytest.mark.parametrize("areas", [(Toy(), VEHICLE), (VEHICLE, Toy())])
def test_an_area_joins_in_as_one_more_element(areas: tuple[Area, ...]) -> None:
    plain, assessment = assessed(), assessed(areas=areas)
    report = next(each for each in assessment.reports if each.area.name == "toy")
    assert figure(assessment, "toy.figure").value.number == 2.5
    assert [each.address for each in report.findings] == ["toy.check@low", "toy.check@high"]
    assert finding(assessment, "toy.check@low").verdict is Verdict.FAILING
    assert finding(assessment, "toy.check@high").verdict is Verdict.SOUND
    assert set(assessment.by_address) - set(plain.by_address) == {
        "toy.figure",
        "toy.check@low",
        "toy.check@high",
    }


@pytest.mark.parametrize("about", ["no limit", "no value", "neither"])
def test_a_check_of_which_a_side_does_not_exist_is_not_stated(about: str) -> None:
    assessment = assessed(areas=(VEHICLE, Toy()))
    assert f"toy.check@{about}" not in assessment.by_address


def test_an_area_nobody_has_begun_says_one_thing() -> None:
    assessment = assessed(areas=(VEHICLE, Toy(begins=False)))
    report = assessment.reports[1]
    assert (report.findings, report.figures) == ((), ())
    (first,) = report.tell_me_first
    assert (first.area, first.title, first.fields) == ("toy", "Toy", ("targets.top_speed",))
    assert assessment.reports[0].tell_me_first == ()


def test_a_build_that_says_nothing_yet_is_told_where_to_begin() -> None:
    assessment = assessed(base=MINIMAL)
    assert assessment.findings == ()
    assert assessment.figures == ()
    asked = {
        first.area: first.fields for each in assessment.reports for first in each.tell_me_first
    }
    assert list(asked) == [each.name for each in AREAS]
    assert list(asked) == [*("vehicle", "pack", "drive", "high_voltage", "charging", "mounts")]
    assert "donor.wheelbase" in asked["vehicle"]
    assert "pack.series" in asked["pack"]
    assert "drive.final_ratio" in asked["drive"]


@pytest.mark.parametrize(
    "begun",
    [
        {path: text for path, text in ELECTRIC.items() if path.startswith(("drive.", "part."))},
        {"part.charger.kind": '"charger"', "part.charger.voltage_high": '"420 V"'},
    ],
)
def test_a_drive_begun_before_its_pack_is_unknown_and_the_pack_is_asked_for(
    begun: dict[str, str],
) -> None:
    assessment = assessed({**begun, "donor.wheelbase": None}, MINIMAL)
    by_area = {report.area.name: report for report in assessment.reports}
    assert by_area["pack"].figures == ()
    (first,) = by_area["pack"].tell_me_first
    assert "pack.series" in first.fields
    assert by_area["drive"].tell_me_first == ()
    high = finding(assessment, "drive.window_high@charger")
    assert high.verdict is Verdict.UNKNOWN
    assert {lack.path for lack in high.lacks} == {"pack.series", "pack.charge_limit"}


def test_a_part_without_a_kind_does_not_begin_the_drive() -> None:
    assessment = assessed({"pack.series": '"96"'})
    begun = {each.area.name: not each.tell_me_first for each in assessment.reports}
    assert begun == {
        "vehicle": True,
        "pack": True,
        "drive": False,
        **dict.fromkeys(("high_voltage", "charging", "mounts"), False),
    }


def test_an_area_that_reads_one_not_begun_sees_everything_lacking_in_it() -> None:
    assessment = assessed(base=MINIMAL, areas=(VEHICLE, Toy()))
    assert [bool(report.tell_me_first) for report in assessment.reports] == [True, False]
    assert assessment.reports[0].findings == assessment.reports[0].figures == ()
    stated = finding(assessment, "toy.check@high")
    assert stated.verdict is Verdict.UNKNOWN
    assert [lack.path for lack in stated.lacks] == ["donor.wheelbase"]


def test_an_area_sees_only_what_it_says_it_reads() -> None:
    blind = Toy()
    blind.reads = ()
    with pytest.raises(KeyError):
        assessed(areas=(VEHICLE, blind))


def test_the_same_build_gives_the_same_assessment() -> None:
    one, two = assessed(), assessed()
    assert one.digest == two.digest
    assert list(one.by_address) == list(two.by_address)
    assert compare(one, two) == ()
    assert assess(opened()).digest == opened().source.digest
    assert one.name == "Small build"


def test_findings_come_worst_first_within_an_area() -> None:
    assessment = electric(
        {
            "donor.rear.limit": '"800 kg, datasheet"',
            "tyre.front.pressure": None,
            "pack.charge_limit": '"4.3 V, datasheet"',
            "part.inverter.voltage_low": '"unknown"',
        }
    )
    for report in assessment.reports:
        ranks = [WORST_FIRST.index(each.verdict) for each in report.findings]
        assert ranks == sorted(ranks)
        # The pack states figures alone, and of mounts nothing is written.
        assert {0, 1, 3} <= set(ranks) or report.area.name not in ("vehicle", "drive")
        for verdict in (Verdict.FAILING, Verdict.SOUND):
            shares = [
                (each.margin or 0.0) / (each.limit.number or 1.0)
                for each in report.findings
                if each.verdict is verdict
            ]
            assert shares == sorted(shares)
    counts = [assessment.count(verdict) for verdict in WORST_FIRST]
    assert sum(counts) == len(assessment.findings)
    assert counts[0] == sum(each.verdict is Verdict.FAILING for each in assessment.findings)
    known = [each for each in assessment.findings if each.verdict is not Verdict.UNKNOWN]
    assert assessment.provisional == sum(each.provisional for each in known)


def test_find_takes_an_address_and_names_near_ones() -> None:
    assessment = assessed()
    assert find(assessment, "vehicle.mass@kerb") is assessment.by_address["vehicle.mass@kerb"]
    with pytest.raises(UsageError, match=r"'vehicle.mas@kerb'; near it: .*vehicle.mass@kerb"):
        find(assessment, "vehicle.mas@kerb")


def single(number: float | None, band: float = 0.0, limit: float = 100.0) -> Assessment:
    """An assessment of one finding and one figure with a number typed in."""

    class One(Toy):
        def describe(self, own: Any, seen: Descriptions) -> Wheelbase:
            del own, seen
            origin = Given("x", "x", Origin.MEASURED, "text", band)
            missing = lacking(MASS, Lack("x", "x", "unknown"))
            return Wheelbase(missing if number is None else given(MASS, number, origin))

        def judge(self, own: Any, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
            del own, rules
            value = seen[Wheelbase].value
            mass = Check("toy.check", "toy", "meaning", "limit", MASS, Source("T"))
            yield mass.at_most(value, constant(MASS, limit), "rear/full")
            yield FigureKind("toy.figure", "toy figure", "meaning", MASS).of(value)

    return assessed(areas=(VEHICLE, One()))


def test_compare_is_silent_about_the_last_digits() -> None:
    assert compare(single(50.0), single(50.0 + 1e-9)) == ()
    assert compare(single(50.0, 2.0), single(50.001, 2.0)) == ()


def test_compare_says_what_moved() -> None:
    changes = compare(single(50.0), single(60.0))
    assert [(each.address, each.turned) for each in changes] == [
        ("toy.check@rear/full", False),
        ("toy.figure", False),
    ]
    assert changes[0].says == "toy, rear, full"
    assert changes[0].before == "50 kg ± 0, at most 100 kg" or changes[0].before == (
        "50 kg, at most 100 kg"
    )
    assert changes[0].after.startswith("60 kg")
    assert (changes[0].verdict_before, changes[0].verdict_after) == ("sound", "sound")
    assert changes[1].verdict_after == ""


def test_compare_puts_verdicts_that_turned_first_and_the_worst_of_them_on_top() -> None:
    changes = compare(assessed(), assessed({"donor.rear.limit": '"800 kg, datasheet"'}))
    turned = [each.turned for each in changes]
    assert turned == sorted(turned, reverse=True)
    assert changes[0].address == "vehicle.axle_load@rear/full"
    assert changes[0].verdict_before == "marginal, provisional"
    assert changes[0].verdict_after == "failing, provisional"
    words = [each.verdict_after.partition(",")[0] for each in changes if each.turned]
    order = ["failing", "unknown", "marginal", "sound"]
    assert [order.index(word) for word in words] == sorted(order.index(word) for word in words)
    assert {"failing", "marginal"} <= set(words)


def test_compare_puts_what_turned_before_what_failed_already() -> None:
    old = {"donor.rear.limit": '"800 kg, datasheet"'}
    new = {"donor.rear.limit": '"795 kg, datasheet"', "donor.front.limit": '"680 kg, datasheet"'}
    changes = compare(assessed(old), assessed(new))
    turned = [each.turned for each in changes]
    assert turned == sorted(turned, reverse=True)
    still = next(each for each in changes if each.address == "vehicle.axle_load@rear/full")
    assert (still.turned, still.verdict_after) == (False, "failing, provisional")
    assert changes[0].turned
    assert changes[0].verdict_after.startswith("marginal")


def test_compare_tells_a_verdict_that_became_firm() -> None:
    changes = compare(assessed(), assessed({"part.charger.mass": '"10 kg ± 0.1, measured"'}))
    kerb = next(each for each in changes if each.address == "vehicle.axle_load@rear/kerb")
    assert kerb.turned
    assert (kerb.verdict_before, kerb.verdict_after) == ("sound, provisional", "sound")


def test_compare_names_what_appears_and_what_vanishes() -> None:
    without = {path: None for path in SMALL if path.startswith("case.")}
    old, new = assessed(without), assessed()
    appeared = {each.address: each for each in compare(old, new)}
    assert "vehicle.axle_load@rear/market" in appeared
    assert all("market" in each for each in appeared)
    assert all(each.new and not each.gone for each in appeared.values())
    one = appeared["vehicle.axle_load@rear/market"]
    assert (one.before, one.verdict_before, one.turned) == ("not said", "", True)
    assert one.verdict_after == "sound, provisional"
    vanished = {each.address: each for each in compare(new, old)}
    assert set(vanished) == set(appeared)
    assert all(each.gone and not each.new for each in vanished.values())
    there = {each.address for each in vanished.values() if each.turned}
    assert {each.address for each in sorted_out(vanished.values()).gone} == there
    gone = vanished["vehicle.axle_load@rear/market"]
    assert (gone.after, gone.verdict_after, gone.turned) == ("not said", "", True)
    assert gone.says == one.says


def test_compare_tells_what_only_needs_other_readings() -> None:
    """The rear tyre's rating is unknown either way; of the masses another one is missing."""
    lacking = {"part.charger.mass": '"unknown"'}
    other = {"part.module.mass": '"unknown"'}
    changes = {each.address: each for each in compare(assessed(lacking), assessed(other))}
    rear = changes["vehicle.axle_load@rear/full"]
    assert rear.needs
    assert not rear.turned
    assert rear in sorted_out(changes.values()).needs
    known = compare(assessed(), assessed({"part.charger.mass": '"20 kg ± 0.1, measured"'}))
    assert not any(each.needs for each in known)


def test_compare_tells_what_is_no_longer_known() -> None:
    (check, shown_figure) = compare(single(50.0), single(None))
    assert (check.verdict_before, check.verdict_after) == ("sound", "unknown")
    assert shown_figure.after == "not known"


def test_compare_writes_in_the_units_asked_for() -> None:
    changes = compare(single(50.0), single(60.0), "inch")
    assert "lb" in changes[0].before
    assert "kg" not in changes[0].before


def test_words() -> None:
    assert title("axle load", "rear/full") == "axle load, rear, full"
    assert title("axle load", "") == "axle load"
    assert shown(nonexistent(MASS)) == "none"
    assert shown(lacking(MASS, Lack("x", "x", "unknown"))) == "not known"
    value = given(MASS, 12.0, Given("x", "x", Origin.MEASURED, "text", 0.5))
    assert shown(value) == "12.0 kg ± 0.5"
    assert shown(value, band=False) == "12.0 kg"
    assessment = assessed()
    assert verdict_words(finding(assessment, "vehicle.axle_load@front/kerb/donor")) == "sound"
    provisional = finding(assessment, "vehicle.axle_load@rear/kerb")
    assert verdict_words(provisional) == "sound, provisional"
    assert number(assessment, "vehicle.axle_load@front/kerb") == pytest.approx(530.0)
