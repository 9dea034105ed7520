"""Views of the power unit on its mounts: which way round, and where a place lies on the paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from wattwright.descriptions.mounts import Place
from wattwright.errors import UsageError
from wattwright.paper import MARGIN, NARROW, Box, Point, View
from wattwright.paper.svg import PLAIN, Shape, rectangle, text
from wattwright.values import Value

Axis = Literal["x", "y", "z"]

TOP, TALLEST = 19.0, 95.0
_WORDS = 14.5
_SPARE = 9.0


@dataclass(frozen=True, slots=True)
class Side:
    """From where it is looked at: its axes, and what lies at the left and right of the paper."""

    name: str
    across: Axis
    up: Axis
    left: str
    right: str


SIDES = {
    "side": Side("left side", "x", "z", "front", "rear"),
    "plan": Side("from above", "x", "y", "front, right side at the top", "rear"),
    "rear": Side("from behind", "y", "z", "left side", "right side"),
}


def chosen_side(name: str) -> Side:
    """Find a side by its name. Raises UsageError where there is no such one."""
    if name not in SIDES:
        raise UsageError(f"there is no view {name!r}; there are {', '.join(SIDES)}")
    return SIDES[name]


def flat(place: Place, side: Side) -> Point | None:
    """Where a place lies, seen from a side, in metres; none where that is not known."""
    across: Value = getattr(place, side.across)
    up: Value = getattr(place, side.up)
    if across.number is None or up.number is None:
        return None
    return across.number, up.number


def known(points: Iterable[Point | None]) -> list[Point]:
    """Those that are known."""
    return [each for each in points if each is not None]


def laid_out(points: Sequence[Point]) -> View:
    """Lay out a view that holds all points, with room around them for words."""
    (left, right), (low, high) = ((min(a), max(a)) for a in zip(*points, strict=True))
    across, up = max(right - left, 0.05), max(high - low, 0.05)
    wide = NARROW - 2 * (MARGIN + _SPARE)
    scale = min(wide / across, (TALLEST - 2 * _SPARE) / up)
    room = Box(
        MARGIN + _SPARE,
        TOP + _SPARE,
        NARROW - MARGIN - _SPARE,
        TOP + _SPARE + up * scale,
    )
    return View.of((left, low), (left + across, low + up), room)


def ends(side: Side) -> tuple[Shape, ...]:
    """Write what lies at which end of the paper."""
    return (
        text((MARGIN, _WORDS), side.left),
        text((NARROW - MARGIN, _WORDS), side.right, anchor="end"),
    )


def hull(points: Sequence[Point]) -> list[Point]:
    """Outline of the smallest area without dents that holds all points (Andrew)."""
    every = sorted(set(points))
    if len(every) < 3:
        return every

    def half(row: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for x, y in row:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2:]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0:
                    break
                kept.pop()
            kept.append((x, y))
        return kept

    return half(every)[:-1] + half(every[::-1])[:-1]


def square(at: Point, size: float = 1.3) -> Shape:
    """Mark a point of the vehicle."""
    x, y = at
    return rectangle(Box(x - size, y - size, x + size, y + size), PLAIN, "paper")


def beyond(start: Point, end: Point, by: float) -> tuple[Point, Point]:
    """Draw out a line at both ends by so many mm."""
    length = math.dist(start, end)
    if not length:
        return start, end
    dx, dy = ((end[k] - start[k]) / length * by for k in (0, 1))
    return (start[0] - dx, start[1] - dy), (end[0] + dx, end[1] + dy)
