"""What side, plan and rear views have in common: where things lie on the paper, and what is said.

A view brings its wheels, dimensions and loads; ``finished`` adds parts with their tags, centres of
gravity, a scale bar, the key, and what could not be shown with what it needs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from wattwright.assessment import shown
from wattwright.descriptions.vehicle import Standing
from wattwright.drawings.legend import DISCS, disc, legend, notes
from wattwright.drawings.placed import LEDGERS, Axes, Axis, Scene, Thing
from wattwright.kinds import LENGTH
from wattwright.paper import MARGIN, NARROW, Box, Point, View, around
from wattwright.paper.dimension import dimension, load, scale_bar
from wattwright.paper.svg import (
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    beside,
    free_place,
    heading,
    line,
    text,
    text_width,
)
from wattwright.paper.tags import Look, Tagged, key, tagged
from wattwright.units import Taste, write
from wattwright.values import Value

# Room between the picture and the edge of the paper, for upright dimensions.
SIDE = 9.0
LEFT, RIGHT = MARGIN + SIDE, NARROW - MARGIN - SIDE
# Between heading and picture: the words that say which way round it is.
TOP = 24.0
TALLEST = 80.0
MIDDLE_LINE = Stroke(0.2, (4.0, 1.0, 0.8, 1.0))
# Where nothing says how large a wheel is, so much is left free for it.
_WHEEL = 0.3
_PLUMB = Stroke(0.3, (2.5, 1.0))


def reach(scene: Scene, axis: Axis) -> tuple[float, float]:
    """From where to where everything extends along one axis, whatever else is known of it."""
    spans = [span for thing in scene.things if (span := thing.reach(axis)) is not None]
    for axle in scene.axles:
        radius, wide = axle.radius or _WHEEL, (axle.width or 0.0) / 2
        if axis == "x" and axle.x is not None:
            spans.append((axle.x - radius, axle.x + radius))
        elif axis == "y":
            half = (axle.track or 0.0) / 2 + wide
            spans.append((-half, half))
        elif axis == "z":
            spans.append((0.0, 2 * radius))
    return min(low for low, _ in spans), max(high for _, high in spans)


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

    ``drawn`` is the space of the wheels, in the picture; ``needs`` says what is missing of them.
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

    @property
    def title(self) -> str:
        """What stands at its head."""
        return f"{self.name}, {LEDGERS[self.scene.ledger]}"


def spaces(scene: Scene, axes: Axes, view: View) -> list[Box]:
    """List the space on the paper of all things that stand in a view."""
    return [view.box(*thing.corners(axes)) for thing in scene.standing(axes)]


def overall(boxes: Iterable[Box]) -> Box:
    """Return the space of all that is drawn."""
    return around(corner for box in boxes for corner in box.corners)


def measured(
    start: Point, end: Point, view: View, taste: Taste, name: str, offset: float
) -> tuple[Shape, ...]:
    """Draw a dimension to scale; without its name where there is no room for it."""
    span = max(abs(end[0] - start[0]), abs(end[1] - start[1]))
    length = span / view.mm_per_metre
    named = f"{name} {write(length, LENGTH, taste)}"
    words = name if text_width(named) <= span else ""
    return dimension(start, end, length, taste=taste, offset=offset, name=words)


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
    level = TOP - 9.5
    return text((MARGIN, level), left), text((NARROW - MARGIN, level), right, anchor="end")


def tracks_lacking(scene: Scene) -> Iterator[str]:
    """Say which wheels are not drawn for want of a track."""
    for axle in scene.axles:
        if axle.track is None:
            yield f"No {axle.name} wheels: needs donor.{axle.name}.track."


def tyres_lacking(scene: Scene) -> Iterator[str]:
    """Say which wheels are not drawn by the measures of their own tyres."""
    for axle in scene.axles:
        field = f"tyre.{axle.name}.size"
        if axle.radius is None:
            yield f"Size of the {axle.name} wheels not known: needs {field}."
        elif axle.alike:
            yield f"Dashed: {axle.name} wheels, drawn like the others; needs {field}."
        elif axle.width is None:
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
    centres, names = _centres(sheet)
    things = [_tagged(sheet, thing) for thing in sheet.scene.standing(sheet.axes)]
    busy = [shape.box for shape in sheet.fixed if shape.words]
    picture = tagged(things, sheet.within, [*busy, *(shape.box for shape in (*centres, *names))])
    head = heading(sheet.title)
    shapes = [*head, *sheet.fixed, *picture.shapes, *centres, *names]
    bar_top = below(shapes)
    shapes += scale_bar((MARGIN, bar_top), sheet.view.mm_per_metre, sheet.taste)
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


def _centres(sheet: Sheet) -> tuple[tuple[Shape, ...], tuple[Shape, ...]]:
    """Draw the centres of gravity that are known, and the names of their loading cases."""
    marks: list[Shape] = []
    names: list[Shape] = []
    # The larger disc first: where both nearly meet, the smaller one lies on it.
    for case in sorted(sheet.scene.loads, key=lambda case: -DISCS[case]):
        drawn = tuple(_centre(sheet, case))
        marks += drawn
        if drawn:
            names += _named(sheet, case, drawn, [shape.box for shape in (*marks, *names)])
    return tuple(marks), tuple(names)


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


def _named(
    sheet: Sheet, case: str, drawn: Sequence[Shape], taken: Sequence[Box]
) -> tuple[Shape, ...]:
    label, space = Label((case,), bold=True), overall(shape.box for shape in drawn)
    x = space.middle[0]
    spots = [(x, space.top), (x, space.bottom), space.middle]
    place = free_place(beside(label, spots), sheet.within, taken)
    return label.at(place.left, place.top) if place else ()
