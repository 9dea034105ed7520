"""The mounts: pose of the unit, what every mount needs, holes, clearances, the coupling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.mounts import coupling_checks, pattern_checks, ring_checks
from wattwright.areas.mounts.bodies import BodyRecords, body_records
from wattwright.areas.mounts.checks import CHECKS, FIGURES, TABLES
from wattwright.areas.mounts.clearance import describe_clearance, judge_clearance
from wattwright.areas.mounts.clearance_checks import CHECKS as CLEARANCE
from wattwright.areas.mounts.clearance_checks import FIGURES as CLEARANCE_FIGURES
from wattwright.areas.mounts.clearance_checks import TABLES as CLEARANCE_TABLES
from wattwright.areas.mounts.coupling import describe_coupling, judge_coupling
from wattwright.areas.mounts.judge import judge_pose, judge_survey
from wattwright.areas.mounts.patterns import describe_patterns, judge_patterns
from wattwright.areas.mounts.points import surveyed
from wattwright.areas.mounts.posing import posed
from wattwright.areas.mounts.rings import describe_rings, judge_rings
from wattwright.build.coupling import Coupling
from wattwright.build.model import Build
from wattwright.build.mounts import Mounts as MountsRecord
from wattwright.build.patterns import Pattern
from wattwright.build.presence import said
from wattwright.build.rings import Ring
from wattwright.build.rules import Rules
from wattwright.build.survey import Survey
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the mounts area reads."""

    survey: Survey
    mounts: MountsRecord
    bodies: BodyRecords
    pattern: dict[str, Pattern]
    coupling: Coupling
    ring: dict[str, Ring]


class Mounts:
    """The mounts area; see ``wattwright.areas.Area`` for what each member means."""

    name = "mounts"
    title = "Mounts"
    reads: tuple[type, ...] = (DriveDescription,)
    makes: type = MountsDescription
    checks: tuple[Check, ...] = (
        *CHECKS,
        *CLEARANCE,
        *pattern_checks.CHECKS,
        *coupling_checks.CHECKS,
        *ring_checks.CHECKS,
    )
    figures: tuple[FigureKind, ...] = (
        *FIGURES,
        *CLEARANCE_FIGURES,
        *pattern_checks.FIGURES,
        *coupling_checks.FIGURES,
        *ring_checks.FIGURES,
    )
    tables: tuple[Table, ...] = (
        *TABLES,
        *CLEARANCE_TABLES,
        *pattern_checks.TABLES,
        *coupling_checks.TABLES,
        *ring_checks.TABLES,
    )
    sections = ("survey", "mounts", "body", "clearance", "pattern", "coupling", "ring")
    tell_me_first = ("survey.lengthwise", "survey.crosswise", "mounts.wanted.pitch")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(
            build.survey,
            build.mounts,
            body_records(build),
            build.pattern,
            build.coupling,
            build.ring,
        )

    def begun(self, own: Own) -> bool:
        """True where anything has been written about points, mounts, bodies or holes."""
        named = (own.survey.point, own.mounts.mount, own.bodies.body, own.pattern, own.ring)
        return any(named) or any(
            map(said, (own.survey, own.mounts, own.bodies.clearance, own.coupling))
        )

    def describe(self, own: Own, seen: Descriptions) -> MountsDescription:
        """Work out where everything is."""
        del seen
        found = surveyed(own.survey)
        return MountsDescription(
            found,
            posed(own.mounts, found),
            describe_clearance(own.bodies),
            describe_patterns(own.pattern),
            describe_coupling(own.coupling),
            describe_rings(own.ring),
        )

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """State it."""
        del rules
        found = seen[MountsDescription]
        if said(own.survey) or own.survey.point:
            yield from judge_survey(found.surveyed)
        if said(own.mounts) or own.mounts.mount:
            yield from judge_pose(own.mounts, found.posed)
        yield from judge_clearance(found.clearance)
        yield from judge_patterns(found.patterns)
        links = seen[DriveDescription].links if DriveDescription in seen else None
        yield from judge_coupling(own.coupling, found.coupling, links)
        yield from judge_rings(own.ring, found.rings)
