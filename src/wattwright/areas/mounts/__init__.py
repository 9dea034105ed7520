"""The mounts: points and pose of the unit, what every mount needs, holes, clearances."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.mounts import half_shaft_checks, load_checks, pattern_checks
from wattwright.areas.mounts.bodies import BodyRecords, body_records
from wattwright.areas.mounts.checks import CHECKS, FIGURES, TABLES
from wattwright.areas.mounts.clearance import describe_clearance, judge_clearance
from wattwright.areas.mounts.clearance_checks import CHECKS as CLEARANCE
from wattwright.areas.mounts.clearance_checks import FIGURES as CLEARANCE_FIGURES
from wattwright.areas.mounts.clearance_checks import TABLES as CLEARANCE_TABLES
from wattwright.areas.mounts.half_shafts import describe_half_shafts, judge_half_shafts
from wattwright.areas.mounts.judge import judge_pose, judge_survey
from wattwright.areas.mounts.loads import judge_loads, loaded
from wattwright.areas.mounts.patterns import describe_patterns, judge_patterns
from wattwright.areas.mounts.points import surveyed
from wattwright.areas.mounts.posing import posed
from wattwright.build.half_shafts import HalfShaft
from wattwright.build.model import Build
from wattwright.build.mounts import Mounts as MountsRecord
from wattwright.build.parts import Part
from wattwright.build.patterns import Pattern
from wattwright.build.presence import said
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
    unit: Part | None
    rules: Rules
    half_shaft: dict[str, HalfShaft]


class Mounts:
    """The mounts area; see ``wattwright.areas.Area`` for what each member means."""

    name = "mounts"
    title = "Mounts"
    reads: tuple[type, ...] = (DriveDescription,)
    makes: type = MountsDescription
    checks: tuple[Check, ...] = (
        *(*CHECKS, *load_checks.CHECKS, *half_shaft_checks.CHECKS),
        *(*CLEARANCE, *pattern_checks.CHECKS),
    )
    figures: tuple[FigureKind, ...] = (
        *(*FIGURES, *load_checks.FIGURES, *half_shaft_checks.FIGURES),
        *(*CLEARANCE_FIGURES, *pattern_checks.FIGURES),
    )
    tables: tuple[Table, ...] = (
        *(*TABLES, *load_checks.TABLES, *half_shaft_checks.TABLES),
        *(*CLEARANCE_TABLES, *pattern_checks.TABLES),
    )
    sections = ("survey", "mounts", "half_shaft", "body", "clearance", "pattern")
    tell_me_first = ("survey.lengthwise", "survey.crosswise", "mounts.wanted.pitch")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        unit = build.part.get(build.mounts.unit)
        bodies = body_records(build)
        return Own(
            build.survey,
            build.mounts,
            bodies,
            build.pattern,
            unit,
            build.rules,
            build.half_shaft,
        )

    def begun(self, own: Own) -> bool:
        """True where anything has been written about points, mounts, bodies or holes."""
        named = (own.survey.point, own.mounts.mount, own.bodies.body, own.pattern, own.half_shaft)
        return any(named) or any(map(said, (own.survey, own.mounts, own.bodies.clearance)))

    def describe(self, own: Own, seen: Descriptions) -> MountsDescription:
        """Work out where everything is."""
        found = surveyed(own.survey)
        hangs = posed(own.mounts, found)
        return MountsDescription(
            found,
            hangs,
            describe_clearance(own.bodies),
            describe_patterns(own.pattern),
            loaded(own.mounts, own.unit, hangs, seen[DriveDescription], own.rules),
            describe_half_shafts(own.half_shaft, own.mounts, found),
        )

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """State it."""
        del rules
        found = seen[MountsDescription]
        if said(own.survey) or own.survey.point:
            yield from judge_survey(found.surveyed)
        if said(own.mounts) or own.mounts.mount:
            yield from judge_pose(own.mounts, found.posed)
            yield from judge_loads(found.loaded)
        yield from judge_half_shafts(found.half_shafts)
        yield from judge_clearance(found.clearance)
        yield from judge_patterns(found.patterns)
