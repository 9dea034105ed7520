"""Hole patterns: coordinates from distances, readings against each other, holes and bolts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from wattwright.areas.mounts import pattern_checks as checks
from wattwright.areas.mounts.pattern_fit import fitted_on
from wattwright.build.patterns import Pattern, asked_distance, holes_of, in_order
from wattwright.descriptions.patterns import CircleFound, HoleFound, PatternFound, ReadingFound
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH, POSITION, RATIO
from wattwright.physics import adjustment, hole_pattern
from wattwright.plane import fits, nets
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    bands_of,
    constant,
    doubted,
    either,
    given,
    is_nought,
    lacking,
    nonexistent,
    without_band,
    worked,
)

_NOUGHT = constant(POSITION, 0.0, "nought")
_FINEST = constant(LENGTH, read("0.02 mm", LENGTH).number, "finest that calipers show")
_SERIES = ("fine", "medium", "coarse")


@dataclass(frozen=True, slots=True, eq=False)
class _Reading:
    """A distance between centres, as it goes into the adjustment."""

    name: str
    holes: tuple[str, str]
    centres: Value


@dataclass(frozen=True, eq=False)
class _Laid:
    """A pattern on its way: holes in the order of the frame, and what is adjusted."""

    name: str
    order: tuple[str, ...]
    left: int
    readings: tuple[_Reading, ...]

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
        finest = _FINEST.number or 0.0
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


def describe_patterns(patterns: Mapping[str, Pattern]) -> dict[str, PatternFound]:
    """Find every pattern, and lay each on the one it has to fit."""
    found = {name: _found(name, pattern) for name, pattern in patterns.items()}
    return {name: _laid_on(patterns[name].like, each, found) for name, each in found.items()}


def _laid_on(other: str, own: PatternFound, found: Mapping[str, PatternFound]) -> PatternFound:
    known = other in found and own.holes and found[other].holes
    return replace(own, fit=fitted_on(other, own, found[other])) if known else own


def _found(name: str, pattern: Pattern) -> PatternFound:
    laid = _laid(name, pattern)
    missing, on_a_line = _missing(laid)
    if missing or on_a_line or len(laid.order) < 2:
        return _not_placed(name, pattern, laid, missing)
    net = _net_of(laid)
    named = nets.suspects(net)
    readings = tuple(_judged(laid, net, named))
    words = tuple(laid.readings[place].name for place in named)
    holes = dict(_holes(pattern, laid, net, words))
    return PatternFound(
        pattern.label,
        {each: holes[each] for each in in_order(holes)},
        readings,
        words,
        laid.order[0],
        laid.order[1],
        pattern.seen_from == "back",
        pattern.turned.number or 0.0,
        _circle(holes),
    )


def _laid(name: str, pattern: Pattern) -> _Laid:
    """Put the holes in the order of the frame, and turn readings of edges into centres."""
    free = [
        each
        for each in in_order(pattern.hole)
        if each not in (pattern.zero, pattern.along, pattern.above)
    ]
    taken = [chosen or free.pop(0) for chosen in (pattern.zero, pattern.along) if chosen or free]
    order = tuple(dict.fromkeys([*taken, *in_order(pattern.hole)]))
    left = order.index(pattern.above) if pattern.above in order[2:] else 0
    return _Laid(name, order, left, tuple(_centres(pattern)))


def _centres(pattern: Pattern) -> Iterator[_Reading]:
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
            yield _Reading(f"{table}.{key}", ends, value)


def _missing(laid: _Laid) -> tuple[tuple[tuple[str, str], ...], bool]:
    pairs, on_a_line = nets.missing(len(laid.order), laid.pairs, laid.lengths, laid.sds)
    return tuple((laid.order[i], laid.order[j]) for i, j in pairs), on_a_line


def _not_placed(
    name: str, pattern: Pattern, laid: _Laid, missing: Sequence[tuple[str, str]]
) -> PatternFound:
    """Say what to measure before any hole has a place."""
    lacks = [
        asked_distance(name, *pair, "without it a hole is free to move, or to be mirrored")
        for pair in missing
    ]
    if not lacks:
        lacks = [_on_a_line(name, len(laid.order))]
    nowhere = Value(POSITION, None, lacks=tuple(lacks))
    holes = {}
    for each in in_order(pattern.hole):
        within = Value(LENGTH, None, lacks=tuple(lacks))
        holes[each] = _hole(pattern, each, nowhere, nowhere, within)
    readings = tuple(
        ReadingFound(
            each.name,
            each.holes,
            each.centres,
            nowhere,
            Value(LENGTH, None, lacks=tuple(lacks)),
            Value(RATIO, None, lacks=tuple(lacks)),
        )
        for each in laid.readings
    )
    return PatternFound(pattern.label, holes, readings, missing=tuple(missing))


def _on_a_line(name: str, count: int) -> Lack:
    if count < 2:
        why = "one hole makes no pattern"
        return Lack(f"pattern.{name}.hole", f"pattern {name}: holes", why, "name every hole", 5.0)
    return Lack(
        f"pattern.{name}.hole",
        f"pattern {name}: a mark off the line of the holes",
        "all holes stand in a row, and distances along it say nothing across it",
        "punch a mark well off the line, name it as a hole, measure from it to every hole",
        15.0,
    )


def _gains(numbers: Iterable[float]) -> tuple[Value, ...]:
    return tuple(constant(RATIO, each, "gain") for each in numbers)


@dataclass(frozen=True, slots=True, eq=False)
class _Gains:
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
def _gains_of(net: nets.Net, sds: tuple[float, ...]) -> _Gains:
    """Make the values once: an open build is assessed after every change."""
    residuals = (
        [(1.0 if k == place else 0.0) - share for k, share in enumerate(row)]
        for place, row in enumerate(net.shares)
    )
    worst = []
    for gain in net.free_gains:
        across, up = fits.longest(gain, sds)
        worst.append(_gains(across * a + up * b for a, b in zip(*gain, strict=True)))
    return _Gains(
        tuple(constant(LENGTH, each, "adjusted distance") for each in net.fitted),
        tuple(_gains(row) for row in residuals),
        tuple(tuple(_gains(axis) for axis in gain) for gain in net.gains),
        tuple(worst),
        tuple(
            tuple(constant(POSITION, each, "found by search") for each in point)
            for point in net.points
        ),
        constant(RATIO, net.critical, "deviations of the largest residual by chance"),
    )


def _judged(laid: _Laid, net: nets.Net, named: Sequence[int]) -> Iterator[ReadingFound]:
    """Hold every reading against the others; where some do not agree, all against the rest."""
    judge, kept = _clean(laid, named) or (net, list(range(len(laid.readings))))
    quantile = _gains_of(net, laid.sds).quantile
    rest = _only(laid, kept)
    for place, reading in enumerate(laid.readings):
        if place in kept and not judge.controlled[kept.index(place)]:
            yield _uncontrolled(laid, reading)
            continue
        if place in kept:
            gains, residual = _residual(rest, judge, kept.index(place))
            bands = rest.bands
        else:
            gains, residual = _apart(reading, rest, judge, laid.pairs[place])
            bands = (laid.bands[place], *rest.bands)
        explained = worked(hole_pattern.widest_explained, quantile, gains, bands, _FINEST)
        residual = without_band(residual)
        yield ReadingFound(
            reading.name,
            reading.holes,
            reading.centres,
            residual,
            explained,
            worked(hole_pattern.standardised, residual, explained, quantile),
            place in named,
        )


def _only(laid: _Laid, kept: Sequence[int]) -> _Laid:
    """Take some of the readings."""
    if len(kept) == len(laid.readings):
        return laid
    return _Laid(laid.name, laid.order, laid.left, tuple(laid.readings[k] for k in kept))


def _clean(laid: _Laid, named: Sequence[int]) -> tuple[nets.Net, list[int]] | None:
    """Adjust without the suspects, where the rest still says where every hole is."""
    if not named:
        return None
    kept = [place for place in range(len(laid.readings)) if place not in named]
    rest = _only(laid, kept)
    missing, on_a_line = _missing(rest)
    return None if missing or on_a_line else (_net_of(rest), kept)


def _net_of(laid: _Laid) -> nets.Net:
    return nets.adjust(len(laid.order), laid.pairs, laid.lengths, laid.sds, laid.left)


def _residual(laid: _Laid, net: nets.Net, place: int) -> tuple[tuple[Value, ...], Value]:
    """Work out by how much a reading is more than the net that it is part of has."""
    made = _gains_of(net, laid.sds)
    gains = made.residuals[place]
    return gains, worked(adjustment.adjusted, _NOUGHT, gains, laid.values, made.fitted)


def _apart(
    reading: _Reading, rest: _Laid, net: nets.Net, pair: tuple[int, int]
) -> tuple[tuple[Value, ...], Value]:
    """Work out by how much a reading is more than a net that knows nothing of it has."""
    length, shares = nets.predicted(net, pair)
    gains = _gains([1.0, *(-share for share in shares)])
    values = [reading.centres, *rest.values]
    fitted = _gains_of(net, rest.sds).fitted
    fitting = [constant(LENGTH, length, "distance by the others"), *fitted]
    return gains, worked(adjustment.adjusted, _NOUGHT, gains, values, fitting)


def _uncontrolled(laid: _Laid, reading: _Reading) -> ReadingFound:
    """Say of a reading that nothing else says how long it should be: no residual to speak of."""
    lack = asked_distance(laid.name, *_unmeasured(laid, reading), "nothing controls the reading")
    return ReadingFound(
        reading.name,
        reading.holes,
        reading.centres,
        lacking(POSITION, lack),
        lacking(LENGTH, lack),
        lacking(RATIO, lack),
    )


def _unmeasured(laid: _Laid, reading: _Reading) -> tuple[str, str]:
    """Name a distance that would control a reading: one of its holes to another, else itself."""
    there = {frozenset(each.holes) for each in laid.readings}
    for first in reading.holes:
        for second in laid.order:
            if first != second and frozenset((first, second)) not in there:
                return first, second
    return reading.holes


def _holes(
    pattern: Pattern, laid: _Laid, net: nets.Net, suspects: Sequence[str]
) -> Iterator[tuple[str, HoleFound]]:
    made = _gains_of(net, laid.sds)
    for place, name in enumerate(laid.order):
        x, y = (
            _along(start, gains, laid, made)
            for start, gains in zip(made.start[place], made.places[place], strict=True)
        )
        if pattern.seen_from == "back":
            y = worked(hole_pattern.mirrored, y)
        if not is_nought(pattern.turned):
            x, y = (
                worked(hole_pattern.turned_x, x, y, pattern.turned),
                worked(hole_pattern.turned_y, x, y, pattern.turned),
            )
        within = worked(hole_pattern.place_radius, made.worst[place], laid.bands)
        if suspects:
            words = f"readings of the pattern do not agree: {' or '.join(suspects)}"
            x, y, within = (doubted(each, words) for each in (x, y, within))
        yield name, _hole(pattern, name, x, y, within)


def _along(start: Value, gains: Sequence[Value], laid: _Laid, made: _Gains) -> Value:
    if not any(gain.number for gain in gains):
        # The frame itself: no reading moves the hole along this axis.
        return start
    return worked(adjustment.adjusted, start, gains, laid.values, made.fitted)


def _hole(pattern: Pattern, name: str, x: Value, y: Value, within: Value) -> HoleFound:
    own = pattern.hole[name]
    needed = worked(hole_pattern.still_assembles, own.bolt, within, pattern.drilled_within)
    diameter = either(own.drill, own.diameter)
    return HoleFound(
        own.label, x, y, within, diameter, own.bolt, needed, _standard(own.bolt, needed)
    )


def _standard(bolt: Value, needed: Value) -> Value:
    """Take the usual clearance hole that is not smaller than what still assembles at its widest."""
    if bolt.number is None or needed.number is None:
        return needed
    for row, series, text, size in _usual_holes(bolt.number):
        if size < needed.number + needed.band:
            continue
        origin = Given(
            f"tables.clearance_holes.{row.cells['bolt']}",
            f"usual clearance hole of {row.cells['bolt']}, {series}",
            Origin.DATASHEET if row.limits else Origin.TYPICAL,
            text,
            detail=str(row.source),
        )
        found = given(LENGTH, size, origin)
        return replace(found, noted=needed.doubts)
    return nonexistent(LENGTH)


@lru_cache(maxsize=256)
def _usual_holes(bolt: float) -> tuple[tuple[Row, str, str, float], ...]:
    """List the usual holes of a bolt, the closest first; a thread measures less than its name."""
    found = []
    for row in load("clearance_holes"):
        nominal = read(f"{row.cells['diameter_mm']} mm", LENGTH).number
        if 0.94 * nominal <= bolt <= 1.005 * nominal:
            texts = [(series, f"{row.cells[f'{series}_mm']} mm") for series in _SERIES]
            found += [(row, series, text, read(text, LENGTH).number) for series, text in texts]
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Circle:
    """What follows from the places alone of the circle through them."""

    centre: fits.Point
    radius: Value
    gains: tuple[Value, ...]
    found: tuple[Value, ...]
    off: tuple[Value, ...]


@lru_cache(maxsize=64)
def _circle_of(points: tuple[fits.Point, ...]) -> _Circle | None:
    laid = fits.circle(points) if len(points) > 2 else None
    if laid is None:
        return None
    return _Circle(
        laid.centre,
        constant(POSITION, laid.radius, "found by search"),
        _gains(each for pair in zip(*laid.gains, strict=True) for each in pair),
        tuple(constant(POSITION, each, "found by search") for point in points for each in point),
        tuple(constant(POSITION, each, "off the circle") for each in laid.off),
    )


def _circle(holes: Mapping[str, HoleFound]) -> CircleFound | None:
    found = [holes[name] for name in in_order(holes)]
    laid = _circle_of(tuple((hole.x.number or 0.0, hole.y.number or 0.0) for hole in found))
    if laid is None:
        return None
    places = [value for hole in found for value in (hole.x, hole.y)]
    radius = worked(adjustment.adjusted, laid.radius, laid.gains, places, laid.found)
    return CircleFound(
        *laid.centre,
        worked(hole_pattern.circle_diameter, radius),
        worked(hole_pattern.farthest_off, laid.off),
    )


def judge_patterns(patterns: Mapping[str, PatternFound]) -> Iterator[Finding | Figure]:
    """State where holes are, which readings agree, and what fits."""
    for name, pattern in patterns.items():
        for reading in pattern.readings:
            about = f"{name}/{reading.name}"
            yield checks.READING.within(reading.residual, reading.explained, about)
            yield checks.STANDARD.of(reading.standard, about)
        for each, hole in pattern.holes.items():
            about = f"{name}/{each}"
            yield checks.X.of(hole.x, about)
            yield checks.Y.of(hole.y, about)
            yield checks.PLACE.of(hole.place, about)
            yield checks.HOLE.at_least(hole.diameter, hole.needed, about)
            yield checks.NEEDED.of(hole.needed, about)
            yield checks.STANDARD_HOLE.of(hole.standard, about)
        if pattern.circle is not None:
            yield checks.CIRCLE.of(pattern.circle.diameter, name)
            yield checks.OFF_CIRCLE.of(pattern.circle.farthest, name)
        for each, met in (pattern.fit.holes if pattern.fit else {}).items():
            about = f"{name}/{each}"
            yield checks.SLOT.at_most(met.offset, met.play, about)
            yield checks.OFFSET_X.of(met.x, about)
            yield checks.OFFSET_Y.of(met.y, about)
            yield checks.SLOT_LENGTH.of(met.slot, about)
            yield checks.DIRECTION.of(met.direction, about)
