"""A route as a GPX file: the points of its tracks, each with altitude and perhaps a time.

The parser is the one of the standard library that tells the line of everything it finds. A document
type is refused, and with it every entity that a file could declare. Distances between points are
taken on a sphere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise
from statistics import median
from xml.parsers import expat

from wattwright.build.route_cleaning import (
    ONE_PLACE,
    Log,
    Place,
    check_gaps,
    check_length,
    of_altitudes,
)
from wattwright.great_circle import great_circle
from wattwright.kinds import ANGLE
from wattwright.sampled import Route
from wattwright.units import read
from wattwright.values import Value

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_POINT, _HEIGHT, _TIME = "trkpt", "ele", "time"
_OTHERS = {"rtept": "points of a plan", "wpt": "marks"}
_LIMITS = {"lat": 90.0, "lon": 180.0}
_EXPORT = "export it again as a GPX track with altitudes"


@dataclass
class Point:
    """One point as written."""

    line: int
    latitude: float
    longitude: float
    height: str = ""
    time: str = ""


@dataclass(frozen=True, slots=True)
class Fix:
    """One point as read; ``time`` counts from the first."""

    line: int
    latitude: float
    longitude: float
    altitude: float
    time: float | None


def read_gpx_route(raw: bytes, file: str, path: str, share: Value) -> Route:
    """Read the tracks of a GPX file as one way. Raises BuildError with all that is wrong."""
    log = Log(file, path)
    points = _Reading(log).points(raw)
    log.refuse()
    fixes = _fixes(points, log)
    log.refuse()
    places = _places(fixes, log)
    check_length(places[-1].along, points[0].line, log)
    check_gaps(places, log, as_the_crow_flies=True)
    log.refuse()
    road = of_altitudes(places, log, over_ground=True)
    along, times = _knots(places, road.at)
    return Route(along, times, (), road.along, road.altitudes, log.notes, share)


class _Reading:
    """One pass over the text of a file."""

    def __init__(self, log: Log) -> None:
        self.log = log
        self.stack: list[str] = []
        self.found: list[Point] = []
        self.unused = dict.fromkeys(_OTHERS, 0)
        self.degree = read("1°", ANGLE).number
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.StartElementHandler = self.begin
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text

    def points(self, raw: bytes) -> list[Point]:
        """List the points of all tracks."""
        try:
            self.parser.Parse(raw, True)
        except expat.ExpatError as error:
            self.log.problem(
                f"is no XML from here on: {expat.errors.messages[error.code]}",
                error.lineno,
                do=_EXPORT,
                column=error.offset + 1,
            )
        # What comes after the first fault would be its echo.
        self.log.refuse()
        if len(self.found) < 2:
            what = "holds one point of a track only" if self.found else "holds no points of a track"
            line = self.found[0].line if self.found else 1
            self.log.problem(what, line, do=_EXPORT)
        for name, count in self.unused.items():
            if count:
                self.log.note(f"{_OTHERS[name]} not used", self.log.file, f"{count} points")
        return self.found

    def doctype(self, *_: object) -> None:
        do = "delete the line that begins with <!DOCTYPE and all that it declares"
        self.log.problem("declares a document type, which is not read", self.line, do=do)
        self.log.refuse()

    @property
    def line(self) -> int:
        return self.parser.CurrentLineNumber

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        name = name.rpartition(" ")[2]
        if not self.stack and name != "gpx":
            do = "name a GPX file, or a CSV file that ends in .csv"
            self.log.problem("is no GPX file", self.line, f"<{name}>", do)
            self.log.refuse()
        self.stack.append(name)
        if name in self.unused:
            self.unused[name] += 1
        if name == _POINT:
            latitude, longitude = (self.angle(attributes, which) for which in _LIMITS)
            self.found.append(Point(self.line, latitude, longitude))

    def angle(self, attributes: dict[str, str], which: str) -> float:
        typed = attributes.get(which, "").strip()
        most = _LIMITS[which]
        if not _NUMBER.fullmatch(typed) or not abs(float(typed)) <= most:
            got = f'{which}="{typed}"' if typed else f"no {which}"
            do = f"write {which} in degrees, -{most:g} to {most:g}, or delete the point"
            self.log.problem("the point is nowhere on earth", self.line, got, do)
            return 0.0
        return float(typed) * self.degree

    def end(self, _: str) -> None:
        self.stack.pop()

    def text(self, piece: str) -> None:
        if len(self.stack) > 1 and self.stack[-2] == _POINT:
            if self.stack[-1] == _HEIGHT:
                self.found[-1].height += piece
            elif self.stack[-1] == _TIME:
                self.found[-1].time += piece


def _fixes(points: Sequence[Point], log: Log) -> list[Fix]:
    """Read altitudes and times, which all points have or, of times, none."""
    timed = any(point.time.strip() for point in points)
    if not any(point.height.strip() for point in points):
        do = f"{_EXPORT}, or write a CSV file with distance, speed and grade"
        log.problem("holds no altitudes (ele)", points[0].line, do=do)
        return []
    start: datetime | None = None
    fixes = []
    for point in points:
        time = _time(point, log) if timed else None
        start = start or time
        seconds = (time - start).total_seconds() if time and start else None
        height = _height(point, log)
        fixes.append(Fix(point.line, point.latitude, point.longitude, height, seconds))
    for before, after in pairwise(fixes):
        if before.time is not None and after.time is not None and after.time < before.time:
            log.problem(
                f"the time is before that of line {before.line}",
                after.line,
                f"{before.time - after.time:.0f} s back",
                "sort the points by time, or delete those out of order",
            )
    return fixes


def _height(point: Point, log: Log) -> float:
    typed = point.height.strip()
    if not _NUMBER.fullmatch(typed):
        what = "the altitude (ele) is no number" if typed else "the point has no altitude (ele)"
        do = "write it in metres, take it from a map, or delete the point"
        log.problem(what, point.line, repr(typed) if typed else "", do)
        return 0.0
    return float(typed)


def _time(point: Point, log: Log) -> datetime | None:
    typed = point.time.strip()
    try:
        time = datetime.fromisoformat(typed)
    except ValueError:
        what = "the time cannot be read" if typed else "the point has no time, others have"
        do = "write it like 2026-05-10T09:30:00Z, or delete the times of all points"
        log.problem(what, point.line, repr(typed) if typed else "", do)
        return None
    # A receiver's own time is universal; a file without a zone means that.
    return time if time.tzinfo else time.replace(tzinfo=UTC)


def _places(fixes: Sequence[Fix], log: Log) -> list[Place]:
    """Put points of one place together: their median altitude, from the first time to the last."""
    groups: list[list[Fix]] = []
    along = []
    for fix in fixes:
        if not groups:
            groups, along = [[fix]], [0.0]
            continue
        last = groups[-1][0]
        step = great_circle(last.latitude, last.longitude, fix.latitude, fix.longitude)
        if step < ONE_PLACE:
            groups[-1].append(fix)
        else:
            groups.append([fix])
            along.append(along[-1] + step)
    merged = len(fixes) - len(groups)
    if merged:
        log.note("points at one place merged", log.file, f"{merged} points")
    return [
        Place(
            group[0].line,
            where,
            median(fix.altitude for fix in group),
            group[0].time,
            group[-1].time,
        )
        for group, where in zip(groups, along, strict=True)
    ]


def _knots(
    places: Sequence[Place], at: Callable[[float], float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Distances along the road with the times at them, a stop as two of one distance."""
    along, times = [], []
    for place in places:
        where = at(place.along)
        along.append(where)
        if place.came is None or place.went is None:
            continue
        times.append(place.came)
        if place.went > place.came:
            along.append(where)
            times.append(place.went)
    return tuple(along), tuple(times)
