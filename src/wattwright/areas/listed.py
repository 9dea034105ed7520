"""Cells of published tables as values: what may make a limit, and what may only be shown."""

from __future__ import annotations

from dataclasses import replace

from wattwright.kinds import Kind
from wattwright.tables import Row
from wattwright.units import read
from wattwright.values import Given, Origin, Value, given, lacking


def shown_cell(kind: Kind, table: str, row: Row, column: str, label: str) -> Value:
    """Read a cell as it stands; one from memory counts as typical and so is never firm."""
    name, unit = column.rsplit("_", 1)
    text = f"{row.cells[column]} {unit.replace('um', 'µm')}"
    origin = Given(
        f"tables.{table}.{next(iter(row.cells.values()))}.{name}",
        label,
        Origin.DATASHEET if row.limits else Origin.TYPICAL,
        text,
        detail=str(row.source),
    )
    return given(kind, read(text, kind).number, origin)


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
