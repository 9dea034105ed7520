"""Whether the fields of a use agree: one way of three, names that exist, nothing said in vain."""

from __future__ import annotations

import difflib
from collections.abc import Collection
from typing import Protocol

from wattwright.build.model import STANDARD_CASES, Build
from wattwright.build.presence import said
from wattwright.build.uses import Use, turn

# A shorter stretch would be a few steps of a second, and its grade would be drawn out over them.
SHORTEST = 4.0

_WAYS = ("cycle", "route", "stretch")


class Reading(Protocol):
    """Where problems go, and on which line a path stands."""

    def problem(self, path: tuple[str, ...], what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""

    def line(self, path: tuple[str, ...]) -> int | None:
        """Line on which a path stands."""


def check_uses(build: Build, reading: Reading) -> None:
    """Note every disagreement in the uses."""
    gears = [name for name, gear in build.drive.gear.items() if not gear.backwards]
    cases = [*sorted(STANDARD_CASES), *build.case]
    for name, use in build.use.items():
        here = ("use", name)
        if use.gear:
            _check_name(reading, (*here, "gear"), use.gear, gears, "forward gear")
        _check_name(reading, (*here, "case"), use.case, cases, "loading case")
        _check_way(use, here, reading)
        _check_stretches(use, here, reading)


def _check_name(
    reading: Reading, path: tuple[str, ...], name: str, known: Collection[str], what: str
) -> None:
    if name in known:
        return
    near = difflib.get_close_matches(name, known, n=1)
    there = f"known: {', '.join(known)}" if known else f"write the {what} first"
    hint = f"did you mean {near[0]}?" if near else there
    reading.problem(path, f"there is no such {what}", repr(name), hint)


def _check_way(use: Use, here: tuple[str, ...], reading: Reading) -> None:
    written = [way for way in _WAYS if reading.line((*here, way)) is not None]
    if not written:
        do = "write a cycle, a route, or stretches like [use.NAME.stretch.10_lane]"
        reading.problem(here, "says nothing of what is driven", do=do)
    for way in written[1:]:
        what = f"says in a second way what is driven, beside {written[0]}"
        reading.problem((*here, way), what, do="make two uses of it")
    # A route that could not be read is a problem of its own already.
    if use.route.needs_speed and not said(use.speed):
        do = 'write it beside the route, such as speed = "50 km/h"'
        reading.problem((*here, "speed"), "is needed: the route has no times and no speeds", do=do)
    drawn = use.cycle is not None or bool(use.route.known and use.route.times)
    for key in ("speed", "acceleration", "braking"):
        idle = drawn or (key == "speed" and (bool(use.stretch) or bool(use.route.speeds)))
        if idle and reading.line((*here, key)) is not None:
            what = f"plays no part: the {written[0] if written else 'way'} has its own speeds"
            reading.problem((*here, key), what, do="leave it out")


def _check_stretches(use: Use, here: tuple[str, ...], reading: Reading) -> None:
    seen: dict[int, str] = {}
    for name, stretch in use.stretch.items():
        path = (*here, "stretch", name)
        number = turn(name)
        if number is None:
            do = f"begin its name with a number, such as 10_{name}"
            reading.problem(path, "does not say when its turn is", do=do)
        elif seen.setdefault(number, name) != name:
            what = f"has the same number as {seen[number]}"
            reading.problem(path, what, do="give each stretch a number of its own")
        length, speed = stretch.length.number, stretch.speed.number
        if length is not None and speed is not None and length < SHORTEST * speed:
            reading.problem(
                (*path, "length"),
                "is too short for a stretch of its own",
                f"{length / speed:.1f} s at its speed",
                f"it takes {SHORTEST:g} s or more; join it with the next one",
            )
