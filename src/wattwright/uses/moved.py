"""A trace whose way is moved a little: longer, steeper, or as a whole farther or faster; or closed.

The trace itself is changed and not built anew, so that a small move is not lost among whole
seconds. Places are distances along the trace, m.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil

import numpy as np
from numpy.typing import NDArray

from wattwright.uses.inputs import Trace
from wattwright.uses.traces import SAME

# Change of speed from the end of a recording to its beginning, m/s²: an easy one.
_JOINING = 1.0


@lru_cache(maxsize=128)
def lengthened(trace: Trace, begin: float, end: float, by: float) -> Trace:
    """Make what lies between two places longer, m: its steady part takes longer."""
    there = _between(trace, begin, end)
    steady = there & (np.abs(np.diff(trace.speeds)) <= SAME)
    driven = _distances(trace)
    # Where it is hardly ever steady, all of it is driven more slowly.
    part = steady if driven[steady].sum() > 2 * abs(by) else there
    steps = np.where(part, trace.steps * (1.0 + by / driven[part].sum()), trace.steps)
    return Trace(steps, trace.speeds, trace.grades, trace.on)


@lru_cache(maxsize=128)
def steeper(trace: Trace, begin: float, end: float, by: float) -> Trace:
    """Make what lies between two places steeper, by a rise over run."""
    grades = trace.grades + by * _between(trace, begin, end)
    return Trace(trace.steps, trace.speeds, grades, trace.on)


@lru_cache(maxsize=128)
def farther(trace: Trace, share: float) -> Trace:
    """Make all of it longer by a share, and as much higher."""
    moving = _distances(trace) > 0.0
    steps = np.where(moving, trace.steps * (1.0 + share), trace.steps)
    return Trace(steps, trace.speeds, trace.grades, trace.on)


@lru_cache(maxsize=128)
def faster(trace: Trace, times: float) -> Trace:
    """Drive all of it so many times as fast."""
    return Trace(trace.steps / times, trace.speeds * times, trace.grades, trace.on)


@lru_cache(maxsize=128)
def closed(trace: Trace) -> Trace:
    """Let it end at the speed at which it begins, on the level, so that it can be driven again."""
    first, last = float(trace.speeds[0]), float(trace.speeds[-1])
    if first == last:
        return trace
    count = ceil(abs(first - last) / _JOINING)
    return Trace(
        np.concatenate((trace.steps, np.ones(count))),
        np.concatenate((trace.speeds, np.linspace(last, first, count + 1)[1:])),
        np.concatenate((trace.grades, np.zeros(count))),
        np.concatenate((trace.on, np.ones(count))),
    )


def _distances(trace: Trace) -> NDArray[np.float64]:
    return (trace.speeds[1:] + trace.speeds[:-1]) / 2 * trace.steps


def _between(trace: Trace, begin: float, end: float) -> NDArray[np.bool_]:
    """Steps that are driven between two places, by where their middle is."""
    distances = _distances(trace)
    middles = np.cumsum(distances) - distances / 2
    return (distances > 0.0) & (middles > begin) & (middles < end)
