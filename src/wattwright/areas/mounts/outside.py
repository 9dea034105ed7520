"""The outer edges of bodies, in plain numbers, for drawings."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import product

from wattwright.areas.mounts.outlines import Outline, solids
from wattwright.convex import Solid, moved
from wattwright.descriptions.clearance import Drawn, Place

# Corners of the rim of a cylinder: enough to look round.
_RIM = 24


@lru_cache(maxsize=256)
def drawn(outline: Outline[float]) -> Drawn:
    """Give the outer edge of a body at ride height, and with its wheels up and hanging."""
    ends = [dict.fromkeys(outline.travelling, share) for share in (1.0, -1.0)]
    return Drawn(
        outline.name,
        next((each for each in outline.travelling), outline.groups[0]),
        _pieces(outline, {}),
        tuple(_pieces(outline, end) for end in ends) if outline.travelling else (),
        outline.measures[0] / 2 if outline.form == "hose" else 0.0,
    )


def _pieces(outline: Outline[float], shares: dict[str, float]) -> tuple[tuple[Place, ...], ...]:
    return tuple(_corners(solid) for solid in solids(outline, shares))


def _corners(solid: Solid) -> tuple[Place, ...]:
    """List the corners of a box, points round both rims of a cylinder, or the ends of a hose."""
    along, across, up = solid.axes
    ends = [moved(solid.middle, along, sign * solid.half[0]) for sign in (-1.0, 1.0)]
    if solid.form == "hose":
        return tuple(ends)
    if solid.form == "box":
        sides = [(a * solid.half[1], b * solid.half[2]) for a, b in product((-1.0, 1.0), repeat=2)]
    else:
        turns = [2 * math.pi * count / _RIM for count in range(_RIM)]
        sides = [(solid.half[1] * math.cos(t), solid.half[1] * math.sin(t)) for t in turns]
    return tuple(moved(moved(end, across, a), up, b) for end in ends for a, b in sides)
