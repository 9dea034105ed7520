"""The mounts' description: where the unit is, where it is wanted, what every mount needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wattwright.descriptions.patterns import PatternFound


@dataclass(frozen=True, slots=True, eq=False)
class MountsDescription:
    """What was found of points, pose, hole patterns and clearances."""

    patterns: Mapping[str, PatternFound] = field(default_factory=dict)
