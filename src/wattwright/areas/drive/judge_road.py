"""Whether it goes, climbs, starts and brakes as wanted, and whether the driveline bears it.

A target is judged where the builder has set one; without it, what the gears give stands in the
figures alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattwright.areas.drive import checks, figures
from wattwright.areas.drive.own import Own
from wattwright.build.presence import said
from wattwright.build.rules import Rules
from wattwright.descriptions.drive import DriveDescription
from wattwright.findings import Figure, Finding
from wattwright.physics import tractive
from wattwright.values import Value, worked

Said = Iterator[Finding | Figure]


def judge_road(own: Own, drive: DriveDescription, rules: Rules) -> Said:
    """Compare what the vehicle does with what is wanted, and what it bears."""
    if not own.motors:
        return
    if drive.pulls:
        yield from _targets(own, drive)
        yield from _hills(own, drive)
        yield from _braking(own, drive, rules)
        yield from _by_gear(drive)
    for name, load in drive.links.items():
        yield checks.LAUNCH.at_most(load.launch, load.strength, name)
        yield checks.FAULT.at_most(load.fault, load.strength, name)


def _targets(own: Own, drive: DriveDescription) -> Said:
    wanted = own.targets
    if said(wanted.top_speed):
        top = _best(pull.top_speed["half"] for pull in drive.pulls.values())
        yield checks.TOP_SPEED.at_least(top, wanted.top_speed)
    times = [pull.to_fifty for pull in drive.pulls.values()]
    if drive.shifting is not None:
        times.append(drive.shifting.to_fifty)
        yield figures.THROUGH_FIFTY.of(drive.shifting.to_fifty)
        yield figures.THROUGH_SIXTY.of(drive.shifting.to_sixty_miles)
    if said(wanted.zero_to_fifty):
        yield checks.TO_FIFTY.at_most(_quickest(times), wanted.zero_to_fifty)


def _hills(own: Own, drive: DriveDescription) -> Said:
    wanted = own.targets
    for name, inverter in own.inverters.items():
        yield checks.STALL_TIME.at_least(inverter.stall_time, own.drive.start.time, name)
    if not said(wanted.hill_grade):
        return
    for name, grip in drive.grip_grades.items():
        yield checks.HILL_START.at_least(drive.start_grades[name], wanted.hill_grade, name)
        yield checks.HILL_GRIP.at_least(grip, wanted.hill_grade, name)
        if own.drive.reverse == "motor":
            backing = worked(
                tractive.weaker_grade, drive.start_grades[name], drive.backing_grades[name]
            )
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
    measured = {gear: pull for gear, pull in drive.pulls.items() if pull.reserve.known}
    if measured and len(drive.pulls) > 1:
        # Where the weakest point is the same in two gears, the next weakest decides.
        best = max(measured, key=lambda gear: [round(r, 2) for r in measured[gear].reserves])
        yield figures.BEST_GEAR.of(measured[best].reserve, best)


def _best(by_gear: Iterable[Value]) -> Value:
    """Largest value among the gears; where none is known, the first says what is missing."""
    values = list(by_gear)
    known = [value for value in values if value.known]
    return max(known, key=lambda value: value.number or 0.0) if known else values[0]


def _quickest(times: Iterable[Value]) -> Value:
    values = list(times)
    known = [value for value in values if value.known]
    return min(known, key=lambda value: value.number or 0.0) if known else values[0]
