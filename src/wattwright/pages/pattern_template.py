"""The template of a hole pattern at full size: holes, names, the x axis, and what to mind."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from wattwright.assessment import Assessment, shown
from wattwright.descriptions.patterns import HoleFound, OffsetFound, PatternFound
from wattwright.drawings.pattern import patterns_of
from wattwright.errors import UsageError
from wattwright.kinds import LENGTH
from wattwright.pages.templates import ADVICE
from wattwright.paper import Box, Point, around
from wattwright.paper.svg import text_width
from wattwright.paper.template import (
    CENTRE,
    DIRECTION,
    HOLES,
    WORDS,
    Arc,
    Circle,
    Line,
    Shape,
    Template,
    Words,
    arrow,
    millimetres,
)
from wattwright.units import Taste, read, write

_TALL, _SMALL, _NAME = 7.0, 4.0, 5.0
_PITCH = 1.35
_ARM, _RING, _GAP = 6.0, 4.0, 8.0
_AXIS = 12.0
_COLUMN = 6.0
# More would run past one sheet of paper.
_MOST_COLUMNS = 3
# Distances are written as closely as calipers tell them.
_CLOSE = read("0.05 mm", LENGTH).number


def patterns(assessment: Assessment) -> dict[str, PatternFound]:
    """List the patterns that have a template: all holes have places, some may be marked."""
    found = patterns_of(assessment)
    return {name: each for name, each in found.items() if each.placed and each.marked}


def pattern_template(name: str, assessment: Assessment, taste: Taste) -> Template:
    """Draw the template of a pattern. Raises UsageError where that cannot be."""
    known = patterns_of(assessment)
    if name not in known:
        raise UsageError(f"there is no pattern {name!r}; there are {', '.join(known) or 'none'}")
    found = known[name]
    if not found.placed:
        lacks = {lack for hole in found.holes.values() for lack in hole.x.lacks}
        asks = "; ".join(sorted(f"{lack.path} ({lack.how})" for lack in lacks))
        raise UsageError(f"the pattern {name} has no template yet; measure {asks or 'its holes'}")
    words = found.label or name.replace("_", " ")
    if not found.marked:
        raise UsageError(
            f"the pattern {name} has no template: every hole carries a fit, and no paper template "
            "locates one; they are bored by dimensions: draw the adaptor plate"
        )
    shapes = [*_drawn(found)]
    box = around(
        point
        for each in shapes
        for point in ((each.box.left, each.box.top), (each.box.right, each.box.bottom))
    )
    rows = [*_rows(words, found, taste)]
    shapes += _written(rows, found, box, taste)
    return Template(f"{words}: holes, seen from the {_side(found)}", tuple(shapes), ADVICE)


def place(hole: HoleFound) -> Point:
    """Return the place of a hole in millimetres."""
    return millimetres(hole.x.number or 0.0), millimetres(hole.y.number or 0.0)


def _side(found: PatternFound) -> str:
    return "back" if found.from_back else "front"


def _drawn(found: PatternFound) -> Iterator[Shape]:
    places = [place(hole) for hole in found.marked.values()]
    middle = (
        sum(x for x, _ in places) / len(places),
        sum(y for _, y in places) / len(places),
    )
    yield from _axis(found)
    for name, hole in found.marked.items():
        at, radius = place(hole), millimetres(hole.shown.number or 0.0) / 2
        if hole.shown.known:
            yield Circle(HOLES, at, radius)
        else:
            yield Circle(CENTRE, at, _RING)
        yield from _cross(at, max(radius, _RING) + _ARM)
        yield _name(name, at, max(radius, _RING), middle)
        met = found.fit.holes.get(name) if found.fit else None
        if met is not None and hole.shown.known:
            yield from _slot(at, radius, met)


def _cross(at: Point, arm: float) -> Iterator[Shape]:
    """Draw each arm from the centre outwards: no gap of the dashes lies on the punch mark."""
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        yield Line(CENTRE, at, (at[0] + dx * arm, at[1] + dy * arm))


def _name(name: str, at: Point, radius: float, middle: Point) -> Words:
    """Write a name beside its hole, on the side away from the others and clear of the cross."""
    right, up = at[0] >= middle[0], at[1] >= middle[1]
    aside = 0.8 * radius + 2.0
    x = at[0] + (aside if right else -aside)
    y = at[1] + (aside if up else -aside - 0.8 * _NAME)
    return Words(WORDS, (x, y), name.replace("_", " "), _NAME, "start" if right else "end")


def _axis(found: PatternFound) -> Iterator[Shape]:
    """Draw the x axis through both holes that make it, with an arrow at its end."""
    start, end = place(found.holes[found.zero]), place(found.holes[found.along])
    length = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    foot = (start[0] - 2 * _AXIS * ux, start[1] - 2 * _AXIS * uy)
    tip = (end[0] + 2 * _AXIS * ux, end[1] + 2 * _AXIS * uy)
    yield Line(CENTRE, foot, tip)
    yield from arrow(DIRECTION, tip, (tip[0] + _AXIS * ux, tip[1] + _AXIS * uy))
    turn = math.degrees(math.atan2(uy, ux))
    at = (tip[0] + 1.5 * uy, tip[1] - 1.5 * ux - _SMALL)
    yield Words(WORDS, at, "x axis", _SMALL, "start", turn if abs(turn) < 90.0 else 0.0)


def _slot(at: Point, radius: float, met: OffsetFound) -> Iterator[Shape]:
    """Draw the slot that a hole has to become, where the bolt would not go in otherwise."""
    longer = millimetres(met.slot.number or 0.0) - 2 * radius
    if longer <= 1e-6 or met.direction.number is None:
        return
    turn = met.direction.number
    ux, uy = math.cos(turn), math.sin(turn)
    end = (at[0] + longer * ux, at[1] + longer * uy)
    for side in (radius, -radius):
        yield Line(
            HOLES, (at[0] - side * uy, at[1] + side * ux), (end[0] - side * uy, end[1] + side * ux)
        )
    degrees = math.degrees(turn)
    yield Arc(HOLES, end, radius, degrees - 90.0, degrees + 90.0)


def _rows(words: str, found: PatternFound, taste: Taste) -> Iterator[tuple[str, float]]:
    """Say what it is, how well it is known, and what to mind, with the height of the letters."""
    yield words, _TALL
    mirrored = "mirrored: " if found.from_back else ""
    yield f"{mirrored}seen from the {_side(found)}; lay it on that face", _SMALL
    if found.suspects:
        yield f"DO NOT DRILL: {' or '.join(found.suspects)} does not agree", _NAME
    fits = [name for name, hole in found.holes.items() if hole.fit]
    if fits:
        yield f"LEFT OUT: {', '.join(fits)}. What carries a fit is bored by its dimensions", _NAME
        yield "and measured; no template and no centre punch locates it.", _NAME
    widest = max(found.marked.values(), key=lambda hole: hole.place.number or 0.0)
    yield f"centres as measured within {shown(widest.place, taste)}, 95 %", _SMALL
    slots = found.fit.holes if found.fit else {}
    for name, met in slots.items():
        hole = found.holes[name]
        if not hole.fit and (met.slot.number or 0.0) > (hole.shown.number or 0.0):
            yield f"hole {name}: slot {shown(met.slot, taste)} long", _SMALL
    yield "Hold a rule against both bars, then against these distances:", _SMALL


def _written(
    rows: Sequence[tuple[str, float]], found: PatternFound, box: Box, taste: Taste
) -> Iterator[Shape]:
    """Write the rows under the pattern, then the distances of the centres in columns."""
    down = box.top - _GAP
    for text, height in rows:
        down -= _PITCH * height
        yield Words(WORDS, (box.left, down), text, height)
    texts = [*_distances(found, taste)]
    wide = max((text_width(text, _SMALL) for text in texts), default=1.0) + _COLUMN
    columns = max(1, min(_MOST_COLUMNS, int((box.right - box.left) // wide)))
    for count, text in enumerate(texts):
        row, column = divmod(count, columns)
        at = (box.left + column * wide, down - (row + 1) * _PITCH * _SMALL)
        yield Words(WORDS, at, text, _SMALL)
    down -= math.ceil(len(texts) / columns) * _PITCH * _SMALL
    yield Words(WORDS, (box.left, down - 1.5 * _PITCH * _SMALL), ADVICE, _SMALL)


def _distances(found: PatternFound, taste: Taste) -> Iterator[str]:
    """Write the adjusted distance of every two holes that were measured."""
    pairs = dict.fromkeys(frozenset(reading.holes) for reading in found.readings)
    order = list(found.holes)
    for pair in pairs:
        first, second = sorted(pair, key=order.index)
        if not {first, second} <= found.marked.keys():
            continue
        one, two = found.holes[first], found.holes[second]
        apart = math.dist(
            (one.x.number or 0.0, one.y.number or 0.0), (two.x.number or 0.0, two.y.number or 0.0)
        )
        yield f"{first} to {second}: {write(apart, LENGTH, taste, _CLOSE).partition(' ± ')[0]}"
