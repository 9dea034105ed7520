"""The workbench for longer: more of what its tests send it, and a server killed again and again."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from api_asked import OPERATIONS, asked_of
from edits_at_once import left_by_a_killed_server
from form_posts import FORMS, fuzzed
from wattwright.journal.starting import start
from wattwright.output import ExplainOut
from web_builders import Workbench, workbench

__all__ = ["workbench"]

PICKUP = "orchard-pickup"
KILLS = 200
Open = Callable[..., Workbench]

pytestmark = pytest.mark.soak


@pytest.mark.parametrize("name", OPERATIONS)
def test_every_answer_is_one_that_the_description_allows(
    workbench: Open,
    name: str,
) -> None:
    asked_of(workbench(PICKUP), name, PICKUP, 300)


@pytest.mark.parametrize("address", FORMS)
def test_no_form_fails_over_what_is_sent(workbench: Open, address: str) -> None:
    fuzzed(workbench(PICKUP), address, PICKUP, 400)


@pytest.mark.parametrize("example", ["orchard-pickup", "island-runabout", "bare-start"])
def test_the_working_of_all_that_is_said_has_its_form(
    workbench: Open,
    example: str,
) -> None:
    bench = workbench(example)
    told = bench.client.get(f"/api/builds/{example}/check").json()
    addresses = {each["address"] for each in (*told["findings"], *told["figures"])}
    assert len(addresses) > 20
    for address in sorted(addresses):
        answer = bench.client.get(f"/api/builds/{example}/explain", params={"address": address})
        assert answer.status_code == 200, (address, answer.text[:300])
        ExplainOut.model_validate_json(answer.content)


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals")
def test_what_was_acknowledged_outlives_two_hundred_kills(tmp_path: Path) -> None:
    folder = tmp_path / "bare-start"
    start(folder, "bare-start")
    left_by_a_killed_server(folder, tmp_path, KILLS)
