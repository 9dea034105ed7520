"""The drive's description: speeds of the motor, its EMF, and who lives on the pack."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class GearSpeeds:
    """One gear: the motor at the fastest driving, and the road at the motor's highest speed."""

    motor_at_top: Value
    road_at_limit: Value
    torque_at_top: Value


@dataclass(frozen=True, slots=True, eq=False)
class Pull:
    """What one motor gives at low speed, and where its voltage runs out."""

    peak_torque: Value
    base_full: Value
    base_empty: Value


@dataclass(frozen=True, slots=True, eq=False)
class Generation:
    """What the magnets of one motor do when the inverter stops switching."""

    emf: Value
    begins: Value
    fastest: Value
    current: Value
    torque: Value


@dataclass(frozen=True, slots=True, eq=False)
class DriveDescription:
    """Speeds and voltages of the drive, by motor; ``gears`` by motor and then by gear."""

    rolling_circumference: Value
    gears: Mapping[str, Mapping[str, GearSpeeds]]
    generation: Mapping[str, Generation]
    pull: Mapping[str, Pull]
