"""Letting in: the code on the host's screen, the page a phone pairs on, guests, programs."""

from __future__ import annotations

from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from wattwright.errors import UsageError
from wattwright.web.answers import page, see, with_form
from wattwright.web.safety import (
    PairingError,
    guest_url,
    host_only,
    let_in,
    let_out,
    pairing_url,
    square_code,
    visit_of,
)

_GUEST_DAYS = 14


def devices(request: Request) -> Response:
    """Show the devices that were let in, and a code for one more."""
    settings = visit_of(request).settings
    code = settings.devices.codes.shown() if settings.lan else None
    address = pairing_url(settings, code.text) if code is not None else ""
    return page(
        request,
        "devices.html",
        "Devices",
        devices=settings.devices.all(),
        lan=settings.lan,
        code=code,
        address=address,
        # Drawn here from an address of our own.
        square=Markup(square_code(address)) if address else "",  # noqa: S704
        guest=request.query_params.get("guest", ""),
    )


async def offer(request: Request) -> Response:
    """Show a code for the next five minutes."""
    settings = visit_of(request).settings
    if not settings.lan:
        raise UsageError(
            "this server answers this machine alone; start it with --lan to let more in"
        )
    settings.devices.codes.offer()
    return see("/devices")


def _invite(request: Request, form: FormData) -> Response:
    """Make an address for a guest, who may read everything and change nothing."""
    settings = visit_of(request).settings
    name = str(form.get("name", "")).strip() or "guest"
    link = settings.devices.invite(name, _GUEST_DAYS)
    return page(
        request,
        "guest_link.html",
        "A link for a guest",
        address=guest_url(settings, link),
        name=name,
        days=_GUEST_DAYS,
    )


invite = with_form(_invite)


def _key(request: Request, form: FormData) -> Response:
    """Make a key for a program, which is shown this once and kept as its digest alone."""
    devices = visit_of(request).settings.devices
    name = str(form.get("name", "")).strip()
    if not name:
        raise UsageError("give the key the name of its program; it stands in the journal")
    changes = str(form.get("may", "read")) == "change"
    return page(
        request,
        "key.html",
        "A key for a program",
        name=name,
        changes=changes,
        key=devices.add_program(name, "full" if changes else "guest"),
        host=request.headers["host"],
    )


key = with_form(_key)


def _revoke(request: Request, form: FormData) -> Response:
    """Let a device in no more."""
    visit_of(request).settings.devices.revoke(str(form.get("id", "")))
    return see("/devices")


revoke = with_form(_revoke)


def pair(request: Request) -> Response:
    """Ask for the code."""
    return _pair_page(request, request.query_params.get("code", "")[:40], "", 200)


def _pair_page(request: Request, code: str, problem: str, status: int) -> Response:
    return page(request, "pair.html", "Pair this device", status=status, code=code, problem=problem)


def _paired(request: Request, form: FormData) -> Response:
    """Let a device in that brings the code."""
    visit = visit_of(request)
    code, name = str(form.get("code", "")), str(form.get("name", "")).strip()
    if not name:
        return _pair_page(request, code, "say whose device this is; it stands in the journal", 422)
    try:
        token = visit.settings.devices.pair(code, name, visit.address)
    except PairingError as error:
        return _pair_page(request, code, str(error), 403)
    answer = see("/")
    let_in(request, answer, token)
    return answer


paired = with_form(_paired)


def guest(request: Request) -> Response:
    """Ask a guest to come in; opening the address alone uses nothing up."""
    return page(request, "guest.html", "Come in to look", link=request.path_params["link"])


async def guest_in(request: Request) -> Response:
    """Let a guest in."""
    visit = visit_of(request)
    try:
        token = await run_in_threadpool(visit.settings.devices.accept, request.path_params["link"])
    except PairingError as error:
        return _pair_page(request, "", str(error), 403)
    answer = see("/")
    let_in(request, answer, token)
    return answer


async def leave(request: Request) -> Response:
    """Forget this device."""
    answer = see("/pair")
    let_out(request, answer)
    return answer


ROUTES = [
    Route("/devices", devices, methods=["GET"], middleware=[host_only]),
    Route("/devices/code", offer, methods=["POST"], middleware=[host_only]),
    Route("/devices/guest", invite, methods=["POST"], middleware=[host_only]),
    Route("/devices/key", key, methods=["POST"], middleware=[host_only]),
    Route("/devices/revoke", revoke, methods=["POST"], middleware=[host_only]),
    Route("/pair", pair, methods=["GET"]),
    Route("/pair", paired, methods=["POST"]),
    Route("/guest/{link}", guest, methods=["GET"]),
    Route("/guest/{link}", guest_in, methods=["POST"]),
    Route("/leave", leave, methods=["POST"]),
]
