"""Rear view: the vehicle from behind, with the loads of the rear wheels. Right is right."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.drawings.placed import Axes, Axle, scene
from wattwright.drawings.placement import (
    MIDDLE_LINE,
    TOP,
    Sheet,
    crosswise,
    ends,
    extent,
    finished,
    headroom,
    loaded,
    measured,
    wheels_lacking,
)
from wattwright.paper import MARGIN, NARROW, Box, Point, View
from wattwright.paper.dimension import ground
from wattwright.paper.svg import PLAIN, Drawing, Shape, line, nothing_yet, rectangle
from wattwright.paper.tags import FAINT
from wattwright.units import Taste

AXES: Axes = ("y", "z")
_NAME = "Rear view"
_DESCRIBING = (
    "Parts, loads of the rear wheels and centres of gravity, seen from behind: the vehicle's right "
    "side is on the right. Front wheels are dotted."
)


def rear(opened: Opened, assessment: Assessment, taste: Taste, ledger: str = "planned") -> Drawing:
    """Rear view with parts, loads of the rear wheels and centres of gravity."""
    seen = scene(opened, assessment, ledger)
    front, behind = seen.axles
    if front.track is None and behind.track is None:
        return nothing_yet(_NAME, _DESCRIBING, "Measure a track to see this.", NARROW)
    view = crosswise(seen, TOP + headroom(seen, AXES))
    wheels = [*_wheels(front, view, hidden=True), *_wheels(behind, view, hidden=False)]
    drawn = extent(seen, AXES, view)
    level = view.at(0.0, 0.0)[1]
    foot = max(level, drawn.bottom)
    fixed = (
        *ends("left side", "right side"),
        line(view.at(0.0, 0.0), (view.at(0.0, 0.0)[0], drawn.top), MIDDLE_LINE),
        *ground(MARGIN, NARROW - MARGIN, level),
        *wheels,
        *_track(front if behind.track is None else behind, foot, view, taste),
        *measured((drawn.left, foot), (drawn.right, foot), view, taste, "all drawn", 16.0),
        *measured(
            (drawn.right, drawn.bottom), (drawn.right, drawn.top), view, taste, "all drawn", 6.5
        ),
        *loaded(seen, [*_tips(behind, foot, view)], taste),
    )
    within = Box(MARGIN, TOP - 2.0, NARROW - MARGIN, level)
    needs = [*wheels_lacking(seen, across=True)]
    if front.track is not None and not front.alike:
        needs.insert(0, "Dotted: front wheels, seen through the vehicle.")
    return finished(
        Sheet(_NAME, _DESCRIBING, seen, AXES, view, taste, within, fixed, tuple(needs), wheels)
    )


def _wheels(axle: Axle, view: View, *, hidden: bool) -> Iterator[Shape]:
    """Draw the two wheels of an axle, those of the far one dotted."""
    if axle.track is None:
        return
    stroke = FAINT if hidden or axle.alike else PLAIN
    for side in (-axle.track / 2, axle.track / 2):
        if axle.radius is None:
            yield line(view.at(side, 0.0), view.at(side, 0.1), stroke)
        elif axle.width is None:
            yield line(view.at(side, 0.0), view.at(side, 2 * axle.radius), stroke)
        else:
            half = axle.width / 2
            yield rectangle(view.box((side - half, 0.0), (side + half, 2 * axle.radius)), stroke)


def _track(axle: Axle, foot: float, view: View, taste: Taste) -> tuple[Shape, ...]:
    if not axle.track:
        return ()
    left, right = ((view.at(side * axle.track, 0.0)[0], foot) for side in (-0.5, 0.5))
    return measured(left, right, view, taste, f"{axle.name} track", 8.0)


def _tips(axle: Axle, foot: float, view: View) -> Iterator[tuple[str, str, Point]]:
    """Yield where the loads of the rear wheels point to."""
    if axle.track is None:
        return
    for wheel, name, side in (("rl", "Rear left", -0.5), ("rr", "Rear right", 0.5)):
        yield name, wheel, (view.at(side * axle.track, 0.0)[0], foot + 18.0)
