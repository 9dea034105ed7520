"""Named records as a table: a row for each, a column for each field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from wattwright.build.as_typed import as_toml
from wattwright.build.edits import Edit
from wattwright.build.text import Path, dotted
from wattwright.web.leaves import Group, Leaf, Named, Written, group_at, leaf_at, named_at

# What a record may be begun with, where it has it: the kind of a part, the cycle of a use.
_CHOSEN = frozenset({"kind", "cycle"})
AMOUNT = "amount"


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
