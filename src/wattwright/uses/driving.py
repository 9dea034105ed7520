"""From wanted speeds to speeds that can be driven, at steps of one second.

A drive is a list of phases, each with a steady acceleration. Between two places the highest speed
is held that the accelerations leave; a slower stretch is entered at its own speed, so that the
brakes are used before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, pairwise
from math import ceil, sqrt
from typing import NamedTuple

from wattwright.errors import UseError
from wattwright.sampled import looked_up

STEP = 1.0
# Seconds over which speeds worked out of recorded places are smoothed.
SPEED_WINDOW = 5


class Phase(NamedTuple):
    """Time and the speeds at its beginning and end."""

    time: float
    begin: float
    end: float

    @property
    def length(self) -> float:
        """Distance covered."""
        return self.time * (self.begin + self.end) / 2.0


def passed(
    wanted: Sequence[float], lengths: Sequence[float], up: float, down: float
) -> list[float]:
    """Lower the speeds wanted at each place to what can be reached and left in the lengths between.

    One pass on the way there, one on the way back; the lower of the two is driven.
    """
    speeds = list(wanted)
    for place, length in enumerate(lengths):
        speeds[place + 1] = min(speeds[place + 1], sqrt(speeds[place] ** 2 + 2.0 * up * length))
    for place in range(len(lengths) - 1, -1, -1):
        can = sqrt(speeds[place + 1] ** 2 + 2.0 * down * lengths[place])
        speeds[place] = min(speeds[place], can)
    return speeds


def held(
    length: float, begin: float, end: float, speed: float, up: float, down: float
) -> Iterator[Phase]:
    """Speed up to ``speed`` or to what the length leaves, hold it, slow down."""
    reached = sqrt((2.0 * up * down * length + down * begin**2 + up * end**2) / (up + down))
    top = max(min(speed, reached), begin, end)
    phases = [Phase((top - begin) / up, begin, top), Phase((top - end) / down, top, end)]
    left = length - sum(phase.length for phase in phases)
    yield phases[0]
    if left > 0.0:
        yield Phase(left / top, top, top)
    yield phases[1]


def each_second(phases: Iterable[Phase]) -> list[float]:
    """Speeds at whole seconds from the beginning to the first whole second after the end."""
    phases = [phase for phase in phases if phase.time > 0.0]
    ends = list(accumulate(phase.time for phase in phases))
    whole = ceil(ends[-1] - 1e-9)
    speeds: list[float] = []
    # Each has the seconds before its end; the last one all there are, where rounding ends it early.
    behinds = [*(min(whole, ceil(end)) for end in ends[:-1]), whole]
    for phase, end, behind in zip(phases, ends, behinds, strict=True):
        if phase.begin == phase.end:
            speeds += [phase.begin] * (behind - len(speeds))
            continue
        for second in range(len(speeds), behind):
            share = min(1.0, (second - end) / phase.time + 1.0)
            speeds.append(phase.begin + share * (phase.end - phase.begin))
    # The end itself, where rounding may have put it a hair after the second.
    return [*speeds, phases[-1].end]


def covering(speeds: Sequence[float], length: float) -> tuple[float, ...]:
    """Scale speeds so that they cover a length exactly; seconds cut the corners between phases."""
    import numpy as np

    each = np.asarray(speeds)
    covered = float(np.sum(each[:-1] + each[1:])) / 2.0 * STEP
    if covered <= 0.0:
        raise UseError("a way is driven slower or longer: at no whole second does it move")
    return tuple((each * length / covered).tolist())


def of_speeds(times: Sequence[float], speeds: Sequence[float]) -> list[float]:
    """Recorded speeds at whole seconds."""
    return [looked_up(times, speeds, float(second)) for second in range(ceil(times[-1]) + 1)]


def of_places(times: Sequence[float], places: Sequence[float]) -> list[float]:
    """Speeds at whole seconds out of places and when they were reached.

    Places are first smoothed over ``SPEED_WINDOW`` seconds, fewer at the ends: where a receiver is
    a foot off from one second to the next, that is no acceleration. A recording that begins or ends
    on the move keeps the speed of its first or last second.
    """
    last = ceil(times[-1])
    sums = [0.0, *accumulate(looked_up(times, places, float(t)) for t in range(last + 1))]
    smooth = []
    for second in range(last + 1):
        half = min(SPEED_WINDOW // 2, second, last - second)
        smooth.append((sums[second + half + 1] - sums[second - half]) / (2 * half + 1))
    steps = [(there - here) / STEP for here, there in pairwise(smooth)]
    return [steps[0], *((a + b) / 2.0 for a, b in pairwise(steps)), steps[-1]]
