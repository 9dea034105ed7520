"""Published tables, one CSV each. Every row has a source and a flag, or the table is refused.

Flags: ``seen`` read in a copy of the source, ``memory`` not yet read again, ``computed`` follows
from definitions, ``practice`` common practice. A row from memory may be shown; alone it never
makes a limit.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import get_args

from wattwright.errors import TableError
from wattwright.formula import Flag, Source

FLAGS: tuple[str, ...] = get_args(Flag)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a published table."""

    cells: Mapping[str, str]
    source: Source

    def number(self, column: str) -> float:
        """Read a cell as a number."""
        try:
            return float(self.cells[column])
        except (KeyError, ValueError):
            raise TableError(f"column {column} of {dict(self.cells)} holds no number") from None

    @property
    def limits(self) -> bool:
        """True where the row may make a limit."""
        return self.source.flag != "memory"


@dataclass(frozen=True, slots=True)
class Table:
    """A published table, by its first column."""

    name: str
    rows: Mapping[str, Row]

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows.values())

    def row(self, key: str) -> Row:
        """Find a row by the text of its first column."""
        try:
            return self.rows[key]
        except KeyError:
            known = ", ".join(self.rows)
            raise TableError(f"{key} is not in {self.name}; it has {known}") from None


def parse(name: str, text: str) -> Table:
    """Read a table from CSV text, refusing rows without source or flag."""
    rows: dict[str, Row] = {}
    for number, cells in enumerate(csv.DictReader(text.splitlines()), start=2):
        source = (cells.pop("source", "") or "").strip()
        flag = (cells.pop("flag", "") or "").strip()
        locator = (cells.pop("locator", "") or "").strip()
        if not source or flag not in FLAGS:
            raise TableError(
                f"{name}.csv line {number}: every row needs a source and a flag "
                f"({', '.join(FLAGS)}); found {source or 'no source'!r}, {flag or 'no flag'!r}"
            )
        key = next(iter(cells.values()))
        if key in rows:
            raise TableError(f"{name}.csv line {number}: {key} stands twice")
        rows[key] = Row(cells, Source(source, locator, flag))  # type: ignore[arg-type]
    if not rows:
        raise TableError(f"{name}.csv has no rows")
    return Table(name, rows)


@cache
def load(name: str) -> Table:
    """Load one of the tables that ship with the program."""
    return parse(name, files(__name__).joinpath(f"{name}.csv").read_text(encoding="utf-8"))
