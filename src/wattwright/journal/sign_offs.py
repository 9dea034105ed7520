"""Sign-offs: who stood for what, at which revision of the build file."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from wattwright.errors import UsageError
from wattwright.journal.revisions import DONE, by_number, now, plain
from wattwright.journal.tables import sign_offs


@dataclass(frozen=True, slots=True)
class SignOff:
    """One statement that somebody stands for; it holds for one revision and no other."""

    id: int
    at: str
    who: str
    statement: str
    revision: int


def add(connection: Connection, who: str, statement: str, revision: int) -> SignOff:
    """Add a sign-off; raise UsageError where nobody signs, for nothing, or for no revision."""
    name, words = plain(who), plain(statement)
    if not name or not words:
        raise UsageError("a sign-off needs a name and a statement; nothing was signed")
    if by_number(connection, revision).state != DONE:
        raise UsageError(f"revision {revision} was not saved, so that nobody can sign for it")
    at = now()
    row = {"at": at, "who": name, "statement": words, "revision": revision}
    done = connection.execute(sign_offs.insert().values(row).returning(sign_offs.c.id))
    return SignOff(done.scalar_one(), at, name, words, revision)


def listed(connection: Connection) -> tuple[SignOff, ...]:
    """List sign-offs, newest first."""
    query = select(sign_offs).order_by(sign_offs.c.id.desc())
    return tuple(SignOff(**row._asdict()) for row in connection.execute(query))
