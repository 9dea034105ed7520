"""Whether what was driven is what was wanted: its speeds, its distance and its height."""

from __future__ import annotations

from typing import Literal

import numpy as np

from wattwright.uses import places as at
from wattwright.uses.inputs import Parameters, Trace
from wattwright.uses.limits import GRAVITY
from wattwright.uses.results import HELD_BACK_BY, HeldBackBy, Run

# Of distance, and of the energy out of the pack for the height: less missing counts for nothing.
LITTLE = 0.01

Missed = Literal["", "speed", "distance", "height"]


def missed(run: Run, trace: Trace, parameters: Parameters, missing: float) -> Missed:
    """What a run is short of, up to where it ended; empty where it is what was wanted.

    ``missing`` is the speed that may be, m/s. Grades hang on time: a vehicle that is held back
    uphill comes down again from where it has not been, and is short of height.
    """
    short = run.shortfall
    if short.speed > missing:
        return "speed"
    if short.distance > LITTLE * wanted_distance(trace):
        return "distance"
    if short.speed > 0.0 and _height_counts(run, trace, parameters):
        return "height"
    return ""


def wanted_distance(trace: Trace) -> float:
    """Distance of a trace, m."""
    return float((_means(trace) * trace.steps).sum())


def first_missed(run: Run, trace: Trace, missing: float) -> int:
    """Instant up to which no more speed is missing than may be; that of the end if it never is."""
    behind = trace.speeds[1 : run.steps + 1] - run.speed[1:] > missing
    return int(behind.argmax()) if behind.any() else run.steps


def held_back_most_by(run: Run, trace: Trace) -> HeldBackBy:
    """What held a run back for the longest time."""
    steps, causes = trace.steps[: run.steps], run.held_back_by.astype(int)
    times = np.bincount(causes, steps, len(HELD_BACK_BY))
    times[at.BY_NOTHING] = 0.0
    return HELD_BACK_BY[int(times.argmax())]


def _height_counts(run: Run, trace: Trace, parameters: Parameters) -> bool:
    """Say whether the height that is missing, or too much, would change the energy."""
    done = slice(run.steps)
    rise = float((_means(trace) * trace.steps * trace.sines)[done].sum())
    missing = parameters.mass * GRAVITY * rise - run.balance.climb
    return abs(missing) > LITTLE * abs(run.balance.at_terminals)


def _means(trace: Trace) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return (trace.speeds[1:] + trace.speeds[:-1]) / 2
