"""Drawings for screen and paper, from one source. Nothing here knows what a build is.

    svg         shapes that know their own size, text that fits, and the document
    dimension   lines with arrows, hatching, loads and marks for drawings of things
    tags        things told by tags, and the key to them
    crowd       room for tags in a crowded picture
    chart       lines over two axes
    ranges      ranges side by side, held against one

This module holds what they share: the sizes of the paper, boxes on it and scales over it. Numbers
come in SI with their kind and are shown in the reader's units; lengths called mm are millimetres
on the paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from wattwright.errors import WattwrightError
from wattwright.kinds import Kind
from wattwright.unit_table import Unit, family
from wattwright.units import Taste, unit_of, write

Point = tuple[float, float]

NARROW = 120.0  # for a phone and for half a page
WIDE = 180.0  # what A4 and Letter both leave between their margins
MARGIN = 3.0
TEXT = 4.0
SMALLEST_TEXT = 3.2
HEADING = 4.8


class DrawingError(WattwrightError, ValueError):
    """A drawing was asked for that cannot be drawn."""


def number(value: float) -> str:
    """Write a coordinate: to a micrometre, without trailing zeros or a negative zero."""
    if not math.isfinite(value):
        raise DrawingError(f"{value} cannot be drawn")
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the paper in mm, from its top left corner."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """How wide it is."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """How high it is."""
        return self.bottom - self.top

    @property
    def middle(self) -> Point:
        """Its centre."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its outline."""
        return (
            (self.left, self.top),
            (self.right, self.top),
            (self.right, self.bottom),
            (self.left, self.bottom),
        )

    def grown(self, by: float) -> Box:
        """Return it with ``by`` more on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def holds(self, other: Box) -> bool:
        """Tell whether ``other`` lies within it, to a micrometre."""
        return (
            self.left - 1e-3 <= other.left
            and self.top - 1e-3 <= other.top
            and other.right <= self.right + 1e-3
            and other.bottom <= self.bottom + 1e-3
        )

    def meets(self, other: Box) -> bool:
        """Tell whether the two have any space in common."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def cut(self, start: Point, end: Point) -> tuple[Point, Point] | None:
        """Return the part of a straight line that lies within it (Liang and Barsky)."""
        (x, y), (to_x, to_y) = start, end
        # Most lines lie wholly to one side.
        if (x < self.left and to_x < self.left) or (x > self.right and to_x > self.right):
            return None
        if (y < self.top and to_y < self.top) or (y > self.bottom and to_y > self.bottom):
            return None
        dx, dy = to_x - x, to_y - y
        first, last = 0.0, 1.0
        for step, room in (
            (-dx, x - self.left),
            (dx, self.right - x),
            (-dy, y - self.top),
            (dy, self.bottom - y),
        ):
            if step == 0.0:
                if room < 0.0:
                    return None
            elif step < 0.0:
                first = max(first, room / step)
            else:
                last = min(last, room / step)
        if first > last:
            return None
        enter = start if first == 0.0 else (x + first * dx, y + first * dy)
        return enter, (end if last == 1.0 else (x + last * dx, y + last * dy))

    def runs(self, points: Sequence[Point]) -> tuple[tuple[Point, ...], ...]:
        """Return the pieces of a line through points that lie within it."""
        runs: list[list[Point]] = []
        for start, end in pairwise(points if len(points) > 1 else (*points, *points)):
            cut = self.cut(start, end)
            if cut is None:
                continue
            if runs and runs[-1][-1] == cut[0]:
                runs[-1].append(cut[1])
            else:
                runs.append([*cut])
        return tuple(map(tuple, runs))

    def trim(self, outline: Sequence[Point]) -> list[Point]:
        """Return the part of an area that lies within it (Sutherland and Hodgman)."""
        kept = list(outline)
        for axis, edge, sign in (
            (0, self.left, 1.0),
            (0, self.right, -1.0),
            (1, self.top, 1.0),
            (1, self.bottom, -1.0),
        ):
            before, kept = kept, []
            for start, end in zip([*before[-1:], *before[:-1]], before, strict=True):
                out, into = sign * (start[axis] - edge), sign * (end[axis] - edge)
                if (out < 0.0) != (into < 0.0):
                    kept.append(between(start, end, out / (out - into)))
                if into >= 0.0:
                    kept.append(end)
        return kept


def around(points: Iterable[Point]) -> Box:
    """Return the smallest box that holds all points."""
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


@dataclass(frozen=True, slots=True)
class View:
    """Places metres on the paper: ``x`` to the right, ``z`` upwards, to one scale."""

    left: float
    bottom: float
    mm_per_metre: float

    @classmethod
    def of(cls, low: Point, high: Point, room: Box) -> View:
        """Fit the rectangle between two corners in metres into ``room``, centred across."""
        across, up = high[0] - low[0], high[1] - low[1]
        if not (0.0 < across < math.inf and 0.0 < up < math.inf):
            raise DrawingError(f"nothing can be drawn between {low} and {high}")
        scale = min(room.width / across, room.height / up)
        spare = (room.width - across * scale) / 2
        return cls(room.left + spare - low[0] * scale, room.bottom + low[1] * scale, scale)

    def at(self, x: float, z: float) -> Point:
        """Return the place of a point."""
        return self.left + x * self.mm_per_metre, self.bottom - z * self.mm_per_metre

    def box(self, low: Point, high: Point) -> Box:
        """Return the place of an upright rectangle between two corners."""
        return around((self.at(*low), self.at(*high)))


def crossings(outline: Sequence[Point], level: float, slope: float) -> list[float]:
    """Return where the line ``y = level + slope * x`` crosses an outline, by ``x``, sorted."""
    found = []
    for (x, y), (to_x, to_y) in zip(outline, (*outline[1:], outline[0]), strict=True):
        before, after = y - slope * x - level, to_y - slope * to_x - level
        if (before < 0.0) != (after < 0.0):
            found.append(x + (to_x - x) * before / (before - after))
    return sorted(found)


def between(start: Point, end: Point, share: float) -> Point:
    """Return the point that far along from one to the other."""
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def spread(
    wanted: Sequence[float], heights: Sequence[float], top: float, bottom: float
) -> list[float]:
    """Return tops near those wanted, in their order, so that nothing overlaps or leaves at a side.

    All heights together must not exceed the room between ``top`` and ``bottom``.
    """
    tops: list[float] = []
    for want, height in zip(wanted, heights, strict=True):
        tops.append(max(top, want))
        top = tops[-1] + height
    for place in reversed(range(len(tops))):
        bottom = min(tops[place], bottom - heights[place])
        tops[place] = bottom
    return tops


def along(run: Sequence[Point], every: float) -> Iterator[Point]:
    """Yield points evenly spaced along a line, the first after half a space."""
    ahead = every / 2
    for start, end in pairwise(run):
        length = math.dist(start, end)
        while length and ahead <= length:
            yield between(start, end, ahead / length)
            ahead += every
        ahead -= length


@dataclass(frozen=True, slots=True)
class Axis:
    """What an axis shows. Without ends it spans the data, from zero if that is not far below.

    A ``log`` axis has the same length for each factor of ten; it shows what is above zero, in the
    kind's own unit.
    """

    name: str
    kind: Kind
    low: float | None = None
    high: float | None = None
    log: bool = False


def nice_step(span: float, most: int) -> float:
    """Return the smallest of 1, 2, 5, 10 ... that divides ``span`` into at most ``most``."""
    size = 10.0 ** math.floor(math.log10(span / most))
    return next(size * by for by in (1, 2, 5, 10, 20) if span <= size * by * most * (1 + 1e-9))


@dataclass(frozen=True, slots=True)
class Scale:
    """An axis laid out: its ends and the distance of its ticks, in the unit shown.

    Of a ``log`` one, ends and distances are powers of ten.
    """

    unit: Unit
    low: float
    high: float
    step: float
    log: bool = False

    def share(self, value: float) -> float:
        """Return how far along the axis a value in SI lies, 0 at one end and 1 at the other."""
        shown = self.unit.from_si(value)
        if not self.log:
            return self._along(shown)
        if shown <= 0.0:
            raise DrawingError(f"{shown} has no place on an axis of powers of ten")
        return self._along(math.log10(shown))

    def ticks(self, parts: int = 1) -> list[tuple[float, str]]:
        """Return how far along each tick lies, with its number, ``parts`` to a step."""
        if self.log:
            return self._powers(parts)
        step = self.step / parts
        first, last = math.ceil(self.low / step - 1e-6), math.floor(self.high / step + 1e-6)
        places = max(0, -math.floor(math.log10(step) + 1e-9))
        values = [count * step for count in range(first, last + 1)]
        return [(self._along(value), f"{value:.{places}f}") for value in values]

    def _powers(self, parts: int) -> list[tuple[float, str]]:
        """Return the powers of ten, and twice to nine times each where parts are asked for."""
        first, last = math.ceil(self.low - 1e-6), math.floor(self.high + 1e-6)
        powers = range(first - 1, last + 1, max(1, round(self.step)) if parts == 1 else 1)
        multiples = range(1, 10) if parts > 1 else (1, 2, 5) if self.step < 1.0 else (1,)
        ticks = [(power, by) for power in powers for by in multiples]
        within = (self.low - 1e-6, self.high + 1e-6)
        return [
            (self._along(power + math.log10(by)), _figure(power, by))
            for power, by in ticks
            if within[0] <= power + math.log10(by) <= within[1]
        ]

    @property
    def parts(self) -> int:
        """Into how many parts the marks without numbers divide a step."""
        if self.log:
            return 9
        return 4 if f"{self.step:e}".startswith("2") else 5

    def _along(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low)


def _figure(power: int, by: int) -> str:
    """Write a multiple of a power of ten as it is read off an axis."""
    if power < 0:
        return f"{by * 10.0**power:.{-power}f}"
    number = by * 10**power
    return f"{number:,}" if number >= 10_000 else str(number)


def scale_of(
    axis: Axis, data: Sequence[float], taste: Taste, *, whole: bool = True, zero: bool = True
) -> Scale:
    """Lay out an axis for its data.

    ``whole`` lets it reach to the next mark beyond them, ``zero`` down to zero if that is near.
    """
    given = [end for end in (axis.low, axis.high) if end is not None]
    values = [*data, *given]
    if not all(map(math.isfinite, values)):
        raise DrawingError(f"{axis.name}: only finite numbers can be drawn")
    if axis.log:
        return _of_powers(axis, values, taste)
    low = axis.low if axis.low is not None else min(values)
    high = axis.high if axis.high is not None else max(values)
    # The unit that the program writes the largest of these numbers in.
    first: Taste = "inch" if taste == "inch" else "metric"
    unit = _usual(
        axis.kind, first, write(max(low, high, key=abs), axis.kind, first).partition(" ")[2]
    )
    low, high = unit.from_si(low), unit.from_si(high)
    if zero and axis.low is None and 0.0 < low < 0.6 * high:
        low = 0.0
    if high - low <= 1e-9 * max(abs(low), abs(high)):
        if len(given) == 2:
            raise DrawingError(f"{axis.name}: the axis ends where it begins")
        low, high = low - (abs(low) or 1.0) / 10, high + (abs(high) or 1.0) / 10
    step = nice_step(high - low, 7)
    scale = Scale(unit, low, high, step)
    if not whole:
        return scale
    # A little air, so that what is flat does not hide in the edge; zero needs none.
    part, air = scale.step / scale.parts, 0.02 * (high - low)
    if axis.low is None and low:
        scale = replace(scale, low=part * math.floor((low - air) / part))
    if axis.high is None and high:
        scale = replace(scale, high=part * math.ceil((high + air) / part))
    return scale


def _of_powers(axis: Axis, values: Sequence[float], taste: Taste) -> Scale:
    """Lay out an axis of powers of ten: its data, to the next tick of twice to nine times one."""
    unit = _usual(axis.kind, "inch" if taste == "inch" else "metric", axis.kind.si)
    above = [unit.from_si(value) for value in values if value > 0.0]
    if not above:
        raise DrawingError(f"{axis.name}: an axis of powers of ten needs numbers above zero")
    low = _rounded(min(above), math.floor) if axis.low is None else unit.from_si(axis.low)
    high = _rounded(max(above), math.ceil) if axis.high is None else unit.from_si(axis.high)
    ends = math.log10(low), math.log10(high)
    if not ends[1] > ends[0]:
        ends = ends[0] - 0.5, ends[0] + 0.5
    span = ends[1] - ends[0]
    # Over two powers and a little, numbers at twice and five times too.
    step = 0.5 if span < 2.2 else max(1.0, math.ceil(span / 9))
    return Scale(unit, *ends, step=step, log=True)


def _rounded(value: float, to: Callable[[float], int]) -> float:
    """Round to the next number with one figure, down or up."""
    power = 10.0 ** math.floor(math.log10(value))
    return power * to(round(value / power, 6))


def both(kind: Kind, scale: Scale, taste: Taste) -> tuple[Scale, ...]:
    """Return a scale and, for a mixed taste, the same in the inch unit where there is one."""
    inch = _usual(kind, "inch")
    if scale.log:
        return (scale,)
    if taste != "mixed" or inch.symbol == _usual(kind, "metric").symbol:
        return (scale,)
    low, high = (inch.from_si(scale.unit.to_si(end)) for end in (scale.low, scale.high))
    return scale, Scale(inch, low, high, nice_step(high - low, 7))


def _usual(kind: Kind, taste: Taste, symbol: str | None = None) -> Unit:
    known = family(kind.name)
    unit = known.exact.get(symbol or "") or known.exact.get(unit_of(kind, taste)) or known.bare
    if unit is None:
        raise DrawingError(f"no axis can show a {kind.name}")
    return unit
