"""Opening the database of a journal, and telling in plain words what is wrong with it.

The statements of the other modules run on any database. What SQLite alone needs stands here.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import DatabaseError, ProgrammingError, SQLAlchemyError

from wattwright.errors import JournalError, Problem
from wattwright.journal.places import JOURNAL

# Seconds that a statement waits for another program to end its own.
_PATIENCE = 5.0
# An acknowledged edit outlives a power cut: FULL forces every commit to disk.
_PRAGMAS = ("synchronous = FULL", "foreign_keys = ON")
_ASIDE = (
    "Move it aside together with the files whose names begin with its own, and keep them: they may "
    "be mended. build.toml is untouched, and a new journal begins with the next change."
)
# By the beginning of SQLite's own name of the error.
_REASONS = {
    "SQLITE_NOTADB": ("this is no journal: not an SQLite file", _ASIDE),
    "SQLITE_CORRUPT": ("the journal is damaged", _ASIDE),
    "SQLITE_FULL": ("the disk is full", "Free some space and try again; nothing is lost."),
    "SQLITE_READONLY": (
        "the journal may not be written",
        "Change its permissions, or copy the folder to a disk that can be written.",
    ),
    "SQLITE_CANTOPEN": (
        "the journal cannot be opened",
        "Look whether its folder may be written, and whether something else has its name.",
    ),
    "SQLITE_BUSY": ("another program is writing in the journal", "Try again in a moment."),
    "SQLITE_IOERR": (
        "the disk does not read or write as it should",
        "Copy the folder to another disk while it can be read.",
    ),
}


class Database:
    """The database of one journal: transactions, in which trouble is told as a JournalError."""

    def __init__(self, folder: Path, url: str | None = None) -> None:
        self.where = str(folder / JOURNAL)
        self._engine = _engine(url or URL.create("sqlite", database=self.where))
        if url:
            self.where = self._engine.url.render_as_string(hide_password=True)
        self._writing = self._engine.execution_options(writes=True)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One transaction that only reads."""
        with self._told(), self._engine.connect() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction, on disk as a whole when the block has ended."""
        with self._told(), self._writing.begin() as connection:
            yield connection

    def close(self) -> None:
        """Close every connection."""
        self._engine.dispose()

    def refusal(self, what: str, do: str = _ASIDE) -> JournalError:
        """Make the error that says what is wrong with this journal, and what to do."""
        return JournalError(str(Problem(what, file=self.where, do=do)))

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except ProgrammingError:
            # The statement is wrong, not the disk: a fault of this program.
            raise
        except DatabaseError as error:
            raise self.refusal(*_reason(error)) from error
        except UnicodeDecodeError as error:
            # What SQLite says of a damaged table quotes its damaged name.
            raise self.refusal(*_REASONS["SQLITE_CORRUPT"]) from error


def _engine(address: URL | str) -> Engine:
    try:
        url = make_url(address)
        if url.get_backend_name() != "sqlite":
            return create_engine(url)
        engine = create_engine(url, connect_args={"timeout": _PATIENCE})
    except (SQLAlchemyError, ImportError) as error:
        raise JournalError(
            f"the journal's database cannot be reached: {error}\n"
            "    Correct its address, or install what that address needs."
        ) from error
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: Any, _record: object) -> None:
    # Python would begin transactions by itself, and not before a change of tables.
    connection.isolation_level = None
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")
    # The file keeps this by itself; one that is not a journal of ours is not to be touched.
    if connection.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone() is None:
        connection.execute("PRAGMA journal_mode = WAL")


def _begin(connection: Connection) -> None:
    # A writer that first reads could otherwise be refused half-way, when somebody else wrote.
    writes = connection.get_execution_options().get("writes")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _reason(error: DatabaseError) -> tuple[str, str]:
    name = getattr(error.orig, "sqlite_errorname", "")
    for beginning, reason in _REASONS.items():
        if name.startswith(beginning):
            return reason
    return f"the journal cannot be used: {error.orig}", _ASIDE
