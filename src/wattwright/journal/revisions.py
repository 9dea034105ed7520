"""Revisions of a build file: what it said, when, by whom and why; and what undo would take back."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, func, select, update

from wattwright.errors import UsageError
from wattwright.journal.tables import revisions, texts

START, EDIT, UNDO, REDO, RESTORE, OUTSIDE = "start", "edit", "undo", "redo", "restore", "outside"
_STEPPED = {UNDO: "Taken back", REDO: "Made again", RESTORE: "Brought back"}
PENDING, DONE, NOT_SAVED = "pending", "done", "not saved"

# Every page asks these two; putting a statement together takes longer than asking it.
_PENDING_ONE = select(revisions.c.number).where(revisions.c.state == PENDING).limit(1)
_NEWEST_DONE = (
    select(revisions).where(revisions.c.state == DONE).order_by(revisions.c.number.desc()).limit(1)
)


@dataclass(frozen=True, slots=True)
class Revision:
    """One state of the build file.

    ``kind`` is ``start``, ``edit``, ``undo``, ``redo``, ``restore`` or ``outside`` (the file was
    changed by an editor or another program). ``of`` is the revision that an undo takes back, a
    redo makes again or a restore goes back to. ``state`` is ``done``, or ``not saved`` where the
    change was written down and never reached the file. ``digest`` is the SHA-256 of the file,
    ``assessment`` the digest of the whole build as the caller knew it, or empty.
    """

    number: int
    at: str
    who: str
    why: str
    kind: str
    of: int | None
    digest: str
    state: str
    assessment: str


@dataclass(frozen=True, slots=True)
class Entry:
    """What a revision to be added says of itself; the rest follows from the journal."""

    kind: str
    who: str
    why: str
    of: int | None = None
    assessment: str = ""


def happened(revision: Revision) -> str:
    """Say what a revision did, as one tells it right after."""
    why, of = revision.why, f"revision {revision.of}: "
    if revision.kind == EDIT:
        return f"Saved: {why}"
    if revision.kind in _STEPPED:
        return f"{_STEPPED[revision.kind]}: {of}{why.partition(': ')[2]}"
    return why[:1].upper() + why[1:]


def now() -> str:
    """Say the time as the journal does: ISO 8601 in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def plain(text: str) -> str:
    """Give a text as it can be stored: half characters, as of a broken name, are shown as ?."""
    return text.strip().encode("utf-8", "replace").decode("utf-8")


def digest_of(content: bytes) -> str:
    """Digest of the bytes of a build file."""
    return hashlib.sha256(content).hexdigest()


def add(connection: Connection, content: bytes, entry: Entry, state: str) -> Revision:
    """Add a revision behind the others."""
    last = connection.scalar(select(func.max(revisions.c.number)))
    digest = digest_of(content)
    if connection.scalar(select(texts.c.digest).where(texts.c.digest == digest)) is None:
        connection.execute(texts.insert().values(digest=digest, content=content))
    revision = Revision(
        number=(last or 0) + 1,
        at=now(),
        who=plain(entry.who),
        why=plain(entry.why),
        kind=entry.kind,
        of=entry.of,
        digest=digest,
        state=state,
        assessment=entry.assessment,
    )
    connection.execute(revisions.insert().values(asdict(revision)))
    return revision


def mark(connection: Connection, number: int, state: str) -> None:
    """Say what became of a pending revision."""
    connection.execute(update(revisions).where(revisions.c.number == number).values(state=state))


def settle(connection: Connection, digest: str) -> None:
    """Say of every pending revision whether it reached the file, which has this digest.

    Only the last one can have: the next change begins when this one is settled.
    """
    query = select(revisions).where(revisions.c.state == PENDING)
    pending = [_revision(row) for row in connection.execute(query)]
    for each in pending:
        mark(connection, each.number, DONE if each.digest == digest else NOT_SAVED)


def last_done(connection: Connection) -> Revision | None:
    """Give the newest revision that reached the file."""
    return _first(connection, _NEWEST_DONE)


def any_pending(connection: Connection) -> bool:
    """Say whether the fate of a revision is open."""
    return connection.scalar(_PENDING_ONE) is not None


def before(connection: Connection, number: int) -> Revision | None:
    """Give the revision that stood in the file before this one."""
    return _first(connection, _NEWEST_DONE.where(revisions.c.number < number))


def by_number(connection: Connection, number: int) -> Revision:
    """Find one revision; raise UsageError where there is none."""
    found = _first(connection, select(revisions).where(revisions.c.number == number))
    if found is None:
        last = connection.scalar(select(func.max(revisions.c.number))) or 0
        raise UsageError(f"there is no revision {number}; there are 1 to {last}")
    return found


def listed(connection: Connection, before: int | None, most: int) -> tuple[Revision, ...]:
    """List revisions, newest first."""
    query = select(revisions).order_by(revisions.c.number.desc()).limit(most)
    if before is not None:
        query = query.where(revisions.c.number < before)
    return tuple(_revision(row) for row in connection.execute(query))


def content(connection: Connection, digest: str) -> bytes | None:
    """Give the bytes with this digest; None where they are missing or were altered."""
    found = connection.scalar(select(texts.c.content).where(texts.c.digest == digest))
    return found if isinstance(found, bytes) and digest_of(found) == digest else None


def log(connection: Connection) -> list[tuple[int, str, int | None]]:
    """Give number, kind and ``of`` of every revision that reached the file, oldest first."""
    columns = select(revisions.c.number, revisions.c.kind, revisions.c.of)
    query = columns.where(revisions.c.state == DONE).order_by(revisions.c.number)
    return [(row.number, row.kind, row.of) for row in connection.execute(query)]


def stacks(rows: Iterable[tuple[int, str, int | None]]) -> tuple[list[int], list[int]]:
    """Work out from the log what undo would take back and what redo would make again, last first.

    Raises ValueError where the log contradicts itself.
    """
    undoable: list[int] = []
    redoable: list[int] = []
    for number, kind, of in rows:
        if kind in (UNDO, REDO):
            source, target = (undoable, redoable) if kind == UNDO else (redoable, undoable)
            if not source or source[-1] != of:
                raise ValueError(f"revision {number} cannot be the {kind} of {of}")
            target.append(source.pop())
        else:
            redoable.clear()
            undoable.extend([number] if kind != START else [])
    return undoable, redoable


def _first(connection: Connection, query: Select[Any]) -> Revision | None:
    row = connection.execute(query).first()
    return None if row is None else _revision(row)


def _revision(row: Row[Any]) -> Revision:
    return Revision(**row._asdict())
