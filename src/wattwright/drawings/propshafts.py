"""Propshafts: what shakes over road speed, and the line to scale from the side and from above."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wattwright.assessment import Assessment, shown
from wattwright.build.propshafts import Propshaft
from wattwright.build.reader import Opened
from wattwright.descriptions.mounts import MountsDescription
from wattwright.descriptions.propshafts import Line as ShaftLine
from wattwright.descriptions.propshafts import PropshaftFound, PropshaftsFound
from wattwright.drawings.hanging import TALLEST
from wattwright.errors import UsageError
from wattwright.kinds import ANGULAR_ACCELERATION, SPEED
from wattwright.paper import MARGIN, NARROW, Axis, Box, Point, View
from wattwright.paper.chart import Chart, Line, Reference, draw
from wattwright.paper.dimension import scale_bar
from wattwright.paper.svg import (
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    circle,
    heading,
    line,
    nothing_yet,
    path,
    text,
    wrapped,
)
from wattwright.units import Taste

_NAME = "Propshaft"
_DESCRIBING = (
    "The line of shafts to scale, from the side at ride height, on the bump stops and with the "
    "wheels hanging, and from above; the angle of every joint at each of them."
)
_MISSING = "Measure rise, turn and length of every axis of the propshaft to see this."
# Before the first joint and behind the last one so much of gearbox and axle is drawn, in metres.
_STUB = 0.22
_STEADY = Stroke(0.7)
_LOOKS = {"ride": _STEADY, "bump": Stroke(0.35, (1.6, 0.9)), "droop": Stroke(0.35, (5.0, 1.4))}
_PANELS = (
    ("front; seen from the left side", "side"),
    ("front; seen from above, right side at the top", "plan"),
)
_SAID = {
    "ride": "at ride height",
    "laden": "laden",
    "bump": "on the bump stops",
    "droop": "wheels hanging",
    "pulling": "wound up",
}


def shaft_excitation(opened: Opened, assessment: Assessment, taste: Taste) -> Drawing:
    """Excitation of every propshaft over road speed, against the limits."""
    seen = _seen(assessment)
    records = opened.build.propshaft
    lines = [each for name in records for each in _curves(name, seen)] if seen else []
    top = opened.build.targets.top_speed.number
    chart = Chart(
        "What the joints shake",
        "Angular acceleration twice a turn, at ride height: of all joints together at the axle, "
        "and of the shaft that is worst off.",
        Axis("speed", SPEED, low=0.0),
        Axis("excitation", ANGULAR_ACCELERATION, low=0.0),
        tuple(lines),
        references=tuple(_limits(records, top)) if lines else (),
        empty="Give top speed, final drive, tyres, and rise and turn of every axis, to see this.",
        height=100.0,
    )
    return draw(chart, taste)


def _curves(name: str, seen: PropshaftsFound) -> Iterator[Line]:
    found = seen.to_draw().get(name)
    if found is None:
        return
    called = name.replace("_", " ")
    if found.torsion:
        yield Line(f"{called}: all joints", found.torsion)
    if found.inertia:
        yield Line(f"{called}: shaft", found.inertia, heavy=False)


def _limits(records: Mapping[str, Propshaft], top: float | None) -> Iterator[Reference]:
    """The limits, once each; the lowest where propshafts have several."""
    for word, field in (("all joints:", "torsion_limit"), ("shaft:", "inertia_limit")):
        numbers = [getattr(each, field).number for each in records.values()]
        known = [number for number in numbers if number is not None]
        if known:
            yield Reference(f"most, {word}", min(known))
    if top is not None:
        yield Reference("wanted:", top, "x")


def _seen(assessment: Assessment) -> PropshaftsFound | None:
    found = assessment.descriptions.get(MountsDescription)
    return found.propshafts if found else None


def shaft_line(opened: Opened, assessment: Assessment, taste: Taste, name: str = "") -> Drawing:
    """One propshaft to scale, from the side and from above."""
    seen = _seen(assessment)
    found = seen.found if seen else {}
    if name and name not in found:
        there = ", ".join(found) or "none yet"
        raise UsageError(f"there is no propshaft {name!r}; there are {there}")
    name = name or next(iter(found), "")
    record = opened.build.propshaft.get(name)
    title = f"{_NAME} {name.replace('_', ' ')}" if record else _NAME
    if record is None or not (drawn := _drawn(found[name])):
        return nothing_yet(title, _DESCRIBING, _MISSING, NARROW)
    shapes = [*heading(title)]
    foot, view = below(shapes, 3.0), None
    for words, panel in _PANELS:
        lines = [each for each in drawn if panel == "side" or each.height == "ride"]
        view = _view([getattr(each, panel) for each in lines], foot + 6.0, view)
        shapes += [
            text((MARGIN, foot + 1.5), words),
            text((NARROW - MARGIN, foot + 1.5), "rear", anchor="end"),
        ]
        placed = {each.height: [view.at(*at) for at in getattr(each, panel)] for each in lines}
        for height, points in placed.items():
            shapes += _panel(points, height)
        shapes += _numbers(list(placed.values()))
        foot = below(shapes, 6.0)
    if view is not None:
        shapes += scale_bar((MARGIN, below(shapes, 3.5)), view.mm_per_metre, taste)
    for words in _words(record, found[name], taste):
        shapes += Label(wrapped(words, NARROW - 2 * MARGIN, most=5)).at(MARGIN, below(shapes, 1.5))
    return Drawing(title, _DESCRIBING, tuple(shapes))


@dataclass(frozen=True, slots=True)
class _Drawn:
    """Ends and joints of a line at one height, in metres: from the side, and from above."""

    height: str
    side: tuple[Point, ...]
    plan: tuple[Point, ...]


def _drawn(found: PropshaftFound) -> list[_Drawn]:
    """Every height that is known, the one at rest on top; none where that is not."""
    lines = {height: _points(found, found.lines[height]) for height in _LOOKS}
    if lines["ride"] is None:
        return []
    return [
        _Drawn(height, *points) for height, points in reversed(lines.items()) if points is not None
    ]


def _points(
    found: PropshaftFound, at: ShaftLine
) -> tuple[tuple[Point, ...], tuple[Point, ...]] | None:
    """Follow the line from a stub of the first axis to a stub of the last."""
    side, plan = [(0.0, 0.0)], [(0.0, 0.0)]
    names, shafts = list(at.axes), list(found.lengths)
    for name in names:
        way, length = at.axes[name], _STUB
        if name in found.lengths:
            whole, longer = found.lengths[name].number, at.change.number
            if whole is None or longer is None:
                return None
            length = whole + (longer if name == shafts[-1] else 0.0)
        rise, turn = way.rise.number, way.turn.number
        if rise is None or turn is None:
            return None
        along = length * math.cos(rise)
        side.append((side[-1][0] + along * math.cos(turn), side[-1][1] + length * math.sin(rise)))
        plan.append((side[-1][0], plan[-1][1] + along * math.sin(turn)))
    return tuple(side), tuple(plan)


def _view(lines: Sequence[Sequence[Point]], top: float, like: View | None) -> View:
    """Lay out a panel below ``top``, to the scale of the one before."""
    every = [point for points in lines for point in points]
    (left, right), (low, high) = ((min(a), max(a)) for a in zip(*every, strict=True))
    room = NARROW - 2 * (MARGIN + 3.0)
    scale = like.mm_per_metre if like else min(room / (right - left), TALLEST / (high - low + 0.1))
    box = Box(MARGIN + 3.0, top + 3.0, NARROW - MARGIN - 3.0, top + 3.0 + (high - low) * scale)
    place = like.left if like else box.left - left * scale
    return View(place, box.bottom + low * scale, scale)


def _panel(points: Sequence[Point], height: str) -> Iterator[Shape]:
    look = _LOOKS[height]
    yield path(points, look)
    for end, inner in ((points[0], points[1]), (points[-1], points[-2])):
        yield from _cut(end, inner, look)
    yield from (circle(joint, 1.3, look, "paper") for joint in points[1:-1])


def _numbers(lines: Sequence[Sequence[Point]]) -> Iterator[Shape]:
    """Number the joints, each above the highest place it comes to."""
    for count in range(1, len(lines[-1]) - 1):
        across, at = lines[-1][count][0], min(points[count][1] for points in lines)
        yield text((across, at - 2.8), str(count), anchor="middle", bold=True)


def _cut(end: Point, inner: Point, look: Stroke) -> Iterator[Shape]:
    """A stroke across an end: gearbox and axle go on."""
    long = math.dist(end, inner)
    across = ((inner[1] - end[1]) / long, (end[0] - inner[0]) / long)
    first, second = (
        (end[0] + way * 2.2 * across[0], end[1] + way * 2.2 * across[1]) for way in (-1.0, 1.0)
    )
    yield line(first, second, look)


def _words(record: Propshaft, found: PropshaftFound, taste: Taste) -> Iterator[str]:
    yield "Solid: at ride height. Short dashes: on the bump stops. Long dashes: wheels hanging."
    for count in range(1, len(record.axes)):
        parts = [
            f"{shown(each.angles[count - 1], taste)} {_SAID[height]}"
            for height, each in found.lines.items()
            if each.angles[count - 1].known
        ]
        yield f"Joint {count}: {', '.join(parts)}."
    yield "All joints together: " + ", ".join(
        f"{shown(each.residual, taste)} {_SAID[height]}"
        for height, each in found.lines.items()
        if each.residual.known
    )
