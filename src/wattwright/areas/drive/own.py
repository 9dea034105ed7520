"""The records of the build that the drive area reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.build.cooling import Cabin, Cooling
from wattwright.build.devices import Inverter, OnThePack
from wattwright.build.drive import Driveline, Gear
from wattwright.build.motor import Motor
from wattwright.build.parts import Part
from wattwright.build.road import Road
from wattwright.build.uses import Season, Use
from wattwright.build.vehicle import Targets, Tyres
from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """What the builder wrote about motors, gears, road and devices."""

    part: Mapping[str, Part]
    drive: Driveline
    road: Road
    tyre: Tyres
    targets: Targets
    use: Mapping[str, Use]
    season: Mapping[str, Season]
    cooling: Cooling
    cabin: Cabin
    stop_lamp: Value

    @property
    def motors(self) -> dict[str, Motor]:
        """Motors by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, Motor) and _kept(p)}

    @property
    def inverters(self) -> dict[str, Inverter]:
        """Inverters by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, Inverter) and _kept(p)}

    @property
    def forward(self) -> dict[str, Gear]:
        """Gears that drive forwards, by name."""
        return {name: gear for name, gear in self.drive.gear.items() if not gear.backwards}

    @property
    def backward(self) -> dict[str, Gear]:
        """Reverse gears, by name."""
        return {name: gear for name, gear in self.drive.gear.items() if gear.backwards}

    @property
    def high_voltage(self) -> dict[str, OnThePack]:
        """Everything that hangs on the pack, by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, OnThePack) and _kept(p)}


def _kept(part: Part) -> bool:
    return part.state != "removed"
