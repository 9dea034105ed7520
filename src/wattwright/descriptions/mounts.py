"""The mounts' description: where the unit is, where it is wanted, what every mount needs."""

from __future__ import annotations

from dataclasses import dataclass, field

from wattwright.descriptions.clearance import ClearanceDescription


@dataclass(frozen=True, slots=True, eq=False)
class MountsDescription:
    """What was found of points, pose, hole patterns and clearances."""

    clearance: ClearanceDescription = field(default_factory=ClearanceDescription)
