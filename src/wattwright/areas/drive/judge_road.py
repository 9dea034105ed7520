"""Whether it goes, climbs, starts and brakes as wanted, and whether the driveline bears it.

A target is judged where the builder has set one; without it, what the gears give stands in the
figures alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.drive import checks, figures
from wattwright.areas.drive.driveline import NO_GEAR
from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.own import Own
from wattwright.areas.drive.performance import best_gear, best_of
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions.drive import DriveDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import GRADE, TIME
from wattwright.physics import tractive
from wattwright.values import lacking, worked

Said = Iterator[Finding | Figure]


def judge_road(own: Own, drive: DriveDescription, rules: Rules) -> Said:
    """Compare what the vehicle does with what is wanted, and what it bears."""
    if not drive.pulls:
        yield from _nothing_turns(own, drive)
    else:
        yield from _targets(own, drive)
        yield from _hills(own, drive)
        yield from _braking(own, drive, rules)
        yield from _by_gear(drive)
    for name, load in drive.links.items():
        yield checks.LAUNCH.at_most(load.launch, load.strength, name)
        yield checks.FAULT.at_most(load.fault, load.strength, name)
        yield checks.REVERSING.at_most(load.reversing, load.reversing_strength, name)


def _nothing_turns(own: Own, drive: DriveDescription) -> Said:
    """Say of every target set that motor or gears are missing to judge it."""
    if not own.motors and not said(own.drive):
        # Devices on a pack alone: nobody has begun to think of driving.
        return
    wanted = own.targets
    lack = NO_GEAR if own.motors else NO_MOTOR
    for check, limit in ((checks.TOP_SPEED, wanted.top_speed), (checks.CLIMB, wanted.hill_grade)):
        if said(limit) and (check is not checks.CLIMB or said(wanted.hill_speed)):
            yield check.at_least(lacking(check.kind, lack), limit)
    if said(wanted.hill_grade):
        for name, grip in drive.grip_grades.items():
            yield checks.HILL_START.at_least(lacking(GRADE, lack), wanted.hill_grade, name)
            yield checks.HILL_GRIP.at_least(grip, wanted.hill_grade, name)
    if said(wanted.zero_to_fifty):
        yield checks.TO_FIFTY.at_most(lacking(TIME, lack), wanted.zero_to_fifty)


def _targets(own: Own, drive: DriveDescription) -> Said:
    wanted = own.targets
    if said(wanted.top_speed):
        top = best_of((pull.top_speed["half"] for pull in drive.pulls.values()), max)
        yield checks.TOP_SPEED.at_least(top, wanted.top_speed)
    times = [pull.to_fifty for pull in drive.pulls.values()]
    if drive.shifting is not None:
        times.append(drive.shifting.to_fifty)
        yield figures.THROUGH_FIFTY.of(drive.shifting.to_fifty)
        yield figures.THROUGH_SIXTY.of(drive.shifting.to_sixty_miles)
    if said(wanted.zero_to_fifty):
        yield checks.TO_FIFTY.at_most(best_of(times, min), wanted.zero_to_fifty)


def _hills(own: Own, drive: DriveDescription) -> Said:
    wanted = own.targets
    for name, inverter in own.inverters.items():
        yield checks.STALL_TIME.at_least(inverter.stall_time, own.drive.start.time, name)
    if not said(wanted.hill_grade):
        return
    for name, grip in drive.grip_grades.items():
        yield checks.HILL_START.at_least(drive.start_grades[name], wanted.hill_grade, name)
        yield checks.HILL_GRIP.at_least(grip, wanted.hill_grade, name)
        if own.drive.reverse is not None:
            both = (drive.backing_grades[name], drive.backing_grip_grades[name])
            backing = worked(tractive.weaker_grade, *both)
            yield checks.BACKING.at_least(backing, wanted.hill_grade, name)
        if said(wanted.hill_speed):
            yield checks.CLIMB.at_least(drive.climb_grades[name], wanted.hill_grade, name)


def _braking(own: Own, drive: DriveDescription, rules: Rules) -> Said:
    for gear, pull in drive.pulls.items():
        yield checks.REGEN_GRIP.at_most(pull.regen, drive.regen_grip, gear)
        if not own.drive.regen.lights_stop_lamps:
            limit = rules.stop_lamp_from.value
            yield checks.STOP_LAMP.at_most(pull.regen_with_road, limit, gear)


def _by_gear(drive: DriveDescription) -> Said:
    for gear, pull in drive.pulls.items():
        yield figures.GEAR_RATIO.of(pull.ratio, gear)
        yield figures.START_FORCE.of(pull.start_force, gear)
        yield figures.START_GRADE.of(pull.start_grade, gear)
        yield figures.GEAR_TOP.of(pull.top_speed["half"], gear)
        yield figures.GEAR_TOP_LOW.of(pull.top_speed["low"], gear)
        yield figures.GEAR_TOP_THIRTY.of(pull.top_speed_thirty, gear)
        for climb, (peak, thirty) in zip(pull.climbs, figures.CLIMBS, strict=True):
            yield peak.of(climb.peak, gear)
            yield thirty.of(climb.thirty, gear)
        yield figures.GEAR_FIFTY.of(pull.to_fifty, gear)
        yield figures.GEAR_EIGHTY.of(pull.fifty_to_eighty, gear)
        yield figures.GEAR_SIXTY.of(pull.to_sixty_miles, gear)
        yield figures.GEAR_REGEN.of(pull.regen, gear)
        yield figures.RESERVE.of(pull.reserve, gear)
    best = best_gear(drive.pulls)
    asking = any(x.path for pull in drive.pulls.values() for x in pull.reserve.lacks)
    if best and len(drive.pulls) > 1 and not asking:
        yield figures.BEST_GEAR.of(drive.pulls[best].reserve, best)
