"""Side view: the vehicle from the left, with axle loads."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.assessment import Assessment
from wattwright.build.reader import Opened
from wattwright.drawings.placed import Axes, Scene, scene
from wattwright.drawings.placement import (
    TOP,
    Sheet,
    ends,
    extent,
    finished,
    headroom,
    lengthwise,
    loaded,
    measured,
    wheels_lacking,
)
from wattwright.paper import MARGIN, NARROW, Box, View
from wattwright.paper.dimension import ground
from wattwright.paper.svg import PLAIN, Drawing, Shape, circle, line, nothing_yet
from wattwright.paper.tags import FAINT
from wattwright.units import Taste

AXES: Axes = ("x", "z")
_NAME = "Side view"
_DESCRIBING = (
    "Parts, axle loads and centres of gravity, seen from the left with the nose to the left."
)


def side(opened: Opened, assessment: Assessment, taste: Taste, ledger: str = "planned") -> Drawing:
    """Side view with parts, axle loads and centres of gravity."""
    seen = scene(opened, assessment, ledger)
    if seen.wheelbase is None:
        return nothing_yet(_NAME, _DESCRIBING, "Measure the wheelbase to see this.", NARROW)
    view = lengthwise(seen, "z", TOP + headroom(seen, AXES))
    wheels = [*_wheels(seen, view)]
    drawn = extent(seen, AXES, view)
    level = view.at(0.0, 0.0)[1]
    foot = max(level, drawn.bottom)
    fixed = (
        *ends("front", "rear"),
        *ground(MARGIN, NARROW - MARGIN, level),
        *wheels,
        *measured(
            (view.at(0.0, 0.0)[0], foot),
            (view.at(seen.wheelbase, 0.0)[0], foot),
            view,
            taste,
            "wheelbase",
            8.0,
        ),
        *measured((drawn.left, foot), (drawn.right, foot), view, taste, "all drawn", 16.0),
        *measured(
            (drawn.right, drawn.bottom), (drawn.right, drawn.top), view, taste, "all drawn", 6.5
        ),
        *loaded(
            seen,
            [
                (f"{axle.name.capitalize()} axle", axle.name, (view.at(x, 0.0)[0], foot + 18.0))
                for axle in seen.axles
                if (x := axle.x) is not None
            ],
            taste,
        ),
    )
    within = Box(MARGIN, TOP - 2.0, NARROW - MARGIN, level)
    needs = tuple(wheels_lacking(seen, across=False))
    return finished(Sheet(_NAME, _DESCRIBING, seen, AXES, view, taste, within, fixed, needs))


def _wheels(seen: Scene, view: View) -> Iterator[Shape]:
    """Draw wheels; where nothing says how large they are, the place where they touch the floor."""
    for axle in seen.axles:
        if axle.x is None:
            continue
        if axle.radius is None:
            x, level = view.at(axle.x, 0.0)
            yield line((x, level), (x, level - 4.0))
            continue
        stroke = FAINT if axle.alike else PLAIN
        yield circle(view.at(axle.x, axle.radius), axle.radius * view.mm_per_metre, stroke)
