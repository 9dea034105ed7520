"""The grade over each step of a drive, so that no climb is lost between two steps.

A vehicle is rarely at a summit on the second. Taken plainly, the step across it would be half up
and half down, and the climb of the drive too small. So summits, hollows and the ends of stretches
are put on the nearest whole second, and the road between is drawn out or drawn in to fit: by less
than a step, while rise and fall stay what they were.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from math import sqrt

from wattwright.sampled import looked_up
from wattwright.uses.driving import STEP

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


def positions(speeds: Sequence[float]) -> list[float]:
    """Distance covered at the end of each step, from nought."""
    steps = ((begin + end) / 2.0 * STEP for begin, end in pairwise(speeds))
    return [0.0, *accumulate(steps)]


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
        end = covered[_nearest(covered, where - along[0])]
        # Two breaks in one second: the later is left where it falls.
        if ends[-1] < end < covered[-1]:
            ends.append(end)
            places.append(where)
    ends.append(covered[-1])
    places.append(along[-1])
    heights: list[float] = []
    before = -1.0
    for here in covered:
        # A vehicle that stands for hours is looked up once.
        same = heights and here == before
        heights.append(
            heights[-1] if same else looked_up(along, altitudes, looked_up(ends, places, here))
        )
        before = here
    return tuple(_grades(covered, heights))


def _nearest(covered: Sequence[float], where: float) -> int:
    after = min(bisect_left(covered, where), len(covered) - 1)
    before = max(after - 1, 0)
    return before if where - covered[before] <= covered[after] - where else after


def _grades(covered: Sequence[float], heights: Sequence[float]) -> Iterator[float]:
    """Standing still, the road has the grade it had before."""
    grade = 0.0
    for (begin, end), (low, high) in zip(pairwise(covered), pairwise(heights), strict=True):
        if end > begin:
            sine = max(-_UPRIGHT, min(_UPRIGHT, (high - low) / (end - begin)))
            grade = sine / sqrt(1.0 - sine * sine)
        yield grade
