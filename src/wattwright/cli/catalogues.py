"""``fields`` and ``findings``: what can be written, and what can be said."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from wattwright.areas import AREAS
from wattwright.build.catalogue import Entry, entries
from wattwright.cli.terminal import wrapped
from wattwright.declared_out import field_out, findings_out
from wattwright.errors import UsageError
from wattwright.output import FieldOut, FieldsOut, FindingsOut


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
