"""A journal as plain SQLite: held as of one moment, copied while others write, compared by rows.

Here nothing is known of what the tables mean, so that a copy of any journal can be judged, also
of one that a later release has written.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from itertools import zip_longest
from pathlib import Path
from typing import Any, TypeAlias

from wattwright.errors import JournalError, Problem

Row: TypeAlias = tuple[Any, ...]

ALONE = (
    "keep it with the files whose names begin with its own: it may be mended. "
    "What else is in the folder can be backed up: --without-journal"
)
_TABLES = "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
_SCHEMA = "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name"


@contextmanager
def moment(file: Path, *, alone: bool = False) -> Iterator[sqlite3.Connection]:
    """Open a journal only for reading, and see it throughout as it is now, whoever writes in it.

    ``alone`` says that nobody else has it open; then nothing is put beside it either.
    """
    address = _address(file, alone)
    with _told(file), closing(sqlite3.connect(address, uri=True, isolation_level=None)) as opened:
        opened.execute("PRAGMA trusted_schema = OFF")
        opened.text_factory = _Text
        opened.execute("BEGIN")
        # The transaction begins with what is read first.
        opened.execute("SELECT count(*) FROM sqlite_master").fetchone()
        yield opened


def copy(source: sqlite3.Connection, to: Path) -> None:
    """Copy a journal as its moment has it, in one piece."""
    with closing(sqlite3.connect(to)) as target:
        source.backup(target)


def damage(file: Path) -> str:
    """Have SQLite look through every page and index, and say what it finds wrong first."""
    try:
        with closing(sqlite3.connect(_address(file, alone=True), uri=True)) as opened:
            (found,) = opened.execute("PRAGMA integrity_check(1)").fetchone()
    except sqlite3.Error as error:
        return str(error)
    return "" if found == "ok" else str(found)


def row_differences(one: sqlite3.Connection, other: sqlite3.Connection) -> list[str]:
    """Compare two journals: what their tables are, and every row with every other."""
    for what in (_SCHEMA, "PRAGMA user_version", "PRAGMA application_id"):
        if one.execute(what).fetchall() != other.execute(what).fetchall():
            return ["the tables of the journals are not the same"]
    found = []
    for (name,) in one.execute(_TABLES).fetchall():
        table = bytes(name).decode()
        every = f'SELECT * FROM "{table.replace(chr(34), chr(34) * 2)}"'  # noqa: S608
        pairs = zip_longest(one.execute(every), other.execute(every))
        if different := sum(not _same(a, b) for a, b in pairs):
            found.append(f"table {table} of the journals: {different} rows differ")
    return found


class _Text(bytes):
    """Text as it is stored, told apart from bytes and never refused for its coding."""


def _same(one: Row | None, other: Row | None) -> bool:
    # To Python 1 is 1.0, and a text is its bytes.
    return one == other and list(map(type, one or ())) == list(map(type, other or ()))


def _address(file: Path, alone: bool) -> str:
    return f"{file.absolute().as_uri()}?{'immutable=1' if alone else 'mode=ro'}"


@contextmanager
def _told(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        problem = Problem(f"the journal cannot be read: {error}", file=str(file), do=ALONE)
        raise JournalError(str(problem)) from error
