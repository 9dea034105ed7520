"""Readings: what was measured on the real vehicle, as it was written down.

A reading is never changed. One that corrects it names it, and both stay.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import Connection, Row, select

from wattwright.errors import UsageError
from wattwright.journal.revisions import now, plain
from wattwright.journal.tables import readings

_LATER = readings.alias()
# Every reading, with the one that corrects it.
_NEWEST_FIRST = (
    select(readings, _LATER.c.id.label("replaced_by"))
    .outerjoin(_LATER, _LATER.c.replaces == readings.c.id)
    .order_by(readings.c.id.desc())
)


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading as it is handed in.

    ``about`` is the path of a field or a free word, ``text`` the quantity as typed, with its unit.
    ``date`` is the day it was taken, ``replaces`` the reading that it corrects.
    """

    about: str
    text: str
    instrument: str = ""
    date: str = ""
    initials: str = ""
    note: str = ""
    replaces: int | None = None


@dataclass(frozen=True, slots=True)
class Reading(Taken):
    """A reading in the journal: when and by whom it was put there, and what corrects it."""

    id: int = 0
    at: str = ""
    who: str = ""
    replaced_by: int | None = None


def add(connection: Connection, who: str, taken: Taken) -> Reading:
    """Add a reading; raise UsageError where it says nothing or corrects none that stands."""
    words = {key: plain(value) for key, value in asdict(taken).items() if key != "replaces"}
    for key in ("about", "text"):
        if not words[key]:
            raise UsageError(f"a reading needs {key!r}; nothing was written down")
    if taken.replaces is not None:
        _check_replaced(connection, taken.replaces, words["about"])
    row: dict[str, Any] = {"at": now(), "who": plain(who), **words, "replaces": taken.replaces}
    done = connection.execute(readings.insert().values(row).returning(readings.c.id))
    return Reading(id=done.scalar_one(), **row)


def listed(connection: Connection, about: str | None, standing: bool) -> tuple[Reading, ...]:
    """List readings, newest first: of one thing or all, only those that stand or all."""
    query = _NEWEST_FIRST
    if about is not None:
        query = query.where(readings.c.about == about)
    if standing:
        query = query.where(_LATER.c.id.is_(None))
    return tuple(_reading(row) for row in connection.execute(query))


def by_number(connection: Connection, number: int) -> Reading:
    """Find a reading; raise UsageError where there is none."""
    row = connection.execute(_NEWEST_FIRST.where(readings.c.id == number)).one_or_none()
    if row is None:
        raise UsageError(f"there is no reading {number}")
    return _reading(row)


def _check_replaced(connection: Connection, number: int, about: str) -> None:
    found = connection.scalar(select(readings.c.about).where(readings.c.id == number))
    if found is None:
        raise UsageError(f"there is no reading {number} to correct")
    if found != about:
        raise UsageError(f"reading {number} is about {found}, not about {about}")
    by = connection.scalar(select(readings.c.id).where(readings.c.replaces == number))
    if by is not None:
        raise UsageError(f"reading {number} was corrected by reading {by}; correct that one")


def _reading(row: Row[Any]) -> Reading:
    return Reading(**row._asdict())
