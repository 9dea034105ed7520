"""Hole patterns: coordinates from distances, readings against each other, holes and bolts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from wattwright.areas.mounts import pattern_checks as checks
from wattwright.areas.mounts.pattern_fit import fitted_on
from wattwright.areas.mounts.pattern_net import (
    FINEST,
    Gains,
    Laid,
    Reading,
    gains_as_values,
    gains_of,
    laid_out,
    missing_of,
    net_of,
    only,
)
from wattwright.build.patterns import Pattern, asked_distance, in_order
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
# Holes that are all as near to a circle as this share of its radius were meant to lie on one.
_ROUND = 0.05
_SERIES = ("fine", "medium", "coarse")


def describe_patterns(patterns: Mapping[str, Pattern]) -> dict[str, PatternFound]:
    """Find every pattern, and lay each on the one it has to fit."""
    found = {name: _found(name, pattern) for name, pattern in patterns.items()}
    return {name: _laid_on(patterns[name].like, each, found) for name, each in found.items()}


def _laid_on(other: str, own: PatternFound, found: Mapping[str, PatternFound]) -> PatternFound:
    known = other in found and own.holes and found[other].holes
    return replace(own, fit=fitted_on(other, own, found[other])) if known else own


def _found(name: str, pattern: Pattern) -> PatternFound:
    laid = laid_out(name, pattern)
    missing, on_a_line = missing_of(laid)
    if missing or on_a_line or len(laid.order) < 2:
        return _not_placed(name, pattern, laid, missing)
    net = net_of(laid)
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


def _not_placed(
    name: str, pattern: Pattern, laid: Laid, missing: Sequence[tuple[str, str]]
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


def _judged(laid: Laid, net: nets.Net, named: Sequence[int]) -> Iterator[ReadingFound]:
    """Hold every reading against the others; where some do not agree, all against the rest."""
    judge, kept = _clean(laid, named) or (net, list(range(len(laid.readings))))
    quantile = gains_of(net, laid.sds).quantile
    rest = only(laid, kept)
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
        explained = worked(hole_pattern.widest_explained, quantile, gains, bands, FINEST)
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


def _clean(laid: Laid, named: Sequence[int]) -> tuple[nets.Net, list[int]] | None:
    """Adjust without the suspects, where the rest still says where every hole is."""
    if not named:
        return None
    kept = [place for place in range(len(laid.readings)) if place not in named]
    rest = only(laid, kept)
    missing, on_a_line = missing_of(rest)
    return None if missing or on_a_line else (net_of(rest), kept)


def _residual(laid: Laid, net: nets.Net, place: int) -> tuple[tuple[Value, ...], Value]:
    """Work out by how much a reading is more than the net that it is part of has."""
    made = gains_of(net, laid.sds)
    gains = made.residuals[place]
    return gains, worked(adjustment.adjusted, _NOUGHT, gains, laid.values, made.fitted)


def _apart(
    reading: Reading, rest: Laid, net: nets.Net, pair: tuple[int, int]
) -> tuple[tuple[Value, ...], Value]:
    """Work out by how much a reading is more than a net that knows nothing of it has."""
    length, shares = nets.predicted(net, pair)
    gains = gains_as_values([1.0, *(-share for share in shares)])
    values = [reading.centres, *rest.values]
    fitted = gains_of(net, rest.sds).fitted
    fitting = [constant(LENGTH, length, "distance by the others"), *fitted]
    return gains, worked(adjustment.adjusted, _NOUGHT, gains, values, fitting)


def _uncontrolled(laid: Laid, reading: Reading) -> ReadingFound:
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


def _unmeasured(laid: Laid, reading: Reading) -> tuple[str, str]:
    """Name a distance that would control a reading: one of its holes to another, else itself."""
    there = {frozenset(each.holes) for each in laid.readings}
    for first in reading.holes:
        for second in laid.order:
            if first != second and frozenset((first, second)) not in there:
                return first, second
    return reading.holes


def _holes(
    pattern: Pattern, laid: Laid, net: nets.Net, suspects: Sequence[str]
) -> Iterator[tuple[str, HoleFound]]:
    made = gains_of(net, laid.sds)
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


def _along(start: Value, gains: Sequence[Value], laid: Laid, made: Gains) -> Value:
    if not any(gain.number for gain in gains):
        # The frame itself: no reading moves the hole along this axis.
        return start
    return worked(adjustment.adjusted, start, gains, laid.values, made.fitted)


def _hole(pattern: Pattern, name: str, x: Value, y: Value, within: Value) -> HoleFound:
    own = pattern.hole[name]
    needed = worked(hole_pattern.still_assembles, own.bolt, within, pattern.drilled_within)
    return HoleFound(
        own.label,
        x,
        y,
        within,
        either(own.diameter, own.drill),
        own.diameter,
        own.drill,
        either(own.drill, own.diameter, asking=1),
        own.bolt,
        needed,
        _standard(own.bolt, needed),
        own.thread,
        own.depth,
        own.fit,
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

    @property
    def size(self) -> float:
        """Its radius in plain numbers."""
        return self.radius.number or 0.0


@lru_cache(maxsize=64)
def _circle_of(points: tuple[fits.Point, ...]) -> _Circle | None:
    laid = fits.circle(points) if len(points) > 2 else None
    if laid is None:
        return None
    return _Circle(
        laid.centre,
        constant(POSITION, laid.radius, "found by search"),
        gains_as_values(each for pair in zip(*laid.gains, strict=True) for each in pair),
        tuple(constant(POSITION, each, "found by search") for point in points for each in point),
        tuple(constant(POSITION, each, "off the circle") for each in laid.off),
    )


def _circle(holes: Mapping[str, HoleFound]) -> CircleFound | None:
    found = [holes[name] for name in in_order(holes)]
    laid = _circle_of(tuple((hole.x.number or 0.0, hole.y.number or 0.0) for hole in found))
    if laid is None or any(abs(each.number or 0.0) > _ROUND * laid.size for each in laid.off):
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
        for reading in _telling(pattern.readings):
            about = f"{name}/{reading.name}"
            yield checks.READING.within(reading.residual, reading.explained, about)
        for reading in pattern.readings:
            yield checks.STANDARD.of(reading.standard, f"{name}/{reading.name}")
        for each, hole in pattern.holes.items():
            about = f"{name}/{each}"
            yield checks.X.of(hole.x, about)
            yield checks.Y.of(hole.y, about)
            yield checks.PLACE.of(hole.place, about)
            if pattern.fit is None and not hole.fit:
                # A part that is laid on another is drilled already, and its offsets are known; what
                # carries a fit is bored to it.
                # A thread in the new part holds the bolt: the other part's hole has to take it.
                clears = hole.as_is if hole.thread else hole.drill
                yield checks.HOLE.at_least(clears, hole.needed, about)
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


def _telling(readings: Sequence[ReadingFound]) -> list[ReadingFound]:
    """Readings worth a finding: all but those that agree, and of these the nearest to its limit."""
    agreeing = [each for each in readings if not each.suspect and _share(each) <= 1.0]
    agreeing.sort(key=_share)
    return [each for each in readings if each not in agreeing[:-1]]


def _share(reading: ReadingFound) -> float:
    """How much of what its band explains a residual takes; endless where nothing controls it."""
    if reading.residual.number is None or not reading.explained.number:
        return math.inf
    return abs(reading.residual.number) / reading.explained.number
