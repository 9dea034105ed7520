"""Whether survey and mounts agree: points that exist, on the body they are meant to be on."""

from __future__ import annotations

import difflib
from collections.abc import Collection
from typing import Protocol

from wattwright.build.half_shafts import HalfShaft
from wattwright.build.model import UNSAID, Build
from wattwright.build.survey import BETWEEN, Survey, pair

_OF_TWO = ("distance", "across_floor", "slope")
_OF_ONE = ("height", "behind", "right")
_SHAFT = (("shaft_from", "unit"), ("shaft_to", "unit"))
_LINE = (("line_from", "vehicle"), ("line_to", "vehicle"))


class Reading(Protocol):
    """Where problems go."""

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""


def check_survey(build: Build, reading: Reading) -> None:
    """Note every disagreement in the survey and in the mounts."""
    survey = build.survey
    for field in _OF_TWO:
        _check_pairs(survey, field, reading)
    for field in _OF_ONE:
        for key in getattr(survey, field):
            if key != UNSAID and key not in survey.point:
                _no_point(reading, ("survey", field, key), key, survey.point)
    _check_aside(survey, reading)
    _check_mounts(build, reading)


def _check_pairs(survey: Survey, field: str, reading: Reading) -> None:
    seen: dict[frozenset[str], str] = {}
    for key in getattr(survey, field):
        path = ("survey", field, key)
        if key == UNSAID:
            continue
        named = pair(key, survey.point)
        if named is None:
            what = "does not name two points"
            there = ", ".join(survey.point) or "none yet"
            do = f"two names of [survey.point] with {BETWEEN} between; there are: {there}"
            reading.problem(path, what, repr(key), do)
            continue
        if named[0] == named[1]:
            reading.problem(path, "is between a point and itself", do="name two points")
        before = seen.setdefault(frozenset(named), key)
        if before != key:
            reading.problem(path, f"says again what {before} says", do="keep one of the two")


def _check_aside(survey: Survey, reading: Reading) -> None:
    names = {
        f"{field}.{key}"
        for field in (*_OF_TWO, *_OF_ONE)
        for key in getattr(survey, field)
        if key != UNSAID
    }
    names |= {f"at.{name}.{axis}" for name in survey.point for axis in ("x", "y", "z")}
    names |= {"lengthwise", "crosswise"}
    for each in survey.set_aside.split(","):
        name = each.strip()
        if name and name not in names:
            near = difflib.get_close_matches(name, names, n=1)
            hint = f"did you mean {near[0]}?" if near else "write it as in the survey"
            reading.problem(("survey", "set_aside"), "there is no such reading", repr(name), hint)


def _check_mounts(build: Build, reading: Reading) -> None:
    mounts = build.mounts
    if mounts.unit and mounts.unit not in build.part:
        near = difflib.get_close_matches(mounts.unit, list(build.part), n=1)
        hint = f"did you mean {near[0]}?" if near else "write the name of a part"
        reading.problem(("mounts", "unit"), "there is no such part", repr(mounts.unit), hint)
    for field, body in (*_SHAFT, *_LINE):
        _check_point(build.survey, ("mounts", field), getattr(mounts, field), body, reading)
    for first, second in (("shaft_from", "shaft_to"), ("line_from", "line_to")):
        name = getattr(mounts, first)
        if name and name == getattr(mounts, second):
            what = f"is the same point as {first}"
            reading.problem(("mounts", second), what, repr(name), "name the other end")
    for name, shaft in build.half_shaft.items():
        _check_half_shaft(build.survey, ("half_shaft", name), shaft, reading)
    taken: dict[str, str] = {}
    for name, mount in mounts.mount.items():
        path = ("mounts", "mount", name)
        for field, body in (("unit_point", "unit"), ("vehicle_point", "vehicle")):
            _check_point(build.survey, (*path, field), getattr(mount, field), body, reading)
        if mount.unit_point:
            before = taken.setdefault(mount.unit_point, name)
            if before != name:
                what = f"is the point of the mount {before} already"
                do = "each mount has a point of its own"
                reading.problem((*path, "unit_point"), what, repr(mount.unit_point), do)


def _check_half_shaft(
    survey: Survey, path: tuple[str, ...], shaft: HalfShaft, reading: Reading
) -> None:
    _check_point(survey, (*path, "inner"), shaft.inner, "unit", reading)
    for field in ("outer", "pivot_from", "pivot_to", "steer_from", "steer_to"):
        _check_point(survey, (*path, field), getattr(shaft, field), "vehicle", reading)
    _check_steered(path, shaft, reading)
    if shaft.arm == "straight":
        for field in ("pivot_from", "pivot_to"):
            if getattr(shaft, field):
                what = "is a pivot, and this hub goes straight up and down"
                do = "leave it out, or write arm = swing or parallel"
                reading.problem((*path, field), what, repr(getattr(shaft, field)), do)
    elif shaft.pivot_from and shaft.pivot_from == shaft.pivot_to:
        what = "is the same point as pivot_from"
        reading.problem((*path, "pivot_to"), what, repr(shaft.pivot_to), "name the other pivot")


def _check_steered(path: tuple[str, ...], shaft: HalfShaft, reading: Reading) -> None:
    """Refuse an axis of steering with one end, or with both ends in one point."""
    ends = {"steer_from": shaft.steer_from, "steer_to": shaft.steer_to}
    for one, other in (("steer_from", "steer_to"), ("steer_to", "steer_from")):
        if ends[one] and not ends[other]:
            what = f"is one end of the axis the wheel is steered about, and {other} is left out"
            reading.problem((*path, one), what, repr(ends[one]), f"write {other} too")
    if shaft.steer_from and shaft.steer_from == shaft.steer_to:
        what = "is the same point as steer_from"
        reading.problem((*path, "steer_to"), what, repr(shaft.steer_to), "name the upper point")


def _check_point(
    survey: Survey, path: tuple[str, ...], name: str, body: str, reading: Reading
) -> None:
    if not name:
        return
    if name not in survey.point:
        _no_point(reading, path, name, survey.point)
    elif survey.point[name].on != body:
        other = survey.point[name].on
        what = f"is a point on the {other}, and one on the {body} belongs here"
        reading.problem(path, what, repr(name), f'choose another, or write on = "{body}" at it')


def _no_point(reading: Reading, path: tuple[str, ...], name: str, known: Collection[str]) -> None:
    near = difflib.get_close_matches(name, known, n=1)
    hint = f"did you mean {near[0]}?" if near else f"write [survey.point.{name}]"
    reading.problem(path, "there is no such point", repr(name), hint)
