"""Who asks: the person at the machine, a paired device, a guest, or somebody not let in yet.

The cookie is Strict: a browser never sends it with what a page or a program from elsewhere starts.
Pairing does not need it: a link or a square code opens a page that is open to all, and what follows
is asked from that page. A paired device that follows a link from elsewhere is shown the page that
says it is not paired, whose own link opens the page asked for.
"""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
import secrets
from dataclasses import dataclass
from typing import Literal

from starlette.middleware import Middleware
from starlette.requests import Request, cookie_parser
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from wattwright.system import let_in_by_system
from wattwright.web.safety.asked import READS, SAFE, only
from wattwright.web.safety.devices import UNUSED_DAYS, Device
from wattwright.web.safety.refusal import RefusedError
from wattwright.web.safety.settings import Settings

Role = Literal["host", "full", "guest", "stranger"]

COOKIE = "paired"
_KEY = "wattwright.visit"
_FORWARDED = frozenset({b"forwarded", b"via", b"x-forwarded-for", b"x-real-ip"})


@dataclass(slots=True, kw_only=True)
class Visit:
    """Who sends one request, and what goes into the cookie with the answer."""

    settings: Settings
    role: Role
    address: str
    token: str = ""
    device: Device | None = None
    # A program shows its token in a header that no page from elsewhere can set.
    program: bool = False
    cookie: str = ""

    @property
    def key(self) -> str:
        """What counts as one device."""
        return self.device.id if self.device else self.role

    @property
    def form_token(self) -> str:
        """The token that forms carry, good for this visitor alone."""
        whom = "host" if self.role == "host" else f"by cookie {self.token}"
        secret = self.settings.devices.secret
        return hmac.new(secret, f"form {whom}".encode(), hashlib.sha256).hexdigest()

    def still_let_in(self) -> bool:
        """Tell whether the device was not revoked since."""
        return self.device is None or bool(self.settings.devices.device_of(self.token))


def identify(scope: Scope, host: str, settings: Settings) -> Visit:
    """Find out who asks, and leave it with the request."""
    address = str((scope.get("client") or ("",))[0])
    if not settings.lan and not _on_this_machine(address):
        raise RefusedError(
            403, "the workbench answers this machine alone; it was not started for more"
        )
    visit = (
        _program(scope, address, settings)
        or _host(scope, host, address, settings)
        or _browser(scope, address, settings)
    )
    scope[_KEY] = visit
    return visit


def _program(scope: Scope, address: str, settings: Settings) -> Visit | None:
    shown = only(scope, "authorization")
    if not shown or not settings.under_api(scope["path"]):
        return None
    kind, _, token = shown.partition(" ")
    device = settings.devices.device_of(token.strip()) if kind.lower() == "bearer" else None
    if device is None:
        raise RefusedError(401, "the token in the header Authorization opens nothing here")
    settings.devices.mark_seen(device)
    return Visit(
        settings=settings,
        role=device.role,
        address=address,
        token=token.strip(),
        device=device,
        program=True,
    )


def _host(scope: Scope, host: str, address: str, settings: Settings) -> Visit | None:
    """Recognise the person at the machine: the near end of the connection and the name say so.

    The name has to be one that always means this machine: others can be made to point here. What
    another program on this machine passes on for somebody does not count, nor another user's.
    """
    if host not in settings.here or not _on_this_machine(address):
        return None
    if any(name in _FORWARDED for name, _ in scope["headers"]):
        return None
    if not let_in_by_system((address, scope["client"][1]), settings.port):
        return None
    return Visit(settings=settings, role="host", address=address)


def _browser(scope: Scope, address: str, settings: Settings) -> Visit:
    token = cookie_parser(only(scope, "cookie")).get(COOKIE, "")
    device = settings.devices.device_of(token) if token else None
    if device and device.program:
        device = None
    visit = Visit(
        settings=settings,
        role=device.role if device else "stranger",
        address=address,
        token=token,
        device=device,
    )
    if device and settings.devices.mark_seen(device):
        visit.cookie = _cookie(token, UNUSED_DAYS)
    return visit


def _on_this_machine(address: str) -> bool:
    try:
        read = ipaddress.ip_address(address)
    except ValueError:
        return False
    return (getattr(read, "ipv4_mapped", None) or read).is_loopback


def check_role(visit: Visit, method: str, path: str) -> None:
    """Refuse what the role does not allow."""
    if visit.settings.is_open(path):
        return
    if visit.role == "stranger":
        raise RefusedError(
            401, "the workbench shows nothing to devices that are not paired with it"
        )
    leaves = path == visit.settings.leaving
    if visit.program and visit.role == "guest" and method not in READS:
        raise RefusedError(403, "this key may read everything and change nothing")
    if visit.role == "guest" and method not in READS and not leaves:
        raise RefusedError(403, "a guest can look at everything and change nothing")


def check_token(visit: Visit, method: str, token: str | None) -> None:
    """Refuse a change that comes without the token of the visitor's own pages."""
    if method in SAFE or visit.program:
        return
    if not token:
        raise RefusedError(
            403, "the form came without its token; open the page again and repeat it"
        )
    if not hmac.compare_digest(token.encode(), visit.form_token.encode()):
        raise RefusedError(403, "the form is out of date; open the page again and repeat it")


def visit_of(request: Request) -> Visit:
    """Return who sends a request."""
    visit = request.scope[_KEY]
    assert isinstance(visit, Visit)  # noqa: S101 - put there by identify, for the type checker
    return visit


def role(request: Request) -> Role:
    """Return what whoever sends a request may do."""
    return visit_of(request).role


def token_for(request: Request) -> str:
    """Return the token for forms and scripts on a page, which is good for this visitor alone."""
    visit = visit_of(request)
    if visit.role == "stranger" and not visit.token:
        visit.token = secrets.token_urlsafe(32)
        visit.cookie = _cookie(visit.token)
    return visit.form_token


def let_in(request: Request, response: Response, token: str) -> None:
    """Give a device its token with an answer. The token it had before opens nothing any more."""
    visit = visit_of(request)
    if visit.device:
        visit.settings.devices.revoke(visit.device.id)
    visit.cookie = ""
    response.headers.append("set-cookie", _cookie(token, UNUSED_DAYS))


def let_out(request: Request, response: Response) -> None:
    """Take the token back from the device that asks."""
    visit = visit_of(request)
    if visit.device:
        visit.settings.devices.revoke(visit.device.id)
    visit.cookie = ""
    response.headers.append("set-cookie", _cookie("", 0))


def _cookie(token: str, days: int | None = None) -> str:
    """Write the cookie; without days it lasts until the browser is closed.

    It is not marked Secure, since a browser would not keep it on plain http.
    """
    age = "" if days is None else f"; Max-Age={days * 86_400}"
    return f"{COOKIE}={token}; Path=/; HttpOnly; SameSite=Strict{age}"


class _HostOnly:
    """Answers only the person at the machine."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request of the host on, and refuse any other."""
        if scope[_KEY].role != "host":
            raise RefusedError(
                403, "this can only be done at the machine that the workbench runs on"
            )
        await self._app(scope, receive, send)


# For routes and mounts: Route("/devices", page, middleware=[host_only]).
host_only = Middleware(_HostOnly)
