"""A small application behind the guard, with what the tests of the guard need."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import httpx2 as httpx
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route
from starlette.types import ASGIApp, Message

from wattwright.web.safety import (
    Devices,
    Guard,
    Limits,
    Settings,
    guarded,
    host_only,
    let_in,
    let_out,
    role,
    token_for,
    visit_of,
)

PORT = 8437
HERE = f"127.0.0.1:{PORT}"
ON_LAN = "192.168.7.5"
EVENING = 1_700_000_000.0


@dataclass
class Watch:
    """A clock that goes only when it is told to."""

    now: float = EVENING

    def __call__(self) -> float:
        return self.now

    def after(self, seconds: float = 0, *, days: float = 0) -> None:
        self.now += seconds + days * 86_400


def _page(request: Request) -> Response:
    return HTMLResponse(f"<p>{role(request)}</p>", headers={"x-form-token": token_for(request)})


async def _change(request: Request) -> Response:
    async with request.form() as form:
        request.app.state.changes.append(sorted(form.keys()))
    return Response("changed")


async def _upload(request: Request) -> Response:
    size = 0
    async for chunk in request.stream():
        size += len(chunk)
    request.app.state.changes.append(size)
    return Response(str(size))


async def _stubborn(request: Request) -> Response:
    try:
        return Response(str(len(await request.body())))
    except Exception:
        return Response("all is well", 500)


async def _pair(request: Request) -> Response:
    visit = visit_of(request)
    form = await request.form()
    token = visit.settings.devices.pair(str(form["code"]), str(form["name"]), visit.address)
    response = Response("paired")
    let_in(request, response, token)
    return response


def _accept(request: Request) -> Response:
    token = visit_of(request).settings.devices.accept(request.path_params["link"])
    response = Response("welcome")
    let_in(request, response, token)
    return response


def _leave(request: Request) -> Response:
    response = Response("gone")
    let_out(request, response)
    return response


def _state(request: Request) -> Response:
    if request.method == "POST":
        request.app.state.changes.append("api")
    return JSONResponse({"role": role(request)})


def _fail(_: Request) -> Response:
    raise RuntimeError("the secret of the house")


async def _fail_late(_: Request) -> Response:
    async def words() -> AsyncIterator[str]:
        yield "begun"
        raise RuntimeError("the secret of the house")

    return StreamingResponse(words())


def _broken_header(_: Request) -> Response:
    response = Response("x")
    response.raw_headers.append((b"x-name", b"one\r\nset-cookie: two=2"))
    return response


async def _events(request: Request) -> Response:
    async def words() -> AsyncIterator[str]:
        yield "data: first\n\n"
        while True:
            await request.app.state.more.wait()
            yield "data: more\n\n"

    return StreamingResponse(words(), media_type="text/event-stream")


def _plain(_: Request) -> Response:
    return Response("plain", headers={"cache-control": "public", "referrer-policy": "unsafe-url"})


def small_app(*, debug: bool = False) -> Starlette:
    """Return an application without any safety of its own."""
    app = Starlette(
        debug=debug,
        routes=[
            Route("/", _page),
            Route("/change", _change, methods=["POST", "DELETE"]),
            Route("/upload", _upload, methods=["POST"]),
            Route("/photos/new", _upload, methods=["POST"]),
            Route("/stubborn", _stubborn, methods=["POST"]),
            Route("/pair", _page),
            Route("/pair", _pair, methods=["POST"]),
            Route("/guest/{link}", _page),
            Route("/guest/{link}", _accept, methods=["POST"]),
            Route("/leave", _leave, methods=["POST"]),
            Route("/devices", _page, middleware=[host_only]),
            Route("/api/state", _state, methods=["GET", "POST"]),
            Route("/events", _events),
            Route("/fail", _fail),
            Route("/fail-late", _fail_late),
            Route("/broken-header", _broken_header),
            Route("/plain", _plain),
            Route("/static/plain.css", _plain),
            Route("/static/other.css", _page),
        ],
    )
    app.state.changes = []
    return app


class Browser:
    """Sends requests to an application as they would come from an address, and keeps cookies."""

    def __init__(
        self, app: ASGIApp, base: str = f"http://{HERE}", client: tuple[str, int] = ("::1", 50_000)
    ) -> None:
        self.cookies = httpx.Cookies()
        self._transport = httpx.ASGITransport(app, client=client)
        self._base = base

    def request(self, method: str, path: str, **options: Any) -> httpx.Response:
        return asyncio.run(self._request(method, path, options))

    async def _request(self, method: str, path: str, options: dict[str, Any]) -> httpx.Response:
        async with httpx.AsyncClient(
            transport=self._transport, base_url=self._base, cookies=self.cookies
        ) as client:
            answer = await client.request(method, path, **options)
            self.cookies = client.cookies
            return answer

    def get(self, path: str, **options: Any) -> httpx.Response:
        return self.request("GET", path, **options)

    def post(self, path: str, **options: Any) -> httpx.Response:
        return self.request("POST", path, **options)


@dataclass
class Bench:
    """Everything of one server: its time, its devices, its guard, and who comes to it."""

    folder: Path
    lan: bool = True
    debug: bool = False
    limits: Limits = field(default_factory=Limits)
    watch: Watch = field(default_factory=Watch)

    def __post_init__(self) -> None:
        self.devices = Devices(self.folder, clock=self.watch, ticks=self.watch)
        self.app = small_app(debug=self.debug)
        self.settings = Settings(
            devices=self.devices,
            port=PORT,
            lan=self.lan,
            addresses=(ON_LAN, "fd00::5"),
            hostname="garage",
            limits=self.limits,
            ticks=self.watch,
        )
        self.guard: Guard = guarded(self.app, self.settings)

    @property
    def changes(self) -> list[object]:
        """What was changed so far."""
        changes: list[object] = self.app.state.changes
        return changes

    def restarted(self) -> Bench:
        """Return the same server after a restart."""
        return replace(self)

    def host(self) -> Browser:
        """Return the browser of the person at the machine."""
        return Browser(self.guard, f"http://{HERE}", client=("127.0.0.1", 50_001))

    def near(self, address: str = "192.168.7.20") -> Browser:
        """Return a browser on the local network."""
        return Browser(self.guard, f"http://{ON_LAN}:{PORT}", client=(address, 50_002))

    def phone(self) -> Browser:
        """Return a paired browser on the local network."""
        client = self.near()
        code = self.devices.codes.offer().text
        answer = client.post(
            "/pair", data={"token": token_at(client, "/pair"), "code": code, "name": "phone"}
        )
        assert answer.status_code == 200, answer.text
        return client

    def guest(self, days: float = 7) -> Browser:
        """Return the browser of a guest whose link was opened."""
        client = self.near("192.168.7.30")
        link = f"/guest/{self.devices.invite('inspector', days)}"
        answer = client.post(link, data={"token": token_at(client, link)})
        assert answer.status_code == 200, answer.text
        return client


def token_at(client: Browser, path: str = "/") -> str:
    """Return the form token of a page."""
    answer = client.get(path)
    assert answer.status_code == 200, answer.text
    return answer.headers["x-form-token"]


async def ask(
    bench: Bench,
    *messages: Message,
    method: str = "GET",
    path: str = "/",
    headers: Iterable[tuple[str, str]] = (("host", HERE),),
    client: tuple[str, int] | None = ("127.0.0.1", 50_001),
    **scope: Any,
) -> tuple[int, dict[str, str], str]:
    """Send a request as a server would hand it on, also one that no client would send."""
    sent: list[Message] = []
    waiting = list(messages)

    async def receive() -> Message:
        if waiting:
            return waiting.pop(0)
        await asyncio.Event().wait()
        raise AssertionError

    async def send(message: Message) -> None:
        sent.append(message)

    await bench.guard(
        {
            "type": "http",
            "asgi": {"version": "3.0", "spec_version": "2.3"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": path,
            "raw_path": path.encode(),
            "query_string": b"",
            "root_path": "",
            "headers": [(name.encode(), value.encode("latin-1")) for name, value in headers],
            "client": client,
            "server": ("127.0.0.1", PORT),
            **scope,
        },
        receive,
        send,
    )
    body = b"".join(message.get("body", b"") for message in sent[1:])
    given = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
    return sent[0]["status"], given, body.decode()
