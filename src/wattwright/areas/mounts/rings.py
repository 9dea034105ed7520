"""Retaining rings: the row that belongs to a diameter, groove and ring in hand against it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wattwright.areas.listed import limiting_cell, shown_cell
from wattwright.areas.mounts import ring_checks as checks
from wattwright.build.rings import Ring
from wattwright.descriptions.coupling import RingFound, RowFound
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH, POSITION, Kind
from wattwright.physics import fits, retaining_ring
from wattwright.tables import Row, load
from wattwright.units import read, write
from wattwright.values import Lack, Value, constant, doubted, worked

# A shaft or bore that is off its nominal size by more than this was made to no standard size: the
# fits that rings are used with lie within it.
_NEAR = read("0.3 mm", LENGTH).number
_NOTHING = constant(POSITION, 0.0, "no tension")
_WIRE = "a wire ring belongs to another standard (DIN 9925, DIN 9926): this row is not its row"
_TURNED = "ears on the side of the groove leave less of it that carries: its maker says how much"
# The fields of a row: what they are.
_CELLS: dict[str, tuple[Kind, str]] = {
    "thickness": (LENGTH, "thickness of the ring"),
    "free": (LENGTH, "free diameter of the ring"),
    "groove": (LENGTH, "diameter of the groove"),
    "groove_upper": (POSITION, "upper deviation of the groove"),
    "groove_lower": (POSITION, "lower deviation of the groove"),
    "width": (LENGTH, "least width of the groove"),
    "edge": (LENGTH, "least land beside the groove"),
}


@dataclass(frozen=True, slots=True)
class _Standard:
    """A table of rings: its file, its first column, and the standard it is of."""

    table: str
    column: str
    title: str

    def sizes(self) -> list[tuple[float, Row]]:
        """List its diameters in SI with their rows."""
        return [(_in_mm(row, self.column), row) for row in load(self.table)]


_STANDARDS = {
    "shaft": _Standard("shaft_rings", "shaft_mm", "DIN 471"),
    "bore": _Standard("bore_rings", "bore_mm", "DIN 472"),
}


def _in_mm(row: Row, column: str) -> float:
    return read(f"{row.cells[column]} mm", LENGTH).number


def describe_rings(rings: Mapping[str, Ring]) -> dict[str, RingFound]:
    """Find the row of every ring, and what its groove carries."""
    return {name: _found(name, ring) for name, ring in rings.items()}


def _found(name: str, own: Ring) -> RingFound:
    of = _STANDARDS[own.on]
    row = _row(of, own.diameter.number)
    missing = own.diameter.lacks or (_no_size(name, of, own.diameter),)
    pairs = {field: _cell(own, field, of, row, missing) for field in _CELLS}
    size = Value(LENGTH, None, lacks=missing)
    if row is not None:
        size = shown_cell(LENGTH, of.table, row, of.column, "diameter the ring is sold for")
    return RingFound(
        own.label,
        size,
        RowFound(**{field: limit for field, (limit, _) in pairs.items()}),
        RowFound(**{field: shown for field, (_, shown) in pairs.items()}),
        _half_step(of, row, missing),
        worked(retaining_ring.groove_capacity, own.strength, own.diameter, own.groove),
    )


def _row(of: _Standard, diameter: float | None) -> Row | None:
    """Find the row whose diameter is near enough; none where there is no such size."""
    near = [(abs(size - (diameter or 0.0)), row) for size, row in of.sizes()]
    off, row = min(near, key=lambda each: each[0])
    return row if off <= _NEAR else None


def _no_size(name: str, of: _Standard, diameter: Value) -> Lack:
    nominal = diameter.number or 0.0
    near = sorted(of.sizes(), key=lambda each: abs(each[0] - nominal))[:2]
    words = " and ".join(write(size, LENGTH) for size, _ in sorted(near, key=lambda each: each[0]))
    why = f"no ring here is for {write(nominal, LENGTH)}; nearest are {words}"
    how = f"measure again; where it is so, read {of.title} and fill in [ring.{name}.standard]"
    return Lack(f"ring.{name}.diameter", f"ring {name}: diameter", why, how, 10.0)


def _cell(
    own: Ring, field: str, of: _Standard, row: Row | None, missing: tuple[Lack, ...]
) -> tuple[Value, Value]:
    """Find one cell: what may make a limit, and what may be shown."""
    kind, label = _CELLS[field]
    typed: Value = getattr(own.standard, field)
    if typed.known:
        return typed, typed
    if row is None:
        nothing = Value(kind, None, lacks=missing)
        return nothing, nothing
    shown = shown_cell(kind, of.table, row, f"{field}_mm", label)
    limit = limiting_cell(typed, shown, row)
    return (doubted(limit, _WIRE) if own.shape == "wire" else limit), shown


def _half_step(of: _Standard, row: Row | None, missing: tuple[Lack, ...]) -> Value:
    """Take half of what the free diameter differs by from that of the nearest neighbour."""
    if row is None:
        return Value(LENGTH, None, lacks=missing)
    free = _in_mm(row, "free_mm")
    steps = [abs(_in_mm(each, "free_mm") - free) for _, each in of.sizes() if each is not row]
    return constant(LENGTH, min(steps) / 2, "half of the step to the next size")


def judge_rings(
    rings: Mapping[str, Ring], found: Mapping[str, RingFound]
) -> Iterator[Finding | Figure]:
    """State which ring belongs where, whether groove and ring in hand are it, what they carry."""
    for name, each in found.items():
        own = rings[name]
        yield from _judge_groove(name, own, each)
        yield from _judge_in_hand(name, own, each)
        for declared, value in zip(
            checks.FIGURES,
            (
                each.size,
                each.shown.thickness,
                each.shown.free,
                each.shown.groove,
                each.shown.width,
                each.shown.edge,
                each.capacity,
            ),
            strict=True,
        ):
            yield declared.of(value, name)


def _judge_groove(name: str, own: Ring, found: RingFound) -> Iterator[Finding]:
    row = found.limits
    off = worked(fits.off_middle, own.groove, row.groove, row.groove_upper, row.groove_lower)
    half = worked(fits.half_tolerance, row.groove_upper, row.groove_lower)
    yield checks.GROOVE.within(off, half, name)
    yield checks.WIDTH.at_least(own.width, row.width, name)
    yield checks.EDGE.at_least(own.edge, row.edge, name)
    capacity = doubted(found.capacity, _TURNED) if own.shape == "turned" else found.capacity
    yield checks.LOAD.at_most(own.load, capacity, name)


def _judge_in_hand(name: str, own: Ring, found: RingFound) -> Iterator[Finding]:
    row = found.limits
    off = worked(fits.play, own.thickness, row.thickness)
    yield checks.THICKNESS.within(off, worked(fits.play, row.width, row.thickness), name)
    yield checks.FREE.within(worked(fits.play, own.free, row.free), found.half_step, name)
    yield checks.GOES_IN.at_most(own.thickness, own.width, name)
    ends = (own.groove, own.free) if own.on == "shaft" else (own.free, own.groove)
    yield checks.GRIPS.at_least(worked(fits.play, *ends), _NOTHING, name)
    stands = worked(retaining_ring.ear_stands, own.ear, own.diameter, own.groove)
    yield checks.EARS.at_most(stands, own.room, name)
