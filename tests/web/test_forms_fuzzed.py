"""Every address that takes a form, sent what no page of ours sends."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from form_posts import POSTS, Post, filled_in, post_routes, posted
from wattwright.web.app import made
from wattwright.web.shelf import Shelf
from web_builders import Workbench

PICKUP = "orchard-pickup"
Open = Callable[..., Workbench]
FORMS = sorted(each for each in post_routes(made(Shelf([])).routes) if not each.startswith("/api"))


def bounded(examples: int) -> settings:
    return settings(
        max_examples=examples,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


def fuzzed(bench: Workbench, address: str, examples: int) -> None:
    token = bench.token()
    side = f"{PICKUP}~try"

    @bounded(examples)
    @given(POSTS, st.sampled_from((PICKUP, side)), st.sampled_from(("part", "donor.removed", "x")))
    def send(post: Post, build: str, path: str) -> None:
        if build == side:
            bench.shelf.begin_try(PICKUP)
        posted(bench, filled_in(address, build, path=path), post, token)

    send()


def test_all_forms_are_found() -> None:
    assert {"/b/{build}/set", "/builds/import", "/pair", "/devices/guest"} <= set(FORMS)
    assert len(FORMS) > 20


@pytest.mark.parametrize("address", FORMS)
def test_no_form_fails_over_what_is_sent(workbench: Open, address: str) -> None:
    fuzzed(workbench(PICKUP), address, 14)
