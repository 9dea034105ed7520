"""``fields`` and ``findings``: everything declared, from the declarations."""

from __future__ import annotations

import pytest

from wattwright.areas import AREAS
from wattwright.build.catalogue import entries


def test_fields_lists_every_field(run):
    answer = run("fields")
    assert answer.code == 0
    heads = {line.partition(":")[0] for line in answer.out.splitlines() if line[0] != " "}
    assert heads == {entry.path for entry in entries()}


def test_fields_of_one_section_only(run):
    heads = [x.partition(":")[0] for x in run("fields", "tyre").out.splitlines() if x[0] != " "]
    assert heads
    assert all(path.startswith("tyre.") for path in heads)


def test_a_field_says_kind_range_how_and_default(run):
    block = run("fields", "tyre").out.split("tyre.front.rated_pressure: ")[1].split("\ntyre.")[0]
    words = " ".join(block.split())
    assert "gauge pressure, such as 2.4 bar; 1.5 bar to 8 bar" in words
    assert "how: read it off the sidewall" in words
    assert "when left out: 2.5 bar (passenger tyres of standard load" in words


def test_an_unknown_section_names_the_known_ones(run):
    answer = run("fields", "engine")
    assert answer.code == 64
    assert "donor" in answer.err


@pytest.mark.parametrize("area", AREAS, ids=lambda area: area.name)
def test_findings_lists_every_check_and_figure_with_meaning_and_source(run, area):
    words = run("findings").words
    for check in area.checks:
        assert f"{check.id}: {check.says} {check.meaning} limit: {check.limit_says}" in words
        assert f"source: {check.source}" in words
    for figure in area.figures:
        assert f"{figure.id}: {figure.meaning}" in words
