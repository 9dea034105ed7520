"""Templates at full size: plain geometry in millimetres, by layers with names.

x runs to the right and y upwards, as in drawing programs; ``template_svg``, ``template_dxf`` and
``template_tiles`` write the same shapes as a picture, for a drawing program, and for paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wattwright.kinds import LENGTH
from wattwright.paper import Box, DrawingError, Point, around
from wattwright.paper.svg import Anchor, text_width
from wattwright.unit_table import family


@dataclass(frozen=True, slots=True)
class Layer:
    """What belongs together: its weight on paper in mm and its dashes; no dashes: solid."""

    name: str
    says: str
    weight: float = 0.35
    dash: tuple[float, ...] = ()


OUTLINE = Layer("outline", "what is cut or laid on the floor")
HOLES = Layer("holes", "holes and slots as they are to be")
CENTRE = Layer("centre", "crosses and middle lines", 0.18, (8.0, 1.5, 1.5, 1.5))
DIRECTION = Layer("direction", "arrow to the front of the vehicle")
WORDS = Layer("words", "names and measures", 0.18)
BARS = Layer("bars", "bars to check the size by", 0.18)
JOINS = Layer("joins", "where sheets are put together", 0.18, (2.0, 2.0))
LAYERS = (OUTLINE, HOLES, CENTRE, DIRECTION, WORDS, BARS, JOINS)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: Layer
    start: Point
    end: Point

    @property
    def box(self) -> Box:
        """The space it takes."""
        return around((self.start, self.end))


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines from point to point; a filled one is closed and black on paper."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = True
    filled: bool = False

    @property
    def box(self) -> Box:
        """The space it takes."""
        return around(self.points)


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    layer: Layer
    centre: Point
    radius: float

    @property
    def box(self) -> Box:
        """The space it takes."""
        x, y = self.centre
        return Box(x, y, x, y).grown(self.radius)


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise from one angle to another, in degrees."""

    layer: Layer
    centre: Point
    radius: float
    start: float
    end: float

    def __post_init__(self) -> None:
        """Refuse what has no ends: a picture would show nothing, a drawing program a circle."""
        if (self.end - self.start) % 360.0 == 0.0:
            raise DrawingError("an arc that goes all the way round is a circle")

    def at(self, angle: float) -> Point:
        """Return the point of the circle at an angle."""
        turn = math.radians(angle)
        x, y = self.centre
        return x + self.radius * math.cos(turn), y + self.radius * math.sin(turn)

    @property
    def sweep(self) -> float:
        """How far it goes round, in degrees, above nought and below 360."""
        return (self.end - self.start) % 360.0

    @property
    def box(self) -> Box:
        """The space it takes: its ends, and the sides of the circle that it passes."""
        first = math.ceil(self.start / 90.0)
        sides = (90.0 * turn for turn in range(first, first + 5))
        passed = [self.at(side) for side in sides if side <= self.start + self.sweep]
        return around((self.at(self.start), self.at(self.start + self.sweep), *passed))


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text on its baseline, turned counter-clockwise by degrees."""

    layer: Layer
    at: Point
    text: str
    height: float = 4.0
    anchor: Anchor = "start"
    turn: float = 0.0

    @property
    def box(self) -> Box:
        """The space it takes, after a wide face."""
        width = text_width(self.text, self.height)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[self.anchor]
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        x, y = self.at
        return around(
            (x + across * cos - up * sin, y + across * sin + up * cos)
            for across in (left, left + width)
            for up in (-0.25 * self.height, 0.85 * self.height)
        )


Shape = Line | Polyline | Circle | Arc | Words


@dataclass(frozen=True, slots=True)
class Template:
    """A finished template: what it is, in a line, its shapes, and what to mind on every sheet."""

    title: str
    shapes: tuple[Shape, ...]
    advice: str = ""

    @property
    def box(self) -> Box:
        """The space all shapes take; ``top`` is the lower edge, since y runs upwards."""
        if not self.shapes:
            raise DrawingError(f"{self.title}: there is nothing to draw")
        boxes = [shape.box for shape in self.shapes]
        return around(
            point for box in boxes for point in ((box.left, box.top), (box.right, box.bottom))
        )

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The layers that hold something, in their usual order."""
        used = {shape.layer.name for shape in self.shapes}
        return tuple(layer for layer in LAYERS if layer.name in used)

    def on(self, layer: Layer) -> Iterable[Shape]:
        """Yield the shapes of one layer."""
        return (shape for shape in self.shapes if shape.layer.name == layer.name)


def millimetres(metres: float) -> float:
    """Turn a length in SI into the millimetres of a template."""
    return family(LENGTH.name).exact["mm"].from_si(metres)


def rectangle(layer: Layer, low: Point, high: Point, *, filled: bool = False) -> Polyline:
    """Draw an upright rectangle between two corners."""
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    return Polyline(layer, corners, filled=filled)


def cross(centre: Point, arm: float, ring: float = 0.0) -> tuple[Shape, ...]:
    """Mark a point by a cross, with a ring around it where it has a radius."""
    x, y = centre
    across = Line(CENTRE, (x - arm, y), (x + arm, y))
    up = Line(CENTRE, (x, y - arm), (x, y + arm))
    return (across, up, Circle(CENTRE, centre, ring)) if ring else (across, up)


def arrow(layer: Layer, start: Point, end: Point, head: float = 5.0) -> tuple[Shape, ...]:
    """Draw an arrow with an open head."""
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    barbs = []
    for side in (0.4, -0.4):
        x = end[0] - head * (along[0] - side * along[1])
        y = end[1] - head * (along[1] + side * along[0])
        barbs.append((x, y))
    return Line(layer, start, end), Polyline(layer, (barbs[0], end, barbs[1]), closed=False)


@dataclass(frozen=True, slots=True)
class Bar:
    """A length to hold a rule against: so many of a unit, with a mark for each part."""

    unit: str
    amount: int
    parts: int

    @property
    def length(self) -> float:
        """How long it is, in mm."""
        return millimetres(family(LENGTH.name).exact[self.unit].to_si(self.amount))

    @property
    def words(self) -> str:
        """What a rule must show."""
        return f"{self.amount} {self.unit}"


CHECK_BARS = (Bar("mm", 100, 10), Bar("in", 4, 8))
# Thickness of a bar, length of its marks and thickness of those.
_THICK, _MARK, _FINE = 0.4, 2.4, 0.2


def check_bar(at: Point, bar: Bar, *, upright: bool = False) -> tuple[Shape, ...]:
    """Draw a bar to check the size by. Its outer edges are exactly as far apart as it says.

    It is drawn in areas and not in lines, so that no thickness of a pen adds to its length.
    """
    marks = []
    for part in range(bar.parts + 1):
        middle = bar.length * part / bar.parts
        start = min(max(0.0, middle - _FINE / 2), bar.length - _FINE)
        reach = _MARK if part in (0, bar.parts) else _MARK / 2
        marks.append(((start, 0.0), (start + _FINE, reach)))
    areas: Sequence[tuple[Point, Point]] = [((0.0, 0.0), (bar.length, _THICK)), *marks]

    def place(point: Point) -> Point:
        along, aside = point
        return (at[0] - aside, at[1] + along) if upright else (at[0] + along, at[1] + aside)

    shapes: list[Shape] = []
    for low, high in areas:
        (x1, y1), (x2, y2) = place(low), place(high)
        corners = (min(x1, x2), min(y1, y2)), (max(x1, x2), max(y1, y2))
        shapes.append(rectangle(BARS, *corners, filled=True))
    label = place((bar.length / 2, _MARK / 2 + 0.8))
    turn = 90.0 if upright else 0.0
    return (*shapes, Words(WORDS, label, bar.words, 3.2, "middle", turn))
