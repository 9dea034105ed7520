"""Who asks: the name that goes into the journal, and whether changes are allowed."""

from __future__ import annotations

from starlette.requests import Request

from wattwright.system import login_name
from wattwright.web import safety


def name_of(request: Request) -> str:
    """Return the name of the person or device."""
    visit = safety.visit_of(request)
    if visit.device is not None:
        return visit.device.name
    return login_name() if visit.role == "host" else "somebody"


def may_change(request: Request) -> bool:
    """Say whether this person may change anything."""
    return safety.role(request) in ("host", "full")


def may_look(request: Request) -> bool:
    """Say whether this person may see the builds."""
    return safety.role(request) != "stranger"


def is_host(request: Request) -> bool:
    """Say whether this is the person at the machine itself."""
    return safety.role(request) == "host"


def is_device(request: Request) -> bool:
    """Say whether this is a device that was let in."""
    return safety.visit_of(request).device is not None


def token_for(request: Request) -> str:
    """Return what a form has to bring along."""
    return safety.token_for(request)
