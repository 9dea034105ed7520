"""What each gear is good for: speed, hills, time, braking; and which single gear is best."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from wattwright.areas.drive.fed import Drive, Fed, Thirty, of_all, together
from wattwright.areas.drive.gear import InGear, too_fast
from wattwright.areas.drive.own import Own
from wattwright.areas.drive.road import Taking
from wattwright.build.drive import Gear
from wattwright.descriptions.drive import Climb, GearPull, RoadLoad, Shifting
from wattwright.descriptions.duty import CurrentShare
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.kinds import COUNT, FORCE, INERTIA, POWER, RATIO, SPEED, TEMPERATURE, TIME
from wattwright.physics import (
    acceleration,
    gearing,
    motor_curve,
    reserve,
    road_load,
    tractive,
)
from wattwright.units import read
from wattwright.values import Lack, Value, constant, lacking, smallest, worked

_FIFTY, _EIGHTY, _SIXTY_MILES, _THIRTY = (
    read(text, SPEED).number for text in ("50 km/h", "80 km/h", "60 mph", "30 km/h")
)
_SLIPPERY_BELOW = read("3 °C", TEMPERATURE).number
_CLIMBED_AT = (_THIRTY, _FIFTY, _EIGHTY)
_NO_INERTIA = constant(INERTIA, 0.0, "counted with the wheels")


@dataclass(frozen=True, eq=False)
class Run:
    """One gear, pack half charged, and the mass with all that rotates in it."""

    half: InGear
    equivalent: Value


@dataclass(frozen=True, eq=False)
class Scene:
    """Everything a gear's pull is worked out from."""

    own: Own
    drive: Drive
    fed: Mapping[str, Fed]
    radius: Value
    road: RoadLoad
    masses: Mapping[str, Value]
    regen: Value
    # How hard the motor may brake on a dry road and on a slippery one, m/s².
    dry: Value
    slippery: Value
    stop_lamp: Value
    # Highest phase current of every motor, and the share of it that a share of torque takes.
    phase: Mapping[str, tuple[Value, CurrentShare]]

    @property
    def driver(self) -> Value:
        """Mass with nobody aboard but the driver."""
        return self.masses["driver"]

    @cached_property
    def taking(self) -> Taking:
        """Road load with nobody aboard but the driver."""
        return Taking(self.road, self.driver)

    @cached_property
    def thirty(self) -> Thirty:
        """The drive for thirty minutes, pack half charged."""
        motors = self.own.motors.values()
        ratings = [(motor.continuous_torque, motor.continuous_power) for motor in motors]
        return Thirty(self.fed["half"], ratings)

    @cached_property
    def runs(self) -> dict[str, Run]:
        """Every gear, the one that multiplies most in front."""
        gears = self.own.forward.items()
        lowest_first = sorted(gears, key=lambda named: -(named[1].ratio.number or 0.0))
        return {
            name: Run(self.in_gear(gear), self.equivalent_mass(gear, self.driver))
            for name, gear in lowest_first
        }

    def braking_within(self, outside: Value) -> Value:
        """Deceleration by the motor that grip and stop lamps allow at a temperature outside.

        Near frost the road is taken to be slippery. A limit for stop lamps that nobody has
        answered holds nothing back here; it is asked for where it is judged.
        """
        cold = outside.number is not None and outside.number < _SLIPPERY_BELOW
        grip = self.slippery if cold else self.dry
        unlit = self.stop_lamp.known and not self.own.drive.regen.lights_stop_lamps
        return smallest(grip, self.stop_lamp) if unlit else grip

    def in_gear(self, gear: Gear) -> InGear:
        """Put the drive into a gear, pack half charged."""
        ratio = worked(gearing.total_ratio, gear.ratio, self.own.drive.final_ratio)
        both = (gear.efficiency, self.own.drive.final_efficiency)
        efficiency = worked(gearing.driveline_efficiency, both)
        limit = worked(gearing.road_speed, self.drive.max_speed, ratio, self.radius)
        return InGear(self.fed["half"], ratio, efficiency, self.radius, limit)

    def equivalent_mass(self, gear: Gear, mass: Value) -> Value:
        """Mass with all that rotates."""
        rolling = worked(road_load.equivalent_mass_by_share, mass, self.own.road.rotating_share)
        rotors = [motor.inertia for motor in self.own.motors.values()]
        rotor = of_all(INERTIA, road_load.total_inertia, rotors)
        inertia = worked(
            road_load.inertia_at_axle,
            rotor,
            _NO_INERTIA,
            _NO_INERTIA,
            gear.ratio,
            self.own.drive.final_ratio,
        )
        return worked(road_load.equivalent_mass, rolling, inertia, self.radius)


def masses_of(vehicle: VehicleDescription) -> dict[str, Value]:
    """Masses of the conversion by loading case."""
    return {case.name: case.conversion.loads.mass for case in vehicle.cases}


def pull_in(scene: Scene, run: Run) -> GearPull:
    """Work out what one gear is good for."""
    half, equivalent = run.half, run.equivalent
    low, thirty = half.turned_by(scene.fed["low"]), half.turned_by(scene.thirty)
    taking = scene.taking
    start = half.force_of(scene.drive.stalled)
    tops = {"half": half.top_speed(taking), "low": low.top_speed(taking)}
    to_fifty = half.time(0.0, _FIFTY, taking, equivalent)
    fifty_to_eighty = half.time(_FIFTY, _EIGHTY, taking, equivalent)
    last = half.time(_EIGHTY, _SIXTY_MILES, taking, equivalent)
    climb = low.force_within(scene.own.targets.hill_speed)
    braking = worked(gearing.wheel_torque_driven_back, scene.regen, low.ratio, low.efficiency)
    force = worked(gearing.tractive_force, braking, scene.radius)
    at_fifty = taking.at(constant(SPEED, _FIFTY, "50 km/h"))
    reserves = _reserves(scene, tops["half"], start, climb, to_fifty)
    return GearPull(
        low.ratio,
        low.efficiency,
        start,
        _start_grade(scene, start, scene.driver),
        climb,
        tops,
        thirty.top_speed(taking),
        tuple(_climbs(scene, half, thirty)),
        to_fifty,
        _sum_of_times([to_fifty, fifty_to_eighty, last]),
        fifty_to_eighty,
        worked(acceleration.acceleration, force, scene.driver),
        worked(
            tractive.regen_deceleration_with_losses,
            scene.regen,
            low.ratio,
            low.efficiency,
            scene.radius,
            at_fifty,
            equivalent,
        ),
        worked(reserve.smallest_reserve, reserves)
        if reserves
        else lacking(RATIO, scene.own.targets.top_speed.lacks[0]),
        tuple(sorted(each.number or 0.0 for each in reserves)),
    )


def _sum_of_times(times: list[Value], shifts: int = 0, each: Value | None = None) -> Value:
    count = constant(COUNT, float(shifts), "changes of gear")
    return worked(acceleration.time_with_shifts, times, count, each or constant(TIME, 0.0))


def _start_grade(scene: Scene, force: Value, mass: Value) -> Value:
    return worked(tractive.hill_start_grade, force, mass, scene.road.rolling)


def _climb_grade(scene: Scene, force: Value, mass: Value) -> Value:
    resistance = Taking(scene.road, mass).at(scene.own.targets.hill_speed)
    left = worked(tractive.surplus_force, force, resistance)
    return worked(tractive.gradient_possible, left, mass)


def start_grades(scene: Scene, pulls: Mapping[str, GearPull]) -> dict[str, Value]:
    """Grade it starts on in the gear that pulls hardest, in every case."""
    force = strongest(pull.start_force for pull in pulls.values())
    return {name: _start_grade(scene, force, mass) for name, mass in scene.masses.items()}


def climb_grades(scene: Scene, pulls: Mapping[str, GearPull]) -> dict[str, Value]:
    """Grade it climbs at the speed wanted in the gear that pulls hardest there, in every case."""
    force = strongest(pull.climb_force for pull in pulls.values())
    return {name: _climb_grade(scene, force, mass) for name, mass in scene.masses.items()}


def strongest(by_gear: Iterable[Value]) -> Value:
    """Largest value among the gears; where none is known, the first says what is missing."""
    return best_of(by_gear, max)


def best_gear(pulls: Mapping[str, GearPull]) -> str | None:
    """Gear with most to spare over what is wanted; none where that is not known of any.

    Where the weakest point is the same in two gears, the next weakest decides.
    """
    measured = {gear: pull for gear, pull in pulls.items() if pull.reserve.known}
    spare = {gear: [round(each, 2) for each in pull.reserves] for gear, pull in measured.items()}
    return max(spare, key=lambda gear: spare[gear], default=None)


def best_of(by_gear: Iterable[Value], choose: Callable[..., Value]) -> Value:
    """Choose among the gears; one about which something is missing speaks first.

    A gear that ends before a speed is out of the running; one whose ratio nobody has counted may
    be the best of all.
    """
    values = list(by_gear)
    asking = [value for value in values if any(lack.path for lack in value.lacks)]
    known = [value for value in values if value.known]
    if asking or not known:
        return (asking or values)[0]
    return choose(known, key=lambda value: value.number or 0.0)


def backing_grades(scene: Scene, pulls: Mapping[str, GearPull]) -> dict[str, Value]:
    """Grade it starts on tail first by force alone: motor turned back, or the reverse gear."""
    if scene.own.drive.reverse == "motor":
        return start_grades(scene, pulls)
    gears = scene.own.backward.values()
    stalled = scene.drive.stalled
    forces = [scene.in_gear(gear).force_of(stalled) for gear in gears]
    force = strongest(forces) if forces else lacking(FORCE, _NO_REVERSE)
    return {name: _start_grade(scene, force, mass) for name, mass in scene.masses.items()}


_NO_REVERSE = Lack(
    "drive.gear",
    "the reverse gear",
    "not given",
    "write it as [drive.gear.reverse] with its ratio and backwards = true",
    5,
)


def thirty_minute_power(own: Own) -> Value:
    """Power of all motors together for thirty minutes."""
    powers = [motor.continuous_power for motor in own.motors.values()]
    return of_all(POWER, motor_curve.total_power, powers)


def thirty_minute_torque(own: Own) -> Value:
    """Torque of all motors together for thirty minutes, at low speed."""
    return together([motor.continuous_torque for motor in own.motors.values()])


def _climbs(scene: Scene, peak: InGear, thirty: InGear) -> Iterator[Climb]:
    for number in _CLIMBED_AT:
        speed = constant(SPEED, number, "speed")
        grades = (each.grade(speed, scene.taking, scene.driver) for each in (peak, thirty))
        yield Climb(number, *grades)


def _reserves(scene: Scene, top: Value, start: Value, climb: Value, to_fifty: Value) -> list[Value]:
    """What the gear gives over each thing wanted, in the heaviest case that is known."""
    wanted = scene.own.targets
    masses = [mass for mass in scene.masses.values() if mass.known] or [scene.driver]
    heaviest = max(masses, key=lambda mass: mass.number or 0.0)
    reserves = []
    if wanted.top_speed.known:
        reserves.append(worked(reserve.speed_reserve, top, wanted.top_speed))
    if wanted.hill_grade.known:
        starts = _start_grade(scene, start, heaviest)
        reserves.append(worked(reserve.grade_reserve, starts, wanted.hill_grade))
    if wanted.hill_grade.known and wanted.hill_speed.known:
        climbs = _climb_grade(scene, climb, heaviest)
        reserves.append(worked(reserve.grade_reserve, climbs, wanted.hill_grade))
    if wanted.zero_to_fifty.known:
        reserves.append(worked(reserve.time_reserve, to_fifty, wanted.zero_to_fifty))
    return reserves


def shifting(scene: Scene) -> Shifting:
    """Times through the gears from the lowest one used; one gear alone shifts nowhere."""
    runs = [run.half for run in scene.runs.values()]
    masses = [run.equivalent for run in scene.runs.values()]
    return Shifting(
        *(_through(scene, runs, masses, end) for end in (_FIFTY, _SIXTY_MILES)),
    )


def _through(scene: Scene, runs: list[InGear], masses: list[Value], end: float) -> Value:
    """Shift where the next gear pulls harder, or drive each to its end: whichever is quicker."""
    taking = scene.taking
    if not all(run.known for run in runs) or not taking.known:
        return runs[0].time(0.0, end, taking, masses[0])
    plans = [_plan(scene, runs, masses, end, early) for early in (True, False)]
    shift = scene.own.drive.shift_time.number or 0.0

    def seconds(plan: list[tuple[int, float, float]]) -> float:
        driven = (
            runs[n].time_number(start, leave, taking, masses[n].number or 0.0)
            for n, start, leave in plan
        )
        return sum(driven) + shift * (len(plan) - 1)

    plan = min(plans, key=seconds)
    if plan[-1][2] < end:
        return too_fast(TIME)
    times = [runs[n].time(start, leave, taking, masses[n]) for n, start, leave in plan]
    return _sum_of_times(times, len(times) - 1, scene.own.drive.shift_time)


def _plan(
    scene: Scene, runs: list[InGear], masses: list[Value], end: float, early: bool
) -> list[tuple[int, float, float]]:
    """Which gear from which speed to which."""
    taking = scene.taking
    plan: list[tuple[int, float, float]] = []
    speed = 0.0
    for place, run in enumerate(runs):
        leave = min(end, _shift_speed(run, runs[place + 1 :] if early else [], speed))
        plan.append((place, speed, leave))
        if leave >= end:
            break
        speed = acceleration.speed_after_shift(
            leave,
            taking.number(leave),
            masses[place].number or 1.0,
            scene.own.drive.shift_time.number or 0.0,
        )
    return plan


def _shift_speed(run: InGear, higher: list[InGear], start: float) -> float:
    """Speed from which the next gear pulls harder, or at which this one ends."""
    limit = run.limit.number or 0.0
    if not higher:
        return limit
    steps = 200
    for step in range(1, steps):
        speed = start + (limit - start) * step / steps
        if higher[0].number(speed) >= run.number(speed):
            return speed
    return limit
