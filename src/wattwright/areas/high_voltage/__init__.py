"""High voltage in its first form: the power cables, how warm they get, and what protects them."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.high_voltage.checks import CHECKS, FIGURES, TABLES
from wattwright.areas.high_voltage.describe import describe
from wattwright.areas.high_voltage.judge import judge
from wattwright.areas.high_voltage.own import Own
from wattwright.build.cables import Cable
from wattwright.build.model import Build
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Duties
from wattwright.descriptions.high_voltage import HighVoltageDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


class HighVoltage:
    """The high-voltage area; see ``wattwright.areas.Area`` for what each member means."""

    name = "high_voltage"
    title = "High voltage"
    reads: tuple[type, ...] = (PackDescription, DriveDescription, Duties)
    makes: type = HighVoltageDescription
    checks: tuple[Check, ...] = CHECKS
    figures: tuple[FigureKind, ...] = FIGURES
    tables: tuple[Table, ...] = TABLES
    sections = ("part",)
    tell_me_first = (
        "part.NAME.wire.section",
        "part.NAME.wire.length",
        "part.NAME.wire.insulation",
        "part.NAME.fuse",
    )

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(build.part)

    def begun(self, own: Own) -> bool:
        """True where a power cable has been written, if only to be given up."""
        return any(isinstance(part, Cable) for part in own.part.values())

    def describe(self, own: Own, seen: Descriptions) -> HighVoltageDescription:
        """Work out what each cable bears."""
        return describe(own, seen[PackDescription])

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """Compare it with what it carries, and with its fuse."""
        del rules
        yield from judge(
            own,
            seen[HighVoltageDescription],
            seen[PackDescription],
            seen[DriveDescription],
            seen[Duties],
        )
