"""The line of a propshaft at every height: where each axis points, and what its joints make of it.

Only the last shaft swings: what is before it is held by its bearing on the body. With one joint
alone the tube behind it is one with the axle, and swings as a whole.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from wattwright.build.propshafts import Axis, Propshaft, Travel
from wattwright.descriptions.propshafts import Direction, Line
from wattwright.kinds import ANGLE, POSITION, RATIO
from wattwright.physics import cardan, propshaft
from wattwright.physics.rigid_body import apart
from wattwright.units import read
from wattwright.values import Value, constant, largest, worked

# Heights that are driven at for long, and all of them.
STEADY = ("ride", "laden")
HEIGHTS = (*STEADY, "bump", "droop", "pulling")
BOTH_ENDS = ("driving", "coasting")

_STILL = constant(POSITION, 0.0, "at ride height")
_NO_TURN = constant(ANGLE, 0.0, "at ride height")
_BETWEEN = {
    "in line": constant(ANGLE, 0.0, "forks in line"),
    "crossed": constant(ANGLE, read("90°", ANGLE).number, "forks crossed"),
}
_EVEN = constant(RATIO, 0.0, "no joint there")


@dataclass(frozen=True, slots=True, eq=False)
class _Moved:
    """How the joint of the pinion has moved: back, up, nose of the pinion up."""

    back: Value
    up: Value
    nose_up: Value


def lines_of(own: Propshaft, fastest: Value) -> dict[str, Line]:
    """Work out the line at every height; ``fastest`` is the speed of the shaft on the road."""
    lift = worked(propshaft.pinion_lift, own.nose_length, own.wind_up)
    moved = {
        "ride": _Moved(_STILL, _STILL, _NO_TURN),
        "laden": _up(own.laden),
        "bump": _up(own.bump),
        "droop": _Moved(own.droop.back, worked(apart, own.droop.by, _STILL), own.droop.nose_up),
        "pulling": _Moved(_STILL, lift, own.wind_up),
    }
    return {height: _line(own, moved[height], fastest) for height in HEIGHTS}


def _up(travel: Travel) -> _Moved:
    return _Moved(travel.back, worked(apart, _STILL, travel.by), travel.nose_up)


def _line(own: Propshaft, moved: _Moved, fastest: Value) -> Line:
    axes = own.axes
    _, last = own.shafts[-1]
    turned = {each: Direction(_rise(axis, each, own, moved), axis.turn) for each, axis in axes}
    change = _STILL
    if moved.up is not _STILL:
        swung = worked(propshaft.swung_length, last.length, last.rise, moved.back, moved.up)
        change = worked(propshaft.length_change, last.length, swung)
    ways = list(turned.values())
    pairs = list(pairwise(ways))
    added = _added(pairs, [axis for _, axis in axes[1:-1]])
    shafts = [each for each, _ in own.shafts]
    driving = {each: _left(added[: place + 1]) for place, each in enumerate(shafts)}
    coasting = {each: _left(added[place + 1 :]) for place, each in enumerate(shafts)}
    excited = partial(worked, cardan.excitation, fastest)
    residual = _left(added)
    return Line(
        turned,
        tuple(
            worked(cardan.joint_angle, one.rise, one.turn, other.rise, other.turn)
            for one, other in pairs
        ),
        change,
        worked(propshaft.slip_left_in, own.slip_at_ride, change),
        residual,
        driving,
        coasting,
        excited(residual),
        {
            end: largest(*map(excited, angles.values()))
            for end, angles in zip(BOTH_ENDS, (driving, coasting), strict=True)
        },
    )


def _rise(axis: Axis, name: str, own: Propshaft, moved: _Moved) -> Value:
    """Where an axis points, seen from the side, once the axle has moved."""
    if name == own.shafts[-1][0] and moved.up is not _STILL:
        return worked(propshaft.swung_rise, axis.length, axis.rise, moved.back, moved.up)
    if name == own.axes[-1][0] and moved.nose_up is not _NO_TURN:
        return worked(propshaft.pinion_rise, axis.rise, moved.nose_up)
    return axis.rise


def _added(
    pairs: Sequence[tuple[Direction, Direction]], between: Sequence[Axis]
) -> list[tuple[Value, Value]]:
    """What each joint adds to the swing, with where its driving fork stands."""
    yoke = _NO_TURN
    found = []
    for place, (one, other) in enumerate(pairs):
        if place:
            shaft = between[place - 1]
            yoke = worked(cardan.yoke_after, yoke, _BETWEEN[shaft.yokes], shaft.phase_error)
        ways = (one.rise, one.turn, other.rise, other.turn, yoke)
        found.append((worked(cardan.swing_along, *ways), worked(cardan.swing_across, *ways)))
    return found


def _left(added: Sequence[tuple[Value, Value]]) -> Value:
    """The angle of one joint that is as uneven as all these together."""
    alongs, acrosses = zip(*(added or [(_EVEN, _EVEN)]), strict=True)
    return worked(cardan.residual_angle, alongs, acrosses)


def changes_of(lines: Mapping[str, Line]) -> list[Value]:
    """How much longer the last shaft is at every height there is."""
    return [line.change for line in lines.values() if not line.change.absent]
