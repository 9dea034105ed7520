"""The root of a function between two places at which it has unlike signs."""

from __future__ import annotations

from collections.abc import Callable

MOST_STEPS = 200


def root_between(f: Callable[[float], float], low: float, high: float) -> float:
    """Close in on the root of a continuous function between two places with unlike signs.

    By false position, in which an end that stays counts half (Illinois), to the last digits of the
    place. The signs at the ends are the caller's business: with like signs an end comes back.
    """
    at_low, at_high = f(low), f(high)
    if at_low == 0.0:
        return low
    if (at_low > 0.0) == (at_high > 0.0):
        return low if abs(at_low) < abs(at_high) else high
    for _ in range(MOST_STEPS):
        place = high - at_high * (high - low) / (at_high - at_low)
        if not min(low, high) < place < max(low, high):
            place = (low + high) / 2
        at = f(place)
        if at == 0.0 or abs(high - place) <= 4e-16 * abs(place):
            return place
        if (at > 0.0) != (at_high > 0.0):
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = place, at
    return high
