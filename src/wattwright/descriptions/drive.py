"""The drive's description: what the motors give, what the road takes, and what lies between."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from wattwright.descriptions.duty import Demand, HillDemand
from wattwright.descriptions.felt import Felt
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
    stalled: Value
    base_full: Value
    base_empty: Value
    hold_time: Value


@dataclass(frozen=True, slots=True, eq=False)
class Generation:
    """What the magnets of one motor do when the inverter stops switching."""

    emf: Value
    begins: Value
    fastest: Value
    current: Value
    torque: Value


@dataclass(frozen=True, slots=True, eq=False)
class RoadLoad:
    """What the road takes: rolling over weight, the parts that grow with speed, and the wind.

    ``f1`` and ``f2`` are those in calm air.
    """

    rolling: Value
    f1: Value
    f2: Value
    headwind: Value


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """Points to draw: one number against another, in SI."""

    x: tuple[float, ...]
    y: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Climb:
    """Grade that is climbed at a speed, for some seconds and for thirty minutes."""

    speed: float
    peak: Value
    thirty: Value


@dataclass(frozen=True, slots=True, eq=False)
class GearPull:
    """What one gear makes of the motors, driver aboard.

    ``reserve`` is the smallest of ``reserves``: what it gives over each thing wanted, in order.
    ``top_speed`` is by state of the pack; ``climb_force`` at the speed the builder wants to keep
    uphill, pack nearly empty and cold.
    """

    ratio: Value
    efficiency: Value
    start_force: Value
    start_grade: Value
    climb_force: Value
    top_speed: Mapping[str, Value]
    top_speed_thirty: Value
    climbs: tuple[Climb, ...]
    to_fifty: Value
    to_sixty_miles: Value
    fifty_to_eighty: Value
    regen: Value
    regen_with_road: Value
    reserve: Value
    reserves: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Shifting:
    """Times through the gears, from the lowest one used."""

    to_fifty: Value
    to_sixty_miles: Value


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """Torque through one link of the driveline: driving hardest, after a fault, back and forth.

    ``reversing`` is what wears it as driving and braking by the motor in turn do;
    ``reversing_strength`` what it bears so for life.
    """

    strength: Value
    launch: Value
    fault: Value
    reversing: Value
    reversing_strength: Value


@dataclass(frozen=True, slots=True, eq=False)
class Powers:
    """Power at the shaft and current from the pack, at one state of the pack."""

    peak: Value
    peak_current: Value


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """Curves to draw: torque against speed of the motors, force against speed on the road.

    ``envelope`` is in words of its voltage, ``force`` by gear, lowest first, pack half charged;
    ``road`` by grade, driver aboard.
    """

    envelope: Mapping[str, Curve]
    force: Mapping[str, Curve]
    road: Mapping[float, Curve]


@dataclass(frozen=True, slots=True, eq=False)
class Demands:
    """What the vehicle is to be put through: uses, speeds held on the level, the hill wanted.

    ``at_speeds`` works out ranges at steady speeds by temperature, which only a drawing needs.
    """

    uses: tuple[Demand, ...]
    steady: Mapping[str, Demand]
    hill: Demand | None
    held: Mapping[str, HillDemand]
    at_speeds: Callable[[], Mapping[float, Sequence[tuple[float, float]]]]


@dataclass(frozen=True, slots=True, eq=False)
class DriveDescription:
    """All of the drive; ``gears`` by motor and then by gear, ``pulls`` by gear.

    ``start_grades``, ``climb_grades``, ``grip_grades`` and the two of backing up tail first are by
    loading case, in the best gear.

    ``to_draw`` works out the curves, which only a drawing needs. ``final_ratio`` is turns of the
    propshaft for one of the wheels; ``gear_ratios`` turns of the motor for one of the propshaft, by
    gear; ``highest_motor_speed`` that of the motor which allows least. ``launch_torque`` is the
    most that the motors give with cold magnets, ``fault_torque`` the most when an inverter shorts
    them. ``felt`` is how often what turns comes round, by road speed.
    """

    final_ratio: Value
    gear_ratios: Mapping[str, Value]
    highest_motor_speed: Value
    launch_torque: Value
    fault_torque: Value
    rolling_circumference: Value
    turns_per_kilometre: Value
    felt: Mapping[str, Felt]
    gears: Mapping[str, Mapping[str, GearSpeeds]]
    generation: Mapping[str, Generation]
    pull: Mapping[str, Pull]
    road: RoadLoad
    pulls: Mapping[str, GearPull]
    shifting: Shifting | None
    start_grades: Mapping[str, Value]
    climb_grades: Mapping[str, Value]
    grip_grades: Mapping[str, Value]
    backing_grades: Mapping[str, Value]
    backing_grip_grades: Mapping[str, Value]
    regen_grip: Value
    links: Mapping[str, Load]
    powers: Mapping[str, Powers]
    thirty_power: Value
    thirty_current: Value
    demands: Demands
    to_draw: Callable[[], Drawn]
