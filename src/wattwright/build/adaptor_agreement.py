"""Whether the fields of the adaptor plate agree: names that exist, places and cuts that can be."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from wattwright.build.adaptor import Adaptor
from wattwright.build.model import Build
from wattwright.build.patterns import Hole
from wattwright.build.uses_agreement import Reading
from wattwright.kinds import LENGTH
from wattwright.units import write
from wattwright.values import exceeds

_HERE = ("coupling", "adaptor")
_Path = tuple[str, ...]


def check_adaptor(build: Build, reading: Reading) -> None:
    """Note every disagreement between the adaptor plate, its patterns and its fits."""
    own = build.coupling.adaptor
    path: _Path
    for face in ("motor", "gearbox"):
        name = getattr(own, f"{face}_holes").pattern
        path = (*_HERE, f"{face}_holes", "pattern")
        _check_name(path, "pattern", name, build.pattern, "[pattern.NAME]", reading)
    fits = build.coupling.fit
    for name, feature in own.feature.items():
        path = (*_HERE, "feature", name, "fit")
        _check_name(path, "fit", feature.fit, fits, "[coupling.fit.NAME]", reading)
    _check_name(
        *((*_HERE, "datum"), "feature", own.datum, own.feature),
        "[coupling.adaptor.feature.NAME]",
        reading,
    )
    _check_datum(own, reading)
    for name, pattern in build.pattern.items():
        for each, hole in pattern.hole.items():
            here = ("pattern", name, "hole", each)
            _check_name((*here, "fit"), "fit", hole.fit, fits, "[coupling.fit.NAME]", reading)
            _check_cut(here, hole, reading)


def _check_name(
    path: _Path, what: str, name: str, known: Iterable[str], written: str, reading: Reading
) -> None:
    there = [*known]
    if not name or name in there:
        return
    near = difflib.get_close_matches(name, there, n=1)
    if near:
        do = f"did you mean {near[0]}?"
    else:
        do = f"there are {', '.join(there)}" if there else f"write {written}"
    reading.problem(path, f"there is no such {what}", name, do)


def _check_datum(own: Adaptor, reading: Reading) -> None:
    """Datum B is where places are counted from: one that says it is elsewhere moves them all."""
    if own.datum not in own.feature:
        return
    for axis in ("x", "y"):
        place = getattr(own.feature[own.datum], axis)
        if place.number:
            path = (*_HERE, "feature", own.datum, axis)
            got = write(place.number, LENGTH)
            reading.problem(path, "places are counted from the datum", got, "leave it out")


def _check_cut(here: _Path, hole: Hole, reading: Reading) -> None:
    """A hole is bored to a fit, or tapped, or drilled."""
    if hole.fit and hole.thread:
        reading.problem((*here, "thread"), "carries a fit already", hole.thread, "keep one of them")
    if hole.fit and hole.drill.known:
        got = write(hole.drill.number or 0.0, LENGTH)
        what = "carries a fit: it is bored to the limits of that, and no drill makes it"
        reading.problem((*here, "drill"), what, got, "leave it out")
    if hole.thread and exceeds(hole.drill, hole.bolt):
        got = write(hole.drill.number or 0.0, LENGTH)
        what = (
            f"is wider than the bolt, {write(hole.bolt.number or 0.0, LENGTH)}: no thread is left"
        )
        reading.problem((*here, "drill"), what, got, "write the core hole of the thread")
