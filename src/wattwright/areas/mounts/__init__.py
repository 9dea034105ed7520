"""The mounts: how the power unit hangs, what its mounts carry, and what is joined to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.mounts import (
    adaptor_checks,
    checks,
    clearance_checks,
    coupling_checks,
    half_shaft_checks,
    load_checks,
    pattern_checks,
    propshaft_checks,
    ring_checks,
)
from wattwright.areas.mounts.adaptor import describe_adaptor, judge_adaptor
from wattwright.areas.mounts.bodies import BodyRecords, body_records
from wattwright.areas.mounts.clearance import describe_clearance, judge_clearance
from wattwright.areas.mounts.coupling import describe_coupling, judge_coupling
from wattwright.areas.mounts.driven import driven
from wattwright.areas.mounts.half_shafts import describe_half_shafts, judge_half_shafts
from wattwright.areas.mounts.judge import judge_pose, judge_survey
from wattwright.areas.mounts.judge_propshafts import judge_propshafts
from wattwright.areas.mounts.loads import judge_loads, loaded
from wattwright.areas.mounts.patterns import describe_patterns, judge_patterns
from wattwright.areas.mounts.points import surveyed
from wattwright.areas.mounts.posing import posed
from wattwright.areas.mounts.propshafts import describe_propshafts
from wattwright.areas.mounts.rings import describe_rings, judge_rings
from wattwright.areas.mounts.rotation import Reverse
from wattwright.build.coupling import Coupling, Turning
from wattwright.build.half_shafts import HalfShaft
from wattwright.build.model import Build
from wattwright.build.mounts import Mounts as MountsRecord
from wattwright.build.parts import Part
from wattwright.build.patterns import Pattern
from wattwright.build.presence import said
from wattwright.build.propshafts import Propshaft
from wattwright.build.rings import Ring
from wattwright.build.rules import Rules
from wattwright.build.survey import Survey
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table
from wattwright.values import Value

# What is said of each part of the work, in the order in which it is shown.
_SAID = (
    checks,
    load_checks,
    half_shaft_checks,
    propshaft_checks,
    clearance_checks,
    pattern_checks,
    coupling_checks,
    adaptor_checks,
    ring_checks,
)


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the mounts area reads."""

    survey: Survey
    mounts: MountsRecord
    half_shaft: dict[str, HalfShaft]
    propshaft: dict[str, Propshaft]
    top_speed: Value
    coupling: Coupling
    reverse: Reverse
    ring: dict[str, Ring]
    bodies: BodyRecords
    pattern: dict[str, Pattern]
    unit: Part | None
    rules: Rules


class Mounts:
    """The mounts area; see ``wattwright.areas.Area`` for what each member means."""

    name = "mounts"
    title = "Mounts"
    reads: tuple[type, ...] = (DriveDescription,)
    makes: type = MountsDescription
    checks: tuple[Check, ...] = tuple(each for module in _SAID for each in module.CHECKS)
    figures: tuple[FigureKind, ...] = tuple(each for module in _SAID for each in module.FIGURES)
    tables: tuple[Table, ...] = tuple(each for module in _SAID for each in module.TABLES)
    sections = (
        *("survey", "mounts", "half_shaft", "propshaft", "coupling", "ring"),
        *("body", "clearance", "pattern"),
    )
    tell_me_first = ("survey.lengthwise", "survey.crosswise", "mounts.wanted.pitch")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(
            build.survey,
            build.mounts,
            build.half_shaft,
            build.propshaft,
            build.targets.top_speed,
            build.coupling,
            build.drive.reverse,
            build.ring,
            body_records(build),
            build.pattern,
            build.part.get(build.mounts.unit),
            build.rules,
        )

    def begun(self, own: Own) -> bool:
        """True where anything has been written of what this area is about."""
        named = (
            *(own.survey.point, own.mounts.mount, own.half_shaft, own.propshaft),
            *(own.ring, own.pattern, own.bodies.body, own.coupling.adaptor.begun),
            own.coupling.turning != Turning(),
        )
        written = (own.survey, own.mounts, own.coupling, own.bodies.clearance)
        return any(named) or any(map(said, written))

    def describe(self, own: Own, seen: Descriptions) -> MountsDescription:
        """Work out where everything is."""
        found = surveyed(own.survey)
        hangs, drive = posed(own.mounts, found), driven(seen)
        patterns, coupling = describe_patterns(own.pattern), describe_coupling(own.coupling)
        return MountsDescription(
            found,
            hangs,
            describe_clearance(own.bodies),
            patterns,
            loaded(own.mounts, own.unit, hangs, drive, own.rules),
            describe_half_shafts(own.half_shaft, own.mounts, found),
            coupling,
            describe_adaptor(own.coupling, coupling.fits, patterns),
            describe_rings(own.ring),
            describe_propshafts(own.propshaft, own.top_speed, drive),
        )

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """State it."""
        del rules
        found, drive = seen[MountsDescription], driven(seen)
        if said(own.survey) or own.survey.point:
            yield from judge_survey(found.surveyed)
        if said(own.mounts) or own.mounts.mount:
            yield from judge_pose(own.mounts, found.posed)
            yield from judge_loads(found.loaded)
        yield from judge_half_shafts(found.half_shafts)
        yield from judge_propshafts(own.propshaft, found.propshafts, drive.felt)
        yield from judge_coupling(own.coupling, found.coupling, drive.links, own.reverse)
        yield from judge_adaptor(own.coupling, found.adaptor)
        yield from judge_rings(own.ring, found.rings)
        yield from judge_clearance(found.clearance)
        yield from judge_patterns(found.patterns)
