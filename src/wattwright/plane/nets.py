"""Points in a plane from distances between them: weighted least squares, and what is missing.

    adjust      coordinates that fit all distances best, gains, residuals and their deviations
    suspects    which distances do not agree with the others
    missing     distances to measure, where those there are do not say where every point is

Frame: the first point is the origin, the second lies on the positive x axis, and the third is to
the left of it. Lengths and standard deviations are in one unit of length, whichever.

Sources: the method of least squares; data snooping after Baarda, its level shared among all
readings as Bonferroni's inequality allows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

from wattwright.plane.fits import Point, in_frame, middle, rigid_part, row_of
from wattwright.plane.mirrors import Pair, mirrored_nets
from wattwright.plane.scaling import start
from wattwright.plane.solving import factored, solved

# A reading that the others control by less than this share of itself is not controlled at all.
UNCONTROLLED = 1e-6
# Alarms among readings that are all right: at most this share of nets raises one.
FALSE_ALARMS = 0.05
# Two readings whose removal helps alike cannot be told apart: chi squared of one degree, 95 %.
TOLD_APART = 3.841
# A pivot that is left with less than this share of its diagonal: nothing holds the point there.
_FLOPPY = 1e-7
# Points no farther off a line than so many of their own deviations stand in a row for all we know.
_IN_A_ROW = 2.0
# A point less than this share of the farthest one off the x axis says nothing about its sides.
_OFF_THE_AXIS = 0.1
_ROUNDS = 40
_SETTLED = 1e-13
# Steps that gain less than this share of the squares, or than this much of them, change no digit.
_GAINED, _NOTHING = 1e-11, 1e-18
# From one mirror image to a better one, so many times.
_TURNS = 4
# A net told from its mirror image by less than so many standard deviations is not told from it.
_MIRROR = 4.0


class FloppyError(ArithmeticError):
    """The distances leave points free to move."""


@dataclass(frozen=True, slots=True, eq=False)
class Net:
    """Points adjusted to distances.

    ``gains`` holds for each point how far its x and its y move per reading, in the frame;
    ``free_gains`` the same against the best fit of all points, where no point is the origin.
    ``shares`` holds how far each fitted distance moves per reading. ``standard`` is each residual
    over its own standard deviation, nought where nothing controls the reading.
    """

    points: tuple[Point, ...]
    pairs: tuple[Pair, ...]
    fitted: tuple[float, ...]
    residuals: tuple[float, ...]
    gains: tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]
    free_gains: tuple[tuple[tuple[float, ...], tuple[float, ...]], ...]
    shares: tuple[tuple[float, ...], ...]
    standard: tuple[float, ...]
    controlled: tuple[bool, ...]
    squares: float

    @property
    def spare(self) -> int:
        """How many readings there are beyond those needed."""
        return len(self.pairs) - max(2 * len(self.points) - 3, 0)

    @property
    def critical(self) -> float:
        """Standard deviations beyond which a residual is an alarm."""
        return critical(sum(self.controlled))


def critical(count: int) -> float:
    """Return how many deviations the largest of so many residuals may have, 95 % of the time."""
    return NormalDist().inv_cdf(1.0 - FALSE_ALARMS / (2 * max(count, 1)))


def _columns(count: int) -> list[tuple[int, int]]:
    """Places of x and y of every point among the unknowns; -1 where the frame fixes them."""
    free = [(1 + 2 * k, 2 + 2 * k) for k in range(max(count - 2, 0))]
    return [(-1, -1), (0, -1), *free][:count]


Row = tuple[tuple[int, float], ...]


def _rows(points: Sequence[Point], pairs: Sequence[Pair]) -> list[tuple[float, Row]]:
    """Length of each pair, and its slope along each unknown it depends on."""
    columns = _columns(len(points))
    rows = []
    for i, j in pairs:
        dx, dy = points[j][0] - points[i][0], points[j][1] - points[i][1]
        length = math.hypot(dx, dy) or 1e-12
        ux, uy = dx / length, dy / length
        (ix, iy), (jx, jy) = columns[i], columns[j]
        row = tuple(
            (place, slope)
            for place, slope in ((ix, -ux), (iy, -uy), (jx, ux), (jy, uy))
            if place >= 0
        )
        rows.append((length, row))
    return rows


def _normal(
    rows: Sequence[tuple[float, Row]], weights: Sequence[float], size: int
) -> list[list[float]]:
    normal = [[0.0] * size for _ in range(size)]
    for (_, row), weight in zip(rows, weights, strict=True):
        for place, slope in row:
            line, by = normal[place], weight * slope
            for other, against in row:
                line[other] += by * against
    return normal


def squares_of(
    points: Sequence[Point], pairs: Sequence[Pair], lengths: Sequence[float], sds: Sequence[float]
) -> float:
    """Return the sum of squared residuals, each over its standard deviation."""
    return sum(
        ((length - math.dist(points[i], points[j])) / sd) ** 2
        for (i, j), length, sd in zip(pairs, lengths, sds, strict=True)
    )


def settled(
    points: Sequence[Point], pairs: Sequence[Pair], lengths: Sequence[float], sds: Sequence[float]
) -> tuple[Point, ...]:
    """Move points in the frame until the weighted sum of squares is least (Levenberg)."""
    count = len(points)
    size, columns = max(2 * count - 3, 1), _columns(count)
    weights = [1.0 / (sd * sd) for sd in sds]
    now, cost, damping = list(points), squares_of(points, pairs, lengths, sds), 1e-9
    scale = max(lengths)
    for _ in range(_ROUNDS):
        rows = _rows(now, pairs)
        normal, right = _normal(rows, weights, size), [0.0] * size
        for (found, row), weight, length in zip(rows, weights, lengths, strict=True):
            for place, slope in row:
                right[place] += weight * slope * (length - found)
        most = max(normal[k][k] for k in range(size))
        while damping < 1e9:
            damped = [
                [
                    each + (damping * (normal[i][i] + 1e-6 * most) if i == j else 0.0)
                    for j, each in enumerate(row)
                ]
                for i, row in enumerate(normal)
            ]
            step = solved(factored(damped)[0], right)
            tried = [
                (x + (step[at] if at >= 0 else 0.0), y + (step[up] if up >= 0 else 0.0))
                for (x, y), (at, up) in zip(now, columns, strict=True)
            ]
            then = squares_of(tried, pairs, lengths, sds)
            if then <= cost * (1 + 1e-12):
                break
            damping = max(10.0 * damping, 1e-6)
        else:
            break
        gained = cost - then
        now, cost, damping = tried, then, max(damping / 100.0, 1e-12)
        if max(map(abs, step)) < _SETTLED * scale or gained <= _GAINED * cost + _NOTHING:
            break
    return tuple(now)


@lru_cache(maxsize=256)
def adjust(
    count: int,
    pairs: tuple[Pair, ...],
    lengths: tuple[float, ...],
    sds: tuple[float, ...],
    left: int = 0,
) -> Net:
    """Adjust points to distances; ``left`` is the point that lies to the left of the x axis.

    Where none is named it is the first that is clearly off the axis. Raises FloppyError where the
    distances leave a point free; ``missing`` says what to measure.
    """
    points = _best(count, pairs, lengths, sds)
    clearly = max((abs(y) for _, y in points), default=0.0) * _OFF_THE_AXIS
    chosen = left or next((k for k, (_, y) in enumerate(points) if abs(y) > clearly), 0)
    turned = -1.0 if points[chosen][1] < 0.0 else 1.0
    return _net([(x, turned * y) for x, y in points], pairs, lengths, sds)


def _best(
    count: int, pairs: Sequence[Pair], lengths: Sequence[float], sds: Sequence[float]
) -> tuple[Point, ...]:
    """Return the coordinates of least squares, also where the start led to a mirrored point."""
    points = in_frame(settled(start(count, pairs, lengths), pairs, lengths, sds))
    for _ in range(_TURNS):
        least = squares_of(points, pairs, lengths, sds)
        better = points
        for other in mirrored_nets(points, pairs, lengths, sds):
            moved = in_frame(settled(other, pairs, lengths, sds))
            if squares_of(moved, pairs, lengths, sds) < least - 1e-6:
                least, better = squares_of(moved, pairs, lengths, sds), moved
        if better is points:
            break
        points = better
    return points


def _net(
    points: Sequence[Point],
    pairs: tuple[Pair, ...],
    lengths: Sequence[float],
    sds: Sequence[float],
) -> Net:
    count, columns = len(points), _columns(len(points))
    size = max(2 * count - 3, 1)
    rows, weights = _rows(points, pairs), [1.0 / (sd * sd) for sd in sds]
    lower, held = factored(_normal(rows, weights, size), _FLOPPY)
    if not held:
        raise FloppyError("the distances leave a point free to move")
    moves = []
    for (_, row), weight in zip(rows, weights, strict=True):
        right = [0.0] * size
        for place, slope in row:
            right[place] += weight * slope
        moves.append(solved(lower, right))
    nothing = (0.0,) * len(pairs)
    gains = tuple(
        (
            tuple(move[at] for move in moves) if at >= 0 else nothing,
            tuple(move[up] for move in moves) if up >= 0 else nothing,
        )
        for at, up in columns
    )
    shares = tuple(
        tuple(sum(slope * move[place] for place, slope in row) for move in moves) for _, row in rows
    )
    residuals = tuple(length - found for length, (found, _) in zip(lengths, rows, strict=True))
    free = [1.0 - shares[k][k] for k in range(len(pairs))]
    controlled = tuple(each > UNCONTROLLED for each in free)
    standard = tuple(
        residual / (sd * math.sqrt(part)) if seen else 0.0
        for residual, sd, part, seen in zip(residuals, sds, free, controlled, strict=True)
    )
    squares = sum((v / sd) ** 2 for v, sd in zip(residuals, sds, strict=True))
    return Net(
        tuple(points),
        pairs,
        tuple(found for found, _ in rows),
        residuals,
        gains,
        rigid_part(points, gains),
        shares,
        standard,
        controlled,
        squares,
    )


def predicted(net: Net, pair: Pair) -> tuple[float, tuple[float, ...]]:
    """Return the distance of two points by a net, and how far it moves per reading of the net."""
    i, j = pair
    (ax, ay), (bx, by) = net.points[i], net.points[j]
    length = math.hypot(bx - ax, by - ay) or 1e-12
    ux, uy = (bx - ax) / length, (by - ay) / length
    (from_x, from_y), (to_x, to_y) = net.gains[i], net.gains[j]
    shares = tuple(
        ux * (b - a) + uy * (d - c) for a, b, c, d in zip(from_x, to_x, from_y, to_y, strict=True)
    )
    return length, shares


def suspects(net: Net) -> tuple[int, ...]:
    """List the readings that do not agree with the others, the worst first.

    Each residual is held against its own standard deviation. More than one is named where leaving
    out either helps alike, so that nobody can tell them apart.
    """
    sizes = [abs(each) for each in net.standard]
    worst = max(sizes, default=0.0)
    if worst <= net.critical:
        return ()
    alike = [k for k, size in enumerate(sizes) if worst**2 - size**2 < TOLD_APART]
    return tuple(sorted(alike, key=lambda k: -sizes[k]))


@lru_cache(maxsize=256)
def missing(
    count: int,
    pairs: tuple[Pair, ...],
    lengths: tuple[float, ...],
    sds: tuple[float, ...],
) -> tuple[tuple[Pair, ...], bool]:
    """List distances to measure until every point is held, and not only up to its mirror image.

    The second of the pair is true where no distance would help: all points lie on one line.
    """
    if not pairs:
        return tuple((0, k) for k in range(1, count)), False
    there, long, wide = list(pairs), list(lengths), list(sds)
    asked: list[Pair] = []
    for _ in range(2 * count):
        pair, on_a_line = _next_missing(count, there, long, wide)
        if pair is None:
            return tuple(asked), on_a_line
        asked.append(pair)
        points = settled(start(count, there, long), there, long, wide)
        there.append(pair)
        long.append(math.dist(points[pair[0]], points[pair[1]]) or max(long))
        wide.append(max(wide))
    return tuple(asked), False


def _next_missing(
    count: int, pairs: Sequence[Pair], lengths: Sequence[float], sds: Sequence[float]
) -> tuple[Pair | None, bool]:
    there = {frozenset(pair) for pair in pairs}
    open_pairs = [
        (i, j) for i in range(count) for j in range(i + 1, count) if frozenset((i, j)) not in there
    ]
    points = in_frame(settled(start(count, pairs, lengths), pairs, lengths, sds))
    loose = _loose_pair(points, pairs, lengths, sds, open_pairs)
    if loose is None:
        # The best of all may be loose where the first that was found is not.
        points = _best(count, pairs, lengths, sds)
        loose = _loose_pair(points, pairs, lengths, sds, open_pairs)
    if loose is not None:
        return loose
    here = squares_of(points, pairs, lengths, sds)
    for other in mirrored_nets(points, pairs, lengths, sds):
        moved_net = settled(other, pairs, lengths, sds)
        if squares_of(moved_net, pairs, lengths, sds) - here > _MIRROR**2:
            continue
        apart = [
            abs(math.dist(points[i], points[j]) - math.dist(moved_net[i], moved_net[j]))
            for i, j in open_pairs
        ]
        if apart and max(apart) > _MIRROR * max(sds):
            return open_pairs[apart.index(max(apart))], False
    return None, False


def _loose_pair(
    points: Sequence[Point],
    pairs: Sequence[Pair],
    lengths: Sequence[float],
    sds: Sequence[float],
    open_pairs: Sequence[Pair],
) -> tuple[Pair | None, bool] | None:
    """Name the distance that would hold what is loose, or say that all stand in a row."""
    rows = _rows(points, pairs)
    normal = _normal(rows, [1.0 / (sd * sd) for sd in sds], max(2 * len(points) - 3, 1))
    if factored(normal, _FLOPPY)[1]:
        row = len(points) > 2 and _in_a_row(_net(points, tuple(pairs), lengths, sds), sds)
        return (None, True) if row else None
    # The way in which the net can move without a distance changing.
    way = _loose(normal)
    moved = [abs(sum(slope * way[k] for k, slope in row)) for _, row in _rows(points, open_pairs)]
    if not moved or max(moved) < 1e-6:
        # Where no first step changes a distance, a point stands on the line of the others.
        off = _farthest_off(points, open_pairs)
        return off, off is None
    return open_pairs[moved.index(max(moved))], False


def _in_a_row(net: Net, sds: Sequence[float]) -> bool:
    """Tell whether no point is off the line of all by more than it may be off by chance."""
    ux, uy = row_of(net.points)
    mx, my = middle(net.points)
    for (x, y), (right, up) in zip(net.points, net.free_gains, strict=True):
        off = abs((y - my) * ux - (x - mx) * uy)
        across = (sd * (b * ux - a * uy) for a, b, sd in zip(right, up, sds, strict=True))
        if off > _IN_A_ROW * math.sqrt(sum(each * each for each in across)):
            return False
    return True


def _farthest_off(points: Sequence[Point], open_pairs: Sequence[Pair]) -> Pair | None:
    """Name the longest distance that nobody measured, if there is one."""
    return max(open_pairs, key=lambda p: math.dist(points[p[0]], points[p[1]]), default=None)


def _loose(normal: Sequence[Sequence[float]]) -> list[float]:
    """Return the direction that the matrix holds least, by inverse iteration."""
    size = len(normal)
    most = max(normal[k][k] for k in range(size))
    lower, _ = factored(
        [
            [each + (1e-9 * most if i == j else 0.0) for j, each in enumerate(row)]
            for i, row in enumerate(normal)
        ]
    )
    way = [math.cos(1.0 + 1.7 * k) for k in range(size)]
    for _ in range(12):
        way = solved(lower, way)
        length = math.sqrt(sum(each * each for each in way))
        way = [each / length for each in way]
    return way
