"""Who can live on the same pack, and how fast the motor may be turned."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive import checks, figures
from wattwright.areas.drive.driveline import NO_GEAR
from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.motor import inverter_of, no_inverter
from wattwright.areas.drive.own import Own
from wattwright.areas.traction import carries
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import ROTATIONAL_SPEED, VOLTAGE
from wattwright.values import Value, exceeds, lacking

Said = Iterator[Finding | Figure]


def judge(own: Own, drive: DriveDescription, pack: PackDescription) -> Said:
    """Compare windows, currents, EMF and speeds with their limits."""
    yield from _windows(own, pack)
    yield from _currents(own, drive)
    yield from _magnets(own, drive)
    yield from _gears(own, drive)
    yield from _pull(drive)


def _windows(own: Own, pack: PackDescription) -> Said:
    for name, device in own.high_voltage.items():
        yield checks.WINDOW_HIGH.at_most(pack.v_max, device.voltage_high, name)
        if pack.v_regen is not pack.v_max:
            yield checks.WINDOW_REGEN.at_most(pack.v_regen, device.voltage_high, name)
        yield checks.WINDOW_LOW.at_least(pack.v_min, device.voltage_low, name)


def _currents(own: Own, drive: DriveDescription) -> Said:
    if not own.motors:
        return
    for name, device in own.high_voltage.items():
        if carries(name, own.part):
            yield checks.DEVICE_CURRENT.at_most(drive.thirty_current, device.current, name)
    yield figures.THIRTY_POWER.of(drive.thirty_power)
    yield figures.THIRTY_CURRENT.of(drive.thirty_current)
    for word, powers in drive.powers.items():
        yield figures.PEAK_POWER.of(powers.peak, word)
        yield figures.PEAK_CURRENT.of(powers.peak_current, word)


def _pull(drive: DriveDescription) -> Said:
    for name, pull in drive.pull.items():
        yield figures.PEAK_TORQUE.of(pull.peak_torque, name)
        for value, word in ((pull.base_full, "full"), (pull.base_empty, "empty")):
            if not value.absent:
                yield figures.BASE_SPEED.of(value, f"{name}/{word}")
        if not pull.hold_time.absent:
            yield figures.HOLD_TIME.of(pull.hold_time, name)


def _magnets(own: Own, drive: DriveDescription) -> Said:
    for name, generation in drive.generation.items():
        yield checks.EMF_RATING.at_most(generation.emf, _rating(own, name), name)
        yield checks.GENERATION.at_most(generation.fastest, generation.begins, name)
        if exceeds(generation.fastest, generation.begins):
            yield figures.GENERATED_CURRENT.of(generation.current, name)
            yield figures.GENERATED_TORQUE.of(generation.torque, name)


def _rating(own: Own, motor: str) -> Value:
    inverter = inverter_of(own.inverters, own.motors[motor])
    return inverter.voltage_high if inverter else lacking(VOLTAGE, no_inverter(motor))


def _gears(own: Own, drive: DriveDescription) -> Said:
    if not own.motors:
        for gear in own.drive.gear:
            turns = lacking(ROTATIONAL_SPEED, NO_MOTOR)
            yield checks.OVERSPEED.at_most(turns, turns, gear)
        return
    for name, gears in drive.gears.items():
        highest = own.motors[name].max_speed
        if not gears:
            yield checks.OVERSPEED.at_most(lacking(ROTATIONAL_SPEED, NO_GEAR), highest, name)
        for gear, speeds in gears.items():
            about = f"{name}/{gear}" if len(own.motors) > 1 else gear
            yield checks.OVERSPEED.at_most(speeds.motor_at_top, highest, about)
            yield figures.ROAD_LIMIT.of(speeds.road_at_limit, about)
            yield figures.TORQUE_AT_TOP.of(speeds.torque_at_top, about)
    if own.drive.gear:
        yield figures.ROLLING.of(drive.rolling_circumference)
        yield figures.TURNS_PER_KM.of(drive.turns_per_kilometre)
