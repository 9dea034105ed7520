"""A cable against its fuse: which of the two lasts longer at every current.

The current at which the fuse is closest to too late is found in plain numbers; what is stated is
worked out at that current, so that every input keeps its influence.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.areas.wired import Wired
from wattwright.build.devices import Fuse
from wattwright.descriptions.high_voltage import CurvesFound
from wattwright.kinds import CURRENT, TIME
from wattwright.physics import cable_warming, fuse
from wattwright.sampled import Curve
from wattwright.values import Value, constant, worked

# Currents between which nothing is looked at: a fuse's curve is read off paper no finer.
_SEARCHED, _DRAWN = 48, 60


def opens_after(curve: Curve, current: Value) -> Value:
    """Time in which a fuse has opened at a current, by its curve."""
    currents = [constant(CURRENT, x, "point of the curve") for x in curve.x]
    times = [constant(TIME, y, "point of the curve") for y in curve.y]
    return worked(
        fuse.opening_within, worked(fuse.melting_time, current, currents, times), curve.share
    )


def weakest(
    run: Wired, over: Value, start: Value, overloads: Value, fault: Value, curve: Curve
) -> Value:
    """Time that the cable lasts over the time that its fuse takes, where that is smallest."""
    at = _weakest_current(run, over, start, overloads, fault, curve)
    return worked(fuse.protection, run.lasting(at, over, start), opens_after(curve, at))


def _weakest_current(
    run: Wired, over: Value, start: Value, overloads: Value, fault: Value, curve: Curve
) -> Value:
    """Find that current; where something is missing the first one lacks the same."""
    low, high = overloads.number, fault.number
    ready = run.known and over.known and start.known
    if low is None or high is None or not ready or high <= low:
        return overloads
    low, high = max(low, curve.x[0]), min(high, curve.x[-1])
    if not high > low:
        return overloads
    between = [x for x in curve.x if low < x < high]
    currents = sorted([*_spaced(low, high, _SEARCHED), *between])
    ratios = _ratios(run, over, start, curve, currents)
    known = [(ratio, x) for ratio, x in zip(ratios, currents, strict=True) if ratio is not None]
    return constant(CURRENT, min(known)[1], "current at which the fuse is closest to too late")


def curves(run: Wired, over: Value, start: Value, fault: Value, own: Fuse | None) -> CurvesFound:
    """Give both as points to draw, and the currents at which the fuse comes too late."""
    read_off = own.curve if own is not None else None
    fuse_points = tuple(zip(read_off.x, read_off.y, strict=True)) if read_off is not None else ()
    ready = run.known and over.known and start.known and fault.known
    if not ready or (start.number or 0.0) >= (over.number or 0.0):
        return CurvesFound((), fuse_points, ())
    last = max(fault.number or 0.0, *(x for x, _ in fuse_points[-1:]))
    currents = _spaced(_first(run, over), last, _DRAWN)
    points = tuple((x, _lasts(run, over, start, x)) for x in currents)
    if read_off is None or not read_off.known:
        return CurvesFound(points, fuse_points, ())
    faults = [x for x in currents if x <= (fault.number or 0.0)]
    ratios = _ratios(run, over, start, read_off, faults)
    return CurvesFound(points, fuse_points, tuple(fuse.not_protected(faults, ratios)))


def _first(run: Wired, over: Value) -> float:
    """Current that warms the cable to its overload temperature in hours, and a hair more."""
    cable = run.warming(1.0)
    limit = over.number or 0.0
    given = cable.cable.given_by_each(limit)
    heat = cable.heat * (1 + cable.coefficient * (limit - cable.reference))
    return 1.01 * float((given / heat) ** 0.5)


def _lasts(run: Wired, over: Value, start: Value, current: float) -> float:
    ends = start.number or 0.0, over.number or 0.0
    return run.warming(current).time_within(*ends, cable_warming.LONGEST)


def _ratios(
    run: Wired, over: Value, start: Value, curve: Curve, currents: Sequence[float]
) -> list[float | None]:
    """Cable's over fuse's time at each current; none where the fuse's curve does not reach."""
    return [
        _lasts(run, over, start, x) / fuse.melting_time(x, curve.x, curve.y)
        if curve.x[0] <= x <= curve.x[-1]
        else None
        for x in currents
    ]


def _spaced(low: float, high: float, count: int) -> list[float]:
    """Currents from low to high, each the same share above the one before."""
    return [*(low * (high / low) ** (place / count) for place in range(count)), high]
