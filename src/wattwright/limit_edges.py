"""Where on the edge of its limits a synchronous machine gives most torque: the quick ways.

    on_the_arc       where the voltage ellipse cuts the current circle
    on_the_ellipse   where torque along the voltage ellipse is largest

Torque is a product of two straight lines, ψ + (L_d - L_q) i_d and i_q, so its logarithm is concave
where both are above zero, and both limits are convex. A point there at which the torque's slope is
a sum, with no weight below zero, of the slopes of the limits it touches is therefore the greatest
torque there is (Karush, Kuhn and Tucker). Each search below answers only with such a point; else
it answers with nothing, and the caller looks at every candidate.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import acos, atan2, cos, hypot, pi, sin

# Closer than this share of the whole angle nothing is read.
_CLOSE = 1e-14
_ROUNDS = 60
Point = tuple[float, float]


def on_the_arc(
    electrical: float,
    flux: float,
    ld: float,
    lq: float,
    rs: float,
    voltage: float,
    start: Point,
    current: float,
) -> Point | None:
    """Search the circle from the currents of most torque per ampere to those against the magnets.

    ``electrical`` rad/s, ``voltage`` V peak of a phase, ``start`` the currents of most torque per
    ampere, which need more than that voltage.
    """

    def over(angle: float) -> float:
        d, q = current * cos(angle), current * sin(angle)
        u_d, u_q = rs * d - electrical * lq * q, rs * q + electrical * (flux + ld * d)
        return u_d * u_d + u_q * u_q - voltage * voltage

    angle = _zero(over, atan2(start[1], start[0]), pi)
    if angle is None:
        return None
    d, q = current * cos(angle), current * sin(angle)
    u_d, u_q = rs * d - electrical * lq * q, rs * q + electrical * (flux + ld * d)
    across, along = flux + (ld - lq) * d, (ld - lq) * q
    v_d = rs * u_d + electrical * ld * u_q
    v_q = rs * u_q - electrical * lq * u_d
    turn = d * v_q - q * v_d
    if turn == 0 or not (across > 0 and q > 0):
        return None
    by_current = (along * v_q - across * v_d) / turn
    by_voltage = (d * across - q * along) / turn
    return (d, q) if by_current >= 0 and by_voltage >= 0 else None


def on_the_ellipse(
    axis_d: Sequence[float], axis_q: Sequence[float], flux: float, saliency: float, current: float
) -> Point | None:
    """Search the ellipse from where i_q is largest to where it is nought.

    The axes are those of the module pmsm; ``saliency`` is L_d - L_q in H.
    """
    d0, d1, d2 = axis_d
    q0, q1, q2 = axis_q
    reach = hypot(q1, q2)
    if q0 + reach <= 0 or q0 - reach >= 0:
        return None
    top = atan2(q2, q1)
    side = acos(max(-1.0, min(1.0, -q0 / reach)))

    def falling(angle: float) -> float:
        cosine, sine = cos(angle), sin(angle)
        d, q = d0 + d1 * cosine + d2 * sine, q0 + q1 * cosine + q2 * sine
        along = saliency * (d2 * cosine - d1 * sine)
        return along * q + (flux + saliency * d) * (q2 * cosine - q1 * sine)

    ends = (top + side, top - side)
    end = max(ends, key=lambda angle: saliency * (d1 * cos(angle) + d2 * sin(angle)))
    angle = _zero(falling, top, end) if saliency else top
    if angle is None:
        return None
    cosine, sine = cos(angle), sin(angle)
    d, q = d0 + d1 * cosine + d2 * sine, q0 + q1 * cosine + q2 * sine
    inside = hypot(d, q) <= current and q > 0 and flux + saliency * d > 0
    return (d, q) if inside else None


def _zero(of: Callable[[float], float], low: float, high: float) -> float | None:
    """Angle at which a function is nought, where its signs at the ends differ: false position.

    The side that has not moved is halved (the Illinois rule), so that both close in.
    """
    at_low, at_high = of(low), of(high)
    if at_low == 0:
        return low
    if at_low * at_high >= 0:
        return None
    angle = low
    for _ in range(_ROUNDS):
        angle = (low * at_high - high * at_low) / (at_high - at_low)
        here = of(angle)
        if here == 0 or abs(high - low) < _CLOSE:
            break
        if here * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        if abs(angle - high) < _CLOSE:
            break
        high, at_high = angle, here
    return angle
