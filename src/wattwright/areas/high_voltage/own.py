"""The records of the build that the high-voltage area reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.build.cables import Cable
from wattwright.build.devices import Fuse, Inverter
from wattwright.build.motor import Motor
from wattwright.build.parts import Part

_PHASES = 3.0


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """What the builder wrote about parts; only those that are not given up count."""

    part: Mapping[str, Part]

    @property
    def cables(self) -> dict[str, Cable]:
        """Power cables by name."""
        return {
            name: part
            for name, part in self.part.items()
            if isinstance(part, Cable) and part.state != "removed"
        }

    def ends(self, cable: Cable) -> dict[str, Part]:
        """Give the parts at its ends by name; the pack is none."""
        names = (cable.begins, cable.ends)
        return {name: self.part[name] for name in names if name in self.part}

    def fuse(self, cable: Cable) -> Fuse | None:
        """Give the fuse that protects it, where one is named that is not given up."""
        part = self.part.get(cable.fuse)
        return part if isinstance(part, Fuse) and part.state != "removed" else None

    def kept(self, cable: Cable) -> bool:
        """Say whether a part is named that keeps its highest current, and is not given up."""
        part = self.part.get(cable.kept_by)
        return part is not None and part.state != "removed"

    def motor(self, cable: Cable) -> str:
        """Name the motor that it feeds with three phases; empty where it does not."""
        motors = (name for name, part in self.ends(cable).items() if isinstance(part, Motor))
        return next(motors, "") if is_phases(cable) else ""

    def inverter(self, cable: Cable) -> Inverter | None:
        """Give the inverter at one of its ends."""
        ends = self.ends(cable).values()
        return next((part for part in ends if isinstance(part, Inverter)), None)


def is_phases(cable: Cable) -> bool:
    """Say whether it carries the three phases from inverter to motor."""
    return cable.conductors.number == _PHASES
