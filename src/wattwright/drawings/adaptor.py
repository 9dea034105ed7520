"""The adaptor plate for the machinist: its face and section to scale, holes, datums, tolerances."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from wattwright.assessment import Assessment
from wattwright.build.coupling import Coupling
from wattwright.build.reader import Opened
from wattwright.descriptions.adaptor import AdaptorFound, PlateHole
from wattwright.descriptions.mounts import MountsDescription
from wattwright.drawings.adaptor_section import section
from wattwright.drawings.adaptor_words import notes, table, tags
from wattwright.paper import MARGIN, SMALLEST_TEXT, WIDE, Box, Point, View, around
from wattwright.paper.dimension import arrow, scale_bar
from wattwright.paper.svg import (
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    circle,
    free_place,
    heading,
    line,
    nothing_yet,
    path,
    text,
)
from wattwright.units import Taste

_NAME = "Adaptor plate"
_DESCRIBING = (
    "The plate between motor and gearbox for the machinist: its face from the motor's side, a "
    "section through datum B, and a table of all holes with size, depth and position tolerance."
)
_NOT_BEGUN = (
    "Write [coupling.adaptor]: the patterns of both faces, the feature that centres the motor, and "
    "how thick the plate is."
)
# The face takes the left of the paper, the section the rest.
_FACE = Box(MARGIN + 3.0, 0.0, 116.0, 102.0)
_OUTLINE, _FIT, _PLAIN, _FINE = Stroke(0.5), Stroke(0.6), Stroke(0.35), Stroke(0.2)
_HIDDEN = Stroke(0.25, (1.4, 0.9))
_AXIS = Stroke(0.2, (6.0, 1.2, 1.2, 1.2))
_SMALLEST = 0.5


def adaptor(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Draw the adaptor plate; all sizes in mm, as fits and gauges have them."""
    del taste
    described = assessment.descriptions.get(MountsDescription)
    own = opened.build.coupling
    if described is None or not own.adaptor.begun:
        return nothing_yet(_NAME, _DESCRIBING, _NOT_BEGUN, WIDE)
    found = described.adaptor
    title = own.adaptor.label or _NAME
    named = tags(found)
    top = heading(title, WIDE)
    picture = _picture(own, found, named, below(top, 2.0))
    listed = [*table(found, named, below([*top, *picture], 3.0))]
    rest = notes(opened.build, found, named, below([*top, *picture, *listed], 2.0))
    return Drawing(title, _DESCRIBING, (*top, *picture, *listed, *rest), WIDE)


def _placed(found: AdaptorFound) -> dict[str, PlateHole]:
    """List what has a place and a size."""
    return {
        name: hole
        for name, hole in found.holes.items()
        if hole.x.known and hole.y.known and hole.size.known
    }


def _at(hole: PlateHole) -> Point:
    return hole.x.number or 0.0, hole.y.number or 0.0


def _radius(hole: PlateHole) -> float:
    return (hole.size.number or 0.0) / 2


def _picture(
    own: Coupling, found: AdaptorFound, named: Mapping[str, str], top: float
) -> tuple[Shape, ...]:
    holes = _placed(found)
    rim = (own.adaptor.outside.number or 0.0) / 2
    if not holes and not rim:
        return ()
    reach = rim or max(math.hypot(*_at(each)) + 1.5 * _radius(each) for each in holes.values())
    high = (reach, reach)
    low = (-reach, -reach)
    view = View.of(low, high, Box(_FACE.left, top + 4.0, _FACE.right, top + _FACE.bottom))
    face = [*_axes(view, low, high), *_outline(view, rim), *_holes(holes, view)]
    words = [*_tagged(holes, named, view, rim)]
    beyond = around(point for shape in face for point in (shape.box.corners))
    bar = scale_bar((_FACE.left, beyond.bottom + 2.0), view.mm_per_metre)
    words += Label(("face A, seen", "from the motor"), SMALLEST_TEXT).at(MARGIN, top)
    side = section(own, found, holes, reach, view)
    return (*face, *words, *side, *bar)


def _axes(view: View, low: Point, high: Point) -> Iterator[Shape]:
    """Draw the axes that places are counted along, from datum B."""
    middle = view.at(0.0, 0.0)
    right, up = view.at(high[0], 0.0), view.at(0.0, high[1])
    yield line((view.at(low[0], 0.0)[0] - 2.0, middle[1]), right, _AXIS)
    yield line((middle[0], view.at(0.0, low[1])[1] + 2.0), up, _AXIS)
    tips = (right[0] + 6.0, right[1]), (up[0], up[1] - 3.5)
    yield from arrow(right, tips[0], _FINE)
    yield from arrow(up, tips[1], _FINE)
    yield text((tips[0][0] - 2.5, tips[0][1] - 1.6), "x", size=SMALLEST_TEXT, bold=True)
    yield text((tips[1][0] + 1.6, tips[1][1] + 2.4), "y", size=SMALLEST_TEXT, bold=True)


def _outline(view: View, rim: float) -> Iterator[Shape]:
    if rim:
        yield circle(view.at(0.0, 0.0), rim * view.mm_per_metre, _OUTLINE)


def _holes(holes: Mapping[str, PlateHole], view: View) -> Iterator[Shape]:
    """Draw every hole with its middle lines; what ends inside from the far face is dashed."""
    for hole in holes.values():
        at = view.at(*_at(hole))
        radius = max(_radius(hole) * view.mm_per_metre, _SMALLEST)
        hidden = hole.face == "gearbox" and hole.depth.known
        plain = _FIT if hole.cut == "fit" else _PLAIN
        yield circle(at, radius, _HIDDEN if hidden else plain)
        if hole.is_datum:
            continue
        arm = radius + 1.0
        yield line((at[0] - arm, at[1]), (at[0] + arm, at[1]), _FINE)
        yield line((at[0], at[1] - arm), (at[0], at[1] + arm), _FINE)
        crest = (hole.bolt.number or 0.0) / 2 * view.mm_per_metre
        if hole.cut == "thread" and crest > radius:
            yield path(_three_quarters(at, crest), _FINE)


def _three_quarters(at: Point, radius: float) -> list[Point]:
    """Return the thin arc of a thread as ISO 6410 has it."""
    turns = [math.radians(10.0 + 13.0 * step) for step in range(21)]
    return [(at[0] + radius * math.cos(turn), at[1] + radius * math.sin(turn)) for turn in turns]


def _rings(holes: Mapping[str, PlateHole], rim: float, view: View) -> Iterator[Sequence[Point]]:
    wide = [rim, *(_radius(hole) for hole in holes.values() if hole.centres)]
    for radius in wide:
        turns = [math.radians(7.5 * step) for step in range(49)]
        yield [view.at(radius * math.cos(a), radius * math.sin(a)) for a in turns]


def _tagged(
    holes: Mapping[str, PlateHole], named: Mapping[str, str], view: View, rim: float
) -> Iterator[Shape]:
    """Write the tag of every hole beside it, clear of holes, tags and rims."""
    taken, lines = [], []
    for hole in holes.values():
        x, y = view.at(*_at(hole))
        if not hole.centres:
            reach = max(_radius(hole), (hole.bolt.number or 0.0) / 2) * view.mm_per_metre
            taken.append(Box(x, y, x, y).grown(reach + 0.5))
    for ring in _rings(holes, rim, view):
        lines += [*pairwise(ring)]
    within = Box(MARGIN, 0.0, _FACE.right + 4.0, 1000.0)
    middle = view.at(0.0, 0.0)
    for name, hole in holes.items():
        label = Label((named[name],), SMALLEST_TEXT, bold=True)
        at = view.at(*_at(hole))
        reach = max(_radius(hole), (hole.bolt.number or 0.0) / 2) * view.mm_per_metre
        spots = _around(label, at, 1.0 if hole.centres else reach, _inward(hole, at, middle))
        box = free_place(spots, within, taken, lines)
        if box is not None:
            taken.append(box)
            yield from label.at(box.left, box.top)


def _inward(hole: PlateHole, at: Point, middle: Point) -> float:
    """Return the way to the middle of the plate; from there, the way between both axes."""
    if hole.centres:
        return -math.pi / 4
    return math.atan2(middle[1] - at[1], middle[0] - at[0])


def _around(label: Label, at: Point, reach: float, inward: float) -> Iterator[Box]:
    """Yield places for a tag around a hole, those towards the middle of the plate first."""
    for away in (1.6, 3.0, 5.0):
        for turn in (0.0, 0.6, -0.6, 1.2, -1.2, 1.8, -1.8, 2.5, -2.5, math.pi):
            across, down = math.cos(inward + turn), math.sin(inward + turn)
            x = at[0] + across * (reach + away + label.width / 2)
            y = at[1] + down * (reach + away + label.height / 2)
            yield label.box(x - label.width / 2, y - label.height / 2)
