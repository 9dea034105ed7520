"""Charging: what each outlet allows, what flows, what gets warm, how long it takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattwright.areas.charging import checks as chain_checks
from wattwright.areas.charging import reading_checks
from wattwright.areas.charging.chain import Scene, described_outlet
from wattwright.areas.charging.judge import judge_aboard, judge_otherwise, judge_outlet
from wattwright.areas.charging.links import Aboard
from wattwright.areas.charging.otherwise import with_other_cords
from wattwright.areas.charging.readings import describe_readings, judge_readings
from wattwright.build.charging import Charging as ChargingRecord
from wattwright.build.devices import Charger
from wattwright.build.model import Build
from wattwright.build.outlets import Cord, Outlet, SupplyBox
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions import Descriptions
from wattwright.descriptions.charging import ChargingDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Check, Figure, FigureKind, Finding, Table


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the charging area reads."""

    charging: ChargingRecord
    outlet: dict[str, Outlet]
    cord: dict[str, Cord]
    supply_box: dict[str, SupplyBox]
    chargers: dict[str, Charger]

    @property
    def aboard(self) -> Aboard:
        """The vehicle's own side."""
        return Aboard(self.charging, self.chargers)


class Charging:
    """The charging area; see ``wattwright.areas.Area`` for what each member means."""

    name = "charging"
    title = "Charging"
    reads: tuple[type, ...] = (PackDescription,)
    makes: type = ChargingDescription
    checks: tuple[Check, ...] = (*chain_checks.CHECKS, *reading_checks.CHECKS)
    figures: tuple[FigureKind, ...] = (*chain_checks.FIGURES, *reading_checks.FIGURES)
    tables: tuple[Table, ...] = (*chain_checks.TABLES, *reading_checks.TABLES)
    sections = ("charging", "outlet", "cord", "supply_box")
    tell_me_first = ("charging.inlet.current", "charging.pack_current")

    def own(self, build: Build) -> Own:
        """Take the records this area reads."""
        chargers = {
            name: part
            for name, part in build.part.items()
            if isinstance(part, Charger) and part.state != "removed"
        }
        return Own(build.charging, build.outlet, build.cord, build.supply_box, chargers)

    def begun(self, own: Own) -> bool:
        """True where anything has been written of charging."""
        return bool(own.outlet or own.cord or own.supply_box) or said(own.charging)

    def describe(self, own: Own, seen: Descriptions) -> ChargingDescription:
        """Work out every outlet."""
        scene = Scene(own.aboard, seen[PackDescription], own.cord, own.supply_box)
        return ChargingDescription(
            {name: described_outlet(name, outlet, scene) for name, outlet in own.outlet.items()},
            {
                name: dict(with_other_cords(name, outlet, scene))
                for name, outlet in own.outlet.items()
            },
            describe_readings(own.charging.inlet, own.supply_box),
        )

    def judge(self, own: Own, seen: Descriptions, rules: Rules) -> Iterator[Finding | Figure]:
        """State it."""
        del rules
        found = seen[ChargingDescription]
        for name, outlet in own.outlet.items():
            box = own.supply_box.get(outlet.box)
            yield from judge_outlet(name, outlet, found.outlets[name], box, own.aboard)
            yield from judge_otherwise(name, found.otherwise[name])
        if own.outlet or said(own.charging.inlet):
            yield from judge_aboard(own.aboard, seen[PackDescription])
        if own.supply_box or said(own.charging.inlet):
            yield from judge_readings(found.readings)
