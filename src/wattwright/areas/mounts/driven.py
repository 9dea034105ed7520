"""What the mounts area takes from the drive: torques that are held, speeds that are turned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.descriptions import Descriptions
from wattwright.descriptions.drive import DriveDescription, Load
from wattwright.descriptions.felt import Felt
from wattwright.kinds import LENGTH, RATIO, ROTATIONAL_SPEED, TORQUE
from wattwright.values import Lack, Value, lacking

_NO_DRIVE = Lack("", "torque and speed of the drive", "not worked out for this page")


@dataclass(frozen=True, slots=True, eq=False)
class Driven:
    """What of the drive turns shafts and is held by mounts; ``links`` are None without it."""

    final_ratio: Value
    gear_ratios: Mapping[str, Value]
    highest_motor_speed: Value
    rolling_circumference: Value
    launch_torque: Value
    fault_torque: Value
    felt: Mapping[str, Felt]
    links: Mapping[str, Load] | None


def driven(seen: Descriptions) -> Driven:
    """Take it from the drive; a page that needs none of it is made without the drive."""
    drive = seen.get(DriveDescription)
    if drive is None:
        ratio, speed, around, torque = (
            lacking(kind, _NO_DRIVE) for kind in (RATIO, ROTATIONAL_SPEED, LENGTH, TORQUE)
        )
        return Driven(ratio, {}, speed, around, torque, torque, {}, None)
    return Driven(
        drive.final_ratio,
        drive.gear_ratios,
        drive.highest_motor_speed,
        drive.rolling_circumference,
        drive.launch_torque,
        drive.fault_torque,
        drive.felt,
        drive.links,
    )
