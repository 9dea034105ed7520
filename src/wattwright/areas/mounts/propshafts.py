"""Propshafts: what is found of every one."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from wattwright.areas.mounts.driven import Driven
from wattwright.areas.mounts.propshaft_lines import changes_of, lines_of
from wattwright.build.propshafts import Axis, Propshaft
from wattwright.descriptions.propshafts import (
    Excited,
    PropshaftFound,
    PropshaftsFound,
    ShaftSpeeds,
)
from wattwright.kinds import ANGLE, LENGTH, ROTATIONAL_SPEED
from wattwright.physics import cardan, propshaft
from wattwright.values import Lack, Value, lacking, largest, smallest, worked

# A curve goes on past the fastest driving by so much, in so many steps.
_BEYOND, _STEPS = 1.25, 25
# A joint is between two axes. One that is missing comes behind all that are there.
_FEWEST, _LAST = 2, 10**6
_NO_GEAR = Lack(
    "drive.gear", "ratios of the gears", "not given", "write [drive.gear.NAME] with its ratio", 10.0
)


def describe_propshafts(
    own: Mapping[str, Propshaft], top_speed: Value, drive: Driven
) -> PropshaftsFound:
    """Work out every propshaft."""
    around = drive.rolling_circumference
    fastest = worked(propshaft.shaft_speed, top_speed, drive.final_ratio, around)
    in_gears = [
        worked(propshaft.shaft_speed_in_gear, drive.highest_motor_speed, ratio)
        for ratio in drive.gear_ratios.values()
    ]
    found = {name: _found(completed(name, each), fastest) for name, each in own.items()}
    return PropshaftsFound(
        found,
        largest(*in_gears) if in_gears else lacking(ROTATIONAL_SPEED, _NO_GEAR),
        fastest,
        partial(_excited, found, top_speed, drive),
    )


def _excited(
    found: Mapping[str, PropshaftFound], top_speed: Value, drive: Driven
) -> dict[str, Excited]:
    """Work out excitation over road speed at ride height; a line for what is known."""
    top, ratio, around = (
        value.number for value in (top_speed, drive.final_ratio, drive.rolling_circumference)
    )
    if top is None or ratio is None or around is None:
        return {}
    speeds = [_BEYOND * top * step / _STEPS for step in range(_STEPS + 1)]

    def curve(angle: Value) -> tuple[tuple[float, float], ...]:
        if angle.number is None:
            return ()
        return tuple(
            (v, cardan.excitation(propshaft.shaft_speed(v, ratio, around), angle.number))
            for v in speeds
        )

    return {
        name: Excited(
            curve(line.residual), curve(largest(*line.driving.values(), *line.coasting.values()))
        )
        for name, line in ((name, each.lines["ride"]) for name, each in found.items())
    }


def completed(name: str, own: Propshaft) -> Propshaft:
    """The line with the axes that it still needs, which lack everything; a joint is between two."""
    axes = dict(own.axis)
    for count in range(len(axes), _FEWEST):
        path = f"propshaft.{name}.axis"
        how = "write every axis from the front to the rear: [" + path + ".1_gearbox], .2_shaft"
        lack = Lack(path, f"{name} axes of the line", "not given", how, 10.0)
        axes[f"{_LAST + count}_missing"] = Axis.model_construct(
            rise=lacking(ANGLE, lack),
            turn=lacking(ANGLE, lack),
            phase_error=lacking(ANGLE, lack),
            length=lacking(LENGTH, lack),
            diameter=lacking(LENGTH, lack),
            wall=lacking(LENGTH, lack),
        )
    return own.model_copy(update={"axis": axes})


def _found(own: Propshaft, fastest: Value) -> PropshaftFound:
    lines = lines_of(own, fastest)
    changes = changes_of(lines)
    shortest, longest = smallest(*changes), largest(*changes)
    length = own.shafts[-1][1].length
    return PropshaftFound(
        lines,
        {name: _speeds(own, shaft) for name, shaft in own.shafts},
        worked(propshaft.slip_left_in, own.slip_at_ride, shortest),
        worked(propshaft.slip_left_out, own.slip_at_ride, own.slip_range, longest),
        {name: shaft.length for name, shaft in own.shafts},
        worked(propshaft.pushed_together, length, shortest, longest, own.slip_range),
        worked(propshaft.plunge_needed, shortest, longest, own.slip_spare),
        tuple(worked(cardan.unevenness, angle) for angle in lines["ride"].angles),
    )


def _speeds(own: Propshaft, shaft: Axis) -> ShaftSpeeds:
    critical = worked(
        propshaft.critical_speed,
        shaft.length,
        shaft.diameter,
        shaft.wall,
        own.youngs_modulus,
        own.density,
    )
    return ShaftSpeeds(critical, worked(propshaft.allowed_speed, critical, own.critical_share))
