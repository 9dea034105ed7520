"""What the driven wheels hold: starting on a hill, and braking by the motor on slippery roads."""

from __future__ import annotations

from collections.abc import Callable

from wattwright.areas.drive.own import Own
from wattwright.descriptions.vehicle import Standing, VehicleDescription
from wattwright.kinds import ACCELERATION, GRADE
from wattwright.physics import adhesion, tractive
from wattwright.values import Lack, Value, lacking, worked

_NO_AXLE = Lack(
    "drive.driven",
    "drive: the driven axle",
    "not given",
    "follow the shafts to the wheels: front, rear or all",
    1,
)
By = Callable[..., float]
# How each driven axle holds: uphill nose first, uphill tail first, and braking.
_CLIMBING: dict[str, By] = {
    "front": adhesion.steepest_grade_front,
    "rear": adhesion.steepest_grade_rear,
}
_BACKING: dict[str, By] = {
    "front": adhesion.steepest_grade_front_backwards,
    "rear": adhesion.steepest_grade_rear_backwards,
}
_BRAKING: dict[str, By] = {
    "front": adhesion.greatest_braking_front,
    "rear": adhesion.greatest_braking_rear,
}


def grip_grades(own: Own, vehicle: VehicleDescription) -> dict[str, Value]:
    """Steepest grade that the driven wheels hold on, by loading case."""
    return {c.name: _grade(own, vehicle, c.conversion, _CLIMBING) for c in vehicle.cases}


def backing_grip_grades(own: Own, vehicle: VehicleDescription) -> dict[str, Value]:
    """Steepest grade that the driven wheels hold on tail first, by loading case."""
    return {c.name: _grade(own, vehicle, c.conversion, _BACKING) for c in vehicle.cases}


def _grade(own: Own, vehicle: VehicleDescription, standing: Standing, by: dict[str, By]) -> Value:
    places = (own.drive.start.friction, vehicle.wheelbase, standing.cg_x, standing.cg_z)
    match own.drive.driven:
        case None:
            return lacking(GRADE, _NO_AXLE)
        case "all" if by is _BACKING:
            return worked(adhesion.grade_of_braking, _shared_braking(own, places))
        case "all":
            # A fixed split: the axle that has less load for its share slides first.
            front = worked(adhesion.steepest_grade_shared_front, *places, own.drive.front_share)
            rear = worked(adhesion.steepest_grade_shared_rear, *places, own.drive.front_share)
            return worked(tractive.weaker_grade, front, rear)
        case axle:
            return worked(by[axle], *places)


def regen_grip(own: Own, vehicle: VehicleDescription, friction: Value) -> Value:
    """Deceleration at which the driven wheels slide on a road of a friction, driver aboard."""
    standing = next(c.conversion for c in vehicle.cases if c.name == "driver")
    places = (friction, vehicle.wheelbase, standing.cg_x, standing.cg_z)
    match own.drive.driven:
        case None:
            return lacking(ACCELERATION, _NO_AXLE)
        case "all":
            return _shared_braking(own, places)
        case axle:
            return worked(_BRAKING[axle], *places)


def _shared_braking(own: Own, places: tuple[Value, ...]) -> Value:
    share = own.drive.front_share
    front = worked(adhesion.greatest_braking_shared_front, *places, share)
    rear = worked(adhesion.greatest_braking_shared_rear, *places, share)
    return worked(adhesion.weaker_braking, front, rear)
