"""The mounts: points and pose of the unit, what every mount needs, holes, clearances."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.mounts import pattern_checks
from wattwright.areas.mounts.patterns import describe_patterns, judge_patterns
from wattwright.build.model import Build
from wattwright.build.mounts import Mounts as MountsRecord
from wattwright.build.patterns import Pattern
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.build.survey import Survey
from wattwright.descriptions import Descriptions
from wattwright.descriptions.mounts import MountsDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the mounts area reads."""

    survey: Survey
    mounts: MountsRecord
    pattern: dict[str, Pattern]


class Mounts:
    """The mounts area; see ``wattwright.areas.Area`` for what each member means."""

    name = "mounts"
    title = "Mounts"
    reads: tuple[type, ...] = ()
    makes: type = MountsDescription
    checks: tuple[Check, ...] = pattern_checks.CHECKS
    figures: tuple[FigureKind, ...] = pattern_checks.FIGURES
    tables: tuple[Table, ...] = pattern_checks.TABLES
    sections = ("survey", "mounts", "pattern")
    tell_me_first = ("mounts.wanted.pitch",)

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(build.survey, build.mounts, build.pattern)

    def begun(self, own: Own) -> bool:
        """True where anything has been written about points or mounts."""
        return (
            said(own.survey)
            or said(own.mounts)
            or bool(own.survey.point or own.mounts.mount or own.pattern)
        )

    def describe(self, own: Own, seen: Descriptions) -> MountsDescription:
        """Work out where everything is."""
        del seen
        return MountsDescription(patterns=describe_patterns(own.pattern))

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """State it."""
        del own, rules
        yield from judge_patterns(seen[MountsDescription].patterns)
