"""Whether the fields of retaining rings agree: a groove that is one, a ring for the right side."""

from __future__ import annotations

from wattwright.build.model import Build
from wattwright.build.rings import Ring
from wattwright.build.uses_agreement import Reading
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.values import Value

# Grooves of both standards are a ninth of their diameter at most; a third is a slip of a unit.
_WIDEST = 1 / 3


def check_rings(build: Build, reading: Reading) -> None:
    """Note every disagreement between the fields of retaining rings."""
    for name, ring in build.ring.items():
        here = ("ring", name)
        _check_groove(here, ring, reading)
        _check_free(here, ring, reading)
        lower, upper = ring.standard.groove_lower, ring.standard.groove_upper
        if lower.known and upper.known and _number(lower) > _number(upper):
            what = f"is above the upper deviation, {_mm(upper)}"
            path = (*here, "standard", "groove_lower")
            reading.problem(path, what, _mm(lower), "swap the two")


def _check_groove(here: tuple[str, ...], ring: Ring, reading: Reading) -> None:
    """Refuse a groove on the wrong side of its surface, or one wider than any."""
    if not ring.diameter.known:
        return
    beside = _number(ring.diameter)
    outward = 1 if ring.on == "bore" else -1
    if ring.groove.known and outward * (_number(ring.groove) - beside) <= 0:
        side, other = ("wider", "shaft") if ring.on == "bore" else ("narrower", "bore")
        what = f"is no groove: in a {ring.on} it is {side} than {_mm(ring.diameter)}"
        do = f'check both figures, or write on = "{other}"'
        reading.problem((*here, "groove"), what, _mm(ring.groove), do)
    if ring.width.known and _number(ring.width) > _WIDEST * beside:
        what = f"is more than a third of the diameter, {_mm(ring.diameter)}: no ring fills that"
        do = "check the figure and its unit"
        reading.problem((*here, "width"), what, _mm(ring.width), do)


def _check_free(here: tuple[str, ...], ring: Ring, reading: Reading) -> None:
    """Refuse a ring of the other sort: a shaft ring is narrower than its shaft."""
    if not ring.free.known or not ring.diameter.known:
        return
    outward = 1 if ring.on == "bore" else -1
    if outward * (_number(ring.free) - _number(ring.diameter)) <= 0:
        side = "wider" if ring.on == "bore" else "narrower"
        what = f"is no ring for this {ring.on}: left free it is {side} than {_mm(ring.diameter)}"
        do = "measure the inside of a shaft ring, the outside of a bore ring"
        reading.problem((*here, "free"), what, _mm(ring.free), do)


def _number(value: Value) -> float:
    return value.number or 0.0


def _mm(value: Value) -> str:
    return write(_number(value), LENGTH)
