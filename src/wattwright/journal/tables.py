"""The tables of a journal, its format, and how older journals are brought up to date.

Rows are only ever added. The one thing written over is the state of a revision, once: it is
pending until the build file is replaced.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    inspect,
    select,
    update,
)

from wattwright.journal.database import Database

FORMAT = 1

_ALL = MetaData()
_DIGEST = 64
_WORD = 40

journal_format = Table("journal_format", _ALL, Column("number", Integer, primary_key=True))

# Whole texts, each once however often the build came back to it. Bytes, since an editor may have
# left something in the file that is no text at all.
texts = Table(
    "texts",
    _ALL,
    Column("digest", String(_DIGEST), primary_key=True),
    Column("content", LargeBinary, nullable=False),
)

revisions = Table(
    "revisions",
    _ALL,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("at", String(_WORD), nullable=False),
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("kind", String(_WORD), nullable=False),
    # The revision that an undo takes back, a redo makes again or a restore goes back to.
    Column("of", Integer, ForeignKey("revisions.number")),
    Column("digest", String(_DIGEST), ForeignKey("texts.digest"), nullable=False),
    Column("state", String(_WORD), nullable=False),
    Column("assessment", String(_DIGEST), nullable=False),
)

readings = Table(
    "readings",
    _ALL,
    Column("id", Integer, primary_key=True),
    Column("at", String(_WORD), nullable=False),
    Column("who", Text, nullable=False),
    Column("about", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("instrument", Text, nullable=False),
    Column("date", String(_WORD), nullable=False),
    Column("initials", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("replaces", Integer, ForeignKey("readings.id"), unique=True),
)

photos = Table(
    "photos",
    _ALL,
    Column("id", Integer, primary_key=True),
    Column("at", String(_WORD), nullable=False),
    Column("who", Text, nullable=False),
    Column("about", Text, nullable=False),
    Column("caption", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("media_type", String(_WORD), nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("size", Integer, nullable=False),
    Column("digest", String(_DIGEST), nullable=False),
)

sign_offs = Table(
    "sign_offs",
    _ALL,
    Column("id", Integer, primary_key=True),
    Column("at", String(_WORD), nullable=False),
    Column("who", Text, nullable=False),
    Column("statement", Text, nullable=False),
    Column("revision", Integer, ForeignKey("revisions.number"), nullable=False),
)

Step = Callable[[Connection], None]

# By the format they start from. A step names columns itself: the tables above are those of today.
STEPS: Mapping[int, Step] = MappingProxyType({})


def prepare(database: Database, current: int = FORMAT, steps: Mapping[int, Step] = STEPS) -> None:
    """Make the tables of a new journal, or bring those of an older one up to date, or refuse."""
    with database.writing() as connection:
        names = set(inspect(connection).get_table_names())
        if not names:
            _ALL.create_all(connection)
            connection.execute(journal_format.insert().values(number=current))
        elif journal_format.name not in names:
            raise database.refusal("this is no journal: it holds tables of another program")
        else:
            _bring_up_to_date(database, connection, current, steps)


def _bring_up_to_date(
    database: Database, connection: Connection, current: int, steps: Mapping[int, Step]
) -> None:
    found = connection.scalar(select(journal_format.c.number))
    if not isinstance(found, int) or found < 1:
        raise database.refusal("the journal does not say its format")
    if found > current:
        raise database.refusal(
            f"this journal was written in format {found}; this program knows up to {current}",
            "Install a newer wattwright. Nothing was changed.",
        )
    for number in range(found, current):
        steps[number](connection)
    if found < current:
        connection.execute(update(journal_format).values(number=current))
