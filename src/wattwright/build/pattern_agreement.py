"""Whether the fields of hole patterns agree: names that exist, distances that can be."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from itertools import combinations
from typing import Protocol

from wattwright.build.model import Build
from wattwright.build.patterns import Pattern, holes_of
from wattwright.build.survey import BETWEEN
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.values import Value

# A side longer than the way round by so much of it is a slip of the pen or of a unit. Less than
# that is for the adjustment to find, which knows the other readings too.
_HOPELESS = 0.25

_Path = tuple[str, ...]
_Centres = dict[frozenset[str], tuple[_Path, float, float]]


class Reading(Protocol):
    """Where problems go."""

    def problem(self, path: _Path, what: str, got: str = "", do: str = "") -> None:
        """Note a problem."""


def check_patterns(build: Build, reading: Reading) -> None:
    """Note every disagreement between the fields of hole patterns."""
    for name, pattern in build.pattern.items():
        here = ("pattern", name)
        _check_names(build, here, pattern, reading)
        _check_axes(here, pattern, reading)
        _check_aside(here, pattern, reading)
        centres = _centres(here, pattern, reading)
        for three in combinations(pattern.hole, 3):
            _check_triangle(three, centres, reading)


def _check_names(build: Build, here: _Path, pattern: Pattern, reading: Reading) -> None:
    for field in ("zero", "along", "above"):
        hole = getattr(pattern, field)
        if hole and hole not in pattern.hole:
            reading.problem(
                (*here, field), "there is no such hole", hole, _hint(hole, pattern.hole)
            )
    if pattern.like == here[1]:
        reading.problem((*here, "like"), "is the pattern itself", do="name the other one")
    elif pattern.like and pattern.like not in build.pattern:
        hint = _hint(pattern.like, build.pattern)
        reading.problem((*here, "like"), "there is no such pattern", pattern.like, hint)


def _hint(typed: str, known: Iterable[str]) -> str:
    names = list(known)
    near = difflib.get_close_matches(typed, names, n=1)
    if near:
        return f"did you mean {near[0]}?"
    return f"there are {', '.join(names)}" if names else "write [pattern.NAME.hole.HOLE] for each"


def _check_axes(here: _Path, pattern: Pattern, reading: Reading) -> None:
    chosen = [(field, getattr(pattern, field)) for field in ("zero", "along", "above")]
    for (first, hole), (second, other) in combinations(chosen, 2):
        if hole and hole == other:
            what = f"{hole} is {first} already: three holes make the axes"
            reading.problem((*here, second), what, do="name another hole, or leave it out")


def _check_aside(here: _Path, pattern: Pattern, reading: Reading) -> None:
    there = [f"{table}.{key}" for table, key, _ in pattern.readings()]
    for name in pattern.aside:
        if name not in there:
            near = difflib.get_close_matches(name, there, n=1)
            hint = f"did you mean {near[0]}?" if near else "write such as centres.1-2"
            reading.problem((*here, "set_aside"), "there is no such reading", name, hint)


def _centres(here: _Path, pattern: Pattern, reading: Reading) -> _Centres:
    """Note what is wrong with single readings; return centre distances, with their bands."""
    found: _Centres = {}
    said: dict[tuple[str, frozenset[str]], str] = {}
    for table, key, value in pattern.readings():
        path = (*here, table, key)
        ends = _ends(path, key, pattern, reading)
        if ends is None:
            continue
        pair = frozenset(ends)
        if (table, pair) in said:
            what = f"says again what {said[table, pair]} says"
            reading.problem(path, what, do="keep one of the two, or the mean of both")
            continue
        said[table, pair] = key
        holes = [pattern.hole[end].diameter for end in ends]
        if table != "centres":
            _check_diameters(path, ends, holes, reading)
        half = sum(hole.number or 0.0 for hole in holes) / 2
        if value.number is None:
            continue
        length = value.number + {"centres": 0.0, "inside": half, "outside": -half}[table]
        if length <= half:
            what = f"leaves no web between holes {ends[0]} and {ends[1]}"
            do = f"check it against half of both diameters together, {write(half, LENGTH)}"
            reading.problem(path, what, do=do)
        elif pair not in found:
            found[pair] = path, length, value.band
    return found


def _ends(path: _Path, key: str, pattern: Pattern, reading: Reading) -> tuple[str, str] | None:
    """Split a key into two holes, or note why that cannot be done."""
    ends = holes_of(key, pattern.hole)
    if ends is None:
        first, _, second = key.partition(BETWEEN)
        unknown = [each for each in (first, second) if each not in pattern.hole]
        what = f"there is no hole {unknown[0]}" if unknown and second else "does not name two holes"
        hint = _hint(unknown[0], pattern.hole) if unknown and second else "write such as 1-2"
        reading.problem(path, what, do=hint)
    elif ends[0] == ends[1]:
        reading.problem(path, "names the same hole twice", do="write the names of two holes")
        return None
    return ends


def _check_diameters(
    path: _Path, ends: tuple[str, str], holes: list[Value], reading: Reading
) -> None:
    """Edges say where centres are only with the diameters."""
    for end, hole in zip(ends, holes, strict=True):
        if not hole.known:
            what = f"is measured from edges, and the diameter of hole {end} is not known"
            do = f"write diameter in [{'.'.join(path[:2])}.hole.{end}]"
            reading.problem(path, what, do=do)


def _check_triangle(three: tuple[str, ...], centres: _Centres, reading: Reading) -> None:
    """Refuse a distance that is longer than the way round by more than any calipers are off."""
    sides = [frozenset(pair) for pair in combinations(three, 2)]
    if not all(side in centres for side in sides):
        return
    *shorter, longest_side = sorted(sides, key=lambda side: centres[side][1])
    (_, first, band), (_, second, other) = (centres[side] for side in shorter)
    path, longest, own = centres[longest_side]
    round_about = first + second
    if longest > (1 + _HOPELESS) * round_about + band + other + own:
        last = next(name for name in three if name not in longest_side)
        what = f"is longer than the way round over hole {last}, {write(round_about, LENGTH)}"
        reading.problem(path, what, write(longest, LENGTH), "check the figure and its unit")
