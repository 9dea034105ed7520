"""The API against its own description, by schemathesis: what it allows and what it does not."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import Case

from api_asked import OPERATIONS, answered, cases, kept_in_order
from web_builders import Workbench

PICKUP = "orchard-pickup"
Open = Callable[..., Workbench]


@pytest.mark.parametrize("name", OPERATIONS)
def test_every_answer_is_one_that_the_description_allows(workbench: Open, name: str) -> None:
    asked_of(workbench(PICKUP), name, 15)


def asked_of(bench: Workbench, name: str, examples: int) -> None:
    token = bench.token()
    desk = bench.shelf.desk(PICKUP)

    @settings(
        max_examples=examples,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(cases(name, PICKUP))
    def ask(case: Case) -> None:
        before = desk.keeper.head()
        answer = answered(bench, token, case)
        if answer.status_code != 200 or name.startswith("GET"):
            assert desk.keeper.head() == before
        kept_in_order(bench, PICKUP)

    ask()
