"""What is felt on the road: how often wheel, shaft, joints and motor come round."""

from __future__ import annotations

from wattwright.build.drive import Driveline
from wattwright.descriptions.felt import Felt
from wattwright.kinds import COUNT, RATIO, SPEED
from wattwright.physics import propshaft
from wattwright.units import read
from wattwright.values import Value, constant, worked

# Speeds at which a vibration is usually felt.
_ROAD = ("50 km/h", "80 km/h", "100 km/h")
_WHEEL = constant(RATIO, 1.0, "the wheel itself")
_TWICE = constant(COUNT, 2.0, "twice a turn")
_THRICE = constant(COUNT, 3.0, "each arm of a joint, once a turn")


def felt(own: Driveline, circumference: Value, highest: Value) -> dict[str, Felt]:
    """Work out how often what turns comes round, by road speed."""
    return {text: _at(text, own, circumference, highest) for text in _ROAD}


def _at(text: str, own: Driveline, around: Value, highest: Value) -> Felt:
    speed = constant(SPEED, read(text, SPEED).number, text)
    wheel = worked(propshaft.turns_felt, speed, around, _WHEEL)
    shaft = worked(propshaft.turns_felt, speed, around, own.final_ratio)
    turning = worked(propshaft.shaft_speed, speed, own.final_ratio, around)
    return Felt(
        wheel,
        shaft,
        worked(propshaft.times_a_turn, shaft, _TWICE),
        worked(propshaft.times_a_turn, wheel, _THRICE),
        {
            name: worked(propshaft.motor_turns_felt, shaft, gear.ratio)
            for name, gear in own.gear.items()
            if not _beyond(turning, gear.ratio, highest)
        },
    )


def _beyond(turning: Value, ratio: Value, highest: Value) -> bool:
    """True in a gear in which the motor is known not to turn as fast."""
    numbers = [value.number for value in (turning, ratio, highest)]
    if None in numbers:
        return False
    shaft, turns, most = (number or 0.0 for number in numbers)
    return shaft * turns > most
