"""What must hold for any request: its host, where it comes from, its size and form."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from pathlib import Path
from posixpath import normpath

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading import reading_changes_nothing
from small_server import HERE, ON_LAN, PORT, Bench, Browser, ask, token_at
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from wattwright.web.safety import Limits, RefusedError
from wattwright.web.safety.asked import check_host, check_size


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


@pytest.mark.parametrize("host", [HERE, f"localhost:{PORT}", f"[::1]:{PORT}", f"LOCALHOST:{PORT}"])
def test_the_machine_itself_is_answered(tmp_path: Path, host: str) -> None:
    bench = Bench(tmp_path, lan=False)
    answer = bench.host().get("/", headers={"host": host})
    assert (answer.status_code, answer.text) == (200, "<p>host</p>")


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        f"evil.example:{PORT}",
        "127.0.0.1",
        "127.0.0.1:80",
        f"127.0.0.1:{PORT}.evil.example",
        f"localhost.:{PORT}",
        f"localhost.evil.example:{PORT}",
        f"evil.example@127.0.0.1:{PORT}",
        f"127.0.0.1:{PORT}, evil.example",
        f"0.0.0.0:{PORT}",
        f"2130706433:{PORT}",
        f"127.1:{PORT}",
        f"{ON_LAN}:{PORT}",
        f"garage.local:{PORT}",
    ],
)
def test_a_name_that_was_made_to_point_here_is_refused(tmp_path: Path, host: str) -> None:
    answer = Bench(tmp_path, lan=False).host().get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "not one of the workbench" in answer.text


@pytest.mark.parametrize("host", [ON_LAN, "[fd00::5]", "garage.local", "127.0.0.1"])
def test_on_the_local_network_its_own_names_are_answered(bench: Bench, host: str) -> None:
    assert bench.near().get("/pair", headers={"host": f"{host}:{PORT}"}).status_code == 200
    assert bench.near().get("/pair", headers={"host": host}).status_code == 421


def refused_by(check: Callable[[], object]) -> int:
    """Return with which status a check refuses, or zero if it does not."""
    try:
        check()
    except RefusedError as refusal:
        return refusal.status
    return 0


@given(st.text(st.characters(codec="latin-1"), max_size=40))
def test_no_other_host_is_answered(host: str) -> None:
    class Names:
        hosts = frozenset({HERE})

    scope = {"headers": [(b"host", host.encode("latin-1"))]}
    status = refused_by(lambda: check_host(scope, Names()))  # type: ignore[arg-type]
    assert status == (0 if host.lower() == HERE else 421 if host else 400)


def test_two_hosts_or_none_are_refused(bench: Bench) -> None:
    twice = [("host", HERE), ("host", "evil.example")]
    status, _, said = asyncio.run(ask(bench, headers=twice))
    assert (status, "came 2 times" in said) == (400, True)
    status, _, said = asyncio.run(ask(bench, headers=()))
    assert (status, "which host" in said) == (400, True)


def test_an_absolute_address_is_refused(bench: Bench) -> None:
    status, _, said = asyncio.run(ask(bench, path="http://evil.example/"))
    assert (status, "not one of a page" in said) == (400, True)


@given(st.lists(st.sampled_from(["", ".", "..", "pair", "...", "a b", "é"]), max_size=6))
def test_a_path_that_steps_back_is_refused(segments: list[str]) -> None:
    """Compared with how the standard library resolves it: nothing may be left to resolve."""
    path = "/" + "/".join(segments)
    scope = {"path": path, "query_string": b"", "method": "GET", "headers": []}
    # One slash at the end is part of an address here, and not of a file's name.
    resolved = path in (normpath(path), f"{normpath(path)}/") and not path.startswith("//")
    assert refused_by(lambda: check_size(scope, Limits())) == (0 if resolved else 400)


@pytest.mark.parametrize("path", ["/a\\b", "/a\0b", "/a\nb", "", "*", "/static/../devices"])
def test_a_path_with_other_tricks_is_refused(bench: Bench, path: str) -> None:
    assert asyncio.run(ask(bench, path=path))[0] == 400


def test_a_very_long_address_is_refused(bench: Bench) -> None:
    assert bench.host().get("/?q=" + "x" * 4_000).status_code == 200
    answer = bench.host().get("/?q=" + "x" * 4_100)
    assert answer.status_code == 414
    assert "4096 are allowed" in answer.text


def test_many_or_long_headers_are_refused(bench: Bench) -> None:
    host = bench.host()
    assert host.get("/", headers={"x-long": "x" * 17_000}).status_code == 431
    assert host.get("/", headers={f"x-{n}": "x" for n in range(100)}).status_code == 431


def test_a_header_with_a_line_break_is_refused(bench: Bench) -> None:
    broken = [("host", HERE), ("x-name", "one\r\nhost: evil.example")]
    status, _, said = asyncio.run(ask(bench, headers=broken))
    assert (status, "line break" in said) == (400, True)


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PURGE"])
def test_unusual_methods_are_refused(bench: Bench, method: str) -> None:
    assert bench.host().request(method, "/").status_code == 405


def test_a_method_cannot_be_overridden(bench: Bench) -> None:
    host = bench.host()
    for name in ("x-http-method-override", "x-method-override", "x-http-method"):
        assert host.get("/change?_method=POST", headers={name: "POST"}).status_code == 405
        assert host.post("/?_method=GET", headers={name: "GET"}).status_code == 403
    assert bench.changes == []


@pytest.mark.parametrize(
    "foreign",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": f"https://{HERE}"},
        {"origin": "http://127.0.0.1:3000"},
        {"origin": f"http://localhost:{PORT}"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
        {"sec-fetch-site": "same-origin", "origin": "http://evil.example"},
    ],
)
def test_another_site_cannot_change_anything_even_with_the_token(
    bench: Bench, foreign: dict[str, str]
) -> None:
    host = bench.host()
    token = token_at(host)
    answer = host.post("/change", data={"token": token}, headers=foreign)
    assert answer.status_code == 403
    assert "another site" in answer.text
    assert bench.changes == []


def test_our_own_page_can(bench: Bench) -> None:
    host = bench.host()
    ours = {"origin": f"http://{HERE}", "sec-fetch-site": "same-origin"}
    assert host.post("/change", data={"token": token_at(host)}, headers=ours).status_code == 200
    assert bench.changes == [["token"]]


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_site_can_link_here_but_not_load_from_here(bench: Bench, site: str) -> None:
    def loaded(mode: str, kind: str) -> int:
        headers = {"sec-fetch-site": site, "sec-fetch-mode": mode, "sec-fetch-dest": kind}
        return bench.host().get("/", headers=headers).status_code

    assert loaded("navigate", "document") == 200
    assert loaded("navigate", "iframe") == 403
    assert loaded("no-cors", "image") == 403
    assert loaded("no-cors", "script") == 403
    assert loaded("cors", "empty") == 403


def test_the_help_for_pages_sees_a_change(tmp_path: Path) -> None:
    def careless(request: Request) -> Response:
        (tmp_path / "seen").write_text(request.method)
        return Response()

    client = Browser(Starlette(routes=[Route("/", careless), Route("/other", Response())]))
    reading_changes_nothing(client, ["/other"], tmp_path)
    with pytest.raises(AssertionError, match="GET / changed \\['seen'\\]"):
        reading_changes_nothing(client, ["/other", "/"], tmp_path)
