"""``check``: findings by area, worst first, then figures and what to find out next."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path

from wattwright.assessment import (
    WORST_FIRST,
    AreaReport,
    Assessment,
    assess,
    shown,
    verdict_words,
)
from wattwright.build.catalogue import find
from wattwright.build.fields import Quantity
from wattwright.build.reader import open_build
from wattwright.cli.terminal import paint, table, width, wrapped
from wattwright.findings import Check, Figure, Finding, Verdict
from wattwright.next_readings import Bundle, next_readings
from wattwright.units import Taste, write
from wattwright.values import Lack


def run(asked: argparse.Namespace) -> int:
    """Assess a build and print what is found."""
    assessment = assess(open_build(Path(asked.build)))
    bundles = next_readings(assessment)
    if asked.json:
        from wattwright.output import check_out

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
    yield summary(assessment)
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
    yield wrapped(
        "This helps a competent person and certifies nothing. Local codes, the authority's "
        "answers and licensed practice come first.",
        "",
    )


def summary(assessment: Assessment) -> str:
    """Count the verdicts in one line."""
    counts = [(assessment.count(verdict), verdict.value) for verdict in WORST_FIRST]
    words = " · ".join(f"{count} {word}" for count, word in counts if count)
    provisional = assessment.provisional
    tail = f" ({provisional} of all provisional)" if provisional else ""
    return f"{words}{tail}" if words else "nothing can be said yet"


def _first(report: AreaReport) -> Iterator[str]:
    for first in report.tell_me_first:
        yield "  Nothing has been written for this area yet. Begin with:"
        for path in first.fields:
            entry = find(path)
            declared = entry.slot.declared if entry else None
            how = declared.how if isinstance(declared, Quantity) else ""
            yield wrapped(f"{path}: {how}", "      ", "    ")


def _findings(report: AreaReport, taste: Taste) -> Iterator[str]:
    groups: dict[Check, list[Finding]] = {}
    for finding in report.findings:
        groups.setdefault(finding.check, []).append(finding)
    for check, findings in groups.items():
        yield ""
        head = f"  {check.says}"
        yield f"{head}{paint(check.id, 'dim').rjust(max(0, width() - len(head) - 2))}"
        rows = [_row(finding, taste) for finding in findings]
        lines = table(rows)
        for finding, line in zip(findings, lines, strict=True):
            word = verdict_words(finding)
            yield f"    {line.replace(word, paint(word, finding.verdict.value), 1)}"
            yield from _why(finding)


def _row(finding: Finding, taste: Taste) -> tuple[str, ...]:
    return (
        verdict_words(finding),
        f"@{finding.about}" if finding.about else "",
        shown(finding.value, taste),
        f"{finding.sense} {shown(finding.limit, taste, band=False)}",
        margin_words(finding, taste),
    )


def margin_words(finding: Finding, taste: Taste) -> str:
    """Say how far a value is from its limit."""
    if finding.margin is None:
        return ""
    amount = write(abs(finding.margin), finding.check.kind, taste)
    if finding.margin >= 0:
        return f"{amount} to spare"
    return f"{amount} {'short' if finding.sense == 'at least' else 'over'}"


def _why(finding: Finding) -> Iterator[str]:
    if finding.verdict is not Verdict.UNKNOWN:
        return
    reasons = [_lack_words(lack) for lack in finding.lacks] or list(finding.doubts)
    if not reasons:
        reasons = ["what is known is too rough: the band is wider than the limit itself"]
    shortened = reasons[:4]
    if len(reasons) > len(shortened):
        shortened.append(f"and {len(reasons) - len(shortened)} more")
    yield wrapped(f"needs {'; '.join(shortened)}", "          ", "        ")


def _lack_words(lack: Lack) -> str:
    if not lack.path:
        return f"{lack.label}: {lack.why}"
    return lack.path if lack.why in ("not given", "unknown") else f"{lack.path} ({lack.why})"


def _cautions(report: AreaReport) -> Iterator[str]:
    said = {f.check.caution: None for f in report.findings if f.verdict is not Verdict.SOUND}
    cautions = [caution for caution in said if caution]
    if cautions:
        yield ""
        for caution in cautions:
            yield wrapped(f"Caution: {caution}", "    ", "  ")


def _figures(report: AreaReport, taste: Taste) -> Iterator[str]:
    columns = report.area.table
    grid: dict[str, dict[str, Figure]] = {}
    others = []
    for figure in report.figures:
        if figure.declared in columns:
            grid.setdefault(figure.about, {})[figure.declared.id] = figure
        else:
            others.append(figure)
    if grid:
        yield ""
        yield "  figures by case"
        head = ("", *(column.says for column in columns))
        rows = [
            (about, *(_cell(row.get(column.id), taste) for column in columns))
            for about, row in grid.items()
        ]
        for line in table([head, *rows], [False, *(True for _ in columns)]):
            yield f"    {line}"
    if others:
        yield ""
        yield "  other figures"
        rows = [
            (figure.declared.says, figure.about, shown(figure.value, taste)) for figure in others
        ]
        for line in table(rows):
            yield f"    {line}"


def _cell(figure: Figure | None, taste: Taste) -> str:
    return shown(figure.value, taste, band=False) if figure else ""


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
            together = "together " if len(bundle.readings) > 1 else ""
            verb = "settles" if purpose == "settle" else "makes firm"
            plural = "s" if count != 1 else ""
            yield f"  {number}. {together}{bundle.minutes:g} min, {verb} {count} finding{plural}"
            for reading in bundle.readings:
                yield wrapped(
                    f"{reading.path} ({reading.label}): {reading.how or reading.why}; "
                    f"{reading.minutes:g} min",
                    "       ",
                    "     ",
                )
