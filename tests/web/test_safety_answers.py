"""What every answer says about itself, what failures show, and event streams."""

from __future__ import annotations

import asyncio
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
import segno
from small_server import EVENING, HERE, ON_LAN, PORT, Bench, ask
from starlette.types import Message

from wattwright.web.safety import Limits, Settings, guest_url, pairing_url, square_code


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def directives(policy: str) -> dict[str, list[str]]:
    """Read a policy by the grammar of Content Security Policy Level 3, 2.2.1."""
    parts = (part.split() for part in policy.split(";"))
    return {name: values for name, *values in parts}


@pytest.mark.parametrize(
    "path", ["/", "/nowhere", "/fail", "/static/plain.css", "/?q=" + "x" * 5000]
)
def test_every_answer_has_the_headers_also_a_refusal_and_a_failure(bench: Bench, path: str) -> None:
    headers = bench.host().get(path).headers
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["cross-origin-opener-policy"] == "same-origin"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert "camera=(self)" in headers["permissions-policy"]
    assert "geolocation=()" in headers["permissions-policy"]
    assert "access-control-allow-origin" not in headers
    policy = directives(headers["content-security-policy"])
    assert policy.pop("img-src") == ["'self'", "blob:"]
    for closed in ("default-src", "base-uri", "frame-ancestors"):
        assert policy.pop(closed) == ["'none'"]
    assert {*policy} >= {"script-src", "style-src", "connect-src", "form-action", "manifest-src"}
    assert all(values == ["'self'"] for values in policy.values())


def test_a_page_cannot_weaken_them(bench: Bench) -> None:
    headers = bench.host().get("/plain").headers
    assert headers.get_list("referrer-policy") == ["same-origin"]
    assert headers.get_list("cache-control") == ["no-store"]


def test_only_static_files_may_be_kept(bench: Bench) -> None:
    host = bench.host()
    assert host.get("/static/plain.css").headers["cache-control"] == "public"
    assert host.get("/static/other.css").headers["cache-control"] == "no-cache"
    assert host.get("/").headers["cache-control"] == "no-store"
    assert host.get("/nowhere").headers["cache-control"] == "no-store"


@pytest.mark.parametrize("debug", [False, True])
@pytest.mark.parametrize("accept", ["text/html", "application/json", "*/*"])
def test_a_failure_shows_a_number_that_is_in_the_log_too(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, debug: bool, accept: str
) -> None:
    answer = Bench(tmp_path, debug=debug).host().get("/fail", headers={"accept": accept})
    assert answer.status_code == 500
    assert "secret of the house" not in answer.text
    assert "Traceback" not in answer.text
    [number] = {*re.findall("[0-9]{8}", answer.text)}
    [record] = [record for record in caplog.records if record.name == "wattwright.web"]
    assert number in record.getMessage()
    assert record.exc_info
    assert "secret of the house" in str(record.exc_info[1])


def test_a_failure_in_the_api_is_json(bench: Bench) -> None:
    answer = bench.host().get("/fail", headers={"accept": "application/json"})
    assert answer.json()["number"] in answer.json()["message"]


def test_a_failure_after_the_beginning_breaks_the_answer_off(
    bench: Bench, caplog: pytest.LogCaptureFixture
) -> None:
    status, _, said = asyncio.run(ask(bench, path="/fail-late"))
    assert (status, said) == (200, "begun")
    assert "failure" in caplog.text


def test_a_link_of_a_guest_is_not_written_into_the_log(
    bench: Bench, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    link = bench.devices.invite("inspector", 7)

    def fail(_: str) -> str:
        raise RuntimeError

    monkeypatch.setattr(bench.devices, "accept", fail)
    own = {"x-token": bench.host().get("/").headers["x-form-token"]}
    assert bench.host().post(f"/guest/{link}", headers=own).status_code == 500
    assert "/guest/(token)" in caplog.text
    assert link not in caplog.records[0].getMessage()


def test_an_answer_with_a_broken_header_is_a_failure(
    bench: Bench, caplog: pytest.LogCaptureFixture
) -> None:
    answer = bench.host().get("/broken-header")
    assert (answer.status_code, "set-cookie" in answer.headers) == (500, False)
    assert "line break" in caplog.text


def test_a_failure_that_a_page_reports_itself_is_passed_on(bench: Bench) -> None:
    """Status 500 without an exception is the page's own."""
    own = {"x-token": bench.host().get("/").headers["x-form-token"]}
    assert bench.host().post("/stubborn", content=b"abc", headers=own).text == "3"


def test_a_head_request_is_refused_without_a_body(bench: Bench) -> None:
    headers = [("host", f"{ON_LAN}:{PORT}")]
    status, given, said = asyncio.run(ask(bench, method="HEAD", headers=headers))
    assert (status, said) == (401, "")
    assert int(given["content-length"]) > 0


def test_refusals_to_programs_are_json(bench: Bench) -> None:
    for headers in ({"accept": "application/json"}, {}):
        answer = bench.near().get("/api/state", headers=headers)
        assert answer.status_code == 401
        assert "not paired" in answer.json()["message"]


def test_what_was_asked_is_never_part_of_a_page_as_markup(bench: Bench) -> None:
    scope = {"raw_path": b"/<script>alert(1)</script>", "query_string": b'"><script>'}
    away = ("192.168.7.20", 50_000)
    headers = [("host", f"{ON_LAN}:{PORT}")]
    status, _, said = asyncio.run(
        ask(bench, path="/<script>", headers=headers, client=away, **scope)
    )
    assert (status, "<script" in said) == (401, False)


def test_other_kinds_of_connection(bench: Bench) -> None:
    sent: list[Message] = []

    async def send(message: Message) -> None:
        sent.append(message)

    async def receive() -> Message:
        return {"type": "lifespan.startup"} if len(sent) == 1 else {"type": "lifespan.shutdown"}

    async def both() -> None:
        await bench.guard({"type": "websocket", "path": "/"}, receive, send)
        assert sent == [{"type": "websocket.close", "code": 1008}]
        await bench.guard({"type": "lifespan", "asgi": {"version": "3.0"}}, receive, send)

    asyncio.run(both())
    assert [message["type"] for message in sent[1:]] == [
        "lifespan.startup.complete",
        "lifespan.shutdown.complete",
    ]


class Listener:
    """Holds an event stream open."""

    def __init__(self, bench: Bench, cookie: str = "", **scope: object) -> None:
        self.sent: list[Message] = []
        self.came = asyncio.Event()
        host, address = (f"{ON_LAN}:{PORT}", "192.168.7.20") if cookie else (HERE, "127.0.0.1")
        headers = [(b"host", host.encode()), (b"cookie", f"paired={cookie}".encode())]
        whole = {
            "type": "http",
            "asgi": {"version": "3.0", "spec_version": "2.3"},
            "http_version": "1.1",
            "method": "GET",
            "scheme": "http",
            "path": "/events",
            "raw_path": b"/events",
            "query_string": b"",
            "root_path": "",
            "headers": headers,
            "client": (address, 50_000),
            "server": ("127.0.0.1", PORT),
            **scope,
        }
        self.first = True
        self.task = asyncio.create_task(bench.guard(whole, self._receive, self._send))

    async def _receive(self) -> Message:
        if self.first:
            self.first = False
            return {"type": "http.request", "body": b"", "more_body": False}
        await asyncio.Event().wait()
        raise AssertionError

    async def _send(self, message: Message) -> None:
        self.sent.append(message)
        self.came.set()

    async def begun(self) -> int:
        while len(self.sent) < 2:
            self.came.clear()
            await self.came.wait()
        return int(self.sent[0]["status"])

    @property
    def events(self) -> list[bytes]:
        return [message["body"] for message in self.sent[1:] if message["body"]]


VERSIONS = pytest.mark.parametrize(
    "asgi", [{"version": "3.0", "spec_version": "2.3"}, {"version": "3.0", "spec_version": "2.4"}]
)


def test_one_device_holds_few_streams_open(tmp_path: Path) -> None:
    bench = Bench(tmp_path, limits=Limits(streams=2))
    cookie = bench.phone().cookies["paired"]

    async def scenario() -> None:
        bench.app.state.more = asyncio.Event()
        held = [Listener(bench, cookie) for _ in range(2)]
        assert [await one.begun() for one in held] == [200, 200]
        third = Listener(bench, cookie)
        assert await third.begun() == 429
        assert b"2 pages are open" in third.events[0]
        assert await Listener(bench).begun() == 200
        held[0].task.cancel()
        await asyncio.gather(held[0].task, return_exceptions=True)
        assert await Listener(bench, cookie).begun() == 200
        bench.guard.end_streams()
        await asyncio.sleep(0)

    asyncio.run(scenario())


@VERSIONS
def test_a_stream_ends_when_its_device_is_revoked(bench: Bench, asgi: dict[str, str]) -> None:
    cookie = bench.phone().cookies["paired"]

    async def scenario() -> Listener:
        bench.app.state.more = asyncio.Event()
        stream = Listener(bench, cookie, asgi=asgi)
        await stream.begun()
        bench.devices.revoke(bench.devices.all()[0].id)
        bench.app.state.more.set()
        await stream.task
        return stream

    stream = asyncio.run(scenario())
    assert stream.events == [b"data: first\n\n"]
    assert stream.sent[-1] == {"type": "http.response.body", "body": b""}


def test_streams_end_when_the_server_stops(bench: Bench) -> None:
    async def scenario() -> Listener:
        bench.app.state.more = asyncio.Event()
        stream = Listener(bench)
        await stream.begun()
        bench.guard.end_streams()
        await stream.task
        return stream

    stream = asyncio.run(scenario())
    assert stream.events == [b"data: first\n\n"]
    assert stream.sent[-1] == {"type": "http.response.body", "body": b""}


def test_links_name_this_machine_as_others_reach_it(bench: Bench) -> None:
    assert pairing_url(bench.settings, "ABCD2345") == f"http://{ON_LAN}:{PORT}/pair?code=ABCD2345"
    link = bench.devices.invite("inspector", 1)
    assert guest_url(bench.settings, link) == f"http://{ON_LAN}:{PORT}/guest/{link}"
    alone = Settings(devices=bench.devices, port=PORT, addresses=("fd00::5",), lan=True)
    assert pairing_url(alone, "X").startswith(f"http://[fd00::5]:{PORT}/")
    assert bench.watch.now == EVENING


def test_the_square_code_needs_nothing_the_policy_forbids() -> None:
    """The dark squares are those of the symbol, and four light modules stand around it.

    ISO/IEC 18004, 5.3.8: the quiet zone is four modules wide.
    """
    url = "http://192.168.7.5:8437/pair?code=ABCD2345"
    root = ET.fromstring(square_code(url))
    side = segno.make_qr(url, error="m").symbol_size(border=0)[0]
    assert root.get("viewBox") == f"0 0 {side + 8} {side + 8}"
    for element in root.iter():
        assert element.tag in ("svg", "path")
        assert {*element.attrib} <= {"viewBox", "class", "d", "fill", "stroke"}
    light, dark = root
    assert light.get("fill") == "#fff"
    assert dark.get("d", "").startswith("M4 4.5h7")
