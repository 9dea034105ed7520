"""The grade over each step of a drive, so that no climb is lost between two steps.

A vehicle is rarely at a summit on the second. Taken plainly, the step across it would be half up
and half down, and the climb of the drive too small. So summits, hollows and the ends of stretches
are put on the nearest whole second, and the road between is drawn out or drawn in to fit: by less
than a step, while rise and fall stay what they were.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from wattwright.uses.driving import STEP
from wattwright.uses.inputs import Array

# No step is steeper than this share of its own length, or its grade would have no end.
_UPRIGHT = 0.999


def turns(along: Sequence[float], altitudes: Sequence[float]) -> list[float]:
    """Distances at which a road begins to rise or to fall."""
    found = []
    before = 0.0
    for place, (low, high) in enumerate(pairwise(altitudes)):
        if high != low:
            if before * (high - low) < 0.0:
                found.append(along[place])
            before = high - low
    return found


def positions(speeds: Sequence[float]) -> Array:
    """Distance covered at the end of each step, from nought."""
    each = np.asarray(speeds)
    return np.concatenate(([0.0], np.cumsum((each[:-1] + each[1:]) / 2.0 * STEP)))


def grades(
    speeds: Sequence[float],
    along: Sequence[float],
    altitudes: Sequence[float],
    breaks: Sequence[float],
) -> tuple[float, ...]:
    """Grade over each step, as rise over run, for a road given by its altitudes.

    ``breaks`` are the distances that a whole second is put on.
    """
    covered = positions(speeds)
    ends, places = [0.0], [along[0]]
    for where in breaks:
        end = float(covered[_nearest(covered, where - along[0])])
        # Two breaks in one second: the later is left where it falls.
        if ends[-1] < end < covered[-1]:
            ends.append(end)
            places.append(where)
    ends.append(float(covered[-1]))
    places.append(along[-1])
    return _grades(covered, _between(along, altitudes, _between(ends, places, covered)))


def _nearest(covered: Array, where: float) -> int:
    after = min(int(np.searchsorted(covered, where)), len(covered) - 1)
    before = max(after - 1, 0)
    return before if where - covered[before] <= covered[after] - where else after


def _between(xs: Sequence[float], ys: Sequence[float], wanted: Array) -> Array:
    """Look up between points at many places at once; beyond the ends the end holds."""
    x, y = np.asarray(xs), np.asarray(ys)
    after = np.clip(np.searchsorted(x, wanted, side="right"), 1, len(x) - 1)
    low, begin = x[after - 1], y[after - 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        between = begin + (y[after] - begin) * (wanted - low) / (x[after] - low)
    upper: Array = np.where(wanted >= x[-1], y[-1], between)
    return np.where(wanted <= x[0], y[0], upper)


def _grades(covered: Array, heights: Array) -> tuple[float, ...]:
    """Standing still, the road has the grade it had before."""
    runs, rises = np.diff(covered), np.diff(heights)
    moving = runs > 0.0
    sines = np.clip(rises[moving] / runs[moving], -_UPRIGHT, _UPRIGHT)
    # The number of moving steps so far picks the grade of the last one; before the first, level.
    known = np.concatenate(([0.0], sines / np.sqrt(1.0 - sines * sines)))
    return tuple(known[np.cumsum(moving)].tolist())
