"""The readings of the survey, to scale: what was taped to what, and how far each is off."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.assessment import Assessment, shown
from wattwright.build.reader import Opened
from wattwright.descriptions.mounts import MountsDescription, Residual, Surveyed
from wattwright.drawings.hanging import TOP, Side, chosen_side, ends, flat, laid_out, square
from wattwright.paper import MARGIN, NARROW, Box, Point, View
from wattwright.paper.crowd import tagged
from wattwright.paper.dimension import scale_bar
from wattwright.paper.svg import (
    PLAIN,
    Drawing,
    Label,
    Stroke,
    below,
    circle,
    heading,
    line,
    nothing_yet,
    wrapped,
)
from wattwright.paper.tags import Tagged, key
from wattwright.units import Taste, write

_NAME = "Survey readings"
_DESCRIBING = "Every distance and height that was read, with what it is off from all others."
_READ, _WRONG = Stroke(0.25), Stroke(0.9, (2.4, 1.2))
_PAIRS = ("distance", "across_floor", "slope")


def survey(opened: Opened, assessment: Assessment, taste: Taste, view: str = "plan") -> Drawing:
    """The readings of the survey, seen from a side."""
    del opened
    side = chosen_side(view)
    title = f"{_NAME}, {side.name}"
    seen = _seen(assessment)
    places = seen.in_vehicle if seen else {}
    spots = {
        name: spot for name, place in places.items() if (spot := flat(place, side)) is not None
    }
    if seen is None or not seen.residuals or len(spots) < 2:
        sentence = (
            "Measure between points of unit and vehicle and run wattwright adjust to see this."
        )
        return nothing_yet(title, _DESCRIBING, sentence, NARROW)
    floor = [(spot[0], 0.0) for spot in spots.values()] if side.up == "z" else []
    at = laid_out([*spots.values(), *floor])
    told = [each for each in seen.residuals if _line(each, spots, side) is not None]
    fixed = [*ends(side)]
    for each in told:
        start, end = (at.at(*point) for point in _line(each, spots, side) or ())
        fixed.append(line(start, end, _WRONG if _is_wrong(each) else _READ))
    for name, spot in spots.items():
        mark = at.at(*spot)
        fixed.append(circle(mark, 1.1, PLAIN, "paper") if seen.on_unit[name] else square(mark))
    room = Box(MARGIN, TOP, NARROW - MARGIN, below(fixed, 9.0))
    lettered = [*_points(spots, at)]
    numbered = [*_readings(told, spots, side, at, taste)]
    picture = tagged([*lettered, *numbered], room)
    shapes = [*heading(title), *fixed, *picture.shapes]
    shapes += scale_bar((MARGIN, below(shapes, 3.5)), at.mm_per_metre, taste)
    words = (
        "Squares: on the vehicle. Rings: on the unit. Thick and dashed: does not fit the others."
    )
    shapes += Label(wrapped(words, NARROW - 2 * MARGIN, most=3)).at(MARGIN, below(shapes, 1.5))
    shapes += key(lettered, below(shapes, 2.5))
    shapes += key(numbered, below(shapes, 2.5))
    return Drawing(title, _DESCRIBING, tuple(shapes))


def _seen(assessment: Assessment) -> Surveyed | None:
    found = assessment.descriptions.get(MountsDescription)
    return found.surveyed if found else None


def _line(each: Residual, spots: Mapping[str, Point], side: Side) -> tuple[Point, Point] | None:
    """Where a reading runs in this view; none where it is not seen in it."""
    ends_ = [spots.get(name) for name in each.points]
    if None in ends_ or not ends_:
        return None
    first = ends_[0] or (0.0, 0.0)
    if each.sort in _PAIRS:
        return first, ends_[1] or first
    if each.sort == "z" and side.up == "z":
        return first, (first[0], 0.0)
    return None


def _is_wrong(each: Residual) -> bool:
    off, most = each.residual.number, each.limit.number
    return each.aside or (off is not None and most is not None and abs(off) > most)


def _off(each: Residual, taste: Taste) -> str:
    """Write a residual no closer than it can be told."""
    number, closely = each.residual.number or 0.0, each.limit.number or each.reading.band
    return write(number, each.reading.kind, taste, closely).partition(" ± ")[0]


def _points(spots: Mapping[str, Point], view: View) -> Iterator[Tagged]:
    for count, (name, spot) in enumerate(spots.items()):
        mark = view.at(*spot)
        tag = chr(ord("A") + count % 26) * (1 + count // 26)
        yield Tagged(tag, name.replace("_", " "), Box(*mark, *mark), "point", name)


def _readings(
    told: list[Residual],
    spots: Mapping[str, Point],
    side: Side,
    view: View,
    taste: Taste,
) -> Iterator[Tagged]:
    for count, each in enumerate(told, start=1):
        run = _line(each, spots, side)
        if run is None:
            continue
        (ax, ay), (bx, by) = (view.at(*point) for point in run)
        # Not in the middle, where lines between the same few points all cross.
        share = 0.35 + 0.1 * (count % 4)
        mark = (ax + share * (bx - ax), ay + share * (by - ay))
        words = f"{shown(each.reading, taste, band=False)}, off {_off(each, taste)}"
        if _is_wrong(each):
            words += ": does not fit"
        yield Tagged(str(count), words, Box(*mark, *mark), "reading", each.name)
