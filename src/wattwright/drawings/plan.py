"""Plan view: the vehicle from above, with wheel loads. Its right side is at the top."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.drawings.placed import Axes, Axle, Scene, scene
from wattwright.drawings.placement import (
    LEFT,
    MIDDLE_LINE,
    RIGHT,
    SIDE,
    TOP,
    Sheet,
    amounts,
    ends,
    extent,
    finished,
    headroom,
    lengthwise,
    measured,
    wheels_lacking,
)
from wattwright.paper import MARGIN, NARROW, Box, View
from wattwright.paper.svg import (
    PLAIN,
    Drawing,
    Label,
    Shape,
    line,
    nothing_yet,
    rectangle,
    text,
)
from wattwright.paper.tags import FAINT
from wattwright.units import Taste

AXES: Axes = ("x", "y")
_NAME = "Plan view"
_DESCRIBING = (
    "Parts, wheel loads and centres of gravity, seen from above with the nose to the left: the "
    "vehicle's right side is at the top."
)
# Two rows of wheel loads stand beside the picture, above and below, with room for tags.
_LOADS = 10.5


def plan(opened: Opened, assessment: Assessment, taste: Taste, ledger: str = "planned") -> Drawing:
    """Plan view with parts, wheel loads and centres of gravity."""
    seen = scene(opened, assessment, ledger)
    if seen.wheelbase is None:
        return nothing_yet(_NAME, _DESCRIBING, "Measure the wheelbase to see this.", NARROW)
    room = _LOADS + headroom(seen, AXES) / 3
    view = lengthwise(seen, "y", TOP + room)
    wheels = [*_wheels(seen, view)]
    middle = [*_middle_lines(seen, view)]
    drawn = extent(seen, AXES, view)
    foot = drawn.bottom + room + 3.0
    start, end = ((view.at(axle, 0.0)[0], foot) for axle in (0.0, seen.wheelbase))
    fixed = (
        *ends("front", "rear"),
        text((NARROW / 2, TOP - 3.5), "right side", anchor="middle"),
        text((NARROW / 2, foot - 1.5), "left side", anchor="middle"),
        *middle,
        *wheels,
        *_wheel_loads(seen, view, drawn, taste),
        *_tracks(seen, view, drawn, taste),
        *measured(start, end, view, taste, "wheelbase", 6.0),
        *measured((drawn.left, foot), (drawn.right, foot), view, taste, "all drawn", 13.5),
    )
    within = Box(MARGIN, TOP - 2.0, NARROW - MARGIN, foot - 5.0)
    needs = tuple(wheels_lacking(seen, across=True))
    return finished(
        Sheet(_NAME, _DESCRIBING, seen, AXES, view, taste, within, fixed, needs, wheels)
    )


def _wheels(seen: Scene, view: View) -> Iterator[Shape]:
    """Draw wheels by length and width of the tyres, as far as they are known."""
    for axle in seen.axles:
        if axle.x is None or axle.track is None:
            continue
        for side in (-axle.track / 2, axle.track / 2):
            yield _wheel(axle, view.box((axle.x, side), (axle.x, side)), view.mm_per_metre)


def _wheel(axle: Axle, at: Box, scale: float) -> Shape:
    x, y = at.middle
    stroke = FAINT if axle.alike else PLAIN
    if axle.radius is None:
        return line((x, y - 1.5), (x, y + 1.5), stroke)
    half = axle.radius * scale
    if axle.width is None:
        return line((x - half, y), (x + half, y), stroke)
    wide = axle.width * scale / 2
    return rectangle(Box(x - half, y - wide, x + half, y + wide), stroke)


def _middle_lines(seen: Scene, view: View) -> Iterator[Shape]:
    """Draw the middle line of the vehicle, and axles between their wheels."""
    level = view.at(0.0, 0.0)[1]
    yield line((LEFT, level), (RIGHT, level), MIDDLE_LINE)
    for axle in seen.axles:
        if axle.x is not None and axle.track is not None:
            half = axle.track / 2
            yield line(view.at(axle.x, -half), view.at(axle.x, half), MIDDLE_LINE)


def _wheel_loads(seen: Scene, view: View, drawn: Box, taste: Taste) -> Iterator[Shape]:
    """Write the loads of the right wheels above the picture, and of the left ones below."""
    for axle in seen.axles:
        if axle.x is None:
            continue
        for wheel in ("r", "l"):
            label = Label(amounts(seen, f"{axle.name[0]}{wheel}", taste))
            half = label.width / 2
            x = min(max(view.at(axle.x, 0.0)[0], MARGIN + half), NARROW - MARGIN - half)
            top = drawn.top - 0.5 - label.height if wheel == "r" else drawn.bottom + 0.5
            yield from label.at(x, top, "middle")


def _tracks(seen: Scene, view: View, drawn: Box, taste: Taste) -> Iterator[Shape]:
    """Draw both tracks, the front one at the nose and the rear one at the tail."""
    front, rear = seen.axles
    if front.x is not None and front.track:
        right, left = (view.at(front.x, side * front.track) for side in (0.5, -0.5))
        yield from measured(right, left, view, taste, "track", left[0] - drawn.left + 3.0)
    if rear.x is not None and rear.track:
        right, left = (view.at(rear.x, side * rear.track) for side in (0.5, -0.5))
        yield from measured(left, right, view, taste, "track", drawn.right - left[0] + SIDE - 2.5)
