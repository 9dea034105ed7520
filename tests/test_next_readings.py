"""What to find out next: the best bundle against trying all of them, and the same list always."""

from __future__ import annotations

import itertools
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from builders import SMALL, WEIGH_IN, assessed, write_build
from wattwright.areas import AREAS
from wattwright.assessment import AreaReport, Assessment
from wattwright.findings import Check, Verdict
from wattwright.formula import Source
from wattwright.kinds import MASS
from wattwright.next_readings import best_bundle, next_readings
from wattwright.values import Lack, constant, lacking

Needs = Mapping[str, frozenset[Lack]]


def reading(name: str, minutes: float) -> Lack:
    return Lack(name, name, "not given", "how", minutes)


def worth(needs: Needs, bundle: frozenset[Lack]) -> Fraction:
    settled = sum(need <= bundle for need in needs.values())
    return Fraction(settled, sum(max(1, round(each.minutes * 10)) for each in bundle))


def best_by_trying(needs: Needs) -> Fraction:
    everything = sorted(frozenset().union(*needs.values()), key=lambda each: each.path)
    bundles = itertools.chain.from_iterable(
        itertools.combinations(everything, size) for size in range(1, len(everything) + 1)
    )
    return max(worth(needs, frozenset(bundle)) for bundle in bundles)


@st.composite
def some_needs(draw: st.DrawFn) -> Needs:
    minutes = st.sampled_from([0.0, 0.5, 1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 30.0, 60.0])
    count = draw(st.integers(1, 9))
    readings = [reading(f"r{place}", draw(minutes)) for place in range(count)]
    sets = st.frozensets(st.sampled_from(readings), min_size=1)
    return {f"f{place}": draw(sets) for place in range(draw(st.integers(1, 8)))}


@settings(max_examples=150, deadline=None)
@given(some_needs())
def test_the_best_bundle_is_as_good_as_the_best_of_all_bundles(needs: Needs) -> None:
    best = best_bundle(needs)
    assert best
    assert worth(needs, best) == best_by_trying(needs)
    # Nothing in it is there for nothing: each reading belongs to a finding that it settles.
    settled = [need for need in needs.values() if need <= best]
    assert best == frozenset().union(*settled)


@settings(max_examples=50, deadline=None)
@given(some_needs(), st.randoms())
def test_the_best_bundle_does_not_depend_on_the_order_of_the_findings(
    needs: Needs, chance: st.DataObject
) -> None:
    names = list(needs)
    chance.shuffle(names)  # type: ignore[attr-defined]
    assert best_bundle({name: needs[name] for name in names}) == best_bundle(needs)


def test_what_one_finding_needs_is_preferred_where_a_larger_bundle_pays_as_well() -> None:
    one, two = reading("a", 5.0), reading("b", 5.0)
    assert best_bundle({"f": frozenset({one}), "g": frozenset({two})}) == {one}
    assert best_bundle({"g": frozenset({two}), "f": frozenset({one})}) == {one}
    three = reading("c", 15.0)
    assert best_bundle({"f": frozenset({one}), "g": frozenset({one, three})}) == {one}


def test_a_bundle_beats_what_is_quickest_alone() -> None:
    quick, slow, slower = reading("quick", 4.0), reading("slow", 5.0), reading("slower", 5.0)
    both = frozenset({slow, slower})
    needs = {"q": frozenset({quick}), **{f"f{place}": both for place in range(5)}}
    assert best_bundle(needs) == both


BARE = {
    path: text
    for path, text in SMALL.items()
    if not path.startswith(("donor.w", "donor.r", "donor.f")) and ".at." not in path
}


def test_bundles_come_in_order_of_worth_and_are_disjoint() -> None:
    assessment = assessed(
        {"donor.weighed.fl": None, "donor.wheelbase": None, "tyre.rear.load_index": None}
    )
    bundles = [each for each in next_readings(assessment) if each.purpose == "settle"]
    assert bundles
    worths = [len(each.settles) / each.minutes for each in bundles]
    assert worths == sorted(worths, reverse=True)
    readings = [each.path for bundle in bundles for each in bundle.readings]
    assert len(readings) == len(set(readings))
    assert set(readings) == {"donor.weighed.fl", "donor.wheelbase", "tyre.rear.load_index"}
    assert all(list(each.settles) == sorted(each.settles) for each in bundles)
    settled = [address for bundle in bundles for address in bundle.settles]
    unknown = {f.address for f in assessment.findings if f.verdict is Verdict.UNKNOWN}
    assert len(settled) == len(set(settled))
    assert set(settled) == unknown


def test_taking_the_readings_of_the_first_bundle_settles_what_it_says() -> None:
    left_out = dict.fromkeys(("donor.weighed.fl", "tyre.rear.load_index"))
    bundle = next_readings(assessed(left_out))[0]
    taken = {each.path: SMALL[each.path] for each in bundle.readings}
    after = assessed({**left_out, **taken})
    assert bundle.settles
    for address in bundle.settles:
        assert after.by_address[address].value.known
        finding = next(each for each in after.findings if each.address == address)
        assert finding.verdict is not Verdict.UNKNOWN


def test_a_reading_cannot_settle_what_cannot_be_worked_out_either() -> None:
    check = Check("toy.check", "toy", "meaning", "limit", MASS, Source("T"))
    missing = lacking(MASS, reading("scale", 5.0))
    unworkable = lacking(MASS, Lack("", "limit", "cannot be worked out: no such tyre"))
    findings = (
        check.at_most(missing, constant(MASS, 5.0), "open"),
        check.at_most(missing, unworkable, "hopeless"),
        check.at_most(constant(MASS, 5.0), unworkable, "without a way out"),
    )
    assessment = Assessment("toy", "", (AreaReport(AREAS[0], findings, ()),))
    (bundle,) = next_readings(assessment)
    assert bundle.settles == ("toy.check@open",)
    assert [each.path for each in bundle.readings] == ["scale"]


def test_at_most_ten_readings_are_listed() -> None:
    assessment = assessed(base=BARE)
    bundles = next_readings(assessment)
    listed = [each.path for bundle in bundles for each in bundle.readings]
    assert 0 < len(listed) <= 10
    assert any(bundle.of > len(bundle.readings) for bundle in bundles)
    for most in (1, 3, 25):
        bundles = next_readings(assessment, most)
        assert 0 < sum(len(bundle.readings) for bundle in bundles) <= most
    for bundle in bundles:
        assert bundle.of >= len(bundle.readings)
        if bundle.of == len(bundle.readings):
            assert bundle.minutes == sum(each.minutes for each in bundle.readings)


def test_soft_inputs_are_confirmed_after_unknown_ones_are_settled() -> None:
    assessment = assessed({"donor.wheelbase": None, "part.motor.mass": '"60 kg"'})
    purposes = [bundle.purpose for bundle in next_readings(assessment)]
    assert purposes == sorted(purposes, key=["settle", "confirm"].index)
    assert "confirm" in purposes
    confirm = [each for each in next_readings(assessment) if each.purpose == "confirm"]
    assert "part.motor.mass" in {each.path for bundle in confirm for each in bundle.readings}
    assert all(list(each.settles) == sorted(each.settles) for each in confirm)
    address = confirm[0].settles[0]
    provisional = {f.address for f in assessment.findings if f.provisional}
    assert address in provisional


def test_nothing_is_asked_where_nothing_is_open() -> None:
    firm = assessed({"part.charger.mass": '"10 kg ± 0.1, measured"'})
    assert not any(finding.provisional for finding in firm.findings)
    assert next_readings(firm) == ()


def test_the_output_does_not_depend_on_the_hash_seed(tmp_path: Path) -> None:
    folder = write_build(
        tmp_path / "build",
        {
            **WEIGH_IN,
            "donor.weighed.fl": None,
            "donor.wheelbase": None,
            "donor.rear.track": None,
            "tyre.rear.load_index": '"unknown"',
            "part.motor.mass": '"60 kg"',
            "part.motor.at.x": None,
            "place.bed.full": None,
        },
    )
    for more in ([], ["--json"]):
        outputs = set()
        for seed in ("1", "20"):
            run = subprocess.run(
                [sys.executable, "-m", "wattwright", "check", str(folder), *more],
                env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
                capture_output=True,
                check=False,
            )
            assert run.returncode == 3, run.stderr
            outputs.add(run.stdout)
        assert len(outputs) == 1
    assert json.loads(outputs.pop())["next"]
