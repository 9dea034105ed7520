"""Templates of the build at full size: the outline of a part from above, and bars to check by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wattwright.assessment import shown
from wattwright.build.parts import Part
from wattwright.build.reader import Opened
from wattwright.errors import UsageError
from wattwright.paper import Point
from wattwright.paper.svg import text_width
from wattwright.paper.template import (
    CENTRE,
    CHECK_BARS,
    DIRECTION,
    OUTLINE,
    WORDS,
    Line,
    Shape,
    Template,
    Words,
    arrow,
    check_bar,
    cross,
    millimetres,
    rectangle,
)
from wattwright.units import Taste
from wattwright.values import Value

TEMPLATE = "template"
CHECK = "check"
# Before the name of a hole pattern; no part has a dot in its name.
PATTERN = "pattern."
ADVICE = "A paper template never locates a shaft or a fit."
_MEASURED = ("size.length", "size.width", "at.x", "at.y")
_SIDES: Mapping[str, tuple[str, str]] = {
    "x": ("behind the front axle", "ahead of the front axle"),
    "y": ("right of the middle line", "left of the middle line"),
}
_TALL, _SMALL = 7.0, 4.0
_ARM = 5.0
_RING = 4.0
_GAP = 6.0
_PITCH = 1.35
_REACH = 40.0


def parts(opened: Opened) -> dict[str, Part]:
    """List the parts that have a template: planned ones whose size and place are known."""
    return {
        name: part
        for name, part in opened.build.part.items()
        if part.state != "removed" and not _lacking(part)
    }


def template(about: str, opened: Opened, taste: Taste) -> Template:
    """Draw the template of a part, or ``check``. Raises UsageError where that cannot be."""
    known = opened.build.part
    if about == CHECK and CHECK not in known:
        return check()
    if about not in known or known[about].state == "removed":
        patterns = (f"{PATTERN}{name}" for name in opened.build.pattern)
        there = ", ".join([CHECK, *parts(opened), *patterns])
        raise UsageError(f"there is no template {about!r}; there are {there}")
    if lacking := _lacking(known[about]):
        asks = "; ".join(
            f"part.{about}.{field}" + (f" ({how})" if how else "") for field, how in lacking.items()
        )
        raise UsageError(f"{about} has no template yet; measure {asks}")
    return of_part(about, known[about], taste)


def _lacking(part: Part) -> dict[str, str]:
    """Fields that a template needs and that are not known, with how to measure them."""
    values = {field: _field(part, field) for field in _MEASURED}
    return {
        field: value.lacks[0].how if value.lacks else ""
        for field, value in values.items()
        if not value.known
    }


def _field(part: Part, field: str) -> Value:
    record, _, name = field.partition(".")
    value: Value = getattr(getattr(part, record), name)
    return value


def of_part(name: str, part: Part, taste: Taste) -> Template:
    """Draw a part from above, at full size, its nose to the left as in the plan view."""
    long, wide = (millimetres(value.number or 0.0) for value in (part.size.length, part.size.width))
    words = name.replace("_", " ")
    rows = [*_rows(words, part, taste)]
    shapes: list[Shape] = [
        rectangle(OUTLINE, (-long / 2, -wide / 2), (long / 2, wide / 2)),
        *_middle(long, wide),
        *_noted(rows, long, wide),
    ]
    return Template(f"{words}, from above", tuple(shapes), ADVICE)


def _middle(long: float, wide: float) -> Iterator[Shape]:
    """Draw the middle lines over the edges, so that they can be carried on to the floor."""
    yield Line(CENTRE, (-long / 2 - _ARM, 0.0), (long / 2 + _ARM, 0.0))
    yield Line(CENTRE, (0.0, -wide / 2 - _ARM), (0.0, wide / 2 + _ARM))
    yield from cross((0.0, 0.0), 2 * _RING, _RING)


def _noted(rows: Sequence[tuple[str, float]], long: float, wide: float) -> Iterator[Shape]:
    """Write the words and draw the arrows: inside the outline if there is room, else below it."""
    across = max(text_width(text, height) for text, height in rows)
    down = sum(_PITCH * height for _, height in rows)
    if across + 2 * _GAP < long / 2 and down + 2 * _GAP < wide / 2 and long / 2 > _REACH:
        yield from _written(rows, (-long / 2 + _GAP, -_GAP))
        yield from _directions((long / 4, wide / 4))
        return
    top = -wide / 2 - _ARM - _GAP
    left = min(-long / 2, -across / 2)
    yield from _written(rows, (left, top))
    yield from _directions((left + _REACH / 2, top - down - _REACH / 2))


def _written(rows: Sequence[tuple[str, float]], corner: Point) -> Iterator[Shape]:
    left, down = corner
    for text, height in rows:
        down -= _PITCH * height
        yield Words(WORDS, (left, down), text, height)


def _directions(middle: Point) -> Iterator[Shape]:
    """Draw arrows to the front and to the right side of the vehicle, about a point."""
    x, y = middle
    foot = (x + _REACH / 2, y - _REACH / 4)
    yield from arrow(DIRECTION, foot, (foot[0] - _REACH, foot[1]))
    yield from arrow(DIRECTION, foot, (foot[0], foot[1] + _REACH / 2))
    yield Words(WORDS, (x - _REACH / 2, foot[1] + 3.5), "front", _SMALL)
    yield Words(WORDS, (foot[0] - 2.0, foot[1] + _REACH / 2), "right side", _SMALL, "end")


def _rows(words: str, part: Part, taste: Taste) -> Iterator[tuple[str, float]]:
    """Say what it is, how large, and where it goes, each with the height of its letters."""
    yield words, _TALL
    size = " × ".join(shown(each, taste) for each in (part.size.length, part.size.width))
    yield f"{size}, from above", _SMALL
    yield from _place(part, taste)
    if (part.count.number or 1.0) > 1.0:
        count = shown(part.count, taste, band=False)
        yield f"one of {count}; the place is the middle of all", _SMALL
    yield ADVICE, _SMALL


def _place(part: Part, taste: Taste) -> Iterator[tuple[str, float]]:
    """Say where the cross comes to lie."""
    for axis, value in (("x", part.at.x), ("y", part.at.y)):
        number = value.number or 0.0
        words = shown(value, taste).removeprefix("-")
        yield f"middle {words} {_SIDES[axis][number < 0.0]}", _SMALL


def check() -> Template:
    """Draw bars alone, along both edges, to test a printer with."""
    shapes: list[Shape] = []
    for count, bar in enumerate(CHECK_BARS):
        shapes += check_bar((0.0, 7.0 * count), bar)
        shapes += check_bar((-7.0 * (count + 1), 14.0), bar, upright=True)
    rows = (
        "Hold a steel rule against every bar, also",
        "those at the edges of the sheet. From outer",
        "edge to outer edge they must be as long as",
        "they say. If not: print at 100 % (actual",
        "size), not fitted to the page.",
    )
    for count, text in enumerate(rows):
        shapes.append(Words(WORDS, (8.0, 100.0 - 6.5 * count), text, _SMALL))
    return Template("check of the printer", tuple(shapes), ADVICE)
