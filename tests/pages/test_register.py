"""The register says what the assessment says, all of it, and each step once."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

import pytest

from printed_pages import ABOUT, Read, example, squeezed
from wattwright.next_readings import next_readings
from wattwright.pages import printed
from wattwright.pages.register import register
from wattwright.pages.workings import Workings, gathered
from wattwright.working import steps_of
from wattwright.written_out import check_out

BUILDS = ("orchard-pickup", "island-runabout", "bare-start")


def roots(assessment):
    return [value for each in assessment.findings for value in (each.value, each.limit)]


@pytest.fixture(scope="module", params=BUILDS)
def build(request):
    return example(request.param)


def test_every_number_is_the_one_of_the_json(build):
    _, assessment = build
    said = check_out(assessment, next_readings(assessment), "metric")
    data = register(assessment, "metric")
    rows = {}
    for area in data["areas"]:
        for check in area["checks"]:
            for row in check["rows"]:
                rows[check["id"], row["about"]] = row
            for group in check["unknown"]:
                rows |= {(check["id"], row["about"]): row for row in group["rows"]}
    assert len(rows) == len(said.findings) == len(assessment.findings)
    for finding in said.findings:
        row = rows[finding.id, finding.about.replace("/", ", ")]
        assert row["value"] == finding.value.text
        assert row["limit"] == f"{finding.sense} {finding.limit.text}"
        if finding.verdict == "unknown":
            continue
        provisional = ", provisional" if finding.provisional else ""
        assert row["verdict"] == f"{finding.verdict}{provisional}"
        first = [each.path for each in finding.rests_on][:6]
        assert re.findall(r"(?:^|; )([\w.]+|[^;(]+?) \(", row["rests"])[: len(first)] == first
        assert row["doubts"] == finding.doubts


def test_what_is_missing_and_what_is_soft_is_all_there(build):
    _, assessment = build
    data = register(assessment, "metric")
    lacks = {each for finding in assessment.findings for each in finding.lacks}
    listed = [reading for group in data["lacks"] for reading in group["readings"]]
    assert len(listed) == len(lacks)
    assert {each["path"] for each in listed} == {each.path for each in lacks}
    soft = {g for finding in assessment.findings for g, _ in finding.rests_on if g.soft}
    listed = [reading for group in data["soft"] for reading in group["readings"]]
    assert len(listed) == len(soft)
    counts = {each["path"]: each["count"] for each in listed}
    path = max(counts, key=lambda each: counts[each]) if counts else ""
    resting = [f for f in assessment.findings if any(g.path == path for g, _ in f.rests_on)]
    assert counts.get(path, 0) == len(resting)


def test_each_step_is_printed_once_behind_what_it_builds_on(build):
    _, assessment = build
    workings = Workings(roots(assessment), "metric")
    steps = [step for group in workings.groups for step in group["steps"]]
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    for step in steps:
        for named in re.findall(r"\((\d+)\)", step["numbers"]):
            assert int(named) < step["number"]
    lines = [
        (group["math"], step["numbers"], step["result"], step["notes"])
        for group in workings.groups
        for step in group["steps"]
        if step["result"] != "= not known"
    ]
    alike = len(lines) - len(set(lines))
    # What looks alike and is not: other inputs of the same number and no name.
    assert alike <= len(lines) / 20
    for worked in steps_of(*roots(assessment)):
        number = workings.number(worked.value)
        assert steps[number - 1]["result"].startswith("= ")


def test_steps_along_one_formula_stand_together(pickup):
    _, assessment = pickup
    found = steps_of(*roots(assessment))
    same = {id(each.step): id(each.step) for each in found}
    order = gathered(found, same)
    assert {id(each) for each in order} == {id(each) for each in found}
    places = {id(each.step): place for place, each in enumerate(order)}
    for each in order:
        for value in each.step.flat:
            if value.step is not None:
                assert places[id(value.step)] < places[id(each.step)]
    runs = 1 + sum(one.formula is not other.formula for one, other in pairwise(order))
    assert runs < 1.2 * len({id(each.formula) for each in order})


@cache
def read_back(name):
    """The register of an example, printed and read once for all who look into it."""
    return Read(printed("register", *example(name), "metric", "a4", ABOUT).content)


@pytest.mark.parametrize("name", BUILDS)
def test_the_page_says_it_all(name):
    _, assessment = example(name)
    read = read_back(name)
    text = read.text
    for finding in check_out(assessment, (), "metric").findings:
        if finding.value.number is not None:
            assert squeezed(finding.value.text) in text, finding.address
    data = register(assessment, "metric")
    for group in data["groups"]:
        assert squeezed(group["says"]) in text
    for source in data["sources"]:
        assert squeezed(source) in text
    assert "certifies nothing" in read.pages[0]
    assert "Local codes, the authority's answers and licensed practice come first" in (
        read.pages[0].replace("\u2019", "'")
    )
    areas = [report.area.title for report in assessment.reports]
    wanted = [*areas, "Not known yet", "Taken, not known", "Working", "Inputs", "Sources"]
    assert read.bookmarks == wanted


def test_failures_stand_on_the_first_page(pickup):
    _, assessment = pickup
    data = register(assessment, "metric")
    failing = [each for each in assessment.findings if each.verdict.value == "failing"]
    assert len(data["failing"]) == len(failing) > 0
    assert squeezed(data["failing"][0]) in read_back("orchard-pickup").pages[0]


def test_units_are_the_reader_s(pickup):
    opened, assessment = pickup
    text = Read(printed("register", opened, assessment, "inch", "letter", ABOUT).content).text
    # Inputs are shown as they were typed.
    findings = text[text.index("axle load What stands") : text.index("Until these are found out")]
    assert " lb ± " in findings
    assert " kg ± " not in findings
