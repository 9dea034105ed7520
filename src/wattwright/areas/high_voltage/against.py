"""A cable against its fuse: which of the two lasts longer at every current.

Both are curves of time against current. How close they come is stated as the current that the
cable stands for as long as the fuse takes at its own: near what the cable carries for hours a
little less current makes the time many times as long, and a ratio of times would tell nothing.
Where that is closest is found in plain numbers; what is stated is worked out there, so that every
input keeps its influence.
"""

from __future__ import annotations

from wattwright.areas.high_voltage.followed import Followed, between, spaced
from wattwright.build.devices import Fuse
from wattwright.descriptions.high_voltage import CurvesFound
from wattwright.kinds import CURRENT, TIME
from wattwright.physics import fuse
from wattwright.sampled import Curve
from wattwright.values import Value, constant, worked

# A curve is read off paper no finer.
_POINTS = 48


def opens_after(curve: Curve, current: Value) -> Value:
    """Time in which a fuse has opened at a current, by its curve."""
    currents = [constant(CURRENT, x, "point of the curve") for x in curve.x]
    times = [constant(TIME, y, "point of the curve") for y in curve.y]
    return worked(
        fuse.opening_within, worked(fuse.melting_time, current, currents, times), curve.share
    )


def closest(cable: Followed, fault: Value, curve: Curve) -> tuple[Value, Value]:
    """Current that the cable stands as long as its fuse takes, and that of the fuse.

    Both where the first is the smallest share of the second. Without what is needed to know it,
    the first says what is missing.
    """
    first = constant(CURRENT, curve.x[0], "first current of the fuse's curve")
    if not (cable.ready and fault.known):
        return cable.stated(opens_after(curve, first)), first
    points = cable.curve(max(fault.number or 0.0, curve.x[-1]))
    last = max(min(fault.number or 0.0, curve.x[-1]), curve.x[0])
    currents = sorted({*spaced(curve.x[0], last, _POINTS), *(x for x in curve.x if x <= last)})
    _, at = min((between(points, fuse.melting_time(x, curve.x, curve.y)) / x, x) for x in currents)
    of_fuse = constant(CURRENT, at, "current at which the fuse is closest to too late")
    return cable.stands(opens_after(curve, of_fuse), points), of_fuse


def curves(cable: Followed, fault: Value, own: Fuse | None) -> CurvesFound:
    """Give both as points to draw, and the currents at which the fuse comes too late."""
    curve = own.opening_curve if own is not None else None
    points = tuple(zip(curve.x, curve.y, strict=True)) if curve is not None else ()
    if not (cable.ready and fault.known):
        return CurvesFound((), points, ())
    last = max([fault.number or 0.0, *(x for x, _ in points)])
    lasts = tuple(cable.curve(last))
    if curve is None or not curve.known:
        return CurvesFound(lasts, points, ())
    faults = [(x, time) for x, time in lasts if x <= (fault.number or 0.0)]
    ratios = [
        time / fuse.melting_time(x, curve.x, curve.y) if curve.x[0] <= x <= curve.x[-1] else None
        for x, time in faults
    ]
    looked_at = [x for x, _ in faults]
    # Somewhere before the next current that was looked at the fuse comes in time again.
    bare = [
        (low, next((x for x in looked_at if x > high), high))
        for low, high in fuse.not_protected(looked_at, ratios)
    ]
    return CurvesFound(lasts, points, tuple(bare))
