"""The section of the adaptor plate through datum B: thickness, datums, tolerances of the faces."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from wattwright.build.adaptor import Adaptor
from wattwright.build.coupling import Coupling
from wattwright.descriptions.adaptor import AdaptorFound, PlateHole
from wattwright.drawings.adaptor_words import class_words, missing, tolerance
from wattwright.paper import SMALLEST_TEXT, WIDE, Point, View
from wattwright.paper.dimension import arrow_head, hatched
from wattwright.paper.svg import Label, Shape, Stroke, line, path, text, text_width, wrapped
from wattwright.paper.template import millimetres
from wattwright.paper.tolerance_frame import FRAME, datum, frame
from wattwright.values import Value

_LEFT = 141.0
# How wide the plate is drawn while nobody knows, in mm of paper.
_UNKNOWN = 6.0
_EDGE, _FINE = Stroke(0.5), Stroke(0.2)
_AXIS = Stroke(0.2, (6.0, 1.2, 1.2, 1.2))


@dataclass(frozen=True, slots=True)
class _Plate:
    """The section on the paper, in mm: both faces, its middle, and how far the rim is from that.

    Without a rim that is known the section is left open there.
    """

    left: float
    right: float
    middle: float
    rim: float
    closed: bool

    def level(self, share: float) -> float:
        """Height so far up from the middle, as a share of the way to the rim."""
        return self.middle - share * self.rim


def section(
    own: Coupling,
    found: AdaptorFound,
    holes: Mapping[str, PlateHole],
    reach: float,
    view: View,
) -> Iterator[Shape]:
    """Draw the section beside the face, to the same scale, the motor's face to the left."""
    scale, plate = view.mm_per_metre, own.faces.plate
    wide = plate.number * scale if plate.number else _UNKNOWN
    closed = own.adaptor.outside.known
    at = _Plate(_LEFT, _LEFT + wide, view.at(0.0, 0.0)[1], reach * scale, closed)
    centred = [each for each in holes.values() if each.centres and not each.stands]
    steps = _steps(centred, at, scale)
    yield from _halves(at, steps)
    yield from _spigots(holes.values(), at, steps, scale)
    yield line((at.left - 4.0, at.middle), (at.right + 4.0, at.middle), _AXIS)
    yield text((at.left - 1.0, at.level(1.0) - 1.5), "motor", anchor="end", size=SMALLEST_TEXT)
    yield text((at.right + 1.0, at.level(1.0) - 1.5), "gearbox", size=SMALLEST_TEXT)
    yield from _thickness(at, plate)
    yield from _faces(own.adaptor, found, at)
    for hole in holes.values():
        if hole.is_datum:
            yield from _datum(hole, at, scale)


def _steps(centred: Iterable[PlateHole], at: _Plate, scale: float) -> list[tuple[float, float]]:
    """Return the bore as steps: where each begins, from the motor's face, and its radius."""
    spans = []
    for hole in centred:
        deep = (hole.depth.number or 0.0) * scale
        if hole.depth.absent:
            span = (at.left, at.right)
        elif hole.face == "motor":
            span = (at.left, min(at.left + deep, at.right))
        else:
            span = (max(at.right - deep, at.left), at.right)
        spans.append((*span, (hole.size.number or 0.0) / 2 * scale))
    marks = sorted({at.left, at.right, *(end for start, stop, _ in spans for end in (start, stop))})
    return [
        (start, max((r for a, b, r in spans if a <= start and b >= stop), default=0.0))
        for start, stop in pairwise(marks)
    ]


def _halves(at: _Plate, steps: list[tuple[float, float]]) -> Iterator[Shape]:
    """Draw what is cut, above and below the axis, hatched, and the rims of the bore behind it."""
    ends = [*(start for start, _ in steps[1:]), at.right]
    for side in (-1.0, 1.0):
        bore: list[Point] = []
        for (start, radius), stop in zip(steps, ends, strict=True):
            bore += [(start, at.middle + side * radius), (stop, at.middle + side * radius)]
        outer = at.middle + side * at.rim
        outline = [(at.left, outer), *bore, (at.right, outer)]
        yield from hatched(outline, stroke=_FINE)
        rim = [(outline[-1], outline[0])] if at.closed else []
        for first, last in (*pairwise(outline), *rim):
            # Where there is no bore, both halves are one.
            if first[1] != at.middle or last[1] != at.middle:
                yield line(first, last, _EDGE)
    for place, radius in [*steps, (at.right, steps[-1][1])]:
        if radius:
            yield line((place, at.middle - radius), (place, at.middle + radius), _FINE)


def _spigots(
    holes: Iterable[PlateHole], at: _Plate, steps: list[tuple[float, float]], scale: float
) -> Iterator[Shape]:
    """Draw spigots that stand on a face, as high as they are."""
    for hole in holes:
        if not (hole.stands and hole.centres and hole.depth.known):
            continue
        high, radius = (hole.depth.number or 0.0) * scale, (hole.size.number or 0.0) / 2 * scale
        face, out = (at.left, -high) if hole.face == "motor" else (at.right, high)
        inner = steps[0][1] if hole.face == "motor" else steps[-1][1]
        for side in (-1.0, 1.0):
            outline = [
                (face, at.middle + side * inner),
                (face, at.middle + side * radius),
                (face + out, at.middle + side * radius),
                (face + out, at.middle + side * inner),
            ]
            yield from hatched(outline, stroke=_FINE)
            yield path(outline[1:] if inner == 0.0 else outline, _EDGE, closed=False)


def _thickness(at: _Plate, plate: Value) -> Iterator[Shape]:
    foot = at.level(-1.0)
    if plate.number is not None:
        level = foot + 5.0
        for edge, out in ((at.left, -7.0), (at.right, 7.0)):
            yield line((edge, foot + 1.0), (edge, level + 1.5), _FINE)
            yield from _pointing((edge + out, level), (edge, level))
        thick = f"{millimetres(plate.number):.2f}".rstrip("0").rstrip(".")
        middle = (at.left + at.right) / 2
        yield text((middle, level + 5.0), thick, anchor="middle", size=SMALLEST_TEXT)
        return
    words = f"thickness {missing(plate)}"
    rows = wrapped(words, WIDE - at.left + 15.0, SMALLEST_TEXT, most=4)
    yield from Label(rows, SMALLEST_TEXT).at(at.left - 18.0, foot + 2.0)


def _faces(own: Adaptor, found: AdaptorFound, at: _Plate) -> Iterator[Shape]:
    """Draw datum A and the tolerances of both faces."""
    level = at.level(0.6)
    yield from datum((at.left, level), (at.left - 8.0, level), "A")
    words = tolerance(own.flatness)
    level = at.level(0.85)
    wide = FRAME + max(text_width(words, SMALLEST_TEXT) + 1.2, FRAME * 0.9)
    left = at.left - 5.0 - wide
    yield from frame(left, level - FRAME / 2, "flatness", (words,))
    yield from _pointing((left + wide, level), (at.left, level))
    if found.parallelism.absent:
        return
    left = at.right + 4.5
    if tolerance(found.parallelism)[:1].isdigit():
        yield from frame(
            left, level - FRAME / 2, "parallelism", (tolerance(found.parallelism), "A")
        )
        yield from _pointing((left, level), (at.right, level))
        over = f"over Ø{millimetres(found.across.number or 0.0):.0f}"
        yield text((left, level + FRAME / 2 + 3.4), over, size=SMALLEST_TEXT)
        return
    words = f"parallelism to A: {tolerance(found.parallelism)}"
    rows = wrapped(words, WIDE - 3.0 - left, SMALLEST_TEXT, most=6)
    yield from Label(rows, SMALLEST_TEXT).at(left, level)


def _pointing(start: Point, tip: Point) -> Iterator[Shape]:
    yield line(start, tip, _FINE)
    yield arrow_head(tip, 0.0 if tip[0] > start[0] else math.pi)


def _datum(hole: PlateHole, at: _Plate, scale: float) -> Iterator[Shape]:
    """Draw the diameter of the datum's bore or spigot, and datum B in line with that."""
    radius = (hole.size.number or 0.0) / 2 * scale
    x = at.left - 6.0
    for side in (-1.0, 1.0):
        level = at.middle + side * radius
        yield line((at.left, level), (x - 1.5, level), _FINE)
    yield from _upright((x, at.middle - radius), (x, at.middle + radius))
    foot = at.middle + radius
    yield from datum((x, foot), (x, foot + 8.0), "B")
    words = class_words(hole)
    yield text((x - 1.2, at.middle + 5.0), words, anchor="end", size=SMALLEST_TEXT)


def _upright(top: Point, foot: Point) -> Iterator[Shape]:
    quarter = math.pi / 2
    yield line(top, foot, _FINE)
    yield arrow_head(top, -quarter)
    yield arrow_head(foot, quarter)
