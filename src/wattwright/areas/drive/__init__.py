"""The drive, first part: voltage windows, the magnets' EMF, and motor speeds."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive.checks import CHECKS, FIGURES
from wattwright.areas.drive.describe import Own, describe
from wattwright.areas.drive.judge import judge
from wattwright.build.model import Build
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Check, Figure, FigureKind, Finding


class Drive:
    """The drive area; see ``wattwright.areas.Area`` for what each member means."""

    name = "drive"
    title = "Drive"
    reads: tuple[type, ...] = (PackDescription,)
    makes: type = DriveDescription
    checks: tuple[Check, ...] = CHECKS
    figures: tuple[FigureKind, ...] = FIGURES
    table: tuple[FigureKind, ...] = ()
    sections = ("drive",)
    tell_me_first = ("part.NAME.kind", "drive.final_ratio", "drive.gear.NAME.ratio")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(build.part, build.drive, build.tyre, build.targets)

    def begun(self, own: Own) -> bool:
        """True where a device or the driveline has been written."""
        return bool(own.motors or own.high_voltage) or said(own.drive)

    def describe(self, own: Own, seen: Descriptions) -> DriveDescription:
        """Work out speeds and EMF."""
        return describe(own, seen[PackDescription])

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """Compare windows, EMF and speeds with their limits."""
        del rules
        yield from judge(own, seen[DriveDescription], seen[PackDescription])
