"""``fields`` and ``findings``: what can be written, and what can be said."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from wattwright.areas import AREAS
from wattwright.build.catalogue import Entry, entries
from wattwright.build.fields import Column, Quantity, Sampled, Track
from wattwright.cli.terminal import wrapped
from wattwright.errors import UsageError
from wattwright.findings import Check, FigureKind
from wattwright.kinds import difference_of
from wattwright.output import ColumnOut, DeclaredOut, FieldOut, FieldsOut, FindingsOut
from wattwright.units import unit_of, write


def run(asked: argparse.Namespace) -> int:
    """Print the catalogue of fields or of findings."""
    if asked.command == "fields":
        out = FieldsOut(fields=[field_out(entry) for entry in _chosen(asked.section)])
        lines = _field_lines(out)
    else:
        findings = findings_out()
        if asked.json:
            print(findings.model_dump_json(indent=2))
            return 0
        lines = _finding_lines(findings)
        print("\n".join(lines))
        return 0
    print(out.model_dump_json(indent=2) if asked.json else "\n".join(lines))
    return 0


def _chosen(section: str | None) -> list[Entry]:
    of_area = {area.name: area.sections for area in AREAS}
    wanted = of_area.get(section or "", (section,))
    found = [entry for entry in entries() if section is None or entry.section in wanted]
    if not found:
        sections = ", ".join(dict.fromkeys(entry.section for entry in entries()))
        raise UsageError(
            f"there is no area or section {section!r}; areas: {', '.join(of_area)}; "
            f"sections: {sections}"
        )
    return found


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


def _field_lines(out: FieldsOut) -> Iterator[str]:
    for field in out.fields:
        yield f"{field.path}: {field.label}"
        example = f", such as {field.example}" if field.example else ""
        allowed = f"; {_allowed_words(field)}" if field.allowed else ""
        yield f"    {field.kind}{example}{allowed}"
        for column in field.columns:
            unit = f" ({column.usual_unit})" if column.usual_unit else ""
            yield f"    column {column.name}{unit}: {' to '.join(column.allowed) or column.kind}"
        if field.kinds:
            yield wrapped(f"only for kind = {', '.join(field.kinds)}", "    ")
        if field.help:
            yield wrapped(field.help, "    ")
        if field.how:
            yield wrapped(f"how: {field.how} ({field.minutes:g} min)", "         ", "    ")
        if field.default:
            basis = f" ({field.basis})" if field.basis else ""
            yield f"    when left out: {field.default}{basis}"


def _allowed_words(field: FieldOut) -> str:
    return ", ".join(field.allowed) if field.kind == "choice" else " to ".join(field.allowed)


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


def _finding_lines(out: FindingsOut) -> Iterator[str]:
    yield "Findings"
    for check in out.checks:
        yield f"  {check.id}: {check.says}"
        yield wrapped(check.meaning, "      ")
        yield wrapped(f"limit: {check.limit}; marginal within {check.near}", "      ")
        yield wrapped(f"source: {check.source}", "      ")
    yield "Figures"
    for figure in out.figures:
        yield wrapped(f"{figure.id}: {figure.meaning}", "      ", "  ")
