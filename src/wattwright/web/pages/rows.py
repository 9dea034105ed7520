"""Findings and figures as rows of a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from wattwright.assessment import AreaReport, shown
from wattwright.findings import (
    Check,
    Figure,
    FigureKind,
    Finding,
    Table,
    Verdict,
    about_words,
)
from wattwright.units import Taste
from wattwright.words import lack_label, margin_words, reasons

# So many sound findings of a check stand open, and so few more are not worth folding.
_OPEN, _FEW = 2, 2


@dataclass(frozen=True, slots=True)
class Row:
    """One finding."""

    address: str
    about: str
    verdict: str
    soft: bool
    value: str
    limit: str
    margin: str
    needs: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Findings of one check."""

    id: str
    says: str
    rows: tuple[Row, ...]

    @property
    def first(self) -> int:
        """Say how many rows stand open where the sound ones at the end are folded.

        The nearest sound ones stay; to fold one or two away would save nothing.
        """
        others = sum(1 for row in self.rows if row.verdict != Verdict.SOUND.value)
        tail = all(row.verdict == Verdict.SOUND.value for row in self.rows[others:])
        folds = tail and len(self.rows) - others > _OPEN + _FEW
        return others + _OPEN if folds else len(self.rows)


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure."""

    address: str
    says: str
    about: str
    value: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure in a table; without an address nothing stands there."""

    address: str = ""
    says: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class TableRow:
    """The figures about one thing."""

    about: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class FigureTable:
    """Figures that are shown together."""

    says: str
    heads: tuple[str, ...]
    rows: tuple[TableRow, ...]


def row_of(finding: Finding, taste: Taste) -> Row:
    """Write one finding as a row."""
    known = finding.verdict is not Verdict.UNKNOWN
    limit = f"{finding.sense} {shown(finding.limit, taste)}" if finding.limit.known else ""
    return Row(
        finding.address,
        about_here(finding.about),
        finding.verdict.value,
        known and finding.provisional,
        shown(finding.value, taste) if finding.value.known else "",
        limit,
        margin_words(finding, taste) if known else "",
        "" if known else "; ".join(reasons(finding, lack_label)),
    )


def about_here(about: str) -> str:
    """Say what something is about as a page does: names without the marks a file needs."""
    return about_words(about).replace("_", " ")


def grouped(findings: Iterable[Finding], taste: Taste) -> tuple[Rows, ...]:
    """Gather findings under their checks, in order of first appearance."""
    found: dict[Check, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.check, []).append(finding)
    return tuple(
        Rows(check.id, check.says, tuple(row_of(each, taste) for each in each_of))
        for check, each_of in found.items()
    )


def figure_row(figure: Figure, taste: Taste) -> FigureRow:
    """Write one figure as a row."""
    return FigureRow(
        figure.address,
        figure.declared.says,
        about_here(figure.about),
        shown(figure.value, taste),
    )


def figures_of(
    report: AreaReport, taste: Taste
) -> tuple[tuple[FigureTable, ...], tuple[FigureRow, ...]]:
    """Lay out the figures of an area: in its tables, and the others."""
    tabled = {kind.id for each in report.area.tables for kind in each.figures}
    tables = [_table(each, report.figures, taste) for each in report.area.tables]
    others = [
        figure_row(figure, taste) for figure in report.figures if figure.declared.id not in tabled
    ]
    return tuple(table for table in tables if table.rows), tuple(others)


def _table(table: Table, figures: Sequence[Figure], taste: Taste) -> FigureTable:
    ids = {kind.id for kind in table.figures}
    grid: dict[str, dict[str, Figure]] = {}
    for figure in figures:
        if figure.declared.id in ids:
            grid.setdefault(figure.about, {})[figure.declared.id] = figure
    known = {
        about: row for about, row in grid.items() if any(each.value.known for each in row.values())
    }
    columns = [kind for kind in table.figures if any(kind.id in row for row in known.values())]
    rows = [
        TableRow(about_here(about), tuple(_cells(row, columns, taste)))
        for about, row in known.items()
    ]
    return FigureTable(table.says, tuple(each.head or each.says for each in columns), tuple(rows))


def _cells(
    row: Mapping[str, Figure], columns: Sequence[FigureKind], taste: Taste
) -> Iterator[Cell]:
    for kind in columns:
        figure = row.get(kind.id)
        if figure is None:
            yield Cell()
        else:
            known = figure.value.known
            text = shown(figure.value, taste, band=False) if known else "?"
            yield Cell(figure.address, kind.says, text)


def cautions_of(findings: Iterable[Finding]) -> tuple[str, ...]:
    """List the cautions that stand beside what is close or fails, each once."""
    alarming = (Verdict.FAILING, Verdict.MARGINAL)
    said = {each.check.caution: None for each in findings if each.verdict in alarming}
    return tuple(caution for caution in said if caution)
