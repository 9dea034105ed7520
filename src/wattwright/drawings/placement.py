"""What side, plan and rear views have in common: where things lie on the paper, and what is said.

A view brings its wheels, dimensions and loads; ``finished`` adds parts with their tags, centres of
gravity, a scale bar, the key, and what could not be shown with what it needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wattwright.assessment import shown
from wattwright.descriptions.vehicle import Standing
from wattwright.drawings.legend import DISCS, disc, legend, notes
from wattwright.drawings.placed import LEDGERS, Axes, Axis, Axle, Scene, Thing
from wattwright.kinds import LENGTH
from wattwright.paper import MARGIN, NARROW, TEXT, Box, Point, View, around
from wattwright.paper.crowd import LEADER, Picture, edges, places, tagged
from wattwright.paper.dimension import dimension, load, scale_bar
from wattwright.paper.svg import (
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    free_place,
    heading,
    line,
    text,
    text_width,
)
from wattwright.paper.tags import Look, Tagged, key
from wattwright.units import Taste, write
from wattwright.values import Value

# Room between the picture and the edge of the paper, for upright dimensions.
SIDE = 9.0
LEFT, RIGHT = MARGIN + SIDE, NARROW - MARGIN - SIDE
# The words that say which way round it is stand here, under the heading; the picture lies below.
_WORDS = 14.5
TOP = 18.0
TALLEST = 80.0
_MOST_ROOM = 20.0
MIDDLE_LINE = Stroke(0.2, (4.0, 1.0, 0.8, 1.0))
# Where nothing says how large a wheel is, so much is left free for it.
_WHEEL = 0.3
# A name further from its mark than this, in mm, would be taken for another's.
_NAMED_WITHIN = 6.0
_PLUMB = Stroke(0.3, (2.5, 1.0))


def reach(scene: Scene, axis: Axis) -> tuple[float, float]:
    """From where to where everything extends along one axis, whatever else is known of it."""
    spans = [span for thing in scene.things if (span := thing.reach(axis)) is not None]
    wheels = [_wheels(axle, axis, _WHEEL) for axle in scene.axles]
    spans += [span for span in wheels if span is not None]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _wheels(axle: Axle, axis: Axis, spare: float) -> tuple[float, float] | None:
    """From where to where the wheels of an axle extend; ``spare`` stands for what is not known."""
    radius = axle.radius or spare
    if axis == "x":
        return None if axle.x is None else (axle.x - radius, axle.x + radius)
    if axis == "z":
        return 0.0, 2 * radius
    half = (axle.track + (axle.width or 0.0)) / 2 if axle.track else spare
    return -half, half


def lengthwise(scene: Scene, up: Axis, top: float) -> View:
    """Lay out a side or plan view: the same scale and the same places along x in both."""
    low, high = reach(scene, "x")
    spans = {axis: reach(scene, axis) for axis in ("y", "z")}
    tallest = max(last - first for first, last in spans.values())
    scale = min((RIGHT - LEFT) / (high - low), TALLEST / tallest)
    first, last = spans[up]
    room = Box(LEFT, top, RIGHT, top + (last - first) * scale)
    return View.of((low, first), (high, last), room)


def crosswise(scene: Scene, top: float) -> View:
    """Lay out a rear view as large as it will go."""
    (low, high), (first, last) = reach(scene, "y"), reach(scene, "z")
    scale = min((RIGHT - LEFT) / (high - low), TALLEST / (last - first))
    return View.of((low, first), (high, last), Box(LEFT, top, RIGHT, top + (last - first) * scale))


@dataclass(frozen=True, slots=True)
class Sheet:
    """A view before parts and words are added: what is on it, and where tags may stand.

    ``needs`` says what is missing of the wheels; no tag stands on what is ``untouched``.
    """

    name: str
    describing: str
    scene: Scene
    axes: Axes
    view: View
    taste: Taste
    within: Box
    fixed: tuple[Shape, ...]
    needs: tuple[str, ...]
    untouched: Sequence[Shape] = ()

    @property
    def title(self) -> str:
        """What stands at its head."""
        return f"{self.name}, {LEDGERS[self.scene.ledger]}"


def extent(scene: Scene, axes: Axes, view: View) -> Box:
    """Return the space on the paper of all that is drawn in a view, wheels included."""
    corners = [corner for thing in scene.standing(axes) for corner in thing.corners(axes)]
    for axle in scene.axles:
        across, up = (_wheels(axle, axis, 0.0) for axis in axes)
        if across and up:
            corners += zip(across, up, strict=True)
    return around(view.at(*corner) for corner in corners)


def measured(
    start: Point, end: Point, view: View, taste: Taste, name: str, offset: float
) -> tuple[Shape, ...]:
    """Draw a dimension to scale, with as many words as it has room for.

    An upright one stands at the edge of the paper: without room for its number there is none.
    """
    span = math.dist(start, end)
    length = span / view.mm_per_metre
    one: Taste = "metric" if taste == "mixed" else taste
    for words, shown_in in ((name, taste), ("", taste), ("", one)):
        if text_width(f"{words} {write(length, LENGTH, shown_in)}".strip()) <= span:
            break
    else:
        if start[0] == end[0]:
            return ()
    return dimension(start, end, length, taste=shown_in, offset=offset, name=words)


def loaded(scene: Scene, tips: Sequence[tuple[str, str, Point]], taste: Taste) -> tuple[Shape, ...]:
    """Draw loads from below: names, which load of each case it is, and where each arrow ends."""
    shapes: list[Shape] = []
    for name, attribute, tip in tips:
        rows = amounts(scene, attribute, taste)
        if not rows:
            continue
        words = [shape.box for shape in shapes if shape.words]
        found = load(tip, (name, *rows), up=True, length=8.0)
        if any(each.box.meets(space) for each in found if each.words for space in words):
            found = load(tip, (name, *rows), up=True, length=below(shapes, 1.0) - tip[1])
        shapes += found
    return tuple(shapes)


def ends(left: str, right: str) -> tuple[Shape, ...]:
    """Write which end of the vehicle lies where."""
    return text((MARGIN, _WORDS), left), text((NARROW - MARGIN, _WORDS), right, anchor="end")


def headroom(scene: Scene, axes: Axes) -> float:
    """How much is left free beside a picture for the tags of what stands in it."""
    return min(_MOST_ROOM, 3.0 + 0.6 * sum(1 for _ in scene.standing(axes)))


def wheels_lacking(scene: Scene, *, across: bool) -> Iterator[str]:
    """Say which wheels are missing, or are not drawn by the measures of their own tyres.

    ``across`` says that they stand a track apart in this view.
    """
    for axle in scene.axles:
        field = f"tyre.{axle.name}.size"
        if across and axle.track is None:
            own = f" and {field}" if axle.alike or axle.width is None else ""
            yield f"No {axle.name} wheels: needs donor.{axle.name}.track{own}."
        elif axle.radius is None:
            yield f"Size of the {axle.name} wheels not known: needs {field}."
        elif axle.alike:
            yield f"Dotted: {axle.name} wheels, drawn like the others; needs {field}."
        elif across and axle.width is None:
            yield f"Width of the {axle.name} tyres not known: needs {field}."


def amounts(scene: Scene, attribute: str, taste: Taste) -> tuple[str, ...]:
    """Write one load in every case in which it is known."""
    values = {case: _of(standing, attribute) for case, standing in scene.loads.items()}
    return tuple(f"{shown(v, taste, band=False)} {c}" for c, v in values.items() if v.known)


def _of(standing: Standing, attribute: str) -> Value:
    holder = standing.loads if attribute in ("mass", "front", "rear") else standing
    value: Value = getattr(holder, attribute)
    return value


def finished(sheet: Sheet) -> Drawing:
    """Add parts with their tags, centres of gravity, scale bar, key and what is missing."""
    things = [_tagged(sheet, thing) for thing in sheet.scene.standing(sheet.axes)]
    centres = _centres(sheet)
    picture, names = _picture(sheet, things, centres)
    marks = [shape for drawn in centres.values() for shape in drawn]
    shapes = [*heading(sheet.title), *sheet.fixed, *picture.shapes, *marks, *names]
    shapes += scale_bar((MARGIN, below(shapes, 3.5)), sheet.view.mm_per_metre, sheet.taste)
    shapes += legend(sheet.scene, sheet.axes, things, sheet.taste, below(shapes, 2.5))
    shapes += key(sorted(things, key=_in_order), below(shapes))
    lacking = (sheet.needs, picture.untagged)
    shapes += notes(sheet.scene, sheet.axes, *lacking, below(shapes))
    return Drawing(sheet.title, sheet.describing, tuple(shapes))


def _in_order(thing: Tagged) -> tuple[str, int, str]:
    return thing.section, len(thing.tag), thing.tag


def _tagged(sheet: Sheet, thing: Thing) -> Tagged:
    look: Look = "faint" if thing.section == "place" else "dashed" if thing.several else "outline"
    box = sheet.view.box(*thing.corners(sheet.axes))
    return Tagged(thing.tag, thing.words, box, thing.section, thing.name, look)


# ------------------------------------------------------------------------- centres of gravity


def _centres(sheet: Sheet) -> dict[str, tuple[Shape, ...]]:
    """Draw the centres of gravity that are known, by loading case.

    The larger disc comes first: where both nearly meet, the smaller one lies on it.
    """
    cases = sorted(sheet.scene.loads, key=lambda case: -DISCS[case])
    drawn = {case: tuple(_centre(sheet, case)) for case in cases}
    return {case: shapes for case, shapes in drawn.items() if shapes}


def _centre(sheet: Sheet, case: str) -> Iterator[Shape]:
    across, up = (_of(sheet.scene.loads[case], f"cg_{axis}") for axis in sheet.axes)
    view = sheet.view
    if across.number is None:
        return
    if up.number is None:
        x = view.at(across.number, 0.0)[0]
        yield line((x, sheet.within.top), (x, sheet.within.bottom), _PLUMB)
        return
    bands = across.band * view.mm_per_metre, up.band * view.mm_per_metre
    at = view.at(across.number, up.number)
    yield from disc(case, at, bands)


def _picture(
    sheet: Sheet, things: Sequence[Tagged], centres: Mapping[str, tuple[Shape, ...]]
) -> tuple[Picture, tuple[Shape, ...]]:
    """Tag things and name centres of gravity; the names give way where tags lack their room.

    The legend says which centre is which, and nothing else says which mark is which part.
    """
    written = [shape for shape in sheet.fixed if shape.words]
    marks = [shape for drawn in centres.values() for shape in drawn]
    busy = [shape.box for shape in (*written, *sheet.untouched, *marks)]
    names = tuple(_names(sheet, things, centres, busy))
    picture = tagged(things, sheet.within, [*busy, *(shape.box for shape in names)])
    if picture.untagged:
        picture = tagged(things, sheet.within, busy)
        busy += [shape.box for shape in picture.shapes if shape.words]
        names = tuple(_names(sheet, things, centres, busy))
    return picture, names


def _names(
    sheet: Sheet,
    things: Sequence[Tagged],
    centres: Mapping[str, tuple[Shape, ...]],
    taken: Sequence[Box],
) -> Iterator[Shape]:
    """Write the loading case beside its mark where there is room."""
    busy = list(taken)
    for thing in things:
        busy += edges(thing.box) if thing.is_box else [thing.space]
    for case, drawn in centres.items():
        space = around(corner for shape in drawn for corner in shape.box.corners)
        if len(drawn) == 1:
            # A plumb line is named at its head.
            space = Box(space.left, space.top, space.right, space.top + TEXT)
        label = Label((case,), bold=True)
        place = free_place(places(label, space, _NAMED_WITHIN), sheet.within, busy)
        if place is None:
            continue
        busy.append(place)
        x, y = space.middle
        start = min(max(x, place.left), place.right), min(max(y, place.top), place.bottom)
        if cut := space.cut(start, (x, y)):
            yield line(start, cut[0], LEADER)
        yield from label.at(place.left, place.top)
