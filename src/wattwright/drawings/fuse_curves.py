"""Time against current of a power cable and of its fuse, on one sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wattwright.assessment import Assessment, shown
from wattwright.build.cables import Cable
from wattwright.build.reader import Opened
from wattwright.descriptions.high_voltage import CableFound, CurvesFound, HighVoltageDescription
from wattwright.errors import UsageError
from wattwright.findings import Finding
from wattwright.kinds import CURRENT, TIME
from wattwright.paper import WIDE, Axis
from wattwright.paper.chart import Band, Chart, Line, Mark, Reference, draw
from wattwright.paper.svg import Drawing
from wattwright.units import Taste

_TITLE = "Cable and fuse"
_DESCRIBING = (
    "Time against current, both scales logarithmic: when the cable comes to its overload "
    "temperature, warm from hours of work, and when its fuse has opened. The fuse protects the "
    "cable where its line is the lower one; shaded is where it is not, or where its curve is "
    "silent."
)
_MISSING = "Give size, insulation and fuse of a power cable, what it carries, and the pack."
# The axis of time ends where a fuse's curve and a cable's patience do.
_SHORTEST, _LONGEST = 1e-3, 20_000.0


def fuse_curves(opened: Opened, assessment: Assessment, taste: Taste, name: str = "") -> Drawing:
    """Draw a power cable against its fuse."""
    described = assessment.descriptions.get(HighVoltageDescription)
    cables = described.cables if described else {}
    if name and name not in cables:
        there = ", ".join(cables) or "none yet"
        raise UsageError(f"there is no power cable {name!r}; there are {there}")
    name = name or next(iter(cables), "")
    title = f"{_TITLE}: {name.replace('_', ' ')}" if name else _TITLE
    record, found = opened.build.part.get(name), cables.get(name)
    before = assessment.by_address.get(f"high_voltage.temperature@{name}")
    x, y = Axis("current", CURRENT, log=True), Axis("time", TIME, _SHORTEST, _LONGEST, log=True)
    if not isinstance(record, Cable) or found is None or not isinstance(before, Finding):
        return draw(Chart(title, _DESCRIBING, x, y, empty=_MISSING, width=WIDE), taste)
    seen = found.curves(before.value)
    # The lines run out at the right, where their names have room.
    x = replace(x, high=max((at for at, _ in seen.cable), default=None))
    current = assessment.by_address.get(f"high_voltage.carries@{name}")
    hours = current.value.number if current is not None else None
    chart = Chart(
        title,
        _DESCRIBING,
        x,
        y,
        tuple(_lines(record, seen, found, taste)) if seen.cable else (),
        tuple(_bare(seen)),
        tuple(_peak(record, found)) if seen.cable else (),
        tuple(_upright(hours, found)) if seen.cable else (),
        empty=_MISSING,
        width=WIDE,
        height=110.0,
    )
    return draw(chart, taste)


def _lines(record: Cable, seen: CurvesFound, found: CableFound, taste: Taste) -> Iterator[Line]:
    hot = shown(found.overload_limit, taste, band=False)
    section = shown(record.wire.section, taste, band=False)
    yield Line(f"cable, {section}, to {hot}", seen.cable)
    if seen.fuse:
        yield Line(f"fuse: {record.fuse.replace('_', ' ')}", seen.fuse, heavy=False)


def _bare(seen: CurvesFound) -> Iterator[Band]:
    for low, high in seen.bare:
        ends = (low, high if high > low else 1.02 * low)
        yield Band(
            "not protected",
            tuple((x, _SHORTEST) for x in ends),
            tuple((x, _LONGEST) for x in ends),
        )


def _peak(record: Cable, found: CableFound) -> Iterator[Mark]:
    current, time = found.peak.number, record.peak_time.number
    if current is not None and time is not None:
        yield Mark("highest current", (current, time))


def _upright(hours: float | None, found: CableFound) -> Iterator[Reference]:
    if hours is not None:
        yield Reference("for hours:", hours, "x")
    if found.fault.number is not None:
        yield Reference("short circuit:", found.fault.number, "x")
