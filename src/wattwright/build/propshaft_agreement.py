"""Whether the fields of propshafts agree: axes in order, tubes and slips that can be."""

from __future__ import annotations

from typing import Protocol

from wattwright.build.model import Build
from wattwright.build.presence import said
from wattwright.build.propshafts import Axis, Propshaft
from wattwright.build.uses import turn
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.values import Value

_Path = tuple[str, ...]
_OF_SHAFTS = ("length", "diameter", "wall", "phase_error")


class Reading(Protocol):
    """Where problems go."""

    def problem(self, path: _Path, what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""


def check_propshafts(build: Build, reading: Reading) -> None:
    """Note every disagreement between the fields of propshafts."""
    for name, line in build.propshaft.items():
        here = ("propshaft", name)
        if _in_order((*here, "axis"), line, reading):
            _check_ends((*here, "axis"), line, reading)
        for each, axis in line.axis.items():
            _check_tube((*here, "axis", each), axis, reading)
        if _above(line.slip_at_ride, line.slip_range):
            what = f"is more than the slip there is, {_text(line.slip_range)}"
            do = "measure both from where it is pushed in"
            reading.problem((*here, "slip_at_ride"), what, _text(line.slip_at_ride), do)


def _in_order(here: _Path, line: Propshaft, reading: Reading) -> bool:
    """Every axis needs a number of its own in front, or nobody knows which joints there are."""
    seen: dict[int, str] = {}
    sound = True
    for name in line.axis:
        number = turn(name)
        if number is None:
            sound = False
            what = "needs a number in front, for its order"
            reading.problem((*here, name), what, do="1_gearbox, 2_shaft, 3_pinion")
        elif number in seen:
            sound = False
            what = f"has the number of {seen[number]}"
            reading.problem((*here, name), what, do="number the axes from the front to the rear")
        else:
            seen[number] = name
    return sound


def _check_ends(here: _Path, line: Propshaft, reading: Reading) -> None:
    """The first axis and the last have a joint at one end: there is no shaft between two."""
    if len(line.axes) < 3:
        return
    for name, axis in (line.axes[0], line.axes[-1]):
        for field in _OF_SHAFTS:
            if said(getattr(axis, field)):
                what = "is of a shaft between two joints, and this axis has one joint only"
                do = "leave it out, or number the axes from the front to the rear"
                reading.problem((*here, name, field), what, do=do)
        if axis.yokes != "in line":
            what = "this axis has one joint only: no two forks stand in line or crossed"
            reading.problem((*here, name, "yokes"), what, axis.yokes, "leave it out")


def _check_tube(here: _Path, axis: Axis, reading: Reading) -> None:
    if _above(axis.diameter, axis.length):
        what = f"is shorter than its joints: the tube alone is {_text(axis.diameter)} across"
        do = "from the middle of one joint to that of the other"
        reading.problem((*here, "length"), what, _text(axis.length), do)
    twice = 2.0 * (axis.wall.number or 0.0)
    if axis.wall.known and axis.diameter.number is not None and twice > axis.diameter.number:
        what = f"is more than half the diameter of {_text(axis.diameter)}"
        reading.problem((*here, "wall"), what, _text(axis.wall), "half of it for a solid bar")


def _above(value: Value, limit: Value) -> bool:
    return value.number is not None and limit.number is not None and value.number > limit.number


def _text(value: Value) -> str:
    return write(value.number or 0.0, LENGTH, "metric")
