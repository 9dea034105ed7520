"""Zeros of waves with a second harmonic, for floats and, many at once, for arrays.

A wave (a0, a1, b1, a2, b2) stands for a0 + a1 cos θ + b1 sin θ + a2 cos 2θ + b2 sin 2θ. With
t = tan(θ/2) its zeros are those of a quartic, whose real roots lie between the turning points.
The eigenvalue solver of a general library finds the same roots, and was measured to take several
times as long for the hundreds that one curve needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, atan, atan2, cbrt, copysign, cos, inf, sin, sqrt
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

EIGHTHS = [(cos(k * math.pi / 4), sin(k * math.pi / 4)) for k in range(8)]
# Offsets of the three real roots of a cubic, smallest root first.
THIRDS = (2 * math.pi / 3, 4 * math.pi / 3, 0.0)
STEPS = 60
# When a root no longer moves, and after how many steps the search ends whatever happens.
SMALL = 1e-12


def _quartic(wave: Any, cosine: Any, sine: Any) -> tuple[Any, ...]:
    """Coefficients of t³, t², t and 1 beside t⁴, where t is tan(θ/2) and θ counts from a turn.

    The angle opposite the turn lies at infinity, so the wave must not be nought there.
    """
    a0, a1, b1, a2, b2 = wave
    cosine2, sine2 = cosine**2 - sine**2, 2 * sine * cosine
    a1, b1 = a1 * cosine + b1 * sine, b1 * cosine - a1 * sine
    a2, b2 = a2 * cosine2 + b2 * sine2, b2 * cosine2 - a2 * sine2
    first = a0 - a1 + a2
    return (
        (2 * b1 - 4 * b2) / first,
        (2 * a0 - 6 * a2) / first,
        (2 * b1 + 4 * b2) / first,
        (a0 + a1 + a2) / first,
    )


def zeros(wave: Sequence[float]) -> Iterator[float]:
    """Angles at which a wave is nought."""
    a0, a1, b1, a2, b2 = wave
    sizes = [abs(a0 + a1 * c + b1 * s + a2 * (c * c - s * s) + b2 * 2 * s * c) for c, s in EIGHTHS]
    largest = sizes.index(max(sizes))
    # The largest of eight values goes to infinity: four steps of an eighth further on.
    c, s = EIGHTHS[largest - 4]
    quartic = _quartic(wave, c, s)
    bound = 1 + max(map(abs, quartic))
    edges = [-bound, *_turning_points(*quartic[:3]), bound]
    for low, high in pairwise(edges):
        root = _root_between(quartic, low, high)
        if root is not None:
            yield 2 * atan(root) + atan2(s, c)


def _turning_points(k3: float, k2: float, k1: float) -> list[float]:
    """Real roots of the derivative t³ + 3/4 k3 t² + k2/2 t + k1/4 of a quartic, in order."""
    shift = k3 / 4
    p = k2 / 2 - 3 * shift**2
    q = 2 * shift**3 - shift * k2 / 2 + k1 / 4
    inside = (q / 2) ** 2 + (p / 3) ** 3
    if inside >= 0:
        large = cbrt(-q / 2 - copysign(sqrt(inside), q))
        return [large - (p / (3 * large) if large else 0.0) - shift]
    size = 2 * sqrt(-p / 3)
    angle = acos(max(-1.0, min(1.0, 3 * q / (p * size)))) / 3
    return [size * cos(angle + turn) - shift for turn in THIRDS]


def _root_between(quartic: Sequence[float], low: float, high: float) -> float | None:
    """Root of a quartic between neighbouring turning points: Newton, halving where it leaves."""
    k3, k2, k1, k0 = quartic

    def value(t: float) -> float:
        return (((t + k3) * t + k2) * t + k1) * t + k0

    below = value(low)
    if below * value(high) > 0:
        return None
    t = (low + high) / 2
    for _ in range(STEPS):
        here = value(t)
        if (here < 0) == (below < 0):
            low = t
        else:
            high = t
        slope = ((4 * t + 3 * k3) * t + 2 * k2) * t + k1
        after = t - here / slope if slope else inf
        if not low <= after <= high:
            after = (low + high) / 2
        if abs(after - t) <= SMALL * (1 + abs(t)):
            return after
        t = after
    return t


def zeros_of_many(waves: Floats) -> tuple[NDArray[np.intp], Floats]:
    """Find the zeros of many waves, one in each column: whose each is, and its angle."""
    import numpy as np

    turns = np.array(EIGHTHS)
    c, s = turns.T
    basis = np.array([np.ones(8), c, s, c * c - s * s, 2 * s * c])
    largest = np.abs(waves.T @ basis).argmax(axis=1)
    cosine, sine = turns[largest - 4].T
    quartic = np.array(_quartic(waves, cosine, sine))
    k3, k2, k1, _ = quartic
    bound = 1 + np.abs(quartic).max(axis=0)
    shift = k3 / 4
    p = k2 / 2 - 3 * shift**2
    q = 2 * shift**3 - shift * k2 / 2 + k1 / 4
    inside = (q / 2) ** 2 + (p / 3) ** 3
    large = np.cbrt(-q / 2 - np.copysign(np.sqrt(np.maximum(inside, 0)), q))
    alone = large - np.divide(p, 3 * large, out=np.zeros_like(p), where=large != 0) - shift
    size = 2 * np.sqrt(np.maximum(-p / 3, 0))
    ratio = np.divide(3 * q, p * size, out=np.zeros_like(p), where=inside < 0)
    angle = np.arccos(np.clip(ratio, -1, 1)) / 3
    three = [np.where(inside < 0, size * np.cos(angle + t) - shift, alone) for t in THIRDS]
    edges = np.array([-bound, *three, bound])
    at_edges = _values(quartic[:, None, :], edges)
    piece, column = np.nonzero(at_edges[:-1] * at_edges[1:] <= 0)
    roots = _roots_between(
        quartic[:, column], edges[piece, column], edges[piece + 1, column], at_edges[piece, column]
    )
    return column, 2 * np.arctan(roots) + np.arctan2(sine, cosine)[column]


def _values(quartic: Floats, t: Floats) -> Floats:
    k3, k2, k1, k0 = quartic
    values: Floats = (((t + k3) * t + k2) * t + k1) * t + k0
    return values


def _roots_between(quartic: Floats, low: Floats, high: Floats, below: Floats) -> Floats:
    """Find roots of many quartics as ``_root_between`` does for one."""
    import numpy as np

    k3, k2, k1, _ = quartic
    t = (low + high) / 2
    for _ in range(STEPS):
        here = _values(quartic, t)
        same = (here < 0) == (below < 0)
        low, high = np.where(same, t, low), np.where(same, high, t)
        slope = ((4 * t + 3 * k3) * t + 2 * k2) * t + k1
        after = t - np.divide(here, slope, out=np.full_like(t, np.inf), where=slope != 0)
        after = np.where((low <= after) & (after <= high), after, (low + high) / 2)
        moved = np.abs(after - t) > SMALL * (1 + np.abs(t))
        t = after
        if not moved.any():
            break
    return t
