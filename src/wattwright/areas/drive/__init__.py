"""The drive: voltage windows, motor and magnets, what the wheels get, and what the road takes."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive.checks import CHECKS
from wattwright.areas.drive.describe import describe
from wattwright.areas.drive.figures import FIGURES, TABLE
from wattwright.areas.drive.judge import judge
from wattwright.areas.drive.judge_road import judge_road
from wattwright.areas.drive.judge_uses import judge_uses
from wattwright.areas.drive.own import Own
from wattwright.areas.drive.use_checks import USE_CHECKS
from wattwright.areas.drive.use_figures import USE_FIGURES, USE_TABLES
from wattwright.areas.drive.ways import ways
from wattwright.build.model import Build
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Duties
from wattwright.descriptions.pack import PackDescription
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


class Drive:
    """The drive area; see ``wattwright.areas.Area`` for what each member means."""

    name = "drive"
    title = "Drive"
    reads: tuple[type, ...] = (PackDescription, VehicleDescription, Duties)
    makes: type = DriveDescription
    checks: tuple[Check, ...] = (*CHECKS, *USE_CHECKS)
    figures: tuple[FigureKind, ...] = (*FIGURES, *USE_FIGURES)
    tables: tuple[Table, ...] = (
        Table(
            "figures by gear, driver aboard; pack half charged and warm where nothing is said",
            TABLE,
        ),
        *USE_TABLES,
    )
    sections = ("drive", "road", "use", "season", "cooling", "cabin")
    tell_me_first = ("part.NAME.kind", "drive.final_ratio", "drive.gear.NAME.ratio")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(
            build.part,
            build.drive,
            build.road,
            build.tyre,
            build.targets,
            build.use,
            build.season,
            build.cooling,
            build.cabin,
            build.rules.stop_lamp_from.value,
        )

    def begun(self, own: Own) -> bool:
        """True where a device, the driveline or a use has been written."""
        written = said(own.drive) or said(own.road)
        return written or bool(own.motors or own.high_voltage or own.use)

    def describe(self, own: Own, seen: Descriptions) -> DriveDescription:
        """Work out what motors, gears and road make of each other."""
        return describe(own, seen[PackDescription], seen[VehicleDescription])

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """Compare windows, EMF, speeds, targets and ratings with their limits."""
        drive = seen[DriveDescription]
        yield from judge_road(own, drive, rules)
        yield from judge(own, drive, seen[PackDescription])
        yield from judge_uses(own, seen[Duties], seen[PackDescription])
        yield from ways(own)
