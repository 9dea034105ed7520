"""From what is declared (fields, checks, figures) to the documented output."""

from __future__ import annotations

from wattwright.areas import AREAS
from wattwright.build.catalogue import Entry
from wattwright.build.fields import Column, Quantity, Sampled, Track
from wattwright.findings import Check, FigureKind
from wattwright.kinds import difference_of
from wattwright.output import ColumnOut, DeclaredOut, FieldOut, FindingsOut
from wattwright.units import unit_of, write


def field_out(entry: Entry) -> FieldOut:
    """Turn a declared field into its documented form."""
    declared = entry.slot.declared
    name = entry.slot.name
    if isinstance(declared, Quantity):
        out = _out(entry, declared.kind.name, declared.example, declared.how, declared.minutes)
        usual = {"default": declared.default, "basis": declared.basis}
        return out.model_copy(update={"unit": declared.kind.si, **usual})
    if isinstance(declared, Sampled):
        kind = f"{declared.form} in a CSV file"
        out = _out(entry, kind, f"{name}.csv, datasheet", declared.how, declared.minutes)
        return out.model_copy(update={"columns": [_column_out(each) for each in declared.columns]})
    if isinstance(declared, Track):
        kind = "route in a CSV or GPX file"
        return _out(entry, kind, f"{name}.gpx, measured", declared.how, declared.minutes)
    return _out(entry, "choice" if entry.allowed else "words", "")


def _out(
    entry: Entry, kind: str, example: str, how: str = "", minutes: float | None = None
) -> FieldOut:
    """What is said of every field, whatever may be written in it."""
    return FieldOut(
        path=entry.path,
        label=entry.slot.declared.label,
        shape=entry.slot.shape,
        kind=kind,
        unit="",
        example=example,
        allowed=list(entry.allowed),
        how=how,
        minutes=minutes,
        default="",
        basis="",
        help=entry.slot.declared.help,
        kinds=list(entry.kinds),
    )


def _column_out(column: Column) -> ColumnOut:
    return ColumnOut(
        name=column.name,
        kind=column.kind.name,
        unit=column.kind.si,
        usual_unit=unit_of(column.kind),
        allowed=list(column.allowed or ()),
    )


def findings_out() -> FindingsOut:
    """List every check and figure that an area may state."""
    return FindingsOut(
        checks=[check_out(area.name, check) for area in AREAS for check in area.checks],
        figures=[figure_out(area.name, figure) for area in AREAS for figure in area.figures],
    )


def check_out(area: str, check: Check) -> DeclaredOut:
    """Turn a declared check into its documented form."""
    near = (
        f"{100 * check.near:g} % of the limit"
        if check.kind.true_zero
        else write(check.near, difference_of(check.kind))
    )
    return DeclaredOut(
        id=check.id,
        area=area,
        says=check.says,
        meaning=check.meaning,
        kind=check.kind.name,
        limit=check.limit_says,
        near=near if check.near else "its band",
        source=str(check.source),
        caution=check.caution,
    )


def figure_out(area: str, figure: FigureKind) -> DeclaredOut:
    """Turn a declared figure into its documented form."""
    return DeclaredOut(
        id=figure.id,
        area=area,
        says=figure.says,
        meaning=figure.meaning,
        kind=figure.kind.name,
        limit="",
        near="",
        source="",
        caution="",
    )
