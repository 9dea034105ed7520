"""What is felt and heard on the road, by how often it comes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class Felt:
    """What is felt at a road speed: turns of wheel, shaft and motor, and what happens more often.

    ``tripod`` is what three-armed joints do, three times a turn of the wheel. ``motor`` is by the
    gears in which the motor can turn as fast.
    """

    wheel: Value
    shaft: Value
    shaft_twice: Value
    tripod: Value
    motor: Mapping[str, Value]
