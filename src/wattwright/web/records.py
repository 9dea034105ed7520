"""Named records as a table: a row for each, a column for each field, and the same as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from wattwright.build.as_typed import as_toml
from wattwright.build.edits import ANY, Edit
from wattwright.build.text import Path, dotted
from wattwright.errors import UsageError
from wattwright.web.leaves import Group, Leaf, Named, Written, group_at, leaf_at, named_at

# What a record may be begun with, where it has it: the kind of a part, the cycle of a use.
_CHOSEN = frozenset({"kind", "cycle"})
NAME = "name"
AMOUNT = "amount"
LARGEST = 1024 * 1024
_MOST_ROWS = 2_000


@dataclass(frozen=True, slots=True)
class Column:
    """One field of the records: its path inside a record, and its words."""

    name: str
    label: str


@dataclass(frozen=True, slots=True)
class TableCell:
    """One value; without a path the record of this row has no such field."""

    path: str
    label: str
    text: str
    written: str | None
    problem: str = ""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One record."""

    name: str
    to: str
    cells: tuple[TableCell, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """What has to be said, or may be, when a record is added."""

    name: str
    label: str
    words: tuple[str, ...]
    required: bool


@dataclass(frozen=True, slots=True)
class RecordTable:
    """All records at one path."""

    path: Path
    label: str
    help: str
    columns: tuple[Column, ...]
    rows: tuple[TableRow, ...]
    choice: Choice | None
    quantities: bool

    @property
    def name(self) -> str:
        """The path as it is written in the file."""
        return dotted(self.path)

    @property
    def one(self) -> str:
        """What one of them is called."""
        return self.path[-1].replace("_", " ")

    def with_typed(self, typed: Mapping[str, str]) -> RecordTable:
        """Return the table with what somebody typed in it and could not save."""
        rows = tuple(
            replace(
                row,
                cells=tuple(
                    replace(cell, text=typed.get(cell.path, cell.text)) for cell in row.cells
                ),
            )
            for row in self.rows
        )
        return replace(self, rows=rows)


def table_at(
    written: Written,
    path: Path,
    only: Sequence[str] = (),
    every: bool = False,
    problems: Mapping[str, str] | None = None,
) -> RecordTable:
    """Lay out the records at a path.

    Shown are the columns that are asked for, or those that any record uses, or all.
    """
    named = named_at(written, path)
    said = problems or {}
    if named.quantities:
        return _quantities(written, named, said)
    groups = {name: group_at(written, (*path, name)) for name in named.names}
    columns = tuple(_columns(written, named, groups, only, every))
    rows = tuple(
        TableRow(name, f"/in/{dotted((*path, name))}", tuple(_cells(group, columns, said)))
        for name, group in groups.items()
    )
    return RecordTable(
        path,
        named.label,
        named.slot.declared.help,
        columns,
        rows,
        choice_of(written, named),
        False,
    )


def choice_of(written: Written, named: Named) -> Choice | None:
    """Find what is chosen when one of some records is added: its kind, or what it cannot lack."""
    if named.quantities:
        return None
    for leaf in group_at(written, (*named.path, "new")).leaves:
        if (
            leaf.slot is not None
            and leaf.choices
            and (leaf.slot.required or leaf.path[-1] in _CHOSEN)
        ):
            words = tuple(word for word in leaf.choices if word)
            return Choice(leaf.path[-1], leaf.label, words, leaf.slot.required)
    return None


def _quantities(written: Written, named: Named, problems: Mapping[str, str]) -> RecordTable:
    rows = []
    for name in named.names:
        leaf = leaf_at(written, (*named.path, name))
        problem = problems.get(leaf.name, "")
        cell = TableCell(leaf.name, AMOUNT, leaf.typed.whole, leaf.written, problem)
        rows.append(TableRow(name, f"/field/{leaf.name}", (cell,)))
    return RecordTable(
        named.path,
        named.label,
        named.slot.declared.help,
        (Column(AMOUNT, AMOUNT),),
        tuple(rows),
        None,
        True,
    )


def _columns(
    written: Written,
    named: Named,
    groups: Mapping[str, Group],
    only: Sequence[str],
    every: bool,
) -> Iterator[Column]:
    examples = list(groups.values()) or [group_at(written, (*named.path, "new"))]
    found: dict[str, Column] = {}
    used: set[str] = set()
    for group in examples:
        depth = len(group.path)
        for leaf in group.every_leaf():
            name = dotted(leaf.path[depth:])
            found.setdefault(name, Column(name, leaf.label))
            if leaf.written is not None:
                used.add(name)
    if only:
        yield from (found[name] for name in only if name in found)
        return
    for name, column in found.items():
        if every or not groups or name in used:
            yield column


def _cells(
    group: Group, columns: Sequence[Column], problems: Mapping[str, str]
) -> Iterator[TableCell]:
    depth = len(group.path)
    leaves = {dotted(leaf.path[depth:]): leaf for leaf in group.every_leaf()}
    for column in columns:
        leaf = leaves.get(column.name)
        if leaf is None:
            yield TableCell("", column.label, "", None)
        else:
            problem = problems.get(leaf.name, "")
            yield TableCell(leaf.name, column.label, leaf.typed.whole, leaf.written, problem)


def edit_of(leaf: Leaf, text: str, was: str | None) -> Edit | None:
    """Return the edit that makes a cell hold a text, or none where it does already."""
    typed = text.strip() if leaf.box != "long" else text
    new = as_toml(leaf.slot, typed) if typed else None
    if new == leaf.written or typed in (leaf.typed.whole, _in_a_box(leaf.typed.whole)):
        return None
    return Edit(leaf.path, new, was)


def _in_a_box(text: str) -> str:
    """Return what a browser makes of a text in a box of one line (HTML, value sanitization)."""
    return text.replace("\r", "").replace("\n", "").strip()


# ------------------------------------------------------------------------------------------ CSV


def to_csv(table: RecordTable) -> str:
    """Write a table as CSV, a spreadsheet's formula signs made harmless."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([NAME, *(column.name for column in table.columns)])
    for row in table.rows:
        writer.writerow([row.name, *(_harmless(cell.text) for cell in row.cells)])
    return out.getvalue()


def _harmless(text: str) -> str:
    """Keep a spreadsheet from taking a text for a formula; numbers stay as they are."""
    if text[:1] in ("=", "@", "\t", "\r"):
        return f"'{text}"
    if text[:1] in ("+", "-") and not text[1:2].isdecimal():
        return f"'{text}"
    return text


def from_csv(written: Written, path: Path, raw: bytes) -> tuple[Edit, ...]:
    """Return the edits that a CSV asks for. Empty cells change nothing; new names are added."""
    rows = _read(raw)
    if not rows or not rows[0] or rows[0][0].strip().casefold() != NAME:
        raise UsageError("the first column of the CSV has to be headed: name")
    heads = [head.strip() for head in rows[0][1:]]
    named = named_at(written, path)
    edits: list[Edit] = []
    problems: list[str] = []
    for number, cells in enumerate(rows[1:], start=2):
        name = cells[0].strip() if cells else ""
        if not name:
            continue
        where = f"row {number}, {name}"
        told = dict(zip(heads, cells[1:], strict=False))
        edits += _row_edits(written, named, name, told, where, problems)
    if problems:
        raise UsageError("; ".join(problems[:20]))
    return tuple(edits)


def _row_edits(
    written: Written,
    named: Named,
    name: str,
    cells: Mapping[str, str],
    where: str,
    problems: list[str],
) -> Iterator[Edit]:
    kind = cells.get("kind", "").strip()
    for head, text in cells.items():
        typed = text.strip().removeprefix("'")
        if not typed:
            continue
        path = (*named.path, name) if named.quantities else (*named.path, name, *head.split("."))
        seen = written.as_kind((*named.path, name), kind) if kind else written
        try:
            leaf = leaf_at(seen, path)
        except UsageError:
            problems.append(f"{where}: there is no column {head!r}")
            continue
        edit = edit_of(leaf, typed, leaf.written)
        if edit is not None:
            yield Edit(edit.path, edit.new, ANY if leaf.written is None else edit.was)


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
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark))
    if len(rows) > _MOST_ROWS:
        raise UsageError(f"the CSV has more than {_MOST_ROWS} rows")
    return rows
