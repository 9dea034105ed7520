"""What the drawing of the adaptor plate says in words: the table of holes, and the notes.

A number that is not known is never written: ``to measure`` stands in its place, with the field.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from wattwright.build.model import Build
from wattwright.build.patterns import in_order
from wattwright.descriptions.adaptor import AdaptorFound, PlateHole
from wattwright.given import Origin
from wattwright.paper import MARGIN, SMALLEST_TEXT, WIDE
from wattwright.paper.svg import Label, Shape, fitted, line, text, text_width, wrapped
from wattwright.paper.template import millimetres
from wattwright.paper.tolerance_frame import FRAME, frame
from wattwright.values import Value, exceeds

CAUTION = (
    "No paper template and no centre punch locates a shaft: what carries a fit is bored by these "
    "dimensions and measured."
)
# Where the columns of the table begin: tag, x, y, what is cut, from which face, how deep, off by.
_COLUMNS = (0.0, 11.0, 29.0, 47.0, 103.0, 119.5, 141.0)
_HEAD = ("hole", "x", "y", "what", "from", "depth", "position")
_ROW = FRAME + 0.6
_ROOM = WIDE - 2 * MARGIN


def missing(value: Value) -> str:
    """Say what is to be found out before a number can stand here; the notes say it in full."""
    if value.absent:
        return "none"
    fields = [lack.path.rpartition(".")[2] for lack in value.lacks if lack.path]
    return f"to measure: {fields[0]}" if fields else "none left"


def tolerance(value: Value) -> str:
    """Write a tolerance: as decided, or rounded down from the near end of what was worked out."""
    if value.number is None:
        return missing(value)
    band = value.band if value.given is None else 0.0
    near = millimetres(value.number - band)
    step = 0.05 if near >= 0.1 else 0.001
    steps = round(near / step, 6) if value.given is not None else math.floor(near / step + 1e-6)
    if steps <= 0:
        return "none left"
    return f"{steps * step:.3f}".rstrip("0")


def tags(found: AdaptorFound) -> dict[str, str]:
    """Name every hole in a sign or two: M and G with its number; B the datum, F other fits."""
    named: dict[str, str] = {}
    for face in ("motor", "gearbox"):
        own = [name.removeprefix(f"{face}/") for name in found.holes if name.startswith(f"{face}/")]
        plain = all(name.isdecimal() for name in own)
        for count, name in enumerate(in_order(own), 1):
            named[f"{face}/{name}"] = f"{face[0].upper()}{name if plain else count}"
    others = [name for name in found.holes if name not in named]
    for count, name in enumerate(others, 1):
        named[name] = "B" if found.holes[name].is_datum else f"F{count}"
    return named


def class_words(hole: PlateHole) -> str:
    """Write a fit as its diameter and class: Ø110 H7."""
    limits = hole.limits
    if not hole.size.known or limits is None:
        return missing(hole.size)
    return f"Ø{millimetres(hole.size.number or 0.0):g} {limits.name}".strip()


def _deviations(hole: PlateHole) -> str:
    limits = hole.limits
    if limits is None:
        return ""
    pair = limits.shown_upper, limits.shown_lower
    for value in pair:
        if not value.known:
            return missing(value)
    upper, lower = (_signed(value) for value in pair)
    return f"({upper}/{lower})" + ("" if _firm(hole) else " *")


def _signed(value: Value) -> str:
    number = millimetres(value.number or 0.0)
    return f"{number:+.3f}" if abs(number) >= 5e-4 else "0"


def _firm(hole: PlateHole) -> bool:
    """Tell whether the limits that are shown may be cut to."""
    limits = hole.limits
    if limits is None:
        return True
    pairs = (limits.shown_upper, limits.upper), (limits.shown_lower, limits.lower)
    return all(limit.known for shown, limit in pairs if shown.known)


def _cut(hole: PlateHole) -> str:
    """Say what is cut: a drill, a thread with its core, or a fit with its limits."""
    if hole.cut == "fit":
        stands = ", stands" if hole.stands else ""
        return f"{class_words(hole)} {_deviations(hole)}{stands}".replace("  ", " ")
    size = millimetres(hole.size.number or 0.0)
    drill = f"Ø{size:g}" if hole.size.known else missing(hole.size)
    if hole.cut == "drill":
        return f"drill {drill}"
    thread = hole.thread or "to measure: thread"
    return f"{thread}, core {drill}"


def _depth(hole: PlateHole) -> str:
    if hole.depth.absent:
        return "through"
    if hole.depth.known:
        return f"{millimetres(hole.depth.number or 0.0):g}"
    return "to measure"


def table(found: AdaptorFound, named: Mapping[str, str], top: float) -> Iterator[Shape]:
    """List every hole with its place, what is cut, and the tolerance of its position."""
    ends = (*_COLUMNS[1:], _ROOM)
    for left, right, words in zip(_COLUMNS, ends, _HEAD, strict=True):
        yield _cell(left, right, top, words, bold=True)
    yield line((MARGIN, top + _ROW - 0.4), (WIDE - MARGIN, top + _ROW - 0.4))
    order = sorted(found.holes, key=lambda name: not found.holes[name].is_datum)
    for count, name in enumerate(order, 1):
        yield from _row(found.holes[name], named[name], top + count * _ROW)


def _cell(left: float, right: float, top: float, words: str, *, bold: bool = False) -> Shape:
    shown = fitted(words, right - left - 1.0, SMALLEST_TEXT, bold=bold)
    foot = top + FRAME / 2 + 0.36 * SMALLEST_TEXT
    return text((MARGIN + left, foot), shown, size=SMALLEST_TEXT, bold=bold)


def _row(hole: PlateHole, tag: str, top: float) -> Iterator[Shape]:
    tag_at, x, y, what, face, depth, off = _COLUMNS
    yield _cell(tag_at, x, top, tag, bold=True)
    lacking = next((place for place in (hole.x, hole.y) if not place.known), None)
    if lacking is not None:
        yield _cell(x, what, top, missing(lacking))
    else:
        places = 3 if hole.cut == "fit" else 2
        for left, right, value in ((x, y, hole.x), (y, what, hole.y)):
            number = millimetres(value.number or 0.0)
            yield _cell(left, right, top, f"{number:.{places}f}" if not hole.is_datum else "0")
    cut = _cut(hole)
    named = f"{cut}, {hole.label}" if hole.cut == "fit" and hole.label else cut
    room = face - what - 1.0
    yield _cell(what, face, top, named if text_width(named, SMALLEST_TEXT) <= room else cut)
    yield _cell(face, depth, top, hole.face)
    yield _cell(depth, off, top, _depth(hole))
    yield from _off(hole, top)


def _off(hole: PlateHole, top: float) -> Iterator[Shape]:
    """Draw the tolerance frame of a hole."""
    left = MARGIN + _COLUMNS[-1]
    if hole.is_datum:
        yield _cell(_COLUMNS[-1], _ROOM, top, "datum B")
    elif hole.zone.absent:
        yield _cell(_COLUMNS[-1], _ROOM, top, "general")
    elif not hole.zone.known:
        yield _cell(_COLUMNS[-1], _ROOM, top, missing(hole.zone))
    elif hole.centres:
        yield from frame(left, top, "coaxiality", (f"Ø{tolerance(hole.zone)}", "B"))
    else:
        yield from frame(left, top, "position", (f"Ø{tolerance(hole.zone)}", "A", "B"))


def notes(build: Build, found: AdaptorFound, named: Mapping[str, str], top: float) -> list[Shape]:
    """Write what holds for all of it, what is still to be measured, and the caution."""
    shapes: list[Shape] = []
    rows = [*_general(build, found, named), *_asked(build, found)]
    first = [*_doubts(found), CAUTION]
    for bold, words in (*((True, each) for each in first), *((False, each) for each in rows)):
        label = Label(wrapped(words, _ROOM, SMALLEST_TEXT, most=40, bold=bold), SMALLEST_TEXT, bold)
        shapes += label.at(MARGIN, top)
        top += label.height + 0.5
    return shapes


def _doubts(found: AdaptorFound) -> Iterator[str]:
    """Say where numbers stand that must not be cut to."""
    values = [value for hole in found.holes.values() for value in (hole.x, hole.y, hole.zone)]
    for words in dict.fromkeys(doubt for value in values for doubt in value.doubts):
        yield f"DO NOT CUT BY THIS DRAWING: {words}."


def _general(build: Build, found: AdaptorFound, named: Mapping[str, str]) -> Iterator[str]:
    own, run_out = build.coupling.adaptor, build.coupling.run_out
    yield (
        f"{build.build.name}. One piece. Material: {own.material or 'to say'}. General "
        f"tolerances {own.general}. All in mm, at 20 °C; x and y are exact, from datum B, seen on "
        "the motor's side."
    )
    yield (
        "A: the face to the motor. B: the axis of what centres the motor. Bore B, all fits and "
        "both faces in one setting; else set up again on A and B with an indicator. Edges broken, "
        "no burr; faces and bores clean and bare, no paint. Record the sizes that were made."
    )
    if any(hole.cut == "thread" for hole in found.holes.values()):
        yield (
            "The zone of a thread reaches beyond the face over the length of its screw (projected "
            "tolerance zone)."
        )
    if exceeds(found.used, run_out.limit):
        yield (
            "The coupler alone uses up the run-out allowed, and no plate makes up for that: cut it "
            "again, or have it made again, before this plate is made."
        )
    elif found.left.known:
        used, left = (f"{millimetres(each.number or 0.0):.3f}" for each in (found.used, found.left))
        allowed = f"{millimetres(run_out.limit.number or 0.0):g}"
        yield (
            f"Run-out allowed once round: {allowed}. The coupler shows {used}; what is left, "
            f"{left}, is shared by what centres the gearbox and by the tilt of its face. "
            "Tolerances that are worked out are rounded down, from the near end of what they are "
            "known within."
        )
    loose = [named[name] for name, hole in found.holes.items() if _loose(hole)]
    if loose:
        widest = max(
            millimetres(hole.known.number or 0.0) for hole in found.holes.values() if _loose(hole)
        )
        yield (
            f"PICK UP {', '.join(loose)} from the part that they fit, by indicator in the spindle: "
            f"x and y are known within a zone of Ø{widest:.2f} and only lead there."
        )
    if not all(map(_firm, found.holes.values())):
        yield "* Limits from memory: read them in ISO 286-2 before cutting."
    usual = [
        words
        for words, value in (("flatness", own.flatness), ("dowels' position", own.dowel_position))
        if value.given is not None and value.given.origin is Origin.TYPICAL
    ]
    if usual:
        yield f"Common practice, not decided for this plate yet: {', '.join(usual)}."


def _loose(hole: PlateHole) -> bool:
    """Tell whether a fit's place is not known as closely as it is to be bored."""
    known, zone = hole.known.number, hole.zone.number
    return hole.cut == "fit" and known is not None and zone is not None and known > zone


def _asked(build: Build, found: AdaptorFound) -> Iterator[str]:
    """List everything that is still to be measured or said, each once."""
    values = [build.coupling.faces.plate, found.left, found.coaxiality, found.parallelism]
    for hole in found.holes.values():
        values += [hole.x, hole.y, hole.size, hole.zone, hole.depth]
        if (limits := hole.limits) is not None:
            values += [limits.shown_upper, limits.shown_lower]
    lacks = dict.fromkeys(
        lack.path
        for lack in (*found.lacks, *(lack for value in values for lack in value.lacks))
        if lack.path
    )
    if lacks:
        yield f"Still to measure or to say: {', '.join(lacks)}."
