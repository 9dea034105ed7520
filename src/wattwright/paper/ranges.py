"""Ranges side by side: what each row spans, held against one range behind all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.kinds import Kind
from wattwright.paper import MARGIN, NARROW, Axis, Box, DrawingError, Scale, scale_of
from wattwright.paper.dimension import HAIR, Frame, hatched, ruler, spaced
from wattwright.paper.svg import (
    NOTHING,
    PLAIN,
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    heading,
    line,
    nothing_yet,
    path,
    rectangle,
    wrapped,
)
from wattwright.units import Taste, write

DASHED = Stroke(0.3, (1.5, 1.0))
ROW_GAP = 3.0
HALF = 2.3  # of the height of a bar


@dataclass(frozen=True, slots=True)
class Range:
    """What something spans, with a word beside it.

    An end left out is not known or, where ``unlimited`` is set, no limit.
    """

    name: str
    low: float | None = None
    high: float | None = None
    word: str = ""
    unlimited: bool = False

    def __post_init__(self) -> None:
        if self.low is not None and self.high is not None and self.low > self.high:
            raise DrawingError(f"{self.name}: the range ends at {self.high}, before it begins")

    def written(self, kind: Kind, taste: Taste) -> str:
        """Return both ends in words."""
        if self.low is None and self.high is None:
            return "no limit" if self.unlimited else "not known"
        low = None if self.low is None else write(self.low, kind, taste)
        high = None if self.high is None else write(self.high, kind, taste)
        if self.unlimited:
            return f"{low} to {high}" if low and high else f"from {low}" if low else f"up to {high}"
        return f"{low or '?'} to {high or '?'}"


@dataclass(frozen=True, slots=True)
class Ranges:
    """Ranges one below the other, and the one behind them that each has to cover."""

    title: str
    description: str
    kind: Kind
    rows: tuple[Range, ...]
    needed: Range = Range("")
    empty: str = NOTHING
    width: float = NARROW

    def scale(self, taste: Taste) -> Scale:
        """Return the axis: the range needed and three quarters of it to both sides, if known."""
        low, high = self.needed.low, self.needed.high
        ends = [end for each in self.rows for end in (each.low, each.high) if end is not None]
        if low is not None and high is not None:
            air = 0.75 * (high - low)
            ends = [min(max(end, low - air), high + air) for end in (*ends, low, high)]
        known = [end for end in (low, high) if end is not None]
        return scale_of(Axis(self.title, self.kind), [*ends, *known], taste, zero=False)


def draw_ranges(ranges: Ranges, taste: Taste = "metric") -> Drawing:
    """Draw ranges side by side. What a row leaves uncovered of the one needed is hatched."""
    needed, room = ranges.needed, ranges.width - 2 * MARGIN
    unknown = all(each.low is None and each.high is None for each in (*ranges.rows, needed))
    if unknown or not ranges.rows:
        return nothing_yet(ranges.title, ranges.description, ranges.empty, ranges.width)
    shapes = [*heading(ranges.title, ranges.width)]
    if needed.name:
        about = f"Shaded: {needed.name}, {needed.written(ranges.kind, taste)}"
        shapes += Label(wrapped(about, room)).at(MARGIN, below(shapes))
    words = [Label(wrapped(each.word, 0.28 * room, bold=True), bold=True) for each in ranges.rows]
    left, right = MARGIN + 0.4 * room, ranges.width - MARGIN - max(w.width for w in words) - 2.0
    labels = [
        Label(
            wrapped(each.name, left - 6.0) + wrapped(each.written(ranges.kind, taste), left - 6.0)
        )
        for each in ranges.rows
    ]
    level = below(shapes)
    box = Box(left, level, right, level + sum(label.height + ROW_GAP for label in labels))
    scale = ranges.scale(taste)
    frame = Frame(box, scale, scale)
    for end in (needed.low, needed.high):
        ends = None if end is None else frame.level("x", end)
        shapes += (line(*ends, DASHED),) if ends else ()
    if needed.low is not None and needed.high is not None:
        first, last = frame.at((needed.low, 0.0))[0], frame.at((needed.high, 0.0))[0]
        shapes.append(rectangle(Box(first, box.top, last, box.bottom), None, "shade"))
    for each, label, word in zip(ranges.rows, labels, words, strict=True):
        middle = level + (label.height + ROW_GAP) / 2
        shapes.append(line((MARGIN, level), (ranges.width - MARGIN, level), HAIR))
        shapes += label.at(MARGIN, level + ROW_GAP / 2)
        shapes += word.at(right + 2.0, middle - word.height / 2)
        shapes += _bar(each, needed, frame, middle)
        level += label.height + ROW_GAP
    shapes += ruler(spaced(scale, box.width), box, box.bottom)
    unit = Label((scale.unit.symbol,))
    shapes += unit.at(left - 4.0, box.bottom + 2.2, "end")
    return Drawing(ranges.title, ranges.description, tuple(shapes), ranges.width)


def _bar(each: Range, needed: Range, frame: Frame, y: float) -> Iterator[Shape]:
    """Draw a range: pointed where it runs on beyond the axis, a question mark if not known."""
    low, high = (None if end is None else frame.at((end, 0.0))[0] for end in (each.low, each.high))
    left, right = frame.box.left, frame.box.right
    if not each.unlimited and (low is None or high is None):
        yield from _half_known(low, high, frame.box, y)
    else:
        first = left if low is None else min(max(low, left), right - 2 * HALF)
        last = right if high is None else max(min(high, right), left + 2 * HALF)
        outline = [(first, y + HALF), (first, y - HALF), (last, y - HALF), (last, y + HALF)]
        if high is None or high > right:
            outline[2:] = (last - HALF, y - HALF), (last, y), (last - HALF, y + HALF)
        if low is None or low < left:
            outline[:2] = (first + HALF, y + HALF), (first, y), (first + HALF, y - HALF)
        yield path(outline, PLAIN, closed=True, fill="paper")
    for start, end in _uncovered(each, needed):
        corner, other = frame.at((start, 0.0))[0], frame.at((end, 0.0))[0]
        gap = Box(corner, y - HALF, other, y + HALF)
        yield rectangle(gap, PLAIN, "paper")
        yield from hatched(gap.corners, spacing=1.0, stroke=PLAIN)


def _half_known(low: float | None, high: float | None, box: Box, y: float) -> Iterator[Shape]:
    """Draw the end that is known, if any, with a question mark for the other."""
    query = Label(("?",), bold=True)
    known = low if high is None else high
    if known is None:
        yield from query.at(box.middle[0], y - query.height / 2, "middle")
        return
    away = 1.0 if high is None else -1.0
    x = min(max(known, box.left + (12.0 if away < 0.0 else 0.0)), box.right - 12.0 * (away > 0.0))
    if box.left <= known <= box.right:
        yield line((x, y - HALF), (x, y + HALF), PLAIN)
    else:
        # It runs on beyond the axis, as a whole range would.
        back = x + away * HALF
        yield path([(back, y - HALF), (x, y), (back, y + HALF)], PLAIN)
    yield line((x, y), (x + 7.0 * away, y), DASHED)
    yield from query.at(x + 9.5 * away, y - query.height / 2, "middle")


def _uncovered(each: Range, needed: Range) -> Iterator[tuple[float, float]]:
    """Yield what a range leaves open of the one needed: below its low end and above its high."""
    if needed.low is None or needed.high is None:
        return
    if each.low is not None and each.low > needed.low:
        yield needed.low, min(each.low, needed.high)
    if each.high is not None and each.high < needed.high:
        yield max(each.high, needed.low), needed.high
