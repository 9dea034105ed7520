"""Bodies from the side and from above, where they come nearest, and the height over the ground."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from wattwright.assessment import Assessment, shown
from wattwright.build.reader import Opened
from wattwright.descriptions.clearance import (
    ClearanceDescription,
    Drawn,
    Nearest,
    OverGround,
    Place,
)
from wattwright.descriptions.mounts import MountsDescription
from wattwright.drawings.placed import Axes
from wattwright.drawings.placement import TALLEST, TOP
from wattwright.paper import MARGIN, WIDE, Box, Point, View, around
from wattwright.paper.crowd import LEADER, edges, places
from wattwright.paper.dimension import ground, scale_bar
from wattwright.paper.svg import (
    PLAIN,
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    free_place,
    heading,
    line,
    nothing_yet,
    path,
    rectangle,
    text,
    wrapped,
)
from wattwright.paper.tags import FAINT, Tagged, key
from wattwright.units import Taste

_NAME = "Clearances"
_DESCRIBING = (
    "Outlines of everything that takes room, from the left and from above, with the places where "
    "they come nearest, and the height over the ground laden."
)
_NOTHING = (
    "No body has all its measures yet. Write what moves and what it moves past: box, cylinder or "
    "hose, where its middle is, its measures, and what it moves with."
)
_SIDE: Axes = ("x", "z")
_PLAN: Axes = ("x", "y")
_ON_RUBBER = Stroke(0.4, (1.6, 0.9))
_WITH_WHEELS = Stroke(0.4, (4.0, 1.0, 0.8, 1.0))
_LADEN = Stroke(0.3, (2.5, 1.0))
_LOOKS = (
    (PLAIN, "fixed to the body"),
    (_ON_RUBBER, "on the unit's rubber"),
    (_WITH_WHEELS, "moves with a wheel, at ride height"),
    (FAINT, "the same at bump and hanging"),
)
# So many gaps are marked; the findings list all.
_LETTERS = "ABCD"
_ROUND = 20
_BAR, _STOP, _END_ON = Stroke(0.9), 1.2, 0.2
_LEFT, _RIGHT, _HEAD = MARGIN + 14.0, WIDE - MARGIN - 14.0, 14.5
# Between the two views, with room for the dimension over the ground and words.
_BETWEEN = 11.0


def clearances(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Draw bodies from the side and from above, with the tightest gaps."""
    del opened
    known = assessment.descriptions
    found = known[MountsDescription].clearance if MountsDescription in known else None
    if found is None or not found.bodies:
        return nothing_yet(_NAME, _DESCRIBING, _NOTHING, WIDE)
    side, plan = _laid_out(found)
    marked = tuple(_marked(found, taste))
    shapes: list[Shape] = [*heading(_NAME, WIDE)]
    shapes += text((MARGIN, _HEAD), "front"), text((WIDE - MARGIN, _HEAD), "rear", anchor="end")
    shapes += _ground(found, side)
    shapes += _view(found, marked, side)
    shapes += _view(found, [each for each in marked if each.letter != "G"], plan)
    shapes.append(text((MARGIN, plan.room.top), "right side"))
    shapes.append(text((MARGIN, plan.room.bottom), "left side"))
    shapes += scale_bar((MARGIN, below(shapes, 2.5)), side.view.mm_per_metre, taste)
    for each in marked:
        shapes += _row(each.letter, each.words, below(shapes, 1.0))
    shapes += _legend(found, below(shapes, 2.0))
    tags = [_tag(body, count) for count, body in enumerate(found.bodies, 1)]
    shapes += key(tags, below(shapes), WIDE)
    shapes += _left_out(found, below(shapes))
    return Drawing(_NAME, _DESCRIBING, tuple(shapes), WIDE)


@dataclass(frozen=True, slots=True)
class _Seen:
    """One view: which axes it shows, where they lie on the paper, and the room it takes."""

    axes: Axes
    view: View
    room: Box

    def at(self, place: Place) -> Point:
        """Return a place on the paper."""
        across, up = ("xyz".index(axis) for axis in self.axes)
        return self.view.at(place[across], place[up])


def _laid_out(found: ClearanceDescription) -> tuple[_Seen, _Seen]:
    """Lay out both views to one scale, the plan below the side view."""
    spans = [_span(found, axis) for axis in range(3)]
    spans[2] = min(0.0, spans[2][0]), spans[2][1]
    (low, high), *others = spans
    tallest = max(last - first for first, last in others)
    scale = min((_RIGHT - _LEFT) / (high - low), TALLEST / tallest)
    top = TOP
    seen = []
    for axes, (first, last) in ((_SIDE, spans[2]), (_PLAN, spans[1])):
        room = Box(_LEFT, top, _RIGHT, top + (last - first) * scale)
        seen.append(_Seen(axes, View.of((low, first), (high, last), room), room))
        top = room.bottom + _BETWEEN
    return seen[0], seen[1]


def _span(found: ClearanceDescription, axis: int) -> tuple[float, float]:
    """From where to where everything reaches along one axis, wherever it moves."""
    low, high = math.inf, -math.inf
    for body in found.bodies:
        for pieces in (body.resting, *body.moved):
            for place in (place for piece in pieces for place in piece):
                low = min(low, place[axis] - body.round_by)
                high = max(high, place[axis] + body.round_by)
    return low, high


@dataclass(frozen=True, slots=True)
class _Marked:
    """What is marked in both views: a letter, its length, all that is said of it, and where."""

    letter: str
    length: str
    words: str
    points: tuple[Place, Place]

    @property
    def short(self) -> str:
        """What stands beside the mark."""
        return f"{self.letter} {self.length}"


# -------------------------------------------------------------------------------------------- views


def _view(found: ClearanceDescription, marked: Sequence[_Marked], seen: _Seen) -> Iterator[Shape]:
    """Draw all bodies, then marks where they come nearest, then their numbers where room is."""
    for body in found.bodies:
        for pieces in body.moved:
            for piece in pieces:
                yield path(_edge(seen, body, piece), FAINT, closed=True)
    outlines: list[Box] = []
    for body in found.bodies:
        drawn = [_edge(seen, body, piece) for piece in body.resting]
        outlines.append(around(point for edge in drawn for point in edge))
        for edge in drawn:
            yield path(edge, _stroke(body), closed=True)
    within = Box(MARGIN, seen.room.top - 6.0, WIDE - MARGIN, seen.room.bottom + 6.0)
    words = _Words(within, outlines, [])
    spots = []
    for first, last in (tuple(seen.at(point) for point in gap.points) for gap in marked):
        yield from _mark(first, last)
        spots.append(around((first, last)).grown(_STOP))
    words.taken += spots
    for gap, spot in zip(marked, spots, strict=True):
        yield from words.beside(Label((gap.short,), bold=True), spot, inside=False)
    for count, space in enumerate(outlines, 1):
        yield from words.beside(Label((str(count),)), space, inside=True)


def _stroke(body: Drawn) -> Stroke:
    if body.moves_with in ("body", "unit"):
        return PLAIN if body.moves_with == "body" else _ON_RUBBER
    return _WITH_WHEELS


def _letter(count: int) -> str:
    return "ABCDEFGH"[count]


def _edge(seen: _Seen, body: Drawn, piece: Sequence[Place]) -> tuple[Point, ...]:
    """Return the outer edge of a convex piece on the paper."""
    points = [seen.at(place) for place in piece]
    if body.round_by:
        radius = body.round_by * seen.view.mm_per_metre
        turns = [2 * math.pi * count / _ROUND for count in range(_ROUND)]
        points = [
            (x + radius * math.cos(turn), y + radius * math.sin(turn))
            for x, y in points
            for turn in turns
        ]
    return _hull(points)


def _hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the outer edge of a cloud of points (Andrew's monotone chain)."""
    order = sorted(set(points))
    if len(order) < 3:
        return tuple(order)

    def half(along: Iterable[Point]) -> list[Point]:
        kept: list[Point] = []
        for point in along:
            while len(kept) > 1 and _turns_back(kept[-2], kept[-1], point):
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return (*half(order), *half(reversed(order)))


def _turns_back(one: Point, other: Point, point: Point) -> bool:
    """Tell whether the way through three points does not turn to the left."""
    (ax, ay), (bx, by) = ((end[0] - one[0], end[1] - one[1]) for end in (other, point))
    return ax * by - ay * bx <= 0.0


def _mark(first: Point, last: Point) -> Iterator[Shape]:
    """Draw a bar between the two surfaces with a stop at each; seen end on, a cross."""
    apart = math.dist(first, last)
    if apart < _END_ON:
        x, y = first
        yield line((x - 1.2, y - 1.2), (x + 1.2, y + 1.2), PLAIN)
        yield line((x - 1.2, y + 1.2), (x + 1.2, y - 1.2), PLAIN)
        return
    yield line(first, last, _BAR)
    aside = (first[1] - last[1]) / apart * _STOP, (last[0] - first[0]) / apart * _STOP
    for x, y in (first, last):
        yield line((x - aside[0], y - aside[1]), (x + aside[0], y + aside[1]), PLAIN)


@dataclass(slots=True)
class _Words:
    """Where labels stand in a view: clear of one another, and of outlines as far as can be."""

    within: Box
    outlines: Sequence[Box]
    taken: list[Box]

    def beside(self, label: Label, space: Box, *, inside: bool) -> Iterator[Shape]:
        """Write a label in what it belongs to, or beside it with a line; nothing without room."""
        x, y = space.middle
        place = label.box(x - label.width / 2, y - label.height / 2)
        lines = [each for box in self.outlines if box != space for each in edges(box)]
        if not inside or not space.holds(place) or any(map(place.meets, [*self.taken, *lines])):
            near = [*places(label, space, 16.0)]
            found = free_place(near, self.within, [*self.taken, *lines])
            found = found or free_place(near, self.within, self.taken)
            if found is None:
                return
            place = found
        self.taken.append(place)
        if not space.meets(place):
            start = min(max(x, place.left), place.right), min(max(y, place.top), place.bottom)
            if cut := space.cut(start, (x, y)):
                yield line(start, cut[0], LEADER)
        if not space.holds(place):
            yield rectangle(place, None, "paper")
        yield from label.at(place.left, place.top)


def _ground(found: ClearanceDescription, side: _Seen) -> Iterator[Shape]:
    """Draw the ground, and as it comes up to the laden body."""
    level = side.view.at(0.0, 0.0)[1]
    yield from ground(MARGIN, WIDE - MARGIN, level)
    if laden := _laden(found):
        backs = ((x - side.view.left) / side.view.mm_per_metre for x in (MARGIN, WIDE - MARGIN))
        low, high = (side.view.at(back, laden[0] + laden[1] * back) for back in backs)
        yield line(low, high, _LADEN)


def _laden(found: ClearanceDescription) -> tuple[float, float] | None:
    """How far the ground comes up at the front axle, and how much more for each metre behind."""
    if found.sinks is None:
        return None
    front, rear, wheelbase = (value.number for value in found.sinks)
    if front is None or rear is None or not wheelbase:
        return None
    return front, (rear - front) / wheelbase


# ---------------------------------------------------------------------------------- what is written


def _marked(found: ClearanceDescription, taste: Taste) -> Iterator[_Marked]:
    """Choose the gaps with the least to spare, and the body that is lowest over the ground."""

    def spare(near: Nearest) -> float:
        return (near.gap.number or 0.0) - (near.wanted.number or 0.0)

    known = [near for near in found.nearest if near.gap.known and near.wanted.known]
    for letter, near in zip(_LETTERS, sorted(known, key=spare), strict=False):
        bodies = " to ".join(name.replace("_", " ") for name in near.about.split("/"))
        met = "they meet, " if (near.gap.number or 0.0) < 0.0 else ""
        words = f"{bodies}: {met}{shown(near.gap, taste)}, wanted {shown(near.wanted, taste)}"
        words = f"{words}; {near.words}" if near.words else words
        yield _Marked(letter, shown(near.gap, taste, band=False), words, near.points)
    laden, lowest = _laden(found), _lowest(found)
    if laden is not None and lowest is not None:
        each, body = lowest
        place = min((place for piece in body.resting for place in piece), key=lambda it: it[2])
        foot = place[0], place[1], laden[0] + laden[1] * place[0]
        tip = place[0], place[1], place[2] - body.round_by
        height = shown(each.height, taste, band=False)
        words = f"{body.name.replace('_', ' ')} over the ground, laden: "
        words += f"{shown(each.height, taste)}, wanted {shown(each.wanted, taste)}"
        yield _Marked("G", height, words, (foot, tip))


def _lowest(found: ClearanceDescription) -> tuple[OverGround, Drawn] | None:
    drawn = {body.name: body for body in found.bodies}
    known = [
        (each, drawn[each.name])
        for each in found.ground
        if each.height.known and not each.wanted.absent and each.name in drawn
    ]
    return min(known, key=lambda each: each[0].height.number or 0.0, default=None)


def _row(tag: str, words: str, top: float) -> tuple[Shape, ...]:
    label = Label(wrapped(words, WIDE - 2 * MARGIN - 6.0, most=6))
    return (*Label((tag,), bold=True).at(MARGIN, top), *label.at(MARGIN + 6.0, top))


def _legend(found: ClearanceDescription, top: float) -> tuple[Shape, ...]:
    """Show each kind of line that was drawn, with what it means."""
    used = [_stroke(body) for body in found.bodies]
    used += [FAINT] if any(body.moved for body in found.bodies) else []
    looks = [(stroke, words) for stroke, words in _LOOKS if stroke in used]
    sinks = found.sinks is not None and all(value.known for value in found.sinks)
    looks += [(_LADEN, "the ground as it comes up to the laden vehicle")] if sinks else []
    shapes: list[Shape] = []
    for stroke, words in looks:
        at = below(shapes, 0.4) if shapes else top
        shapes.append(line((MARGIN, at + 2.4), (MARGIN + 12.0, at + 2.4), stroke))
        shapes += Label((words,)).at(MARGIN + 14.0, at)
    return tuple(shapes)


def _tag(body: Drawn, count: int) -> Tagged:
    nowhere = Box(0.0, 0.0, 0.0, 0.0)
    return Tagged(str(count), body.name.replace("_", " "), nowhere, "body", body.name)


def _left_out(found: ClearanceDescription, top: float) -> tuple[Shape, ...]:
    """Say which bodies cannot be drawn yet, and what they need."""
    shapes: list[Shape] = []
    for body in found.unplaced:
        needs = ", ".join(lack.path for lack in body.gap.lacks if lack.path)
        words = f"Not drawn: {body.name.replace('_', ' ')}; needs {needs}."
        rows = wrapped(words, WIDE - 2 * MARGIN, most=60)
        shapes += Label(rows).at(MARGIN, below(shapes, 1.2) if shapes else top)
    return tuple(shapes)
