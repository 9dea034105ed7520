"""Who asks: the name that goes into the journal, and whether changes are allowed."""

from __future__ import annotations

from starlette.requests import Request

from wattwright.web import safety


def name_of(request: Request) -> str:
    """Return the name of the person or device."""
    return safety.name_of(request)


def may_change(request: Request) -> bool:
    """Say whether this person may change anything."""
    return safety.role_of(request) != "guest"


def token_for(request: Request) -> str:
    """Return what a form has to bring along."""
    return safety.token_for(request)
