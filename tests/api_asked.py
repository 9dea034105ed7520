"""Requests that schemathesis makes of the API from its description, sent in this process."""

from __future__ import annotations

import hashlib
import itertools

import httpx2
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from requests import Request
from schemathesis import Case, GenerationMode
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

from wattwright.web.api_description import described
from web_builders import HERE, Workbench

SCHEMA = schemathesis.openapi.from_dict(described())
# Keys and tokens are sent as they are, not invented.
SCHEMA.config.generation.update(with_security_parameters=False)
OPERATIONS = {
    f"{operation.method.upper()} {operation.path}": operation
    for operation in (each.ok() for each in SCHEMA.get_all_operations())
}


def cases(name: str, build: str) -> st.SearchStrategy[Case]:
    """What the description allows and what it does not, mostly of a build that is there."""
    operation = OPERATIONS[name]
    there = {"build": build} if "{build}" in operation.path else None
    good, bad = GenerationMode.POSITIVE, GenerationMode.NEGATIVE
    made = [operation.as_strategy(good, path_parameters=there)]
    if there:
        made += [operation.as_strategy(good)]
    if operation.query or operation.body:
        made += [operation.as_strategy(bad, path_parameters=there)]
    return st.one_of(made)


def answered(bench: Workbench, token: str, case: Case) -> httpx2.Response:
    """Send a case and hold the answer against the description."""
    asked = case.as_transport_kwargs(base_url=HERE)
    asked = {name: each for name, each in asked.items() if name in _OF_A_REQUEST}
    made = Request(**asked).prepare()
    assert made.url is not None
    headers = {**made.headers, "x-token": token}
    answer = bench.client.request(made.method or "", made.url, content=made.body, headers=headers)
    # What keys open is tested with keys; the check for it asks a server of its own.
    # Most texts that a field may hold are no values of it; that those are refused is right.
    case.validate_response(answer, excluded_checks=[positive_data_acceptance, ignored_auth])
    return answer


_OF_A_REQUEST = {"method", "url", "headers", "files", "data", "params", "json", "cookies"}


def kept_in_order(bench: Workbench, build: str) -> None:
    """The file can be read, and is what the journal says last."""
    desk = bench.shelf.desk(build)
    raw = (bench.folder / build / "build.toml").read_bytes()
    head = desk.keeper.head()
    assert head.digest == hashlib.sha256(raw).hexdigest()
    assert head.state == "done"
    assert desk.keeper.content(head.number) == raw
    numbers = [each.number for each in desk.keeper.revisions(most=20)]
    assert all(newer == older + 1 for newer, older in itertools.pairwise(numbers))
    assert desk.view().problems == ()


def bounded(examples: int) -> settings:
    """The same examples in every run."""
    return settings(
        max_examples=examples,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )


def asked_of(bench: Workbench, name: str, build: str, examples: int) -> None:
    """Ask an operation many things; what is refused or only read changes nothing."""
    token = bench.token()
    desk = bench.shelf.desk(build)

    @bounded(examples)
    @given(cases(name, build))
    def ask(case: Case) -> None:
        before = desk.keeper.head()
        answer = answered(bench, token, case)
        if answer.status_code != 200 or name.startswith("GET"):
            assert desk.keeper.head() == before
        kept_in_order(bench, build)

    ask()
