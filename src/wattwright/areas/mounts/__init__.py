"""The mounts: pose of the unit, what every mount needs, holes, clearances, propshafts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.mounts import pattern_checks, propshaft_checks
from wattwright.areas.mounts.bodies import BodyRecords, body_records
from wattwright.areas.mounts.checks import CHECKS, FIGURES, TABLES
from wattwright.areas.mounts.clearance import describe_clearance, judge_clearance
from wattwright.areas.mounts.clearance_checks import CHECKS as CLEARANCE
from wattwright.areas.mounts.clearance_checks import FIGURES as CLEARANCE_FIGURES
from wattwright.areas.mounts.clearance_checks import TABLES as CLEARANCE_TABLES
from wattwright.areas.mounts.judge import judge_pose, judge_survey
from wattwright.areas.mounts.judge_propshafts import judge_propshafts
from wattwright.areas.mounts.patterns import describe_patterns, judge_patterns
from wattwright.areas.mounts.points import surveyed
from wattwright.areas.mounts.posing import posed
from wattwright.areas.mounts.propshafts import describe_propshafts, turning
from wattwright.build.model import Build
from wattwright.build.mounts import Mounts as MountsRecord
from wattwright.build.patterns import Pattern
from wattwright.build.presence import said
from wattwright.build.propshafts import Propshaft
from wattwright.build.rules import Rules
from wattwright.build.survey import Survey
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table
from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the mounts area reads."""

    survey: Survey
    mounts: MountsRecord
    bodies: BodyRecords
    pattern: dict[str, Pattern]
    propshaft: dict[str, Propshaft]
    top_speed: Value


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
        *propshaft_checks.CHECKS,
    )
    figures: tuple[FigureKind, ...] = (
        *FIGURES,
        *CLEARANCE_FIGURES,
        *pattern_checks.FIGURES,
        *propshaft_checks.FIGURES,
    )
    tables: tuple[Table, ...] = (
        *TABLES,
        *CLEARANCE_TABLES,
        *pattern_checks.TABLES,
        *propshaft_checks.TABLES,
    )
    sections = ("survey", "mounts", "body", "clearance", "pattern", "propshaft")
    tell_me_first = ("survey.lengthwise", "survey.crosswise", "mounts.wanted.pitch")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(
            build.survey,
            build.mounts,
            body_records(build),
            build.pattern,
            build.propshaft,
            build.targets.top_speed,
        )

    def begun(self, own: Own) -> bool:
        """True where anything was written of points, mounts, bodies, holes or propshafts."""
        named = (own.survey.point, own.mounts.mount, own.bodies.body, own.pattern, own.propshaft)
        return any(named) or any(map(said, (own.survey, own.mounts, own.bodies.clearance)))

    def describe(self, own: Own, seen: Descriptions) -> MountsDescription:
        """Work out where everything is."""
        found = surveyed(own.survey)
        return MountsDescription(
            found,
            posed(own.mounts, found),
            describe_clearance(own.bodies),
            describe_patterns(own.pattern),
            describe_propshafts(own.propshaft, own.top_speed, turning(seen)),
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
        yield from judge_propshafts(own.propshaft, found.propshafts)
