"""What the driven wheels hold: starting on a hill, and braking by the motor on slippery roads."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.areas.drive.own import Own
from wattwright.descriptions.vehicle import Standing, VehicleDescription
from wattwright.kinds import ACCELERATION, GRADE
from wattwright.physics import adhesion
from wattwright.values import Lack, Value, lacking, worked

_NO_AXLE = Lack(
    "drive.driven",
    "drive: the driven axle",
    "not given",
    "follow the shafts to the wheels: front, rear or all",
    1,
)
_CLIMBING = {"front": adhesion.steepest_grade_front, "rear": adhesion.steepest_grade_rear}
_BRAKING = {"front": adhesion.greatest_braking_front, "rear": adhesion.greatest_braking_rear}


_BACKING = {
    "front": adhesion.steepest_grade_front_backwards,
    "rear": adhesion.steepest_grade_rear_backwards,
}
By = dict[str, Callable[..., float]]


def grip_grades(own: Own, vehicle: VehicleDescription) -> dict[str, Value]:
    """Steepest grade that the driven axle holds on, by loading case."""
    return {c.name: _grade(own, vehicle, c.conversion, _CLIMBING) for c in vehicle.cases}


def backing_grades(own: Own, vehicle: VehicleDescription) -> dict[str, Value]:
    """Steepest grade that the driven axle holds on tail first, by loading case."""
    return {c.name: _grade(own, vehicle, c.conversion, _BACKING) for c in vehicle.cases}


def _grade(own: Own, vehicle: VehicleDescription, standing: Standing, by: By) -> Value:
    friction = own.drive.start.friction
    match own.drive.driven:
        case None:
            return lacking(GRADE, _NO_AXLE)
        case "all":
            return worked(adhesion.steepest_grade_all, friction)
        case axle:
            places = (vehicle.wheelbase, standing.cg_x, standing.cg_z)
            return worked(by[axle], friction, *places)


def regen_grip(own: Own, vehicle: VehicleDescription) -> Value:
    """Deceleration at which the driven wheels slide where it is slippery, driver aboard."""
    friction = own.drive.regen.friction
    match own.drive.driven:
        case None:
            return lacking(ACCELERATION, _NO_AXLE)
        case "all":
            return worked(adhesion.greatest_braking_all, friction)
        case axle:
            standing = next(c.conversion for c in vehicle.cases if c.name == "driver")
            places = (vehicle.wheelbase, standing.cg_x, standing.cg_z)
            return worked(_BRAKING[axle], friction, *places)
