"""A build with an outlet and a box, and an assessment in which somebody has worked out charging."""

from __future__ import annotations

from dataclasses import replace

from builders import SMALL, assessed, opened
from wattwright.areas import AREAS
from wattwright.assessment import AreaReport, Assessment
from wattwright.build.model import Build
from wattwright.findings import Figure, FigureKind, Finding
from wattwright.kinds import KINDS, VOLTAGE, Kind
from wattwright.values import Given, Origin, Value, given

CHARGED: dict[str, str] = {
    **SMALL,
    "outlet.barn.label": '"barn wall"',
    "outlet.barn.box": '"handy"',
    "outlet.carport.label": '"carport"',
    "supply_box.handy.label": '"portable box"',
}


def worked_out(number: float, kind: Kind, band: float = 0.0) -> Value:
    """A value as an area would have worked it out."""
    return given(kind, number, Given("charging", "stub", Origin.COMPUTED, "", band))


def build() -> Build:
    return opened(CHARGED).build


def with_figures(*said: tuple[str, Value]) -> Assessment:
    """The assessment of a build in which nobody has begun to charge, with more figures."""
    figures = []
    for address, value in said:
        identifier, _, about = address.partition("@")
        kind = FigureKind(identifier, identifier, "a stub", value.kind)
        figures.append(Figure(kind, about, value))
    return _with(AreaReport(AREAS[0], (), tuple(figures)))


def with_findings(*said: Finding) -> Assessment:
    """The same with more findings."""
    return _with(AreaReport(AREAS[0], said, ()))


def _with(report: AreaReport) -> Assessment:
    plain = assessed(SMALL)
    return replace(plain, reports=(*plain.reports, report))


def volts(number: float, band: float = 0.0) -> Value:
    return worked_out(number, VOLTAGE, band)


def of_kind(word: str, number: float) -> Value:
    return worked_out(number, KINDS[word])
