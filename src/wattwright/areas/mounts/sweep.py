"""Where bodies come nearest as wheels go up and down and the unit moves on its rubber.

In plain numbers. Each wheel is looked at in nine positions, and between the two beside the tightest
the search goes on: what goes straight up and down has one least gap only, so that it is the true
one. Where two wheels move the two bodies of a pair, both go together and one against the other.
A unit on rubber is taken as widened by its movement.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from wattwright.areas.mounts.outlines import Outline, solids, spot_on
from wattwright.closest import Meeting, Shown, nearest, settled
from wattwright.convex import NOWHERE, Vector

UNIT = "unit"
# From ride height outwards: of equal gaps the one nearest to it counts.
SHARES = (0.0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0)
_BESIDE = 0.25
# Steps of the search between two positions: it ends within a thousandth of the travel.
_STEPS = 12
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
# Closer alike than what the library finds is exact.
_EQUAL = 1e-7
Corners = tuple[Vector, Vector]
# Pairs closer than so many times the gap wanted are stated, whatever else is nearer.
CLOSE = 2.0


@dataclass(frozen=True, slots=True)
class Pair:
    """Two bodies by their places in the list, and the gap wanted between them."""

    first: int
    second: int
    wanted: float


@dataclass(frozen=True, slots=True)
class Wheels:
    """Where wheels are: the share of its travel that each goes, all others at ride height.

    ``ways`` says by what moves a body whether it goes with the share or against it.
    """

    ways: tuple[tuple[str, float], ...] = ()
    share: float = 0.0

    @property
    def shares(self) -> dict[str, float]:
        """Share of its travel by what moves a body: 1 at the bump stop, -1 hanging."""
        return {group: way * self.share for group, way in self.ways}


@dataclass(frozen=True, slots=True)
class Tight:
    """The least gap of a pair: where the wheels are, which pieces of both, and where they meet.

    ``spots`` say where on each of the two, as shares of its measures.
    """

    pair: Pair
    wheels: Wheels
    pieces: tuple[int, int]
    meeting: Meeting
    spots: tuple[Vector, Vector] = (NOWHERE, NOWHERE)


@dataclass(frozen=True, slots=True)
class _Posed:
    """The pieces of a body at one position, with the upright boxes that hold them."""

    shown: tuple[Shown, ...]
    corners: tuple[Corners, ...]


@lru_cache(maxsize=32)
def tightest(
    outlines: tuple[Outline[float], ...], pairs: tuple[Pair, ...], movement: Vector
) -> tuple[Tight, ...]:
    """Find for every body the nearest other one, and whatever else comes close.

    ``movement`` is how far the unit moves each way. Kept by its numbers: the same are asked for
    again after every change of anything else in a build.
    """
    return tuple(_Sweep(outlines, movement).tightest(pairs))


class _Sweep:
    def __init__(self, outlines: tuple[Outline[float], ...], movement: Vector) -> None:
        self.outlines = outlines
        self.movement = movement
        self.posed: dict[tuple[int, tuple[float, ...]], _Posed] = {}
        self.swept = [self.swept_by(place) for place in range(len(outlines))]

    def tightest(self, pairs: Sequence[Pair]) -> Iterator[Tight]:
        """Look at pairs in the order of the least gap they can have, and no longer than need be."""
        bounds = {
            pair: self.bound(pair, self.swept[pair.first], self.swept[pair.second])
            for pair in pairs
        }
        found: dict[Pair, Tight] = {}
        least = [math.inf] * len(self.outlines)
        for pair, bound in sorted(bounds.items(), key=lambda item: item[1]):
            ends = pair.first, pair.second
            if bound >= max(CLOSE * pair.wanted, *(least[end] for end in ends)):
                continue
            found[pair] = self.least_of(pair)
            for end in ends:
                least[end] = min(least[end], found[pair].meeting.gap)
        for pair, tight in found.items():
            nearest_of = any(tight.meeting.gap <= least[end] for end in (pair.first, pair.second))
            if nearest_of or tight.meeting.gap < CLOSE * pair.wanted:
                yield self.exact(tight)

    def least_of(self, pair: Pair) -> Tight:
        """Find the least gap of a pair over all positions."""
        best: Tight | None = None
        movement = self.movement_of(pair)
        for wheels in self.positions(pair):
            one, other = self.pose(pair.first, wheels), self.pose(pair.second, wheels)
            for first, a in enumerate(one.shown):
                for second, b in enumerate(other.shown):
                    bound = self.bound(pair, one.corners[first], other.corners[second])
                    if best is not None and bound >= best.meeting.gap - _EQUAL:
                        continue
                    meeting = nearest(a, b, movement)
                    if best is None or meeting.gap < best.meeting.gap - _EQUAL:
                        best = Tight(pair, wheels, (first, second), meeting)
        if best is None:
            raise ValueError("a pair has no position")
        return best

    def exact(self, tight: Tight) -> Tight:
        """Search on between the positions beside the tightest, and settle the gap there."""
        best = tight
        for ways in self.ways(tight.pair):
            if ways and (ways == tight.wheels.ways or not tight.wheels.share):
                found = self.between(replace(tight, wheels=Wheels(ways, tight.wheels.share)))
                if found.meeting.gap < best.meeting.gap - _EQUAL:
                    best = found
        one, other = self.meeting(best)
        met = settled(one.solid, other.solid, self.movement_of(best.pair), best.meeting)
        spots = (
            spot_on(one.solid, met.way, 1.0, met.points[0]),
            spot_on(other.solid, met.way, -1.0, met.points[1]),
        )
        return replace(best, meeting=met, spots=spots)

    def between(self, tight: Tight) -> Tight:
        """Search by the golden section between the positions beside the tightest one."""
        wheels = tight.wheels
        low, high = max(-1.0, wheels.share - _BESIDE), min(1.0, wheels.share + _BESIDE)

        def at(share: float) -> Tight:
            there = replace(tight, wheels=replace(wheels, share=share))
            return replace(
                there, meeting=nearest(*self.meeting(there), self.movement_of(tight.pair))
            )

        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        found = [at(left), at(right)]
        for _ in range(_STEPS):
            if found[0].meeting.gap <= found[1].meeting.gap:
                high, right = right, left
                left = high - _GOLDEN * (high - low)
                found = [at(left), found[0]]
            else:
                low, left = left, right
                right = low + _GOLDEN * (high - low)
                found = [found[1], at(right)]
        return min(found, key=lambda each: each.meeting.gap)

    def meeting(self, tight: Tight) -> tuple[Shown, Shown]:
        """Give the two pieces that meet, where they meet."""
        pieces = (
            solids(self.outlines[index], tight.wheels.shares)
            for index in (tight.pair.first, tight.pair.second)
        )
        one, other = (Shown(each[place]) for each, place in zip(pieces, tight.pieces, strict=True))
        return one, other

    def ways(self, pair: Pair) -> tuple[tuple[tuple[str, float], ...], ...]:
        """In which ways wheels go: all together, and where there are several, one against them."""
        moved_by = [self.outlines[place].travelling for place in (pair.first, pair.second)]
        groups = sorted({group for each in moved_by for group in each})
        together = tuple((group, 1.0) for group in groups)
        if len(groups) < 2:
            return (together,)
        first, *others = groups
        return together, ((first, 1.0), *((group, -1.0) for group in others))

    def positions(self, pair: Pair) -> Iterator[Wheels]:
        """Go through the positions in which a pair is looked at, from ride height outwards."""
        for count, ways in enumerate(self.ways(pair)):
            for share in SHARES if ways else (0.0,):
                if share or not count:
                    yield Wheels(ways, share)

    def pose(self, place: int, wheels: Wheels) -> _Posed:
        """Give a body at one position; each is made once."""
        outline, shares = self.outlines[place], wheels.shares
        key = place, tuple(shares.get(group, 0.0) for group in outline.travelling)
        if key not in self.posed:
            pieces = solids(outline, shares)
            corners = tuple(piece.corners() for piece in pieces)
            self.posed[key] = _Posed(tuple(map(Shown, pieces)), corners)
        return self.posed[key]

    def swept_by(self, place: int) -> Corners:
        """Give the upright box that holds a body in all positions.

        A hose between two wheels is held too: box by box each of its points goes as far alone.
        """
        outline = self.outlines[place]
        ways = tuple((group, 1.0) for group in outline.travelling)
        shares = SHARES if ways else (0.0,)
        poses = [self.pose(place, Wheels(ways, share)) for share in shares]
        lows, highs = zip(*(corners for pose in poses for corners in pose.corners), strict=True)
        return _each(min, lows), _each(max, highs)

    def bound(self, pair: Pair, one: Corners, other: Corners) -> float:
        """Give a gap that there is at least: that of the boxes around both, less the movement."""
        apart = [
            max(low - high, other_low - other_high, 0.0)
            for low, high, other_low, other_high in zip(
                other[0], one[1], one[0], other[1], strict=True
            )
        ]
        away = math.hypot(*apart)
        return away - math.hypot(*self.movement_of(pair)) if away else -math.inf

    def movement_of(self, pair: Pair) -> Vector:
        """Give how far the unit moves; nothing for two bodies of which neither moves with it."""
        groups = {group for place in (pair.first, pair.second) for group in self.groups(place)}
        return self.movement if UNIT in groups else NOWHERE

    def groups(self, place: int) -> tuple[str, ...]:
        """What moves a body."""
        return self.outlines[place].groups


def _each(chosen: Callable[[Iterable[float]], float], points: Sequence[Vector]) -> Vector:
    x, y, z = (chosen(each) for each in zip(*points, strict=True))
    return x, y, z
