"""What drawings of things need: dimensions, hatching, loads and the centre of gravity.

View         where a point of the vehicle, in metres, lies on the paper
dimension    a dimension line with arrows, extension lines and the length written on it
load         an arrow with what it stands for written at its tail
hatched      the inside of an outline, hatched
centre_of_gravity, ground, scale_bar
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wattwright.kinds import LENGTH, Kind
from wattwright.paper import (
    MARGIN,
    NARROW,
    TEXT,
    Axis,
    Box,
    DrawingError,
    Point,
    Scale,
    crossings,
    nice_step,
)
from wattwright.paper.svg import (
    PLAIN,
    THIN,
    Label,
    Shape,
    Stroke,
    circle,
    line,
    path,
    rectangle,
    text,
    text_width,
)
from wattwright.units import Taste, write

HEAD = 3.0  # length of an arrow head
HAIR = Stroke(0.12)
LOAD = Stroke(0.8)
GAP = 1.0  # between a thing and the line or the words that belong to it


def arrow_head(tip: Point, turn: float) -> Shape:
    """Draw a slim filled head that points along ``turn``, in radians clockwise from the right."""
    back = (math.pi + turn - 0.2, math.pi + turn + 0.2)
    sides = [(tip[0] + HEAD * math.cos(a), tip[1] + HEAD * math.sin(a)) for a in back]
    return path((tip, *sides), None, closed=True, fill="ink")


def arrow(start: Point, tip: Point, stroke: Stroke = PLAIN) -> tuple[Shape, ...]:
    """Draw an arrow."""
    turn = math.atan2(tip[1] - start[1], tip[0] - start[0])
    neck = (tip[0] - HEAD * 0.8 * math.cos(turn), tip[1] - HEAD * 0.8 * math.sin(turn))
    return path((start, neck), stroke), arrow_head(tip, turn)


def dimension(
    start: Point,
    end: Point,
    length: float,
    *,
    kind: Kind = LENGTH,
    taste: Taste = "metric",
    offset: float = 10.0,
    name: str = "",
) -> tuple[Shape, ...]:
    """Draw the dimension of what lies between two points on the paper.

    ``length`` is what is written, in SI, and need not be to scale. The line lies ``offset`` to
    the right hand of the way from ``start`` to ``end``: below, when that leads to the right.
    """
    span = math.dist(start, end)
    if span == 0.0:
        raise DrawingError("a dimension needs two points that differ")
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    along = (math.cos(turn), math.sin(turn))
    off = (-along[1] * offset, along[0] * offset)

    def beside(point: Point, by: float) -> Point:
        """Return a point moved towards the line, ``by`` short of it or, if negative, past it."""
        share = 1.0 - by / abs(offset) if offset else 0.0
        return point[0] + off[0] * share, point[1] + off[1] * share

    first, last = beside(start, 0.0), beside(end, 0.0)
    shapes = [
        line(beside(point, abs(offset) - GAP), beside(point, -1.5))
        for point in (start, end)
        if abs(offset) > GAP
    ]
    words = f"{name} {write(length, kind, taste)}".strip()
    if span >= 3 * HEAD:
        shapes += [line(first, last), arrow_head(first, turn + math.pi), arrow_head(last, turn)]
    else:
        # Too short for heads between the extension lines: they point in from outside.
        tail = 2.5 * HEAD
        outer = (first[0] - tail * along[0], first[1] - tail * along[1])
        other = (last[0] + tail * along[0], last[1] + tail * along[1])
        shapes += [line(outer, other), arrow_head(first, turn), arrow_head(last, turn + math.pi)]
    # Rounded, so that what leads straight up is not read from the left for want of a digit.
    upright = round(math.degrees(turn), 6)
    if not -90.0 <= upright < 90.0:
        upright -= math.copysign(180.0, upright)
    # Words stand above the line, read from below or from the right. Where they are longer than
    # the line they go beyond it, away from the thing, clear of both extension lines.
    up = (math.sin(math.radians(upright)), -math.cos(math.radians(upright)))
    above = 0.25 * TEXT + GAP / 2
    if text_width(words) > span:
        outward = up[0] * off[0] + up[1] * off[1] >= 0.0
        above = above + 1.5 if outward else -(1.5 + GAP + 0.85 * TEXT)
    middle = ((first[0] + last[0]) / 2 + up[0] * above, (first[1] + last[1]) / 2 + up[1] * above)
    return (*shapes, text(middle, words, anchor="middle", turn=upright))


def load(
    tip: Point,
    rows: tuple[str, ...],
    *,
    length: float = 12.0,
    up: bool = False,
    width: float = NARROW,
) -> tuple[Shape, ...]:
    """Draw an arrow down onto ``tip``, or up, with what it stands for at its tail."""
    x, y = tip
    tail = y + length if up else y - length
    label = Label(rows)
    top = tail + GAP / 2 if up else tail - GAP / 2 - label.height
    middle = min(max(x, MARGIN + label.width / 2), width - MARGIN - label.width / 2)
    return (*arrow((x, tail), tip, LOAD), *label.at(middle, top, "middle"))


def centre_of_gravity(
    at: Point, radius: float = 2.0, *, open_: bool = False, bands: Point = (0.0, 0.0)
) -> tuple[Shape, ...]:
    """Draw the quartered disc that marks a centre of gravity, half black or, ``open_``, all white.

    ``bands`` is how far it may lie off, across and up: a bar where that reaches past the disc.
    """
    x, y = at

    def quarter(first: int) -> Shape:
        turns = [math.radians(90 * first + 7.5 * step) for step in range(13)]
        rim = [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in turns]
        return path((at, *rim), None, closed=True, fill="ink")

    across, up = bands
    bars = [
        ((x - dx, y - dy), (x + dx, y + dy))
        for dx, dy in ((across, 0.0), (0.0, up))
        if dx > radius or dy > radius
    ]
    shapes = [shape for ends in bars for shape in _bar(*ends)]
    cross = (line((x - radius, y), (x + radius, y)), line((x, y - radius), (x, y + radius)))
    inner = cross if open_ else (quarter(0), quarter(2))
    return (*shapes, circle(at, radius, PLAIN, "paper"), *inner)


def _bar(start: Point, end: Point) -> tuple[Shape, ...]:
    """Draw a line with a stop across each end."""
    flat = start[1] == end[1]
    (dx, dy) = (0.0, 1.0) if flat else (1.0, 0.0)
    stops = [line((x - dx, y - dy), (x + dx, y + dy), PLAIN) for x, y in (start, end)]
    return (line(start, end, PLAIN), *stops)


def hatched(
    outline: Sequence[Point],
    *,
    spacing: float = 1.6,
    falling: bool = False,
    stroke: Stroke = THIN,
) -> tuple[Shape, ...]:
    """Hatch the inside of an outline with lines at 45°, rising or falling to the right."""
    if spacing <= 0.0:
        raise DrawingError(f"hatching needs a distance between its lines, not {spacing}")
    slope = 1.0 if falling else -1.0
    levels = [y - slope * x for x, y in outline]
    step = spacing * math.sqrt(2.0)
    # Multiples of the step from the corner of the paper, so that neighbours continue each other.
    first, last = math.ceil(min(levels) / step), math.floor(max(levels) / step)
    shapes: list[Shape] = []
    for count in range(first, last + 1):
        level = count * step
        found = crossings(outline, level, slope)
        for enter, leave in zip(found[::2], found[1::2], strict=True):
            if leave > enter:
                ends = ((enter, level + slope * enter), (leave, level + slope * leave))
                shapes.append(line(*ends, stroke))
    return tuple(shapes)


def ground(left: float, right: float, level: float) -> tuple[Shape, ...]:
    """Draw the ground: a line, hatched beneath."""
    strip = Box(left, level, right, level + 2.0)
    return (line((left, level), (right, level), PLAIN), *hatched(strip.corners))


def scale_bar(
    at: Point, mm_per_metre: float, taste: Taste = "metric", room: float = 40.0
) -> tuple[Shape, ...]:
    """Draw a bar of a round length, at most ``room`` mm long, with the length written behind it."""
    unit = 0.0254 if taste == "inch" else 1e-3
    most = room / mm_per_metre / unit
    size = 10.0 ** math.floor(math.log10(most))
    length = max(size * by for by in (1, 2, 5) if size * by <= most) * unit
    x, y = at
    wide = length * mm_per_metre
    # Half black, half white: read at once, and seen when a copy has lost thin lines.
    halves = (Box(x, y, x + wide / 2, y + 1.4), Box(x, y, x + wide, y + 1.4))
    words = text((x + wide + GAP, y + 1.4), write(length, LENGTH, taste))
    return rectangle(halves[0], None, "ink"), rectangle(halves[1], PLAIN), words


def widest(scale: Scale) -> float:
    """Return the width of the widest number at the ticks of a scale."""
    return max((text_width(words) for _, words in scale.ticks()), default=0.0)


def spaced(scale: Scale, length: float) -> Scale:
    """Take steps large enough for the numbers to stand side by side over ``length`` mm."""
    wider = scale
    for most in range(7, 0, -1):
        wider = replace(scale, step=nice_step(scale.high - scale.low, most))
        if widest(wider) <= length * wider.step / (scale.high - scale.low) - 2.5:
            break
    return wider


def ruler(scale: Scale, box: Box, level: float, *, upright: bool = False) -> tuple[Shape, ...]:
    """Draw a scale along the foot of a box, at the height ``level``, or upright, left of it."""

    def at(share: float, away: float) -> Point:
        if upright:
            return level - away, box.bottom - share * box.height
        return box.left + share * box.width, level + away

    shapes = [line(at(0.0, 0.0), at(1.0, 0.0))]
    for ticks, length in ((scale.ticks(scale.parts), 1.0), (scale.ticks(), 2.0)):
        shapes += [line(at(share, 0.0), at(share, length)) for share, _ in ticks]
    for share, words in scale.ticks():
        x, y = at(share, 2.8)
        if upright:
            shapes.append(text((x, y + 0.36 * TEXT), words, anchor="end"))
        else:
            shapes.append(text((x, y + 0.8 * TEXT), words, anchor="middle"))
    return tuple(shapes)


def titled(axis: Axis, scales: Sequence[Scale]) -> str:
    """Return what stands beside an axis: its name and its units."""
    symbols = [scale.unit.symbol for scale in scales]
    if len(symbols) > 1:
        return f"{axis.name} (inner scale {symbols[0]}, outer {symbols[1]})"
    return f"{axis.name} ({symbols[0]})" if symbols[0] else axis.name


@dataclass(frozen=True, slots=True)
class Frame:
    """The space between two axes."""

    box: Box
    across: Scale
    up: Scale

    def at(self, point: Point) -> Point:
        """Return the place of a point in SI on the paper."""
        x, y = self.across.share(point[0]), self.up.share(point[1])
        return self.box.left + x * self.box.width, self.box.bottom - y * self.box.height

    def level(self, of: str, value: float) -> tuple[Point, Point] | None:
        """Return the ends of a line right across at one value, or nothing if it lies outside."""
        box = self.box
        if of == "x":
            x = box.left + self.across.share(value) * box.width
            return box.cut((x, box.bottom), (x, box.top))
        y = box.bottom - self.up.share(value) * box.height
        return box.cut((box.left, y), (box.right, y))

    def axes(self, across: Sequence[Scale], up: Sequence[Scale]) -> Iterator[Shape]:
        """Draw the grid and, for each scale, a ruler below or on the left."""
        box = self.box
        for share, _ in across[0].ticks():
            x = box.left + share * box.width
            yield line((x, box.top), (x, box.bottom), HAIR)
        for share, _ in up[0].ticks():
            y = box.bottom - share * box.height
            yield line((box.left, y), (box.right, y), HAIR)
        x, y = box.left, box.bottom
        for scale in up:
            yield from ruler(scale, box, x, upright=True)
            x -= widest(scale) + 4.0
        for scale in across:
            yield from ruler(scale, box, y)
            y += 2.0 * TEXT
