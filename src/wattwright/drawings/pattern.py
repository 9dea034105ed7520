"""A hole pattern to scale: holes, what was measured between them, and what does not agree."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from wattwright.assessment import Assessment, shown
from wattwright.build.reader import Opened
from wattwright.descriptions.mounts import MountsDescription
from wattwright.descriptions.patterns import HoleFound, PatternFound, ReadingFound
from wattwright.errors import UsageError
from wattwright.kinds import POSITION
from wattwright.paper import MARGIN, SMALLEST_TEXT, TEXT, WIDE, Box, Point, View, between
from wattwright.paper.dimension import arrow
from wattwright.paper.svg import (
    PLAIN,
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    beside,
    circle,
    fitted,
    free_place,
    heading,
    line,
    nothing_yet,
    path,
    text,
    wrapped,
)
from wattwright.units import Taste, read, write

_NAME = "Hole pattern"
_DESCRIBING = (
    "Holes at their places, the distances measured between them as lines with what each differs "
    "from the adjusted pattern, and the holes of the pattern it has to fit."
)
_NOT_BEGUN = "Name holes under [pattern.NAME.hole] and measure the distances between them."
_TALL = 120.0
_MEASURED = Stroke(0.2)
_SUSPECT = Stroke(0.9, (3.0, 1.2))
_OTHER = Stroke(0.35, (1.4, 0.9))
_AXIS = Stroke(0.25, (6.0, 1.2, 1.2, 1.2))
_SLOT = Stroke(0.7)
_HEAD_ROOM = 9.0
# How a reading of edges is told from one of centres.
_EDGES = {"inside": " web", "outside": " over"}
# Where along a line its number may stand, the best first.
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
_FINEST = read("0.01 mm", POSITION).number
# Where the columns of both lists begin.
_HOLE_COLUMNS = (0.0, 14.0, 40.0, 66.0)
_READING_COLUMNS = (90.0, 111.0, 140.0)
_FIT_COLUMNS = (0.0, 14.0, 58.0, 102.0)
# The longest offset is drawn about as long as this, in mm.
_LONGEST = 14.0


def patterns_of(assessment: Assessment) -> Mapping[str, PatternFound]:
    """List the hole patterns of an assessment by name; none where the area has not begun."""
    found = assessment.descriptions.get(MountsDescription)
    return found.patterns if found else {}


def pattern(opened: Opened, assessment: Assessment, taste: Taste, about: str = "") -> Drawing:
    """Draw one hole pattern, the first where none is named."""
    known = patterns_of(assessment)
    if about and about not in known:
        there = ", ".join(known) or "none"
        raise UsageError(f"there is no pattern {about!r}; there are {there}")
    del opened
    name = about or next(iter(known), "")
    if not name or not known[name].holes:
        return nothing_yet(_NAME, _DESCRIBING, _NOT_BEGUN, WIDE)
    found = known[name]
    title = found.label or f"Hole pattern {name.replace('_', ' ')}"
    if not found.placed:
        lacks = {lack.path: lack for hole in found.holes.values() for lack in hole.x.lacks}
        words = f"Measure {', '.join(sorted(lacks))}: until then a hole is free to move."
        return nothing_yet(title, _DESCRIBING, words, WIDE)
    top = heading(title, WIDE)
    picture = _picture(found, below(top, _HEAD_ROOM), taste)
    return Drawing(title, _DESCRIBING, (*top, *picture, *_listed(found, picture, taste)), WIDE)


def _at(hole: HoleFound) -> Point:
    return hole.x.number or 0.0, hole.y.number or 0.0


def _picture(found: PatternFound, top: float, taste: Taste) -> tuple[Shape, ...]:
    """Draw all that is to scale, and the words that stand in it."""
    view = _view(found, top)
    lines = [*_lines(found, view)]
    holes = [*_holes(found, view)]
    offsets = [*_offsets(found, view)]
    axis = [*_axis(found, view)]
    taken = [shape.box for shape in holes]
    names = [*_names(found, view)]
    taken += [shape.box for shape in (*names, *offsets)]
    words = [*_residuals(found, view, taken, taste)]
    scale = _scale_words(found, view)
    foot = below([*lines, *holes, *names, *words, *offsets, *axis], 1.0)
    return (*axis, *lines, *holes, *offsets, *names, *words, *Label(scale).at(MARGIN, foot))


def _view(found: PatternFound, top: float) -> View:
    """Choose the scale so that holes, names and axis have room."""
    reach = max((hole.diameter.number or 0.0) for hole in found.holes.values()) / 2
    there = [_at(hole) for hole in found.holes.values()]
    for name, met in (found.fit.holes if found.fit else {}).items():
        x, y = _at(found.holes[name])
        there.append((x - (met.x.number or 0.0), y - (met.y.number or 0.0)))
    xs, ys = zip(*there, strict=True)
    low = (min(xs) - reach, min(ys) - reach)
    high = (max(xs) + reach + 1e-6, max(ys) + reach + 1e-6)
    inner = Box(MARGIN + 16.0, top + 4.0, WIDE - MARGIN - 16.0, top + _TALL)
    view = View.of(low, high, inner)
    # What is flat needs no height: the picture moves up to the words above it.
    spare = inner.height - (high[1] - low[1]) * view.mm_per_metre
    return View(view.left, view.bottom - max(spare, 0.0), view.mm_per_metre)


def _axis(found: PatternFound, view: View) -> Iterator[Shape]:
    start, end = (view.at(*_at(found.holes[name])) for name in (found.zero, found.along))
    length = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    tip = (end[0] + 9.0 * ux, end[1] + 9.0 * uy)
    yield line((start[0] - 6.0 * ux, start[1] - 6.0 * uy), end, _AXIS)
    yield from arrow(end, tip)
    yield text((tip[0] + 1.5 * ux, tip[1] + 1.5 * uy + 0.3 * TEXT), "x", bold=True)


def _lines(found: PatternFound, view: View) -> Iterator[Shape]:
    for reading in found.readings:
        yield line(*_ends(found, view, reading), _SUSPECT if reading.suspect else _MEASURED)


def _ends(found: PatternFound, view: View, reading: ReadingFound) -> tuple[Point, Point]:
    first, second = (found.holes[name] for name in reading.holes)
    return view.at(*_at(first)), view.at(*_at(second))


def _holes(found: PatternFound, view: View) -> Iterator[Shape]:
    for name, hole in found.holes.items():
        at = view.at(*_at(hole))
        radius = max((hole.diameter.number or 0.0) / 2 * view.mm_per_metre, 0.8)
        yield circle(at, radius, PLAIN, "paper")
        arm = radius + 1.2
        yield line((at[0] - arm, at[1]), (at[0] + arm, at[1]), _MEASURED)
        yield line((at[0], at[1] - arm), (at[0], at[1] + arm), _MEASURED)
        met = found.fit.holes.get(name) if found.fit else None
        longer = (met.slot.number or 0.0) - (hole.diameter.number or 0.0) if met else 0.0
        if met is not None and longer > 1e-6 and met.direction.number is not None:
            yield _slot(at, radius, longer * view.mm_per_metre, met.direction.number)


def _slot(at: Point, radius: float, longer: float, turn: float) -> Shape:
    """Outline a hole that has grown towards where the bolt is."""
    end = (at[0] + longer * math.cos(turn), at[1] - longer * math.sin(turn))
    rim = []
    for centre, first in ((at, 90.0), (end, -90.0)):
        for step in range(13):
            angle = turn + math.radians(first + 15.0 * step)
            rim.append((centre[0] + radius * math.cos(angle), centre[1] - radius * math.sin(angle)))
    return path(rim, _SLOT, closed=True)


def _offsets(found: PatternFound, view: View) -> Iterator[Shape]:
    """Draw the holes to be met, and from there to these the offsets, many times as long."""
    if found.fit is None:
        return
    times = _times(found, view)
    for name, met in found.fit.holes.items():
        hole = found.holes[name]
        (x, y), dx, dy = _at(hole), met.x.number or 0.0, met.y.number or 0.0
        radius = max((hole.diameter.number or 0.0) / 2 * view.mm_per_metre, 0.8)
        yield circle(view.at(x - dx, y - dy), radius + 0.8, _OTHER)
        start, tip = view.at(x, y), view.at(x - times * dx, y - times * dy)
        if math.dist(start, tip) > 3.5:
            yield from arrow(start, tip, Stroke(0.6))


def _times(found: PatternFound, view: View) -> float:
    """Choose how many times as long the offsets are drawn: 1, 2 or 5 and noughts behind."""
    offsets = [met.offset.number or 0.0 for met in (found.fit.holes if found.fit else {}).values()]
    longest = max(offsets, default=0.0) * view.mm_per_metre
    if longest <= 0.0:
        return 1.0
    wanted = _LONGEST / longest
    size = 10.0 ** math.floor(math.log10(wanted))
    return max(1.0, min(next(size * by for by in (5, 2, 1) if size * by <= wanted), 1000.0))


def _names(found: PatternFound, view: View) -> Iterator[Shape]:
    """Write the names, each outside of its hole, away from the middle."""
    points = [view.at(*_at(hole)) for hole in found.holes.values()]
    mx = sum(x for x, _ in points) / len(points)
    my = sum(y for _, y in points) / len(points)
    for name, hole in found.holes.items():
        x, y = view.at(*_at(hole))
        radius = max((hole.diameter.number or 0.0) / 2 * view.mm_per_metre, 0.8)
        label = Label((name.replace("_", " "),), 5.0, bold=True)
        away = radius + 2.5
        right, up = x >= mx, y <= my
        left = x + 0.6 * away if right else x - 0.6 * away - label.width
        top = y - 0.6 * away - label.height if up else y + 0.6 * away
        left = min(max(left, MARGIN), WIDE - MARGIN - label.width)
        yield from label.at(left, top)


def _residuals(found: PatternFound, view: View, taken: list[Box], taste: Taste) -> Iterator[Shape]:
    """Write on the lines what the readings differ by: suspects first, others where room is left."""
    within = Box(MARGIN, 0.0, WIDE - MARGIN, 1000.0)
    lines = {reading.name: _ends(found, view, reading) for reading in found.readings}
    for reading in sorted(found.readings, key=lambda each: not each.suspect):
        if not reading.residual.known:
            continue
        start, end = lines[reading.name]
        words = _apart(reading, taste)
        size = TEXT if reading.suspect else SMALLEST_TEXT
        label = Label((f"{words} ?" if reading.suspect else words,), size, bold=reading.suspect)
        spots = [between(start, end, share) for share in _SHARES]
        own = {(start, end), (end, start)}
        others = [ends for ends in lines.values() if ends not in own]
        box = free_place(_over(label, spots), within, taken, others)
        if box is not None and any(box.cut(*ends) for ends in others) and not reading.suspect:
            # On a crossing nobody could tell whose number it is; the list below has it.
            continue
        if box is None and reading.suspect:
            box = free_place(beside(label, spots), within, taken)
        if box is not None:
            taken.append(box)
            yield from _lifted(label, box)


def _over(label: Label, spots: Sequence[Point]) -> Iterator[Box]:
    for x, y in spots:
        yield label.box(x - label.width / 2, y - label.height / 2)


def _lifted(label: Label, box: Box) -> Iterator[Shape]:
    """Write words over a line, on a patch that hides it."""
    yield path(box.grown(0.3).corners, None, closed=True, fill="paper")
    yield from label.at(box.left, box.top)


def _short(number: float, taste: Taste) -> str:
    return write(number, POSITION, taste, _FINEST).partition(" ± ")[0]


def _apart(reading: ReadingFound, taste: Taste) -> str:
    """Write a residual with its sign, to a hundredth of a millimetre or its like in inches."""
    number = reading.residual.number or 0.0
    words = _short(abs(number), taste)
    sign = "" if abs(number) < _FINEST / 2 else "-" if number < 0.0 else "+"
    return f"{sign}{words}"


def _scale_words(found: PatternFound, view: View) -> tuple[str, ...]:
    """Say what the lines mean."""
    side = "back, mirrored" if found.from_back else "front"
    rows = [f"Seen from the {side}. Thin lines: measured, with reading less adjusted distance."]
    if found.suspects:
        rows.append("Thick dashes: does not agree with the others; measure it again.")
    if found.fit is not None:
        times = _times(found, view)
        other = found.fit.other.replace("_", " ")
        rows.append(
            f"Dashed rings: holes of {other}. Arrows: the way there, {times:g} times as long."
        )
        if found.fit.mirrored:
            rows.append("The two are mirror images of each other: set seen_from or above in one.")
    room = WIDE - 2 * MARGIN
    return tuple(piece for row in rows for piece in wrapped(row, room, most=2))


def _listed(found: PatternFound, picture: Sequence[Shape], taste: Taste) -> tuple[Shape, ...]:
    """List holes and readings under the picture, and below them how the holes meet others."""
    top = below(picture, 3.0)
    shapes = [
        *_table(top, _HOLE_COLUMNS, ("hole", "x", "y", "within"), _hole_rows(found, taste)),
        *_table(top, _READING_COLUMNS, ("reading", "", "differs"), _reading_rows(found, taste)),
    ]
    if found.fit is not None:
        head = ("hole", "off by", "allowed", "slot")
        shapes += _table(below(shapes, 3.0), _FIT_COLUMNS, head, _fit_rows(found, taste))
    return tuple(shapes)


def _table(
    top: float,
    columns: Sequence[float],
    head: Sequence[str],
    rows: Iterable[tuple[tuple[str, ...], bool]],
) -> Iterator[Shape]:
    """Write rows in columns; a row that calls for action is bold."""
    ends = [*columns[1:], WIDE - 2 * MARGIN]
    for count, (cells, bold) in enumerate([(head, True), *rows]):
        for left, right, cell in zip(columns, ends, cells, strict=True):
            words = fitted(cell, right - left - 1.0, bold=bold)
            if words:
                yield text((MARGIN + left, top + (1 + 1.25 * count) * TEXT), words, bold=bold)


def _hole_rows(found: PatternFound, taste: Taste) -> Iterator[tuple[tuple[str, ...], bool]]:
    for name, hole in found.holes.items():
        cells = (_short(each.number or 0.0, taste) for each in (hole.x, hole.y, hole.place))
        yield (name.replace("_", " "), *cells), False


def _reading_rows(found: PatternFound, taste: Taste) -> Iterator[tuple[tuple[str, ...], bool]]:
    for reading in found.readings:
        table, _, key = reading.name.partition(".")
        apart = _apart(reading, taste) if reading.residual.known else "unchecked"
        length = _short(reading.centres.number or 0.0, taste)
        words = f"{key}{_EDGES.get(table, '')}"
        yield (words, length, f"{apart} ?" if reading.suspect else apart), reading.suspect


def _fit_rows(found: PatternFound, taste: Taste) -> Iterator[tuple[tuple[str, ...], bool]]:
    for name, met in (found.fit.holes if found.fit else {}).items():
        slotted = (met.slot.number or 0.0) > (found.holes[name].diameter.number or 0.0) + 1e-9
        slot = f"{shown(met.slot, taste)} long" if slotted else "none"
        allowed = shown(met.play, taste)
        where = name.replace("_", " ")
        yield (where, shown(met.offset, taste), allowed, slot), slotted
