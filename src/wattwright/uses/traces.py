"""A profile as a trace for the loop: steady stretches in long steps, everything else by the second.

Where neither speed nor grade changes, a step may be long: temperatures follow exactly for the heat
of a step, and only what hangs on charge and temperature is taken as it stands at its beginning.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import ceil

import numpy as np

from wattwright.uses.inputs import Array, Trace
from wattwright.uses.profile import Profile

# Longest steps, in seconds: while it moves steadily, and while it stands.
STEADY, STANDING = 10.0, 60.0
# Seconds at the beginning of each that are driven one by one.
CATCHING_UP = 10.0
# A stop of so many seconds or more counts as switched off.
OFF_FROM = 600.0
# Speeds and grades as near as this are one, in m/s and in rise over run.
SAME = 1e-9


# The same way is driven in every season and at every assessment.
@lru_cache(maxsize=128)
def trace_of(profile: Profile) -> Trace:
    """Drive a profile once."""
    steps, speeds, grades, on = [], [profile.speeds[0]], [], []
    for first, behind in _pieces(profile):
        speed, seconds = profile.speeds[first], (behind - first) * profile.step
        standing = speed == 0.0 and profile.speeds[behind] == 0.0
        lengths = list(_lengths(seconds, STANDING if standing else STEADY))
        steps += lengths
        speeds += [profile.speeds[behind]] * len(lengths)
        grades += [profile.grades[first]] * len(lengths)
        off = standing and (seconds >= OFF_FROM or _is_off(profile, first))
        on += [0.0 if off else 1.0] * len(lengths)
    return Trace(steps, speeds, grades, on)


@lru_cache(maxsize=128)
def repeated(trace: Trace, rounds: int) -> Trace:
    """Drive a trace so many times, one after the other."""
    if rounds == 1:
        return trace
    return Trace(
        np.tile(trace.steps, rounds),
        np.concatenate([trace.speeds, *[trace.speeds[1:]] * (rounds - 1)]),
        np.tile(trace.grades, rounds),
        np.tile(trace.on, rounds),
    )


def _is_off(profile: Profile, instant: int) -> bool:
    """Say whether a stop is long enough though seconds cut its ends off."""
    time = instant * profile.step
    return any(begin <= time < end and end - begin >= OFF_FROM for begin, end in profile.standing)


def _lengths(seconds: float, longest: float) -> Iterator[float]:
    """Lengths of the steps over a piece: short ones first.

    A vehicle that could not speed up as wanted catches up within the first of them; in a long one
    it would stay behind for all of it.
    """
    short = min(seconds, CATCHING_UP)
    yield from [short / ceil(short)] * ceil(short)
    count = ceil((seconds - short) / longest)
    yield from [(seconds - short) / max(1, count)] * count


def _pieces(profile: Profile) -> Iterator[tuple[int, int]]:
    """First and last instant of every piece over which neither speed nor grade changes."""
    speeds, grades = np.asarray(profile.speeds), np.asarray(profile.grades)
    steady = np.abs(np.diff(speeds)) <= SAME
    goes_on = steady[1:] & steady[:-1] & (np.abs(np.diff(grades)) <= SAME)
    firsts = np.concatenate(([0], np.flatnonzero(~goes_on) + 1))
    behind = np.concatenate((firsts[1:], [len(grades)]))
    yield from zip(firsts.tolist(), behind.tolist(), strict=True)


def largest_rms(steps: Array, current: Array, seconds: float) -> float:
    """Largest root mean square of what is constant over each step, in any window of a length.

    ``steps`` s, ``current`` of any unit over each, ``seconds`` no more than all steps together.
    As ``windows`` does for the loop; a window ends where a step does.
    """
    if not len(steps):
        return 0.0
    squares = np.concatenate(([0.0], np.cumsum(current**2 * steps)))
    times = np.concatenate(([0.0], np.cumsum(steps)))
    # Sums of steps may fall short of a whole window by their last digit.
    ends = times[times >= seconds * (1 - 1e-12)]
    within = np.interp(ends, times, squares) - np.interp(ends - seconds, times, squares)
    return float(np.sqrt(max(0.0, within.max()) / seconds))
