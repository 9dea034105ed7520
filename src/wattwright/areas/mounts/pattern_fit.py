"""One hole pattern laid on another: what is off, and what slots that takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from wattwright.build.patterns import in_order
from wattwright.descriptions.patterns import FitFound, HoleFound, OffsetFound, PatternFound
from wattwright.kinds import POSITION, RATIO
from wattwright.physics import adjustment, hole_pattern
from wattwright.plane import fits
from wattwright.values import Value, constant, doubted, worked

# A mirror image is taken for one where it fits so many times closer, and the other not at all.
_CLOSER = 9.0
_MIRRORED = (
    "the two patterns are mirror images of each other: one of them was seen from the other side, "
    "or its hole above the axis is another; set seen_from or above"
)


def fitted_on(name: str, own: PatternFound, other: PatternFound) -> FitFound | None:
    """Lay a pattern on another by the best fit; none where they share fewer than two holes."""
    if not (own.placed and other.placed):
        return FitFound(name, False, True, dict(_not_laid(own, other)))
    pairs, by_name = _pairs(own, other)
    if len(pairs) < 2:
        return None
    to = [_point(own.holes[mine]) for mine, _ in pairs]
    there = [_point(other.holes[theirs]) for _, theirs in pairs]
    straight, mirrored = (fits.fit(there, to, mirrored=side) for side in (False, True))
    bands = sum(_within(own, other, *pair) ** 2 for pair in pairs)
    turned_over = straight.squares > bands and mirrored.squares * _CLOSER < straight.squares
    chosen = mirrored if turned_over else straight
    offsets = dict(_offsets(own, other, pairs, chosen))
    return FitFound(name, turned_over, by_name, offsets)


def _not_laid(own: PatternFound, other: PatternFound) -> Iterator[tuple[str, OffsetFound]]:
    """Let what keeps either pattern from having places keep the offsets from being known."""
    lacking = next(
        hole for found in (own, other) for hole in found.holes.values() if not hole.x.known
    )
    for mine, hole in own.holes.items():
        yield mine, _met(hole, other.holes.get(mine, hole), mine, lacking.x, lacking.y)


def _within(own: PatternFound, other: PatternFound, mine: str, theirs: str) -> float:
    return (own.holes[mine].place.number or 0.0) + (other.holes[theirs].place.number or 0.0)


def _point(hole: HoleFound) -> fits.Point:
    return hole.x.number or 0.0, hole.y.number or 0.0


def _pairs(own: PatternFound, other: PatternFound) -> tuple[list[tuple[str, str]], bool]:
    """Pair holes by name, or where too few names are the same, by how they lie."""
    same = [name for name in own.holes if name in other.holes]
    if len(same) == min(len(own.holes), len(other.holes)):
        return [(name, name) for name in same], True
    mine, theirs = in_order(own.holes), in_order(other.holes)
    chosen = fits.best_fit(
        [_point(own.holes[name]) for name in mine], [_point(other.holes[name]) for name in theirs]
    )
    return [(mine[i], theirs[j]) for i, j in chosen], False


def _offsets(
    own: PatternFound, other: PatternFound, pairs: Sequence[tuple[str, str]], laid: fits.Fit
) -> Iterator[tuple[str, OffsetFound]]:
    to = tuple(_point(own.holes[mine]) for mine, _ in pairs)
    places = [
        value
        for holes in ([own.holes[m] for m, _ in pairs], [other.holes[t] for _, t in pairs])
        for hole in holes
        for value in (hole.x, hole.y)
    ]
    found = [constant(POSITION, value.number or 0.0, "found by search") for value in places]
    for place, (mine, theirs) in enumerate(pairs):
        there = laid.at(_point(other.holes[theirs]))
        parts = []
        for axis, gains in enumerate(_gains(to, place, laid)):
            start = constant(POSITION, to[place][axis] - there[axis], "best fit")
            parts.append(worked(adjustment.adjusted, start, gains, places, found))
        if laid.mirrored:
            parts = [doubted(part, _MIRRORED) for part in parts]
        yield mine, _met(own.holes[mine], other.holes[theirs], theirs, *parts)


@lru_cache(maxsize=256)
def _gains(to: tuple[fits.Point, ...], place: int, laid: fits.Fit) -> tuple[tuple[Value, ...], ...]:
    """Make the gains of the x and of the y of an offset as values, once."""
    made = []
    for gain in fits.offset_gains(to, place):
        pairs = (*zip(*gain, strict=True), *zip(*fits.carried(gain, laid), strict=True))
        made.append(tuple(constant(RATIO, each, "gain") for pair in pairs for each in pair))
    return tuple(made)


def _met(own: HoleFound, other: HoleFound, name: str, x: Value, y: Value) -> OffsetFound:
    offset = worked(hole_pattern.offset, x, y)
    play = worked(hole_pattern.play, own.diameter, other.diameter, own.bolt)
    return OffsetFound(
        name,
        x,
        y,
        offset,
        play,
        worked(hole_pattern.slot_length, own.diameter, offset, play),
        worked(hole_pattern.direction_to, x, y),
    )
