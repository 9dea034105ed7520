"""Cells of published tables as values: what may make a limit, and what may only be shown."""

from __future__ import annotations

from dataclasses import replace

from wattwright.kinds import Kind
from wattwright.tables import Row
from wattwright.units import read
from wattwright.values import Given, Origin, Value, given, lacking


def from_table(
    kind: Kind,
    table: str,
    row: Row,
    text: str,
    label: str,
    *,
    column: str = "",
    band: float = 0.0,
) -> Value:
    """Make a value of what a row says; from memory it counts as typical and so is never firm.

    ``column`` names the cell where a row has several of a kind.
    """
    place = f"tables.{table}.{next(iter(row.cells.values()))}"
    origin = Given(
        f"{place}.{column}" if column else place,
        label,
        Origin.DATASHEET if row.limits else Origin.TYPICAL,
        text,
        band,
        detail=str(row.source),
    )
    return given(kind, read(text, kind).number, origin)


def shown_cell(kind: Kind, table: str, row: Row, column: str, label: str) -> Value:
    """Read a cell as it stands, its unit being the end of its column's name."""
    name, unit = column.rsplit("_", 1)
    text = f"{row.cells[column]} {unit.replace('um', 'µm')}"
    return from_table(kind, table, row, text, label, column=name)


def limiting_cell(typed: Value, shown: Value, row: Row) -> Value:
    """Take what the builder read in the standard, or else the cell where it may make a limit.

    A cell from memory becomes something to read in the standard, at the field that takes it.
    """
    origin = shown.given
    if typed.known or origin is None:
        return typed
    if row.limits:
        return shown
    why = f"{origin.text} only from memory; read it in {row.source.title}"
    return lacking(typed.kind, replace(typed.lacks[0], why=why))
