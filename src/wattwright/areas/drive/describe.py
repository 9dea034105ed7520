"""What the drive is good for, put together motor by motor and gear by gear."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from wattwright.areas.drive.curves import curves
from wattwright.areas.drive.driveline import hardest_torques, loads_of
from wattwright.areas.drive.efficiency import Efficiency
from wattwright.areas.drive.fed import NO_MOTOR, Drive, Fed
from wattwright.areas.drive.felt import felt
from wattwright.areas.drive.hills import backing_grip_grades, grip_grades, regen_grip
from wattwright.areas.drive.models import Model
from wattwright.areas.drive.motor import Feeding, inverter_of, model_of, no_inverter
from wattwright.areas.drive.own import Own
from wattwright.areas.drive.performance import (
    Scene,
    backing_grades,
    climb_grades,
    masses_of,
    pull_in,
    shifting,
    start_grades,
    thirty_minute_power,
    thirty_minute_torque,
)
from wattwright.areas.drive.road import describe_road
from wattwright.areas.drive.speeds import generation_of, pull_of, rolling_from_size, speeds_in
from wattwright.areas.drive.using import demands
from wattwright.descriptions.drive import DriveDescription, GearPull, Powers
from wattwright.descriptions.pack import PackDescription
from wattwright.descriptions.vehicle import VehicleDescription
from wattwright.kinds import CURRENT, RATIO, ROTATIONAL_SPEED
from wattwright.physics import fed_by_pack, motor_curve, pack_voltage, rolling_radius
from wattwright.values import Value, constant, either, lacking, smallest, worked

_DRY = constant(RATIO, 0.7, "dry tar, common practice")


def describe(own: Own, pack: PackDescription, vehicle: VehicleDescription) -> DriveDescription:
    """Work out all of the drive."""
    circumference = either(own.drive.rolling_circumference, rolling_from_size(own))
    radius = worked(rolling_radius.rolling_radius, circumference)
    feedings = {name: _feeding(own, name) for name in own.motors}
    models = {n: model_of(own.motors[n], own.drive, each) for n, each in feedings.items()}
    gears = {
        name: {
            gear: speeds_in(own, record, radius, motor, models[name], pack)
            for gear, record in own.forward.items()
        }
        for name, motor in own.motors.items()
    }
    masses = masses_of(vehicle)
    road = describe_road(own.road, masses["kerb"])
    drive = _drive(own, models)
    fed = {word: Fed(drive, state) for word, state in pack.states.items()}
    slippery = regen_grip(own, vehicle, own.drive.regen.friction)
    scene = Scene(
        own,
        drive,
        fed,
        radius,
        road,
        masses,
        own.drive.regen.torque,
        regen_grip(own, vehicle, _DRY),
        slippery,
        own.stop_lamp,
        {name: (feedings[name].current, model.current_share) for name, model in models.items()},
    )
    pulls = _pulls(scene)
    thirty = thirty_minute_power(own)
    launch, fault = hardest_torques(own, models, feedings)
    grip = grip_grades(own, vehicle)
    return DriveDescription(
        own.drive.final_ratio,
        {name: gear.ratio for name, gear in own.drive.gear.items()},
        _highest_motor_speed(own),
        launch,
        fault,
        circumference,
        worked(rolling_radius.turns_per_kilometre, circumference),
        felt(own.drive, circumference, _highest_motor_speed(own)),
        gears,
        {n: generation_of(motor, own.drive, pack, gears[n]) for n, motor in own.motors.items()},
        {n: pull_of(motor, models[n], feedings[n], pack) for n, motor in own.motors.items()},
        road,
        pulls,
        shifting(scene) if len(pulls) > 1 else None,
        start_grades(scene, pulls) if pulls else {},
        climb_grades(scene, pulls) if pulls else {},
        grip,
        backing_grades(scene, pulls) if pulls else {},
        backing_grip_grades(own, vehicle),
        slippery,
        loads_of(own, launch, fault),
        {word: _powers(each) for word, each in fed.items()} if models else {},
        thirty,
        _thirty_current(scene, pack, thirty)
        if models
        else Value(CURRENT, None, lacks=thirty.lacks),
        demands(scene, pack, pulls, grip["driver"]),
        partial(curves, scene, pack),
    )


def _feeding(own: Own, name: str) -> Feeding:
    motor = own.motors[name]
    return Feeding(motor, inverter_of(own.inverters, motor), no_inverter(name))


def _drive(own: Own, models: Mapping[str, Model]) -> Drive:
    return Drive(
        tuple(models),
        tuple(models.values()),
        tuple(Efficiency(name, motor) for name, motor in own.motors.items()),
        own.drive.auxiliary,
        _highest_motor_speed(own),
    )


def _highest_motor_speed(own: Own) -> Value:
    speeds = [motor.max_speed for motor in own.motors.values()]
    return smallest(*speeds) if speeds else lacking(ROTATIONAL_SPEED, NO_MOTOR)


def _pulls(scene: Scene) -> dict[str, GearPull]:
    if not scene.drive.models:
        return {}
    return {name: pull_in(scene, run) for name, run in scene.runs.items()}


def _powers(fed: Fed) -> Powers:
    """Largest power at the shaft, and the current that it takes from the pack."""
    curve = fed.curve
    best = max(
        zip(curve.speeds, curve.torques, strict=True),
        key=lambda at: at[0] * at[1],
        default=(0.0, 0.0),
    )
    speed = constant(ROTATIONAL_SPEED, best[0], "speed of most power")
    torque = fed.at(speed)
    power = worked(motor_curve.shaft_power, torque, speed)
    taken = worked(
        fed_by_pack.dc_power, torque, speed, fed.efficiency(speed, best[1]), fed.drive.auxiliary
    )
    return Powers(power, _drawn(taken, fed))


def _thirty_current(scene: Scene, pack: PackDescription, power: Value) -> Value:
    """Current at thirty-minute power while the pack is at its lowest voltage."""
    torque = thirty_minute_torque(scene.own)
    corner = worked(motor_curve.corner_speed, torque, power)
    efficiency = scene.fed["half"].efficiency(corner, torque.number or 0.0)
    taken = worked(fed_by_pack.dc_power_of, power, efficiency, scene.own.drive.auxiliary)
    return worked(fed_by_pack.current_at_voltage, taken, pack.v_min)


def _drawn(taken: Value, fed: Fed) -> Value:
    state = fed.state
    return worked(pack_voltage.current_at_power, taken, state.open_circuit, state.resistance)
