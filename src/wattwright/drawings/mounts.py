"""The unit on its mounts, to scale: as it hangs, as it is wanted, and every bracket between."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment, shown
from wattwright.build.reader import Opened
from wattwright.descriptions.mounts import MountNeed, MountsDescription, Place, Posed
from wattwright.drawings.hanging import (
    TOP,
    Side,
    beyond,
    chosen_side,
    ends,
    flat,
    hull,
    known,
    laid_out,
    square,
)
from wattwright.drawings.placement import measured
from wattwright.paper import MARGIN, NARROW, Box, Point, View, around
from wattwright.paper.crowd import tagged
from wattwright.paper.dimension import scale_bar
from wattwright.paper.svg import (
    PLAIN,
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
    wrapped,
)
from wattwright.paper.tags import Tagged, key
from wattwright.units import Taste

_NAME = "Unit on its mounts"
_DESCRIBING = (
    "The unit as it is wanted (solid) and as it hangs (dashed), the line its shaft is to lie on, "
    "and the bracket of every mount."
)
_NOW = Stroke(0.3, (1.6, 0.9))
_TARGET = Stroke(0.2, (4.0, 1.0, 0.8, 1.0))
_SHAFT, _BRACKET = Stroke(0.7), Stroke(0.9)
_WAYS = (("back", "ahead"), ("right", "left"), ("up", "down"))
# Which angle is seen from which side, and what it is called above nought and below.
_ANGLES = {
    "side": ("pitch", "nose up", "nose down"),
    "rear": ("roll", "right side up", "left side up"),
    "plan": ("yaw", "nose turned left", "nose turned right"),
}


def mounts(opened: Opened, assessment: Assessment, taste: Taste, view: str = "side") -> Drawing:
    """The unit on its mounts, seen from a side."""
    del opened
    side = chosen_side(view)
    title = f"{_NAME}, {side.name}"
    posed = _posed(assessment)
    points = known(flat(place, side) for place in _places(posed)) if posed else []
    if posed is None or len(points) < 2:
        sentence = "Measure points of unit and vehicle, and name the mounts, to see this."
        return nothing_yet(title, _DESCRIBING, sentence, NARROW)
    at = laid_out(points)
    drawn = around(at.at(*point) for point in points).grown(6.0)
    fixed = [*ends(side), *_target(posed, side, at, drawn), *_unit(posed, side, at)]
    room = Box(MARGIN, TOP, NARROW - MARGIN, below(fixed, 9.0))
    tags = [*_tags(posed, side, at, taste)]
    picture = tagged(tags, room, [shape.box for shape in fixed if shape.words])
    shapes = [*heading(title), *fixed, *_brackets(posed, side, at), *picture.shapes]
    shapes += _spans(posed, side, at, taste, below(shapes))
    shapes += scale_bar((MARGIN, below(shapes, 3.5)), at.mm_per_metre, taste)
    for words in _words(posed, view, taste):
        shapes += Label(wrapped(words, NARROW - 2 * MARGIN, most=3)).at(MARGIN, below(shapes, 1.5))
    shapes += key(tags, below(shapes, 2.5))
    return Drawing(title, _DESCRIBING, tuple(shapes))


def _posed(assessment: Assessment) -> Posed | None:
    found = assessment.descriptions.get(MountsDescription)
    return found.posed if found else None


def _places(posed: Posed) -> Iterator[Place]:
    yield from posed.shaft_now
    yield from posed.shaft_wanted
    for mount in posed.mounts:
        yield from (mount.carried_by, mount.wanted, mount.hangs)


def _unit(posed: Posed, side: Side, view: View) -> Iterator[Shape]:
    """Draw the outline through mounts and shaft: as it hangs, and as wanted on top."""
    for shaft, points, stroke in (
        (posed.shaft_now, [mount.hangs for mount in posed.mounts], _NOW),
        (posed.shaft_wanted, [mount.wanted for mount in posed.mounts], PLAIN),
    ):
        corners = known(flat(place, side) for place in (*points, *shaft))
        places = [view.at(*corner) for corner in hull(corners)]
        if len(places) > 2:
            yield path(places, stroke, closed=True)
        yield from (circle(view.at(*corner), 0.9, stroke, "paper") for corner in corners)
        across = [flat(place, side) for place in shaft]
        if across[0] is not None and across[1] is not None:
            dash = stroke.dash
            start, end = view.at(*across[0]), view.at(*across[1])
            yield line(start, end, Stroke(_SHAFT.weight, dash) if dash else _SHAFT)


def _target(posed: Posed, side: Side, view: View, within: Box) -> Iterator[Shape]:
    """Draw the line the shaft is to lie on; where it is seen end on, a cross."""
    first, second = (flat(place, side) for place in posed.line)
    if first is None or second is None:
        return
    start, end = view.at(*first), view.at(*second)
    cut = within.cut(*beyond(start, end, 3.0))
    if cut is not None and cut[0] != cut[1]:
        yield line(*cut, _TARGET)
    else:
        x, y = start
        yield line((x - 4.0, y), (x + 4.0, y), _TARGET)
        yield line((x, y - 4.0), (x, y + 4.0), _TARGET)


def _brackets(posed: Posed, side: Side, view: View) -> Iterator[Shape]:
    for mount in posed.mounts:
        foot, head = flat(mount.carried_by, side), flat(mount.wanted, side)
        if foot is not None and head is not None:
            yield line(view.at(*foot), view.at(*head), _BRACKET)
            yield circle(view.at(*head), 1.0, None, "ink")
        if foot is not None:
            yield square(view.at(*foot))


def _tags(posed: Posed, side: Side, view: View, taste: Taste) -> Iterator[Tagged]:
    for count, mount in enumerate(posed.mounts, start=1):
        foot = flat(mount.carried_by, side)
        if foot is not None:
            spot = _mark(view.at(*foot))
            yield Tagged(str(count), _says(mount, taste), spot, "mount", mount.name)


def _mark(at: Point) -> Box:
    return Box(*at, *at)


def _says(mount: MountNeed, taste: Taste) -> str:
    """What one mount needs, in a line or two."""
    parts = [f"{mount.label}: bracket {shown(mount.length, taste)} from hole to hole"]
    if mount.bracket.known:
        parts.append(", ".join(_way(mount.bracket, taste)))
    if mount.change.z.known:
        word = "lower" if (mount.change.z.number or 0.0) < 0.0 else "raise"
        parts.append(f"{word} by {shown(mount.change.z, taste).removeprefix('-')}")
    return "; ".join(parts)


def _way(place: Place, taste: Taste) -> Iterator[str]:
    """Say which way a vector leads."""
    for value, words in zip(place.all, _WAYS, strict=True):
        below_nought = (value.number or 0.0) < 0.0
        yield f"{shown(value, taste, band=False).removeprefix('-')} {words[below_nought]}"


def _spans(posed: Posed, side: Side, view: View, taste: Taste, foot: float) -> Iterator[Shape]:
    """Draw how far the outer mounts of the unit are apart."""
    heads = known(flat(mount.wanted, side) for mount in posed.mounts)
    if len(heads) < 2:
        return
    lowest, highest = min(heads), max(heads)
    left, right = ((view.at(*each)[0], foot) for each in (lowest, highest))
    if right[0] - left[0] > 1.0:
        yield from measured(left, right, view, taste, "mounts of the unit", 3.0)


def _words(posed: Posed, view: str, taste: Taste) -> Iterator[str]:
    name, up, down = _ANGLES[view]
    for about, angles in (("Hangs", posed.now), ("Wanted", posed.wanted)):
        value = getattr(angles, name)
        if not value.known:
            yield f"{about}: {name} not known"
            continue
        text = shown(value, taste).removeprefix("-")
        word = down if value.number < 0.0 else up
        yield f"{about}: {text}" + (f" {word}" if text.partition("°")[0].strip("0.") else "")
    yield (
        "Solid: as wanted. Dashed: as it hangs. Squares: holes of the vehicle. Thick: brackets, "
        "and the shaft. Dot and dash: the line it is to lie on."
    )
