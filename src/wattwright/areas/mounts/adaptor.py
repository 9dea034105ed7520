"""The adaptor plate: every hole from datum B, and tolerances worked out from run-out and bolts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.mounts import adaptor_checks as checks
from wattwright.build.adaptor import Adaptor, Face, Feature, Placing
from wattwright.build.coupling import Coupling
from wattwright.descriptions.adaptor import AdaptorFound, PlateHole
from wattwright.descriptions.coupling import FitFound
from wattwright.descriptions.patterns import HoleFound, PatternFound
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH, POSITION
from wattwright.physics import hole_pattern, position_tolerance, run_out
from wattwright.values import (
    Lack,
    Value,
    band_of,
    constant,
    exceeds,
    lacking,
    nonexistent,
    smallest,
    worked,
)

_HERE = "coupling.adaptor"
_NOUGHT = constant(POSITION, 0.0, "the datum's own axis")
_NO_COUPLER = constant(LENGTH, 0.0, "no coupler that could run out")
_NOTHING = nonexistent(LENGTH)
Fits = Mapping[str, FitFound]


def describe_adaptor(
    own: Coupling, fits: Fits, patterns: Mapping[str, PatternFound]
) -> AdaptorFound:
    """Place every hole from datum B, and work out what each may be off."""
    plate, read = own.adaptor, own.run_out
    used = _NO_COUPLER if read.flange.absent else read.flange
    left = worked(run_out.left, read.limit, used)
    coaxiality = worked(run_out.coaxiality, left, plate.face_share)
    holes = dict(_features(plate, fits, coaxiality))
    lacks: list[Lack] = []
    placings: tuple[tuple[Face, Placing], ...] = (
        ("motor", plate.motor_holes),
        ("gearbox", plate.gearbox_holes),
    )
    for face, placing in placings:
        pattern = patterns.get(placing.pattern)
        if pattern is None or not pattern.holes:
            lacks.append(_asked_pattern(face))
            continue
        holes.update(_placed(face, placing, pattern, plate, fits))
    if not plate.datum:
        lacks.append(_asked_datum())
    return AdaptorFound(
        holes if plate.begun else {},
        read.flange,
        left,
        coaxiality,
        _NOTHING
        if read.face.absent
        else worked(run_out.parallelism, left, plate.face_share, read.face_radius, read.reach),
        worked(hole_pattern.circle_diameter, read.face_radius),
        tuple(lacks),
    )


def _asked_pattern(face: Face) -> Lack:
    path = f"{_HERE}.{face}_holes.pattern"
    how = "measure the holes of its face by [pattern.NAME] and write that name here"
    return Lack(path, f"adaptor plate: holes to the {face}", "not given", how, 60.0)


def _asked_datum() -> Lack:
    how = "name the feature that centres the motor, a name of [coupling.adaptor.feature]"
    return Lack(f"{_HERE}.datum", "adaptor plate: datum B", "not given", how, 1.0)


def _asked_looking(face: Face) -> Lack:
    path = f"{_HERE}.{face}_holes.looking"
    how = "say which way one looks on the holes as the pattern is drawn: else it may be mirrored"
    return Lack(path, f"adaptor plate: view of the holes to the {face}", "not given", how, 2.0)


def _asked_fit(path: str, name: str) -> Lack:
    how = "name the fit that it carries, a name of [coupling.fit]"
    return Lack(path, f"adaptor plate: fit of {name}", "not given", how, 2.0)


def _features(plate: Adaptor, fits: Fits, coaxiality: Value) -> Iterator[tuple[str, PlateHole]]:
    for name, each in plate.feature.items():
        is_datum = name == plate.datum
        x, y = (_NOUGHT, _NOUGHT) if is_datum else (each.x, each.y)
        zone = coaxiality if _on_axis(x, y) else plate.dowel_position
        yield name, _feature(name, each, fits, (x, y), _NOTHING if is_datum else zone, is_datum)


def _feature(
    name: str, own: Feature, fits: Fits, at: tuple[Value, Value], zone: Value, is_datum: bool
) -> PlateHole:
    fit = fits.get(own.fit)
    path = f"{_HERE}.feature.{name}.fit"
    return PlateHole(
        name.replace("_", " "),
        own.face,
        "fit",
        fit.nominal if fit else lacking(LENGTH, _asked_fit(path, name)),
        _NOTHING,
        "",
        own.depth,
        *at,
        _known(*at),
        zone,
        fit,
        own.part == "shaft",
        _on_axis(*at),
        is_datum,
    )


def _on_axis(x: Value, y: Value) -> bool:
    """Tell what is meant to stand on the datum's axis: nobody writes nought of anything else."""
    return x.number == 0.0 and y.number == 0.0


def _known(x: Value, y: Value) -> Value:
    bands = band_of(x, "band of the place, x"), band_of(y, "band of the place, y")
    return worked(position_tolerance.known_zone, *bands)


def _placed(
    face: Face, placing: Placing, pattern: PatternFound, plate: Adaptor, fits: Fits
) -> Iterator[tuple[str, PlateHole]]:
    """Lay a pattern on the plate; what is not to be cut into the plate is left out."""
    for name, hole in pattern.holes.items():
        if hole.drill.absent and not hole.fit:
            continue
        x, y = _from_datum(face, placing, hole)
        known = _known(x, y)
        yield f"{face}/{name}", _plate_hole(face, hole, plate, fits, (x, y, known))


def _from_datum(face: Face, placing: Placing, hole: HoleFound) -> tuple[Value, Value]:
    if not placing.looking:
        asked = lacking(POSITION, _asked_looking(face))
        return asked, asked
    across = hole.y
    if placing.looking == "to the motor":
        across = worked(hole_pattern.mirrored, across)
    x = worked(hole_pattern.turned_x, hole.x, across, placing.turn)
    y = worked(hole_pattern.turned_y, hole.x, across, placing.turn)
    return (
        worked(hole_pattern.shifted, x, placing.x),
        worked(hole_pattern.shifted, y, placing.y),
    )


def _plate_hole(
    face: Face,
    hole: HoleFound,
    plate: Adaptor,
    fits: Fits,
    at: tuple[Value, Value, Value],
) -> PlateHole:
    x, y, known = at
    fit = fits.get(hole.fit)
    if fit is not None:
        return PlateHole(
            *(hole.label, face, "fit", fit.nominal, hole.bolt, "", hole.depth, x, y, known),
            plate.dowel_position,
            fit,
        )
    threaded = bool(hole.thread) or exceeds(hole.bolt, hole.drill)
    return PlateHole(
        hole.label,
        face,
        "thread" if threaded else "drill",
        hole.drill,
        hole.bolt,
        hole.thread,
        hole.depth,
        x,
        y,
        known,
        _bolt_zone(hole, known, threaded),
    )


def _bolt_zone(hole: HoleFound, known: Value, threaded: bool) -> Value:
    """Take the rule that fits the two holes, and no more than what is left beside the other one."""
    if threaded:
        rule = worked(position_tolerance.fixed, hole.as_is, hole.bolt)
    elif exceeds(hole.bolt, hole.as_is):
        rule = worked(position_tolerance.fixed, hole.drill, hole.bolt)
    else:
        rule = worked(position_tolerance.floating, hole.drill, hole.bolt)
    own = hole.bolt if threaded else hole.drill
    room = worked(position_tolerance.left_over, own, hole.as_is, hole.bolt, known)
    return smallest(rule, room)


def judge_adaptor(own: Coupling, found: AdaptorFound) -> Iterator[Finding | Figure]:
    """State what run-out leaves, what each hole may be off, and whether its place is known."""
    if not own.adaptor.begun:
        return
    yield checks.USED.at_most(found.used, own.run_out.limit)
    yield checks.LEFT.of(found.left)
    yield checks.COAXIALITY.of(found.coaxiality)
    yield checks.PARALLELISM.of(found.parallelism)
    for name, hole in found.holes.items():
        if hole.cut == "fit" and not hole.centres:
            yield checks.DOWEL.at_most(hole.zone, found.coaxiality, name)
            yield checks.KNOWN.at_most(hole.known, hole.zone, name)
        yield checks.X.of(hole.x, name)
        yield checks.Y.of(hole.y, name)
        if not hole.is_datum:
            yield checks.ZONE.of(hole.zone, name)
