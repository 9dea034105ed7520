"""Named records as CSV, for a spreadsheet and back from one."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from wattwright.build.edits import ANY, Edit
from wattwright.build.text import Path
from wattwright.errors import UsageError
from wattwright.web.leaves import Leaf, Named, Written, leaf_at, named_at
from wattwright.web.records import AMOUNT, RecordTable, edit_of

NAME = "name"
LARGEST = 1024 * 1024
_MOST_ROWS = 2_000


@dataclass(frozen=True, slots=True)
class FromCsv:
    """What a CSV asks for.

    ``places`` says of each edit in which row and column it stands. ``strange`` are the columns for
    which a build has no field; ``known`` is the same CSV without what stands in them.
    """

    edits: tuple[Edit, ...]
    places: Mapping[Path, str]
    strange: tuple[str, ...]
    known: str


def to_csv(table: RecordTable) -> str:
    """Write a table as CSV, a spreadsheet's formula signs made harmless."""
    heads = [NAME, *(column.name for column in table.columns)]
    return _written(
        [heads, *([row.name, *(_harmless(cell.text) for cell in row.cells)] for row in table.rows)]
    )


def _written(rows: Sequence[Sequence[str]]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue()


def _harmless(text: str) -> str:
    """Keep a spreadsheet from taking a text for a formula; numbers stay as they are."""
    if text[:1] in ("=", "@", "\t", "\r"):
        return f"'{text}"
    if text[:1] in ("+", "-") and not text[1:2].isdecimal():
        return f"'{text}"
    return text


def from_csv(written: Written, path: Path, raw: bytes) -> FromCsv:
    """Return what a CSV asks for. Empty cells change nothing; new names are added."""
    rows = _read(raw)
    if not rows or not rows[0] or rows[0][0].strip().casefold() != NAME:
        raise UsageError("the first column of the CSV has to be headed: name")
    heads = [head.strip() for head in rows[0]]
    named = named_at(written, path)
    edits: list[Edit] = []
    places: dict[Path, str] = {}
    strange: dict[int, str] = {}
    for number, cells in enumerate(rows[1:], start=2):
        name = cells[0].strip() if cells else ""
        for column, text in enumerate(cells[1:], start=1):
            typed = text.strip().removeprefix("'")
            if not name or not typed:
                continue
            head = heads[column] if column < len(heads) else ""
            leaf = _leaf(written, named, name, head, _kind(heads, cells))
            if leaf is None:
                strange[column] = f"column {column + 1}, {head or 'which has no heading'}"
                cells[column] = ""
                continue
            edit = edit_of(leaf, typed, leaf.written)
            if edit is not None:
                edits.append(Edit(edit.path, edit.new, ANY if leaf.written is None else edit.was))
                places[edit.path] = f"row {number} ({name}), column {head}"
    return FromCsv(tuple(edits), places, tuple(strange.values()), _written(rows))


def _kind(heads: Sequence[str], cells: Sequence[str]) -> str:
    """Return the kind of device that a row says its record is."""
    return next(
        (text.strip() for head, text in zip(heads, cells, strict=False) if head == "kind"), ""
    )


def _leaf(written: Written, named: Named, name: str, head: str, kind: str) -> Leaf | None:
    if not head or (named.quantities and head != AMOUNT):
        return None
    path = (*named.path, name) if named.quantities else (*named.path, name, *head.split("."))
    # Its kind decides which fields a record has, and is itself to be written like any other.
    new_kind = kind and head != "kind"
    seen = written.as_kind((*named.path, name), kind) if new_kind else written
    try:
        return leaf_at(seen, path)
    except UsageError:
        return None


def _read(raw: bytes) -> list[list[str]]:
    if len(raw) > LARGEST:
        raise UsageError(f"the CSV is larger than {LARGEST // 1024} kB")
    for coding in ("utf-8-sig", "cp1252"):
        try:
            text = raw.decode(coding)
            break
        except UnicodeDecodeError:
            continue
    else:
        raise UsageError("the CSV is no text")
    first = text.partition("\n")[0]
    mark = max(";,\t", key=first.count)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark))
    except csv.Error as error:
        raise UsageError(f"the CSV cannot be read: {error}") from None
    if len(rows) > _MOST_ROWS:
        raise UsageError(f"the CSV has more than {_MOST_ROWS} rows")
    return rows
