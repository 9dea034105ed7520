"""Propshafts against their limits, and what is worth knowing of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.mounts import propshaft_checks as checks
from wattwright.areas.mounts.propshaft_lines import BOTH_ENDS, STEADY
from wattwright.build.propshafts import Propshaft
from wattwright.descriptions.felt import Felt
from wattwright.descriptions.propshafts import Line, PropshaftFound, PropshaftsFound
from wattwright.findings import Figure, Finding
from wattwright.given import Given, Origin
from wattwright.kinds import ANGLE, ROTATIONAL_SPEED
from wattwright.physics import propshaft
from wattwright.tables import Row, load
from wattwright.units import read
from wattwright.values import Value, constant, given, nonexistent, worked

Said = Iterator[Finding | Figure]


def judge_propshafts(
    own: Mapping[str, Propshaft], seen: PropshaftsFound, felt: Mapping[str, Felt]
) -> Said:
    """State every propshaft, and what is felt by road speed."""
    for name, found in seen.found.items():
        for said in _propshaft(name, found, own[name], seen):
            if isinstance(said, Figure) or not own[name].compared_only:
                yield said
    if own:
        yield checks.HIGHEST.of(seen.highest)
        yield checks.FASTEST.of(seen.fastest)
        for road, each in felt.items():
            for word, declared in checks.FELT.items():
                yield declared.of(getattr(each, word), road)


def _propshaft(name: str, found: PropshaftFound, limits: Propshaft, seen: PropshaftsFound) -> Said:
    for height, line in found.lines.items():
        yield from _line(name, height, line, limits)
    for shaft, speeds in found.shafts.items():
        about = f"{name}/{shaft}"
        yield checks.SPEED.at_most(seen.highest, speeds.allowed, about)
        yield checks.SPEED.at_most(seen.fastest, speeds.allowed, f"{about}/fastest driving")
        yield checks.CRITICAL.of(speeds.critical, about)
    yield from _length(name, found, limits)
    yield from _by_speed(name, limits, seen.fastest)


def _line(name: str, height: str, line: Line, limits: Propshaft) -> Said:
    steady = height in STEADY
    for count, angle in enumerate(line.angles, start=1):
        about = f"{name}/{count}"
        if steady:
            yield checks.RUNNING.at_most(angle, limits.angle_running, f"{about}/{height}")
        else:
            yield checks.MOST.at_most(angle, limits.angle_most, f"{about}/{height}")
        if height == "ride":
            yield checks.NEEDLES.at_least(angle, limits.angle_least, about)
        yield checks.JOINT[height].of(angle, about)
    about = f"{name}/{height}"
    if steady:
        yield checks.TORSION.at_most(line.torsion, limits.torsion_limit, about)
        for end in BOTH_ENDS:
            where = f"{name}/{end}/{height}"
            yield checks.INERTIA.at_most(line.inertia[end], limits.inertia_limit, where)
    yield checks.RESIDUAL.of(line.residual, about)
    yield checks.TORSION_AT.of(line.torsion, about)
    for end in BOTH_ENDS:
        yield checks.INERTIA_AT[end].of(line.inertia[end], about)
    yield checks.LONGER.of(line.change, about)


def _length(name: str, found: PropshaftFound, limits: Propshaft) -> Said:
    yield checks.SLIP.at_least(found.slip_in, limits.slip_spare, f"{name}/pushed in")
    yield checks.SLIP.at_least(found.slip_out, limits.slip_spare, f"{name}/pulled out")
    yield checks.PUSHED.of(found.pushed_together, name)
    yield checks.PLUNGE.of(found.plunge_needed, name)
    for count, uneven in enumerate(found.unevenness, start=1):
        yield checks.UNEVEN.of(uneven, f"{name}/{count}")


def _by_speed(name: str, limits: Propshaft, fastest: Value) -> Said:
    """Angles against speed: by the limits, and as the trade prints them, which limits nothing."""
    for row in load("propshaft_angles"):
        text = f"{row.cells['speed_rpm']} rpm"
        speed = constant(ROTATIONAL_SPEED, read(text, ROTATIONAL_SPEED).number, text)
        yield from _at_speed(f"{name}/{text}", limits, speed, _printed(row))
    yield from _at_speed(f"{name}/fastest driving", limits, fastest, nonexistent(ANGLE))


def _at_speed(about: str, limits: Propshaft, speed: Value, printed: Value) -> Said:
    for word, limit in (("inertia", limits.inertia_limit), ("torsion", limits.torsion_limit)):
        yield checks.ALLOWED[word].of(worked(propshaft.angle_for, limit, speed), about)
    yield checks.ALLOWED["trade"].of(printed, about)


def _printed(row: Row) -> Value:
    text = f"{row.cells['angle_deg']}°"
    origin = Given(
        f"tables.propshaft_angles.{row.cells['speed_rpm']}",
        f"angle printed for {row.cells['speed_rpm']} rpm",
        Origin.TYPICAL,
        text,
        detail=str(row.source),
    )
    return given(ANGLE, read(text, ANGLE).number, origin)
