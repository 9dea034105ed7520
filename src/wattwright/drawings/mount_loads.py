"""What the unit puts on its mounts, as arrows to scale: the case that loads each of them most."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattwright.assessment import Assessment, shown
from wattwright.build.reader import Opened
from wattwright.descriptions.mount_loads import Loaded, MountLoad
from wattwright.descriptions.mounts import MountNeed, MountsDescription
from wattwright.drawings.hanging import (
    TOP,
    Side,
    chosen_side,
    ends,
    flat,
    hull,
    known,
    laid_out,
)
from wattwright.kinds import FORCE
from wattwright.paper import MARGIN, NARROW, Box, Point, View
from wattwright.paper.crowd import tagged
from wattwright.paper.dimension import LOAD, arrow
from wattwright.paper.svg import (
    Drawing,
    Label,
    Shape,
    Stroke,
    below,
    circle,
    heading,
    nothing_yet,
    path,
    wrapped,
)
from wattwright.paper.tags import Tagged, key
from wattwright.units import Taste, write

_NAME = "Loads at the mounts"
_DESCRIBING = "What the unit puts on each mount in the case that loads it most; arrows to scale."
_UNIT = Stroke(0.3)
# The longest arrow on the paper, mm; one shorter than this is a dot.
_LONGEST, _SHORTEST = 26.0, 2.0


def mount_loads(
    opened: Opened, assessment: Assessment, taste: Taste, view: str = "side"
) -> Drawing:
    """Loads at the mounts, seen from a side."""
    del opened
    side = chosen_side(view)
    title = f"{_NAME}, {side.name}"
    found = assessment.descriptions.get(MountsDescription)
    worst = _worst(found.loaded) if found else {}
    spots = {
        mount.name: spot
        for mount in (found.posed.mounts if found else ())
        if mount.name in worst and (spot := flat(mount.wanted, side)) is not None
    }
    if found is None or len(spots) < 2:
        sentence = "Measure points of unit and vehicle, name mounts and unit, to see this."
        return nothing_yet(title, _DESCRIBING, sentence, NARROW)
    shaft = known(flat(place, side) for place in found.posed.shaft_wanted)
    at = laid_out([*spots.values(), *shaft])
    most = max(each.size.number or 0.0 for _, each in worst.values()) or 1.0
    # A round force for every ten millimetres.
    by_ten = float(f"{10.0 * most / _LONGEST:.1g}")
    outline = [at.at(*corner) for corner in hull([*spots.values(), *shaft])]
    fixed = [*ends(side), path(outline, _UNIT, closed=True)]
    arrows = [
        shape
        for name, spot in spots.items()
        for shape in _arrow(worst[name][1], at.at(*spot), side, 10.0 / by_ten)
    ]
    fixed += arrows
    lowest = max(shape.box.bottom for shape in fixed)
    room = Box(MARGIN, TOP - 4.0, NARROW - MARGIN, lowest + 6.0)
    tags = [*_tags(found.posed.mounts, worst, spots, at, taste)]
    picture = tagged(tags, room, [shape.box for shape in (*fixed[:2], *arrows)])
    shapes = [*heading(title), *fixed, *picture.shapes]
    words = f"Arrows: 10 mm on this drawing for {write(by_ten, FORCE, taste)}."
    shapes += Label(wrapped(words, NARROW - 2 * MARGIN, most=2)).at(MARGIN, below(shapes, 3.0))
    shapes += key(tags, below(shapes, 2.5))
    return Drawing(title, _DESCRIBING, tuple(shapes))


def _worst(loaded: Loaded) -> dict[str, tuple[str, MountLoad]]:
    """The case that loads each mount most, of those that are known."""
    found = {}
    for name, cases in loaded.loads.items():
        told = {says: each for says, each in cases.items() if each.size.known and not each.crash}
        if told:
            says = max(told, key=lambda word: told[word].size.number or 0.0)
            found[name] = says, told[says]
    return found


def _arrow(load: MountLoad, at: Point, side: Side, scale: float) -> Iterator[Shape]:
    across, up = ((getattr(load, axis).number or 0.0) * scale for axis in (side.across, side.up))
    yield circle(at, 1.0, None, "ink")
    if math.hypot(across, up) >= _SHORTEST:
        yield from arrow(at, (at[0] + across, at[1] - up), LOAD)


def _tags(
    mounts: tuple[MountNeed, ...],
    worst: dict[str, tuple[str, MountLoad]],
    spots: dict[str, Point],
    view: View,
    taste: Taste,
) -> Iterator[Tagged]:
    for count, mount in enumerate(mounts, start=1):
        if mount.name not in spots:
            continue
        says, load = worst[mount.name]
        spot = view.at(*spots[mount.name])
        words = f"{mount.label}: {shown(load.size, taste)}, {says}"
        yield Tagged(str(count), words, Box(*spot, *spot), "mount", mount.name)
