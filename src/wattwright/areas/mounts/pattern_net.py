"""What goes into the adjustment of a hole pattern: holes in order, readings, and their gains."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from wattwright.build.patterns import Pattern, holes_of, in_order
from wattwright.kinds import LENGTH, POSITION, RATIO
from wattwright.physics import hole_pattern
from wattwright.plane import fits, nets
from wattwright.units import read
from wattwright.values import Value, bands_of, constant, worked

FINEST = constant(LENGTH, read("0.02 mm", LENGTH).number, "finest that calipers show")


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """A distance between centres, as it goes into the adjustment."""

    name: str
    holes: tuple[str, str]
    centres: Value


@dataclass(frozen=True, eq=False)
class Laid:
    """A pattern on its way: holes in the order of the frame, and what is adjusted."""

    name: str
    order: tuple[str, ...]
    left: int
    readings: tuple[Reading, ...]

    @cached_property
    def pairs(self) -> tuple[tuple[int, int], ...]:
        """Places of both holes of every reading."""
        places = {name: place for place, name in enumerate(self.order)}
        return tuple((places[r.holes[0]], places[r.holes[1]]) for r in self.readings)

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """Every reading in plain numbers."""
        return tuple(reading.centres.number or 0.0 for reading in self.readings)

    @cached_property
    def sds(self) -> tuple[float, ...]:
        """Standard deviation of every reading; none is finer than what calipers show."""
        finest = FINEST.number or 0.0
        return tuple(
            max(reading.centres.band, finest) / hole_pattern.DEVIATIONS for reading in self.readings
        )

    @cached_property
    def bands(self) -> tuple[Value, ...]:
        """Band of every reading, resting on it.

        Readings that share a diameter are taken as independent here; what rests on their places
        follows every diameter by itself.
        """
        return tuple(_band(reading.centres) for reading in self.readings)

    @cached_property
    def values(self) -> tuple[Value, ...]:
        """Every reading as a value."""
        return tuple(reading.centres for reading in self.readings)


def _band(centres: Value) -> Value:
    bands = bands_of(centres)
    return bands[0] if len(bands) == 1 else worked(hole_pattern.band_of_distance, bands)


def laid_out(name: str, pattern: Pattern) -> Laid:
    """Put the holes in the order of the frame, and turn readings of edges into centres."""
    free = [
        each
        for each in in_order(pattern.hole)
        if each not in (pattern.zero, pattern.along, pattern.above)
    ]
    taken = [chosen or free.pop(0) for chosen in (pattern.zero, pattern.along) if chosen or free]
    order = tuple(dict.fromkeys([*taken, *in_order(pattern.hole)]))
    left = order.index(pattern.above) if pattern.above in order[2:] else 0
    return Laid(name, order, left, tuple(_centres(pattern)))


def _centres(pattern: Pattern) -> Iterator[Reading]:
    for table, key, value in pattern.readings():
        ends = holes_of(key, pattern.hole)
        if ends is None or not value.known or f"{table}.{key}" in pattern.aside:
            continue
        holes = [pattern.hole[end].diameter for end in ends]
        if table == "inside":
            value = worked(hole_pattern.between_edges, value, *holes)
        elif table == "outside":
            value = worked(hole_pattern.over_edges, value, *holes)
        if value.known:
            yield Reading(f"{table}.{key}", ends, value)


def missing_of(laid: Laid) -> tuple[tuple[tuple[str, str], ...], bool]:
    """List distances to measure before every hole has a place; whether all stand in a row."""
    pairs, on_a_line = nets.missing(len(laid.order), laid.pairs, laid.lengths, laid.sds)
    return tuple((laid.order[i], laid.order[j]) for i, j in pairs), on_a_line


def gains_as_values(numbers: Iterable[float]) -> tuple[Value, ...]:
    """Make exact numbers of gains, for a formula to take."""
    return tuple(constant(RATIO, each, "gain") for each in numbers)


@dataclass(frozen=True, slots=True, eq=False)
class Gains:
    """What follows from the numbers of a net alone, as values.

    ``residuals`` are the gains of every residual, ``places`` of every x and y, ``worst`` of every
    place in its worst direction.
    """

    fitted: tuple[Value, ...]
    residuals: tuple[tuple[Value, ...], ...]
    places: tuple[tuple[tuple[Value, ...], ...], ...]
    worst: tuple[tuple[Value, ...], ...]
    start: tuple[tuple[Value, ...], ...]
    quantile: Value


@lru_cache(maxsize=256)
def gains_of(net: nets.Net, sds: tuple[float, ...]) -> Gains:
    """Make the values once: an open build is assessed after every change."""
    residuals = (
        [(1.0 if k == place else 0.0) - share for k, share in enumerate(row)]
        for place, row in enumerate(net.shares)
    )
    worst = []
    for gain in net.free_gains:
        across, up = fits.longest(gain, sds)
        worst.append(gains_as_values(across * a + up * b for a, b in zip(*gain, strict=True)))
    return Gains(
        tuple(constant(LENGTH, each, "adjusted distance") for each in net.fitted),
        tuple(gains_as_values(row) for row in residuals),
        tuple(tuple(gains_as_values(axis) for axis in gain) for gain in net.gains),
        tuple(worst),
        tuple(
            tuple(constant(POSITION, each, "found by search") for each in point)
            for point in net.points
        ),
        constant(RATIO, net.critical, "deviations of the largest residual by chance"),
    )


def only(laid: Laid, kept: Sequence[int]) -> Laid:
    """Take some of the readings."""
    if len(kept) == len(laid.readings):
        return laid
    return Laid(laid.name, laid.order, laid.left, tuple(laid.readings[k] for k in kept))


def net_of(laid: Laid) -> nets.Net:
    """Adjust a pattern. Where holes are free to move, ``missing_of`` says so before."""
    return nets.adjust(len(laid.order), laid.pairs, laid.lengths, laid.sds, laid.left)
