"""Times of the journal, kept in UTC, as a clock on the wall here would show them."""

from __future__ import annotations

from datetime import datetime

_DATE = len("2026-03-14")


def local(at: str) -> str:
    """Say a time of the journal to the minute."""
    return f"{datetime.fromisoformat(at).astimezone():%Y-%m-%d %H:%M}"


def local_day(at: str) -> str:
    """Say the day of a time of the journal."""
    return local(at)[:_DATE]


def zone() -> str:
    """Say which clock that is, such as ``CET, UTC+01:00``; where it changes, that of today."""
    now = datetime.now().astimezone()
    name, offset = now.tzname() or "", f"UTC{now.isoformat()[-6:]}"
    return f"{name}, {offset}" if name and not name.startswith(("UTC", "+", "-")) else offset
