"""Frames, the best fit of one set of points on another, and the circle through points.

Sources: the best rigid fit is that of orthogonal Procrustes analysis, in the plane a single angle
(Kabsch); the circle is the geometric one, distances to it squared and summed, from the algebraic
one (Kåsa) by steps of Gauss and Newton.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from wattwright.plane.solving import factored, solved

Point = tuple[float, float]
# How far x and y of a point move per reading.
Gain = tuple[tuple[float, ...], tuple[float, ...]]


def in_frame(points: Sequence[Point]) -> tuple[Point, ...]:
    """Move the first point to the origin, the second on to +x, the third to the left of it."""
    ox, oy = points[0]
    moved = [(x - ox, y - oy) for x, y in points]
    if len(moved) > 1:
        length = math.hypot(*moved[1]) or 1.0
        cos, sin = moved[1][0] / length, moved[1][1] / length
        moved = [(x * cos + y * sin, y * cos - x * sin) for x, y in moved]
        moved[1] = (moved[1][0], 0.0)
    if len(moved) > 2 and moved[2][1] < 0.0:
        moved = [(x, -y) for x, y in moved]
    return tuple(moved)


def middle(points: Sequence[Point]) -> Point:
    """Return the mean of points."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def row_of(points: Sequence[Point]) -> Point:
    """Return the direction in which points are spread most, as a step of one."""
    mx, my = middle(points)
    xx = sum((x - mx) ** 2 for x, _ in points)
    yy = sum((y - my) ** 2 for _, y in points)
    xy = sum((x - mx) * (y - my) for x, y in points)
    turn = math.atan2(2 * xy, xx - yy) / 2
    return math.cos(turn), math.sin(turn)


def rigid_part(points: Sequence[Point], gains: Sequence[Gain]) -> tuple[Gain, ...]:
    """Take from gains what moves and turns all points alike: what is left is against their fit."""
    mx, my = middle(points)
    arms = [(x - mx, y - my) for x, y in points]
    square = sum(x * x + y * y for x, y in arms) or 1.0
    found: list[tuple[list[float], list[float]]] = [([], []) for _ in points]
    for reading in range(len(gains[0][0])):
        moves = [(gx[reading], gy[reading]) for gx, gy in gains]
        ax, ay = middle(moves)
        turn = (
            sum(ux * dy - uy * dx for (ux, uy), (dx, dy) in zip(arms, moves, strict=True)) / square
        )
        for (across, up), (ux, uy), (dx, dy) in zip(found, arms, moves, strict=True):
            across.append(dx - ax + turn * uy)
            up.append(dy - ay - turn * ux)
    return tuple((tuple(across), tuple(up)) for across, up in found)


def longest(gain: Gain, sds: Sequence[float]) -> Point:
    """Return the direction in which a point may be off farthest, as a step of one."""
    xx = sum((g * sd) ** 2 for g, sd in zip(gain[0], sds, strict=True))
    yy = sum((g * sd) ** 2 for g, sd in zip(gain[1], sds, strict=True))
    xy = sum(a * b * sd * sd for a, b, sd in zip(*gain, sds, strict=True))
    turn = math.atan2(2 * xy, xx - yy) / 2
    return math.cos(turn), math.sin(turn)


@dataclass(frozen=True, slots=True)
class Fit:
    """Where one set of points comes to lie on another: mirrored first or not, turned and moved."""

    mirrored: bool
    turn: float
    shift: Point
    squares: float

    def at(self, point: Point) -> Point:
        """Return where a point comes to lie."""
        x, y = point[0], -point[1] if self.mirrored else point[1]
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        return self.shift[0] + x * cos - y * sin, self.shift[1] + x * sin + y * cos


def fit(points: Sequence[Point], to: Sequence[Point], *, mirrored: bool = False) -> Fit:
    """Lay points on others, each on its own, so that the squared distances add up to the least."""
    side = -1.0 if mirrored else 1.0
    (mx, my), (tx, ty) = middle(points), middle(to)
    cos = sin = 0.0
    for (x, y), (u, v) in zip(points, to, strict=True):
        ax, ay, bx, by = x - mx, side * (y - my), u - tx, v - ty
        cos += ax * bx + ay * by
        sin += ax * by - ay * bx
    turn = math.atan2(sin, cos)
    x, y = mx, side * my
    shift = (
        tx - x * math.cos(turn) + y * math.sin(turn),
        ty - x * math.sin(turn) - y * math.cos(turn),
    )
    found = Fit(mirrored, turn, shift, 0.0)
    squares = sum(math.dist(found.at(p), q) ** 2 for p, q in zip(points, to, strict=True))
    return Fit(mirrored, turn, shift, squares)


def best_fit(points: Sequence[Point], to: Sequence[Point]) -> tuple[tuple[int, int], ...]:
    """Pair points with others whose names say nothing, as many as the smaller set has.

    Every pair of the smaller set that lies farthest apart is tried on every pair of the larger.
    """
    few, many, swapped = (points, to, False) if len(points) <= len(to) else (to, points, True)
    ends = max(
        ((i, j) for i in range(len(few)) for j in range(i)),
        key=lambda p: math.dist(few[p[0]], few[p[1]]),
    )
    best: tuple[float, tuple[tuple[int, int], ...]] | None = None
    for onto in permutations(range(len(many)), 2):
        for mirrored in (False, True):
            pair = [few[k] for k in ends], [many[k] for k in onto]
            laid = [fit(*pair, mirrored=mirrored).at(each) for each in few]
            chosen = _nearest(laid, many)
            squares = sum(math.dist(laid[i], many[j]) ** 2 for i, j in chosen)
            # Of two that fit alike, the one that is not mirrored.
            if best is None or squares < best[0] * (1 - 1e-9) - 1e-18:
                best = squares, chosen
    chosen = best[1] if best else ()
    return tuple(sorted((j, i) for i, j in chosen)) if swapped else chosen


def _nearest(few: Sequence[Point], many: Sequence[Point]) -> tuple[tuple[int, int], ...]:
    """Pair each of a few points with the nearest that is left, the closest pairs first."""
    ways = sorted((math.dist(p, q), i, j) for i, p in enumerate(few) for j, q in enumerate(many))
    chosen: dict[int, int] = {}
    for _, i, j in ways:
        if i not in chosen and j not in chosen.values():
            chosen[i] = j
    return tuple(sorted(chosen.items()))


def offset_gains(to: Sequence[Point], place: int) -> tuple[Gain, Gain]:
    """How far the offset of one point after a best fit moves with the places of all of them.

    First its x, then its y, each per x and per y of every point: what moves or turns all alike
    is taken up by the fit.
    """
    count = len(to)
    mx, my = middle(to)
    arms = [(x - mx, y - my) for x, y in to]
    square = sum(x * x + y * y for x, y in arms) or 1.0
    px, py = arms[place]
    own = [1.0 if k == place else 0.0 for k in range(count)]
    per = range(count)
    across = (
        tuple(own[k] - 1.0 / count - py * arms[k][1] / square for k in per),
        tuple(py * arms[k][0] / square for k in per),
    )
    up = (
        tuple(px * arms[k][1] / square for k in per),
        tuple(own[k] - 1.0 / count - px * arms[k][0] / square for k in per),
    )
    return across, up


def carried(gain: Gain, laid: Fit) -> Gain:
    """How far the same offset moves with the points that were laid on: against those they met."""
    cos, sin = math.cos(laid.turn), math.sin(laid.turn)
    side = -1.0 if laid.mirrored else 1.0
    per_x = tuple(-(gx * cos + gy * sin) for gx, gy in zip(*gain, strict=True))
    per_y = tuple(side * (gx * sin - gy * cos) for gx, gy in zip(*gain, strict=True))
    return per_x, per_y


@dataclass(frozen=True, slots=True)
class Round:
    """A circle through points as nearly as can be, and how far its radius moves with each."""

    centre: Point
    radius: float
    off: tuple[float, ...]
    gains: Gain


def circle(points: Sequence[Point]) -> Round | None:
    """Lay a circle through points; none where they stand in a line."""
    mx, my = middle(points)
    scale = math.sqrt(sum((x - mx) ** 2 + (y - my) ** 2 for x, y in points) / len(points)) or 1.0
    there = [((x - mx) / scale, (y - my) / scale) for x, y in points]
    # Kåsa: x² + y² = 2ax + 2by + c is linear in a, b and c.
    rows = [(2 * x, 2 * y, 1.0) for x, y in there]
    lower, held = factored(_squared(rows), 1e-6)
    if not held:
        return None
    a, b, c = solved(lower, _against(rows, [x * x + y * y for x, y in there]))
    radius = math.sqrt(c + a * a + b * b)
    for _ in range(60):
        rows, off = _round_rows(there, (a, b), radius)
        lower, held = factored(_squared(rows), 1e-9)
        if not held:
            return None
        da, db, dr = solved(lower, _against(rows, off))
        a, b, radius = a + da, b + db, radius + dr
        if max(map(abs, (da, db, dr))) < 1e-14 * max(radius, 1.0):
            break
    rows, off = _round_rows(there, (a, b), radius)
    lower, _ = factored(_squared(rows))
    moves = [solved(lower, [u, v, w])[2] for u, v, w in rows]
    gains = (
        tuple(move * row[0] for move, row in zip(moves, rows, strict=True)),
        tuple(move * row[1] for move, row in zip(moves, rows, strict=True)),
    )
    centre = (mx + a * scale, my + b * scale)
    return Round(centre, radius * scale, tuple(each * scale for each in off), gains)


def _round_rows(
    points: Sequence[Point], centre: Point, radius: float
) -> tuple[list[tuple[float, float, float]], list[float]]:
    rows, off = [], []
    for x, y in points:
        dx, dy = x - centre[0], y - centre[1]
        far = math.hypot(dx, dy) or 1e-12
        rows.append((dx / far, dy / far, 1.0))
        off.append(far - radius)
    return rows, off


def _squared(rows: Sequence[Sequence[float]]) -> list[list[float]]:
    size = len(rows[0])
    return [[sum(row[i] * row[j] for row in rows) for j in range(size)] for i in range(size)]


def _against(rows: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    size = len(rows[0])
    return [sum(row[i] * each for row, each in zip(rows, right, strict=True)) for i in range(size)]
