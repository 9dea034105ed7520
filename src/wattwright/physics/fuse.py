"""Fuses: how soon they open, and whether the cable behind them lasts that long.

    melting_time, opening_within      from the points of a time-current curve
    let_through                       what passes until it opens
    protection, weakest_protection    cable's time over fuse's
    not_protected                     the currents at which the cable burns first

Between two points the curve is a straight line on paper with logarithms on both axes. Outside its
points nothing is known: a fuse made for short circuits alone may burn for minutes below its first.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import log

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Fraction, JouleIntegral, Ratio, Time

STRAIGHT = Source("Straight line between points, logarithms on both axes", "", "computed")
DEFINITION = Source("Definition", "", "computed")
COMPARED = Source("Comparison of two curves point by point", "", "computed")

ASKED = {
    "current": ("current", "350 A"),
    "currents": ("currents of the points, growing", "200 A; 400 A; 1000 A; 3000 A"),
    "times": ("time to open at each of them", "600 s; 20 s; 0.3 s; 0.01 s"),
    "time": ("time by the curve", "0.3 s"),
    "share": ("how far the curve may be off", "0 %"),
    "opens": ("time until it has opened", "10 ms"),
    "cable_time": ("time the cable lasts at this current", "150 s"),
    "fuse_time": ("longest time the fuse takes at this current", "20 s"),
    "ratios": ("ratio of the two at each current", "1.5; 7.5; 70"),
}


@formula(
    "t",
    STRAIGHT,
    method="the two points of the curve on either side of the current are found by halving; the "
    "formula is the straight line between them, of logarithms",
)
def melting_time(current: Current, currents: Sequence[Current], times: Sequence[Time]) -> Time:
    """Time in which a fuse opens, on its time-current curve.

    t_a·(I/I_a)^(ln(t_b/t_a)/ln(I_b/I_a)): ``current`` I and ``currents`` in A, these growing,
    ``times`` in s, these falling. A curve of melting times leaves out the arc.
    """
    if len(currents) != len(times) or len(currents) < 2:
        raise FormulaError("a curve needs two points or more, each with current and time")
    if min(*currents, *times) <= 0:
        raise FormulaError("currents and times of a curve are above zero")
    if any(after <= before for before, after in pairwise(currents)) or any(
        after > before for before, after in pairwise(times)
    ):
        raise FormulaError("along a curve the currents grow and the times do not")
    if not currents[0] <= current <= currents[-1]:
        raise FormulaError(
            f"the curve goes from {currents[0]:g} A to {currents[-1]:g} A and says nothing of "
            f"{current:g} A"
        )
    place = min(bisect_right(currents, current), len(currents) - 1)
    currents, times = currents[place - 1 : place + 1], times[place - 1 : place + 1]
    return times[0] * math.pow(
        current / currents[0], log(times[1] / times[0]) / log(currents[1] / currents[0])
    )


@formula("t", DEFINITION)
def opening_within(time: Time, share: Fraction) -> Time:
    """Time in which a fuse opens, with what its printed curve may be off.

    t·(1 + s): ``time`` t in s off the curve, ``share`` s.
    """
    return time * (1 + share)


@formula("I²t", DEFINITION)
def let_through(current: Current, opens: Time) -> JouleIntegral:
    """Joule integral that a fuse lets through until it has opened.

    I²·t: ``current`` I in A, ``opens`` t in s, melting and arc together. At a short circuit that
    grows while the fuse melts it lets through less.
    """
    return current**2 * opens


@formula("t_c/t_f", COMPARED)
def protection(cable_time: Time, fuse_time: Time) -> Ratio:
    """Time that the cable lasts at a current, over the time that the fuse takes.

    t_c/t_f: ``cable_time`` t_c and ``fuse_time`` t_f in s, at one current. Below one the cable
    burns first. Where the fuse's curve does not reach, nothing is protected.
    """
    if min(cable_time, fuse_time) <= 0:
        raise FormulaError("times are above zero")
    return cable_time / fuse_time


@formula("t_c/t_f", COMPARED)
def weakest_protection(ratios: Sequence[Ratio]) -> Ratio:
    """Smallest ratio of the time that a cable lasts to the time that its fuse takes.

    min(t_c/t_f) over several currents: ``ratios`` of the two. Leave out the currents that the cable
    carries for good, and no other. Between the currents it may be smaller: take them close.
    """
    if not ratios:
        raise FormulaError("no current was compared")
    return min(ratios)


def not_protected(
    currents: Sequence[float], ratios: Sequence[float | None]
) -> list[tuple[float, float]]:
    """Ranges of the currents in which a fuse does not protect its cable, from first to last.

    ``currents`` in A, growing, ``ratios`` of cable's to fuse's time, None where the fuse's curve
    does not reach.
    """
    ranges: list[tuple[float, float]] = []
    open_since: float | None = None
    last = 0.0
    for current, ratio in zip(currents, ratios, strict=True):
        if ratio is None or ratio < 1:
            open_since = current if open_since is None else open_since
            last = current
        elif open_since is not None:
            ranges.append((open_since, last))
            open_since = None
    return ranges if open_since is None else [*ranges, (open_since, last)]
