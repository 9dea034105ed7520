"""Programs with a key: what it opens, what it does not, and that it can be ended."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from starlette.testclient import TestClient

from web_builders import PORT, Workbench

PICKUP = "orchard-pickup"
Open = Callable[..., Workbench]


def key_for(bench: Workbench, name: str, may: str) -> str:
    status, page = bench.send("/devices/key", name=name, may=may)
    assert status == 200, page
    found = re.search(r'<p class="big"><code>([\w-]+)</code>', page)
    assert found, page
    return found[1]


def program(bench: Workbench, key: str, address: str = "192.0.2.60") -> TestClient:
    return TestClient(
        bench.client.app,
        base_url=f"http://192.0.2.7:{PORT}",
        client=(address, 50_000),
        headers={"authorization": f"Bearer {key}"},
    )


def edit(client: TestClient, text: str, was: str | None = None) -> int:
    one = {"path": "donor.description", "text": text, **({} if was is None else {"was": was})}
    answer = client.post(f"/api/builds/{PICKUP}/edits", json={"edits": [one], "why": "by itself"})
    return answer.status_code


def test_a_program_reads_and_changes_under_its_name(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    script = program(bench, key_for(bench, "garage display", "change"))
    assert script.get("/api/builds").json() == {"builds": [PICKUP]}
    assert script.get(f"/api/builds/{PICKUP}/check").status_code == 200
    assert edit(script, "a pickup") == 200
    # As anybody else it meets who was there before.
    assert edit(script, "a van", was='"a lorry"') == 409
    assert 'description = "a pickup"' in bench.text(PICKUP)
    (last, _) = script.get(f"/api/builds/{PICKUP}/history").json()["revisions"]
    assert (last["who"], last["why"]) == ("garage display", "by itself")
    assert script.post(f"/api/builds/{PICKUP}/undo").status_code == 200
    assert "a pickup" not in bench.text(PICKUP)


def test_a_key_to_read_changes_nothing(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    before = bench.text(PICKUP)
    key = key_for(bench, "wall clock", "read")
    # On the machine itself it is the key that counts, not who runs the program.
    for client in (
        program(bench, key),
        TestClient(
            bench.client.app,
            base_url=bench.client.base_url,
            client=("127.0.0.1", 50_000),
            headers={"authorization": f"Bearer {key}"},
        ),
    ):
        assert client.get(f"/api/builds/{PICKUP}/check").status_code == 200
        assert edit(client, "a pickup") == 403
        assert client.post(f"/api/builds/{PICKUP}/undo").status_code == 403
    assert bench.text(PICKUP) == before


def test_a_key_is_shown_once_and_kept_as_its_digest(workbench: Open) -> None:
    bench = workbench(PICKUP)
    key = key_for(bench, "script", "read")
    assert key not in bench.settings.devices.file.read_text(encoding="utf-8")
    devices = bench.page("/devices")
    assert key not in devices
    assert "a program that may read" in devices


def test_a_key_that_was_ended_opens_nothing(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    script = program(bench, key_for(bench, "script", "change"))
    other = program(bench, key_for(bench, "other", "change"))
    listed = next(each for each in bench.settings.devices.all() if each.name == "script")
    assert bench.send("/devices/revoke", id=listed.id)[0] == 200
    assert script.get("/api/builds").status_code == 401
    assert edit(script, "a pickup") == 401
    assert other.get("/api/builds").status_code == 200


def test_a_key_opens_no_page_in_a_header_or_a_cookie(workbench: Open) -> None:
    bench = workbench(PICKUP, lan=True)
    key = key_for(bench, "script", "change")
    script = program(bench, key)
    browser = program(bench, key)
    browser.headers.pop("authorization")
    browser.cookies.set("paired", key)
    for client in (script, browser):
        assert client.get(f"/b/{PICKUP}/").status_code == 401
        assert client.post("/devices/key", data={"name": "x"}).status_code in (401, 403)
    assert browser.get("/api/builds").status_code == 401


@pytest.mark.parametrize("name", ["", "   "])
def test_a_key_without_a_name_is_not_made(workbench: Open, name: str) -> None:
    bench = workbench(PICKUP)
    assert bench.send("/devices/key", name=name)[0] == 422
    assert bench.settings.devices.all() == ()


def test_the_description_says_how_a_program_is_let_in(workbench: Open) -> None:
    told = workbench("bare-start").client.get("/api/openapi.json").json()
    schemes = told["components"]["securitySchemes"]
    assert (schemes["key"]["type"], schemes["key"]["scheme"]) == ("http", "bearer")
    for path, methods in told["paths"].items():
        for method, operation in methods.items():
            assert {"key": []} in operation["security"], path
            # What changes something is never open to whoever asks.
            assert ({} in operation["security"]) is (method == "get"), path


def test_all_of_a_long_history_is_paged_through(workbench: Open) -> None:
    bench = workbench("bare-start")
    desk = bench.shelf.desk("bare-start")
    text = bench.text("bare-start")
    for number in range(2, 122):
        desk.keeper.change(f"{text}# {number}\n", desk.keeper.head().digest, "a test", f"{number}")
    wanted = list(range(121, 0, -1))

    shown: list[int] = []
    path = "/b/bare-start/history"
    while True:
        page = bench.page(path)
        shown += [int(each) for each in re.findall(r"<b>(\d+)\. ", page)]
        earlier = re.search(r'href="([^"]*)">Earlier', page)
        if earlier is None:
            break
        path = earlier[1]
    assert shown == wanted
    assert "The latest" in page

    at, told = "/api/builds/bare-start/history", []
    for query in ("", *(f"?before={number}" for number in (72, 22))):
        told += [each["number"] for each in bench.client.get(at + query).json()["revisions"]]
    assert told == wanted
    whole = bench.client.get(f"{at}?most=500").json()["revisions"]
    assert [each["number"] for each in whole] == wanted
    for query in ("before=0", "before=x", "most=501", "most=-1", "before=²", "most="):
        assert bench.client.get(f"{at}?{query}").status_code == 422, query


def test_a_history_that_just_fills_its_page_promises_no_more(workbench: Open) -> None:
    bench = workbench("bare-start")
    desk = bench.shelf.desk("bare-start")
    text = bench.text("bare-start")
    desk.view()
    for number in range(2, 41):
        desk.keeper.change(f"{text}# {number}\n", desk.keeper.head().digest, "a test", f"{number}")
    assert "Earlier" not in bench.page("/b/bare-start/history")
