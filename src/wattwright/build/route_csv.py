"""A route as a CSV file: distances or times, speeds, and how the road rises.

    distance (km); speed (km/h); altitude (m)
    0; 30; 112
    0,2; 50; 118

Any two of time, distance and speed, and altitude or grade if there is one. Head, cells and faults
are those of any other CSV file of a build.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from wattwright.build.fields import Column
from wattwright.build.route_cleaning import (
    FASTEST,
    ONE_PLACE,
    Log,
    Place,
    Road,
    check_gaps,
    check_length,
    level,
    of_altitudes,
    of_grades,
)
from wattwright.build.sampled_csv import Head, Row, read_rows
from wattwright.kinds import GRADE, LENGTH, POSITION, SPEED, TIME
from wattwright.sampled import Route
from wattwright.values import Value

COLUMNS = (
    Column("time", TIME, ("0 s", "200 h")),
    Column("distance", LENGTH, ("0 m", "2000 km")),
    Column("speed", SPEED, ("0 m/s", f"{FASTEST:g} m/s")),
    Column("altitude", POSITION),
    Column("grade", GRADE, ("-100 %", "100 %")),
)
HEAD = "distance (km), speed (km/h), altitude (m)"

Cells = dict[str, tuple[float, ...]]


def read_csv_route(raw: bytes, file: str, path: str, share: Value) -> Route:
    """Read a route from CSV text. Raises BuildError with all that is wrong."""
    names, head, rows = read_rows(raw, file, path, COLUMNS, HEAD)
    log = Log(file, path)
    _check_columns(names, head, log)
    log.refuse()
    if len(rows) < 2:
        what = "needs two points or more"
        log.problem(what, head.line, f"{len(rows)}", "write at least where it begins and ends")
    cells = {name: tuple(row.numbers[n] for row in rows) for n, name in enumerate(names)}
    for name in ("time", "distance"):
        if name in cells:
            _check_growth(name, rows, cells[name], names.index(name), log)
    log.refuse()
    if "distance" not in cells:
        route = _by_time(rows, cells, log, share)
    elif "time" in cells:
        route = _by_both(rows, cells, log, share)
    else:
        route = _by_distance(rows, cells, log, share)
    return route


def _check_columns(names: Sequence[str], head: Head, log: Log) -> None:
    do = f"write the head as: {HEAD}"
    way = [name for name in ("time", "distance", "speed") if name in names]
    if len(way) < 2:
        log.problem("says not enough of how it is driven", head.line, ", ".join(names), do)
    if len(way) > 2:
        what = "says in two ways how fast it is driven"
        log.problem(what, head.line, ", ".join(way), "leave out one of the three columns")
    if "altitude" in names and "grade" in names:
        what = "says in two ways how the road rises"
        log.problem(what, head.line, "altitude, grade", "leave out one of the two columns")


def _check_growth(
    name: str, rows: Sequence[Row], numbers: Sequence[float], place: int, log: Log
) -> None:
    for (before, after), (low, high) in zip(pairwise(rows), pairwise(numbers), strict=True):
        if high < low or (name == "time" and high == low):
            log.problem(
                f"{name} does not grow from line {before.line} to here",
                after.line,
                f"{after.cells[place]} after {before.cells[place]}",
                f"sort the rows by {name}; it counts from the beginning of the way",
            )


def _by_time(rows: Sequence[Row], cells: Cells, log: Log, share: Value) -> Route:
    """Times and speeds: places follow."""
    start = cells["time"][0]
    times = tuple(time - start for time in cells["time"])
    speeds = cells["speed"]
    along = [0.0]
    for (here, there), (begin, end) in zip(pairwise(times), pairwise(speeds), strict=True):
        along.append(along[-1] + (there - here) * (begin + end) / 2.0)
    _check_moves(along, rows, log)
    _check_timed(rows, along, times, log)
    road = _road(rows, along, cells, log)
    return Route(tuple(along), times, speeds, road.along, road.altitudes, log.notes, share)


def _by_both(rows: Sequence[Row], cells: Cells, log: Log, share: Value) -> Route:
    """Times and distances, as an odometer gives them: speeds follow."""
    start, first = cells["time"][0], cells["distance"][0]
    times = tuple(time - start for time in cells["time"])
    along = [place - first for place in cells["distance"]]
    _check_moves(along, rows, log)
    _check_timed(rows, along, times, log)
    road = _road(rows, along, cells, log)
    return Route(tuple(along), times, (), road.along, road.altitudes, log.notes, share)


def _by_distance(rows: Sequence[Row], cells: Cells, log: Log, share: Value) -> Route:
    """Distances and speeds: a plan, driven within what the accelerations allow."""
    kept = [0]
    for place, (before, after) in enumerate(pairwise(rows), start=1):
        if cells["distance"][place] > cells["distance"][place - 1]:
            kept.append(place)
        elif after.numbers != before.numbers:
            what = f"is at the same distance as line {before.line} and says something else"
            log.problem(what, after.line, ", ".join(after.cells), "keep one of the two rows")
    if len(kept) < len(rows):
        _note_merged(len(rows) - len(kept), log)
    rows = [rows[place] for place in kept]
    cells = {name: tuple(column[place] for place in kept) for name, column in cells.items()}
    first = cells["distance"][0]
    along = [place - first for place in cells["distance"]]
    for (before, after), pair in zip(pairwise(rows), pairwise(cells["speed"]), strict=True):
        if not any(pair):
            what = f"the speed is nought from line {before.line} to here, so it never gets here"
            log.problem(what, after.line, do="write the speed that is driven between the two")
    _check_moves(along, rows, log)
    places = [Place(row.line, at, None) for row, at in zip(rows, along, strict=True)]
    check_gaps(places, log, as_the_crow_flies=False)
    log.refuse()
    road = _road(rows, along, cells, log)
    return Route(tuple(along), (), cells["speed"], road.along, road.altitudes, log.notes, share)


def _check_timed(
    rows: Sequence[Row], along: Sequence[float], times: Sequence[float], log: Log
) -> None:
    triples = zip(rows, along, times, strict=True)
    places = [Place(row.line, at, None, time, time) for row, at, time in triples]
    check_gaps(places, log, as_the_crow_flies=False)
    log.refuse()


def _check_moves(along: Sequence[float], rows: Sequence[Row], log: Log) -> None:
    check_length(along[-1], rows[0].line, log)
    log.refuse()


def _note_merged(count: int, log: Log) -> None:
    log.note("points at one place merged", log.file, f"{count} points")


def _road(rows: Sequence[Row], along: Sequence[float], cells: Cells, log: Log) -> Road:
    if "altitude" not in cells and "grade" not in cells:
        return level(along[-1], log)
    lines = [row.line for row in rows]
    if "grade" in cells:
        return of_grades(lines, along, cells["grade"], log)
    groups: list[list[int]] = []
    for place, where in enumerate(along):
        if groups and where - along[groups[-1][0]] < ONE_PLACE:
            groups[-1].append(place)
        else:
            groups.append([place])
    if len(groups) < len(rows):
        text = "altitudes at one place taken as their mean"
        log.note(text, log.file, f"{len(rows) - len(groups)} points")
    heights = cells["altitude"]
    means = [sum(heights[n] for n in group) / len(group) for group in groups]
    places = [
        Place(lines[group[0]], along[group[0]], mean)
        for group, mean in zip(groups, means, strict=True)
    ]
    # What was merged into the last place must not make the road shorter.
    places[-1] = places[-1]._replace(along=along[-1])
    return of_altitudes(places, log, over_ground=False)
