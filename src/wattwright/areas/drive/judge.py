"""Who can live on the same pack, and how fast the motor may be turned."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive import checks
from wattwright.areas.drive.describe import Own, inverter_of, no_inverter
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import ROTATIONAL_SPEED, VOLTAGE
from wattwright.values import Lack, Value, exceeds, lacking

Said = Iterator[Finding | Figure]

_NO_MOTOR = Lack(
    "part.NAME", "the motor", "not given", "give the part that is the motor kind = motor", 5
)
_NO_GEAR = Lack(
    "drive.gear",
    "the gears",
    "not given",
    "write [drive.gear.NAME] with its ratio for each gear that is used; direct drive: one, ratio 1",
    10,
)


def judge(own: Own, drive: DriveDescription, pack: PackDescription) -> Said:
    """Compare windows, EMF and speeds with their limits."""
    yield from _windows(own, pack)
    yield from _magnets(own, drive)
    yield from _gears(own, drive)
    yield from _pull(drive)


def _windows(own: Own, pack: PackDescription) -> Said:
    for name, device in own.high_voltage.items():
        yield checks.WINDOW_HIGH.at_most(pack.v_max, device.voltage_high, name)
        if pack.v_regen is not pack.v_max:
            yield checks.WINDOW_REGEN.at_most(pack.v_regen, device.voltage_high, name)
        yield checks.WINDOW_LOW.at_least(pack.v_min, device.voltage_low, name)


def _pull(drive: DriveDescription) -> Said:
    for name, pull in drive.pull.items():
        yield checks.PEAK_TORQUE.of(pull.peak_torque, name)
        yield checks.BASE_SPEED.of(pull.base_full, f"{name}/full")
        yield checks.BASE_SPEED.of(pull.base_empty, f"{name}/empty")


def _magnets(own: Own, drive: DriveDescription) -> Said:
    for name, generation in drive.generation.items():
        yield checks.EMF_RATING.at_most(generation.emf, _rating(own, name), name)
        yield checks.GENERATION.at_most(generation.fastest, generation.begins, name)
        if exceeds(generation.fastest, generation.begins):
            yield checks.GENERATED_CURRENT.of(generation.current, name)
            yield checks.GENERATED_TORQUE.of(generation.torque, name)


def _rating(own: Own, motor: str) -> Value:
    inverter = inverter_of(own, own.motors[motor])
    return inverter.voltage_high if inverter else lacking(VOLTAGE, no_inverter(motor))


def _gears(own: Own, drive: DriveDescription) -> Said:
    if not own.motors:
        for gear in own.drive.gear:
            turns = lacking(ROTATIONAL_SPEED, _NO_MOTOR)
            yield checks.OVERSPEED.at_most(turns, turns, gear)
        return
    for name, gears in drive.gears.items():
        highest = own.motors[name].max_speed
        if not gears:
            yield checks.OVERSPEED.at_most(lacking(ROTATIONAL_SPEED, _NO_GEAR), highest, name)
        for gear, speeds in gears.items():
            about = f"{name}/{gear}" if len(own.motors) > 1 else gear
            yield checks.OVERSPEED.at_most(speeds.motor_at_top, highest, about)
            yield checks.ROAD_LIMIT.of(speeds.road_at_limit, about)
            yield checks.TORQUE_AT_TOP.of(speeds.torque_at_top, about)
    if own.drive.gear:
        yield checks.ROLLING.of(drive.rolling_circumference)
