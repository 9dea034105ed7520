"""The vehicle: what it weighs, where, before and after."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.vehicle.checks import CHECKS, FIGURES, TABLE
from wattwright.areas.vehicle.describe import Own, describe
from wattwright.areas.vehicle.judge import judge
from wattwright.build.model import Build
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


class Vehicle:
    """The vehicle area; see ``wattwright.areas.Area`` for what each member means."""

    name = "vehicle"
    title = "Vehicle"
    reads: tuple[type, ...] = ()
    makes: type = VehicleDescription
    checks: tuple[Check, ...] = CHECKS
    figures: tuple[FigureKind, ...] = FIGURES
    tables: tuple[Table, ...] = (Table("figures by case (donor: as it was before)", TABLE),)
    sections = ("donor", "tyre", "place", "case", "part", "weigh_in", "targets")
    tell_me_first = (
        "donor.wheelbase",
        "donor.weighed.fl",
        "donor.weighed.fr",
        "donor.weighed.rl",
        "donor.weighed.rr",
    )

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        return Own(
            build.donor,
            build.tyre,
            build.place,
            build.case,
            build.part,
            build.weigh_in,
            build.targets,
            build.rules,
        )

    def begun(self, own: Own) -> bool:
        """True where anything has been written about the vehicle."""
        written = (own.donor, own.tyre, own.place, own.case, own.part, own.weigh_in, own.targets)
        return any(said(each) for each in written)

    def describe(self, own: Own, seen: Descriptions) -> VehicleDescription:
        """Work out what stands on the wheels."""
        del seen
        return describe(own)

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """Compare it with limits."""
        yield from judge(own, seen[VehicleDescription], rules)
