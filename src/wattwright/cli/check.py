"""``check``: findings by area, worst first, then figures and what to find out next."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from wattwright.assessment import (
    AreaReport,
    Assessment,
    assess,
    shown,
    verdict_words,
)
from wattwright.build.catalogue import find
from wattwright.build.fields import Plain, Quantity, Sampled, Section, Track
from wattwright.build.reader import open_build
from wattwright.cli.terminal import paint, table, width, wrapped
from wattwright.findings import Check, Figure, FigureKind, Finding, Table, Verdict
from wattwright.next_readings import Bundle, next_readings
from wattwright.units import Taste
from wattwright.values import Lack
from wattwright.words import CERTIFIES_NOTHING, lack_words, margin_words, reasons, tally_words


def run(asked: argparse.Namespace) -> int:
    """Assess a build and print what is found."""
    assessment = assess(open_build(Path(asked.build)))
    bundles = next_readings(assessment)
    if asked.json:
        from wattwright.written_out import check_out

        print(check_out(assessment, bundles, asked.units).model_dump_json(indent=2))
    else:
        print("\n".join(report(assessment, bundles, asked.units)))
    return exit_code(assessment)


def exit_code(assessment: Assessment) -> int:
    """Say how the build stands: 0, 1 or 3."""
    if assessment.count(Verdict.FAILING) or assessment.count(Verdict.MARGINAL):
        return 1
    open_areas = any(each.tell_me_first for each in assessment.reports)
    return 3 if assessment.count(Verdict.UNKNOWN) or assessment.provisional or open_areas else 0


def report(assessment: Assessment, bundles: Sequence[Bundle], taste: Taste) -> Iterator[str]:
    """Write an assessment as text."""
    yield assessment.name
    yield tally_words(assessment)
    for each in assessment.reports:
        yield ""
        yield each.area.title
        yield from _first(each)
        yield from _findings(each, taste)
        yield from _cautions(each)
        yield from _figures(each, taste)
    yield from _next(bundles)
    yield ""
    yield wrapped(
        "To see the working behind a line: wattwright explain BUILD ADDRESS, the address being "
        "the name beside the heading, @ and the words of the line.",
        "",
    )
    yield wrapped(CERTIFIES_NOTHING, "")


def _first(report: AreaReport) -> Iterator[str]:
    for first in report.tell_me_first:
        yield "  Nothing has been written for this area yet. Begin with:"
        for path in first.fields:
            entry = find(path)
            declared = entry.slot.declared if entry else None
            if isinstance(declared, Quantity | Sampled | Track):
                how = declared.how
            else:
                how = _help(declared)
            yield wrapped(f"{path}: {how}", "      ", "    ")


def _help(declared: Plain | Section | None) -> str:
    return (declared.help or declared.label) if declared else ""


def _figure_words(figure: Figure, taste: Taste) -> str:
    reasons = "; ".join(lack_words(lack) for lack in figure.value.lacks)
    return shown(figure.value, taste) + (f": {reasons}" if reasons else "")


def _findings(report: AreaReport, taste: Taste) -> Iterator[str]:
    groups: dict[Check, list[Finding]] = {}
    for finding in report.findings:
        groups.setdefault(finding.check, []).append(finding)
    for check, findings in groups.items():
        yield ""
        gap = max(2, width() - len(check.says) - len(check.id) - 4)
        yield f"  {check.says}{' ' * gap}{paint(check.id, 'dim')}"
        judged = [f for f in findings if f.verdict is not Verdict.UNKNOWN]
        lines = table([_row(finding, taste) for finding in judged])
        for finding, line in zip(judged, lines, strict=True):
            word = verdict_words(finding)
            yield f"    {line.replace(word, paint(word, finding.verdict.value), 1)}"
        yield from _unknown([f for f in findings if f.verdict is Verdict.UNKNOWN], taste)


def _row(finding: Finding, taste: Taste) -> tuple[str, ...]:
    return (
        verdict_words(finding),
        f"@{finding.about}" if finding.about else "",
        shown(finding.value, taste),
        f"{finding.sense} {shown(finding.limit, taste)}",
        margin_words(finding, taste),
    )


def _unknown(findings: Sequence[Finding], taste: Taste) -> Iterator[str]:
    """One line for all that lack the same: what is known of each, then what is needed."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        groups.setdefault(reasons(finding), []).append(finding)
    for why, alike in groups.items():
        names = [f"@{f.about}{_known(f, taste)}" if f.about else _known(f, taste) for f in alike]
        word = paint("unknown", "unknown")
        yield f"    {word}  {wrapped('  '.join(names), '             ').lstrip()}"
        yield wrapped(f"needs {'; '.join(why)}", "               ", "             ")


def _known(finding: Finding, taste: Taste) -> str:
    if finding.value.known:
        return f" {shown(finding.value, taste)}"
    return ""


def _cautions(report: AreaReport) -> Iterator[str]:
    alarming = (Verdict.FAILING, Verdict.MARGINAL)
    said = {f.check.caution: None for f in report.findings if f.verdict in alarming}
    cautions = [caution for caution in said if caution]
    if cautions:
        yield ""
        for caution in cautions:
            yield wrapped(f"Caution: {caution}", "    ", "  ")


def _figures(report: AreaReport, taste: Taste) -> Iterator[str]:
    tabled = {kind.id for each in report.area.tables for kind in each.figures}
    others = [figure for figure in report.figures if figure.declared.id not in tabled]
    for each in report.area.tables:
        yield from _table(each, report.figures, taste)
    if others:
        yield ""
        yield "  other figures"
        rows = [
            (figure.declared.says, figure.about, _figure_words(figure, taste)) for figure in others
        ]
        for line in table(rows):
            yield f"    {line}"


def _table(said: Table, figures: Sequence[Figure], taste: Taste) -> Iterator[str]:
    """Lay out the figures that are shown together, rows of which nothing is known left out."""
    ids = {kind.id for kind in said.figures}
    grid: dict[str, dict[str, Figure]] = {}
    for figure in figures:
        if figure.declared.id in ids:
            grid.setdefault(figure.about, {})[figure.declared.id] = figure
    shown_rows = {
        about: row for about, row in grid.items() if any(f.value.known for f in row.values())
    }
    if not shown_rows:
        return
    yield ""
    yield f"  {said.says}"
    for block in _blocks(said.figures, shown_rows, taste):
        yield from block
    lacks = {x: None for row in shown_rows.values() for f in row.values() for x in f.value.lacks}
    if lacks:
        words = "; ".join(sorted(lack_words(lack) for lack in lacks))
        yield wrapped(f"?: needs {words}", "         ", "    ")


def _blocks(
    columns: Sequence[FigureKind], rows: Mapping[str, Mapping[str, Figure]], taste: Taste
) -> Iterator[list[str]]:
    """Lay the figures out in as few tables as the width allows."""
    taken: list[list[str]] = []
    for column in columns:
        cells = [_cell(row.get(column.id), taste) for row in rows.values()]
        unit = _common_unit(cells)
        bare = [cell.removesuffix(unit).rstrip() for cell in cells]
        head = column.head or column.says
        lines = _columns(rows, [*taken, [head, unit, *bare]])
        if taken and max(map(len, lines)) > width():
            yield _columns(rows, taken)
            taken = []
        taken.append([head, unit, *bare])
    yield _columns(rows, taken)


def _columns(rows: Mapping[str, object], columns: Sequence[Sequence[str]]) -> list[str]:
    heads = ["", "", *rows]
    lines = list(zip(heads, *columns, strict=True))
    right = [False, *(True for _ in columns)]
    return [f"    {line}" for line in table(lines, right)]


def _cell(figure: Figure | None, taste: Taste) -> str:
    if figure is None or not figure.value.known:
        return "?"
    return shown(figure.value, "inch" if taste == "inch" else "metric", band=False)


def _common_unit(cells: Sequence[str]) -> str:
    units = {cell.partition(" ")[2] for cell in cells if cell != "?"}
    return units.pop() if len(units) == 1 else ""


def _next(bundles: Sequence[Bundle]) -> Iterator[str]:
    heads = {
        "settle": "Find out next (settles most per minute)",
        "confirm": "Then confirm (makes most provisional findings firm per minute)",
    }
    for purpose, head in heads.items():
        chosen = [bundle for bundle in bundles if bundle.purpose == purpose]
        if not chosen:
            continue
        yield ""
        yield head
        for number, bundle in enumerate(chosen, start=1):
            count = len(bundle.settles)
            together = "together " if bundle.of > 1 else ""
            verb = "settles" if purpose == "settle" else "makes firm"
            plural = "s" if count != 1 else ""
            yield f"  {number}. {together}{bundle.minutes:g} min, {verb} {count} finding{plural}"
            if bundle.of > len(bundle.readings):
                yield f"     the first {len(bundle.readings)} of {bundle.of}:"
            for how, readings in _by_how(bundle.readings):
                names = ", ".join(reading.path for reading in readings)
                minutes = sum(reading.minutes for reading in readings)
                label = readings[0].label if len(readings) == 1 else f"{len(readings)} readings"
                yield wrapped(f"{names} ({label}): {how}; {minutes:g} min", "       ", "     ")


def _by_how(readings: Iterable[Lack]) -> Iterator[tuple[str, list[Lack]]]:
    """Group readings that are taken in the same way, in order."""
    groups: dict[str, list[Lack]] = {}
    for reading in readings:
        groups.setdefault(reading.how or reading.why, []).append(reading)
    yield from groups.items()
