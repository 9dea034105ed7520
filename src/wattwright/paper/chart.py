"""Charts: lines, shaded bands, marks and reference lines over two axes.

Lines are named where they end and not in a legend; each has its own dash, weight and mark, and no
two names overlap. A name that finds no room goes into a key below.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain, pairwise
from typing import Literal

from wattwright.paper import (
    MARGIN,
    NARROW,
    TEXT,
    Axis,
    Box,
    DrawingError,
    Point,
    along,
    between,
    both,
    scale_of,
    spread,
)
from wattwright.paper.dimension import Frame, hatched, titled, widest
from wattwright.paper.svg import (
    NOTHING,
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    beside,
    free_place,
    heading,
    line,
    nothing_yet,
    path,
    rectangle,
    symbol,
    whole,
    wrapped,
)
from wattwright.units import Taste, write

DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (5.0, 1.4),
    (1.8, 1.2),
    (6.0, 1.2, 1.2, 1.2),
    (0.6, 1.0),
    (6.0, 1.1, 1.1, 1.1, 1.1, 1.1),
)
MARKS = ("", "circle", "square", "triangle")
HEAVY, LIGHT, REFERENCE = 0.8, 0.4, 0.25
_WHOLE = Box(0.0, 0.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points in SI. ``label_at`` is the end that its name stands at."""

    name: str
    points: tuple[Point, ...]
    heavy: bool = True
    label_at: Literal["start", "end"] = "end"


@dataclass(frozen=True, slots=True)
class Band:
    """The space between two lines, shaded; the second is hatched too, the third the other way."""

    name: str
    lower: tuple[Point, ...]
    upper: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A single point with a name."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class Reference:
    """A line right across the chart, at one value of the axis ``of``."""

    name: str
    value: float
    of: Literal["x", "y"] = "y"


@dataclass(frozen=True, slots=True)
class Chart:
    """Everything in one chart. ``empty`` is the sentence shown where there is no data."""

    title: str
    description: str
    x: Axis
    y: Axis
    lines: tuple[Line, ...] = ()
    bands: tuple[Band, ...] = ()
    marks: tuple[Mark, ...] = ()
    references: tuple[Reference, ...] = ()
    empty: str = NOTHING
    width: float = NARROW
    height: float = 84.0

    def data(self) -> list[Point]:
        """Return every point that the axes have to reach."""
        lines = [each.points for each in self.lines]
        bands = [edge for each in self.bands for edge in (each.lower, each.upper)]
        return [*chain(*lines, *bands), *(mark.at for mark in self.marks)]


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A line in mm, as the visible pieces of it, and its look."""

    line: Line
    runs: tuple[tuple[Point, ...], ...]
    stroke: Stroke
    mark: str
    edge: float

    @property
    def leaves(self) -> bool:
        """Whether it runs out at the right, where names have a column."""
        ends = self.line.label_at == "end" and bool(self.runs)
        return ends and self.named_at[0] > self.edge - 1.0

    @property
    def named_at(self) -> Point:
        """Where its name belongs."""
        return self.runs[-1][-1] if self.line.label_at == "end" else self.runs[0][0]

    def shapes(self) -> Iterator[Shape]:
        """Draw it."""
        for run in self.runs:
            yield path(run, self.stroke)
            if self.mark:
                yield from (symbol(self.mark, at) for at in along(run, 16.0))

    def spots(self) -> list[Point]:
        """Return where its name may stand: where it belongs, else further along the line."""
        spots = [self.named_at, *(at for run in self.runs for at in along(run, 8.0))]
        return spots if self.line.label_at == "start" else [spots[0], *reversed(spots[1:])]


def _styled(lines: Iterable[Line], frame: Frame) -> list[_Drawn]:
    """Return the lines as they appear, no two alike."""
    counts = {True: 0, False: 0}
    drawn = []
    for colour, each in enumerate(lines):
        count = counts[each.heavy]
        if count >= len(DASHES) * len(MARKS):
            raise DrawingError("too many lines in one chart to be told apart")
        counts[each.heavy] += 1
        stroke = Stroke(HEAVY if each.heavy else LIGHT, DASHES[count % len(DASHES)], colour)
        runs = frame.box.runs([frame.at(point) for point in each.points])
        drawn.append(_Drawn(each, runs, stroke, MARKS[count // len(DASHES)], frame.box.right))
    return drawn


class _Plot:
    """A chart in the making: its shapes, the names placed so far, and what is left for the foot."""

    def __init__(self, chart: Chart, taste: Taste, frame: Frame) -> None:
        self.chart, self.taste, self.frame = chart, taste, frame
        self.shapes: list[Shape] = []
        self.names: list[Shape] = []
        self.hidden: list[str] = []
        self.key: list[tuple[str, Stroke | None, str]] = []
        self.room = replace(frame.box, right=chart.width - MARGIN)
        drawn = _styled(chart.lines, frame)
        self.hidden += [each.line.name for each in drawn if not each.runs]
        self.drawn = [each for each in drawn if each.runs]
        self.pieces = [ends for each in self.drawn for run in each.runs for ends in pairwise(run)]
        marks = [frame.at(mark.at) for mark in chart.marks]
        self.taken = [symbol("diamond", at).box for at in marks]

    def put(
        self,
        name: str,
        spots: Iterable[Point],
        stroke: Stroke | None,
        mark: str = "",
        *,
        share: float = 0.5,
        clear: bool = True,
    ) -> None:
        """Name something at the first of the spots that leaves the name clear of all others.

        ``share`` of the width is what a name may take; ``clear`` wipes what it stands on.
        """
        label = Label(wrapped(name, share * self.room.width, most=3))
        points = [*spots]
        place = free_place(beside(label, points), self.room, self.taken, self.pieces)
        if place is None or not whole(label.rows, name):
            self.key.append((name, stroke, mark))
            return
        self.taken.append(place)
        self.names += (rectangle(place, None, "paper"),) if clear else ()
        # Written towards what it names, so that no gap opens where a face is narrower than thought.
        near = min(points, key=lambda at: math.dist(at, place.middle))[0]
        if place.right <= near:
            self.names += label.at(place.right, place.top, "end")
        elif place.left >= near:
            self.names += label.at(place.left, place.top)
        else:
            self.names += label.at(place.middle[0], place.top, "middle")

    def column(self, left: float, room: float) -> None:
        """Name the lines that run out at the right, one below the other as the lines end."""
        ending = [each for each in self.drawn if each.leaves]
        labels: list[tuple[_Drawn, Label]] = []
        free = self.room.height
        for each in sorted(ending, key=lambda each: each.named_at[1]):
            label = Label(wrapped(each.line.name, room, most=3))
            if label.height > free or not whole(label.rows, each.line.name):
                self.key.append((each.line.name, each.stroke, each.mark))
                continue
            free -= label.height
            labels.append((each, label))
        heights = [label.height for _, label in labels]
        wanted = [each.named_at[1] - label.height / 2 for each, label in labels]
        tops = spread(wanted, heights, self.room.top, self.room.bottom)
        for (each, label), top, want in zip(labels, tops, wanted, strict=True):
            if abs(top - want) > 0.8:
                end = (left - 0.6, top + label.height / 2)
                self.names.append(line(each.named_at, end))
            self.names += label.at(left, top)
            self.taken.append(label.box(left, top))

    def bands(self) -> None:
        """Shade the bands."""
        for count, band in enumerate(self.chart.bands):
            lower, upper = ([self.frame.at(point) for point in e] for e in (band.lower, band.upper))
            outline = self.frame.box.trim([*lower, *reversed(upper)])
            if not outline:
                self.hidden.append(band.name)
                continue
            self.shapes.append(path(outline, None, closed=True, fill="shade"))
            self.shapes += hatched(outline, falling=count % 2 == 0) if count else ()
            middle = lower[len(lower) // 2], upper[len(upper) // 2]
            spots = [between(*middle, share) for share in (0.5, 0.3, 0.7)]
            self.put(band.name, spots, None, clear=count > 0)

    def references(self) -> None:
        """Draw the reference lines, with what they stand at."""
        for count, each in enumerate(self.chart.references):
            ends = self.frame.level(each.of, each.value)
            if ends is None:
                self.hidden.append(each.name)
                continue
            stroke = Stroke(REFERENCE, DASHES[1 + count % (len(DASHES) - 1)])
            self.shapes.append(line(*ends, stroke))
            self.pieces.append(ends)
            axis = self.chart.x if each.of == "x" else self.chart.y
            words = f"{each.name} {write(each.value, axis.kind, self.taste)}"
            spots = [between(*ends, tenth / 10) for tenth in (10, 9, 0, 7, 5, 3, 1)]
            self.put(words, spots, stroke, share=0.5 if each.of == "y" else 0.3)

    def lines(self) -> None:
        """Draw the lines, and name those that end within the chart."""
        for each in self.drawn:
            self.shapes += each.shapes()
        for each in self.drawn:
            if not each.leaves:
                self.put(each.line.name, each.spots(), each.stroke, each.mark)

    def marks(self) -> None:
        """Draw the single points."""
        for mark in self.chart.marks:
            at = self.frame.at(mark.at)
            if not self.frame.box.holds(Box(*at, *at)):
                self.hidden.append(mark.name)
                continue
            self.shapes.append(symbol("diamond", at))
            self.put(mark.name, [at], None, "diamond")

    def foot(self, top: float) -> Iterator[Shape]:
        """Write the key to what found no room for its name, and what lies outside the chart."""
        left = MARGIN + 16.0
        for name, stroke, mark in self.key:
            label = Label(wrapped(name, self.chart.width - MARGIN - left))
            middle = top + 0.6 * TEXT
            if stroke:
                yield line((MARGIN, middle), (left - 2.0, middle), stroke)
            if mark:
                yield symbol(mark, ((MARGIN + left - 2.0) / 2, middle))
            yield from label.at(left, top)
            top += label.height
        if self.hidden:
            words = f"Outside this chart: {', '.join(self.hidden)}."
            rows = wrapped(words, self.chart.width - 2 * MARGIN, most=4)
            yield from Label(rows).at(MARGIN, top)


def draw(chart: Chart, taste: Taste = "metric") -> Drawing:
    """Draw a chart."""
    data, room = chart.data(), chart.width - 2 * MARGIN
    if not data:
        return nothing_yet(chart.title, chart.description, chart.empty, chart.width)
    shapes = [*heading(chart.title, chart.width)]
    data += [(each.value, data[0][1]) for each in chart.references if each.of == "x"]
    data += [(data[0][0], each.value) for each in chart.references if each.of == "y"]
    xs, ys = zip(*data, strict=True)
    across = both(chart.x.kind, scale_of(chart.x, xs, taste, whole=False), taste)
    up = both(chart.y.kind, scale_of(chart.y, ys, taste), taste)
    shapes += Label(wrapped(titled(chart.y, up), room)).at(MARGIN, below(shapes))
    left, top = MARGIN + sum(widest(scale) + 4.0 for scale in up), below(shapes, TEXT)
    box = Box(left, top, chart.width - MARGIN, top + chart.height)
    frame = Frame(box, across[0], up[0])
    ending = [each.line.name for each in _styled(chart.lines, frame) if each.leaves]
    column = max((Label(wrapped(name, 0.3 * room, most=3)).width for name in ending), default=0.0)
    box = replace(box, right=box.right - max(column + 3.0, widest(across[0]) / 2))
    plot = _Plot(chart, taste, replace(frame, box=box))
    plot.column(box.right + 3.0, 0.3 * room)
    plot.bands()
    plot.references()
    plot.lines()
    plot.marks()
    shapes += plot.frame.axes(across, up)
    words = Label(wrapped(titled(chart.x, across), chart.width - left - MARGIN))
    shapes += (*words.at(left, below(shapes, 0.5)), *plot.shapes, *plot.names)
    shapes += plot.foot(below(shapes))
    return Drawing(chart.title, chart.description, tuple(shapes), chart.width)
