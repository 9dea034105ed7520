"""What hangs on the bell-housing, and the oil behind it."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Quantity, Record
from wattwright.kinds import ANGLE, LENGTH, MASS, POSITION, RATIO, TORQUE
from wattwright.values import Value


class Overhang(Record):
    """The motor on the bell-housing's face."""

    mass: Annotated[
        Value,
        Quantity(
            MASS,
            "mass that hangs on the face",
            "scale, motor with adaptor and coupler",
            minutes=15,
            allowed=("1 kg", "500 kg"),
        ),
    ]
    centre: Annotated[
        Value,
        Quantity(
            LENGTH,
            "distance of its centre of gravity from the face",
            "balance it over a bar, rule from there to the face",
            minutes=15,
            allowed=("1 mm", "1.5 m"),
        ),
    ]
    tail: Annotated[
        Value,
        Quantity(
            LENGTH,
            "distance of the tail mount from the face",
            'rule from the face to the bolt of the mount; "none" where the motor has no tail mount',
            minutes=5,
            allowed=("10 mm", "2 m"),
            may_be_none=True,
        ),
    ]
    jolt: Annotated[
        Value,
        Quantity(
            RATIO,
            "how many times its weight it presses over a pothole",
            "accelerometer at the bell-housing on the worst road you know",
            minutes=60,
            allowed=("1", "10"),
            default="3 ± 0.5",
            basis="brackets of cars, common practice",
        ),
    ]
    allowed: Annotated[
        Value,
        Quantity(
            TORQUE,
            "bending moment that the bell-housing was made for",
            "weight of the old engine times the distance of its centre of gravity from the face, "
            "times the same jolt, less what its own mounts carried",
            minutes=30,
            allowed=("1 N·m", "20000 N·m"),
            may_be_none=True,
        ),
    ]


def _angle(label: str, how: str) -> Quantity:
    return Quantity(ANGLE, label, how, minutes=5, allowed=("-45°", "45°"))


class Oil(Record):
    """The tilt of gearbox or transaxle, against the one that its oil level was made for."""

    pitch_before: Annotated[
        Value,
        _angle(
            "nose up, as it was made for",
            "digital level along the machined face before the old engine comes out, vehicle level",
        ),
    ]
    pitch_now: Annotated[
        Value,
        _angle("nose up, as it hangs now", "digital level at the same place, vehicle level"),
    ]
    roll_before: Annotated[
        Value,
        _angle(
            "right side up, as it was made for",
            "digital level across the machined face before the old engine comes out, vehicle level",
        ),
    ]
    roll_now: Annotated[
        Value,
        _angle("right side up, as it hangs now", "digital level at the same place, vehicle level"),
    ]
    pick_up: Annotated[
        Value,
        Quantity(
            POSITION,
            "pick-up or highest bearing, ahead of the level plug",
            "rule along the housing; behind the plug is below zero",
            minutes=10,
            allowed=("-1 m", "1 m"),
            may_be_none=True,
        ),
    ]
    within: Annotated[
        Value,
        Quantity(
            ANGLE,
            "how far each tilt may be off",
            "what the maker of the gearbox allows",
            minutes=10,
            allowed=("0.1°", "20°"),
            default="3° ± 0.3",
            decided=True,
            basis="gearboxes and transaxles, common practice",
        ),
    ]
