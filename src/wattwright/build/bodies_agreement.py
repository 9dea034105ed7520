"""Whether the fields of bodies agree: names that exist, measures their outline needs, pivots."""

from __future__ import annotations

import difflib
import math
from collections.abc import Collection, Sequence

from wattwright.build.bodies import Body, Via
from wattwright.build.model import Build
from wattwright.build.parts import Point
from wattwright.build.presence import said
from wattwright.build.uses import turn
from wattwright.build.uses_agreement import Reading

# Two points closer than this are one.
_SAME = 1e-6
# What each outline is made of, beside its place and how it is turned.
_MEASURES = {"box": ("size",), "cylinder": ("diameter", "length"), "hose": ("diameter", "via")}
_PLACED = ("at", "part", "yaw", "pitch", "roll")
_EVERY = ("size", "diameter", "length", "via")


def check_bodies(build: Build, reading: Reading) -> None:
    """Note every disagreement in the bodies."""
    for name, body in build.body.items():
        here = ("body", name)
        _check_measures(body, here, reading)
        _check_part(build, body, here, reading)
        if body.shape == "hose":
            _check_hose(build, body, here, reading)
        _check_pivot(body, here, reading)
        _check_joined(build, name, here, reading)


def _name(
    reading: Reading, path: tuple[str, ...], name: str, known: Collection[str], what: str
) -> bool:
    """Say whether there is such a name, and note it where there is none."""
    if name in known:
        return True
    near = difflib.get_close_matches(name, known, n=1)
    there = f"known: {', '.join(known)}" if known else f"write the {what} first"
    hint = f"did you mean {near[0]}?" if near else there
    reading.problem(path, f"there is no such {what}", repr(name), hint)
    return False


def _check_measures(body: Body, here: tuple[str, ...], reading: Reading) -> None:
    """Refuse measures that the outline does not have, and a box that has none at all."""
    idle = [key for key in _EVERY if key not in _MEASURES[body.shape]]
    if body.shape == "hose":
        idle += _PLACED
    for key in idle:
        if reading.line((*here, key)) is not None:
            wanted = " and ".join(_MEASURES[body.shape])
            do = f"a {body.shape} has {wanted}; or write another shape"
            reading.problem((*here, key), f"means nothing for a {body.shape}", do=do)
    if body.shape == "box" and not body.part and not said(body.size):
        do = 'write size = { length = "...", width = "...", height = "..." }, "unknown" where it is'
        reading.problem(here, "is a box without size", do=f"{do}, or part = the part that it is")
    if body.shape == "cylinder" and not said(body.diameter):
        reading.problem(here, "is a cylinder without diameter", do='write diameter = "..."')


def _check_part(build: Build, body: Body, here: tuple[str, ...], reading: Reading) -> None:
    """A body has the place and the measures of its part, typed there and nowhere else."""
    if not body.part or body.shape == "hose":
        return
    if not _name(reading, (*here, "part"), body.part, build.part, "part"):
        return
    several = build.part[body.part].count.number != 1.0
    if several and not said(body.at):
        what = f"{body.part} stands for several, and its place is the middle of all"
        reading.problem((*here, "part"), what, do="write a body for each, with its own at")
    for key in ("size",) if several else ("at", "size"):
        both = said(getattr(body, key)) and said(getattr(build.part[body.part], key))
        if both:
            what = f"is typed in [part.{body.part}] already"
            reading.problem((*here, key), what, do="keep one of the two")


def _check_hose(build: Build, body: Body, here: tuple[str, ...], reading: Reading) -> None:
    """A hose runs through two points or more, in an order that its names tell."""
    if len(body.via) < 2:
        what = f"is a hose through {len(body.via) or 'no'} point{'s' * (len(body.via) != 1)}"
        reading.problem(here, what, do=f"write [{'.'.join(here)}.via.1_clip] and at least one more")
    seen: dict[int, str] = {}
    for name, via in body.via.items():
        path = (*here, "via", name)
        number = turn(name)
        if number is None:
            do = "begin the name with a number: 1_clip, 2_tunnel"
            reading.problem(path, "does not say in which order it comes", do=do)
        elif number in seen:
            what = f"has the same number as {seen[number]}"
            reading.problem(path, what, do="give each point a number of its own")
        else:
            seen[number] = name
        _check_via(build, via, path, reading)
    for (_, one), (name, other) in zip(body.points, body.points[1:], strict=False):
        if _together(one.at, other.at):
            what = "is where the point before it is"
            reading.problem((*here, "via", name), what, do="leave one of the two out")


def _check_via(build: Build, via: Via, path: tuple[str, ...], reading: Reading) -> None:
    if not via.point:
        return
    points = build.survey.point
    if not _name(reading, (*path, "point"), via.point, points, "point of the survey"):
        return
    if points[via.point].on == "unit":
        what = f"{via.point} is known in the unit's own axes, not in the vehicle's"
        reading.problem((*path, "point"), what, do="write its place on the vehicle as at")
    if said(via.at):
        reading.problem((*path, "at"), "says again where the point is", do="keep one of the two")


def _check_pivot(body: Body, here: tuple[str, ...], reading: Reading) -> None:
    """What swings is moved by one wheel, about a line that does not pass through its middle."""
    if body.pivot_axis is None:
        if said(body.pivot):
            do = "write pivot_axis = across for a trailing arm, along for a swing axle"
            reading.problem((*here, "pivot"), "needs the way its line runs", do=do)
        return
    if not body.moves_with.startswith("wheel_") or body.shape == "hose":
        do = "write moves_with = wheel_rl or whichever wheel it carries"
        what = "only what one wheel moves, and no hose, swings about a pivot"
        reading.problem((*here, "pivot_axis"), what, repr(body.moves_with), do)
    elif _together(body.pivot, body.at):
        what = "is at its own middle, about which nothing swings"
        reading.problem((*here, "pivot"), what, do="measure to the middle of the bush")


def _together(one: Point, other: Point) -> bool:
    places = ([point.x.number, point.y.number, point.z.number] for point in (one, other))
    return _close(*places)


def _close(one: Sequence[float | None], other: Sequence[float | None]) -> bool:
    known = [(a, b) for a, b in zip(one, other, strict=True) if a is not None and b is not None]
    return len(known) == 3 and all(math.isclose(a, b, abs_tol=_SAME) for a, b in known)


def _check_joined(build: Build, name: str, here: tuple[str, ...], reading: Reading) -> None:
    for other in build.body[name].joined_names:
        if other == name:
            what = "names the body itself"
            reading.problem((*here, "joined"), what, do="leave its own name out")
        else:
            _name(reading, (*here, "joined"), other, build.body, "body")
