"""From the records of bodies to their outlines, and which gaps are wanted between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from wattwright.areas.mounts.outlines import Arm, Moving, Outline, Three
from wattwright.build.bodies import Body, Clearance, Travel, Via
from wattwright.build.model import Build
from wattwright.build.parts import Part, Point
from wattwright.build.survey import Survey
from wattwright.kinds import POSITION, RATIO
from wattwright.physics import clearance as physics
from wattwright.values import State, Value, constant, either, is_nought, nonexistent, worked

_NOUGHT = constant(POSITION, 0.0, "the front axle")


@dataclass(frozen=True, slots=True)
class BodyRecords:
    """The records that clearance reads; ``tracks`` are those of front and rear."""

    body: Mapping[str, Body]
    clearance: Clearance
    part: Mapping[str, Part]
    survey: Survey
    wheelbase: Value
    tracks: tuple[Value, Value]


def body_records(build: Build) -> BodyRecords:
    """Take the records that clearance reads; a part only where it is a body too."""
    named = {body.part for body in build.body.values()}
    parts = {name: part for name, part in build.part.items() if name in named}
    donor = build.donor
    tracks = donor.front.track, donor.rear.track
    return BodyRecords(build.body, build.clearance, parts, build.survey, donor.wheelbase, tracks)


def outlines(own: BodyRecords) -> tuple[Outline[Value], ...]:
    """Give the outline of every body, by name."""
    return tuple(_outline(own, name, body) for name, body in sorted(own.body.items()))


def _outline(own: BodyRecords, name: str, body: Body) -> Outline[Value]:
    if body.shape == "hose":
        ways = [via for _, via in body.points]
        moving = tuple(_moving(own, via.moves_with or body.moves_with, body) for via in ways)
        points = tuple(_point_of(own, via) for via in ways)
        return Outline(name, "hose", points, moving, (body.diameter,), None, body.axis)
    part = own.part.get(body.part)
    turned = (body.yaw, body.pitch, body.roll)
    return Outline(
        name,
        body.shape,
        (_place(body.at, part.at if part else None),),
        (_moving(own, body.moves_with, body),),
        _measures(body, part),
        None if all(map(is_nought, turned)) else turned,
        body.axis,
    )


def _place(at: Point, others: Point | None) -> Three[Value]:
    """Take a place from the body, or from its part; where neither says it, the part is asked."""
    if others is None:
        return at.x, at.y, at.z
    return (
        either(at.x, others.x, asking=1),
        either(at.y, others.y, asking=1),
        either(at.z, others.z, asking=1),
    )


def _measures(body: Body, part: Part | None) -> tuple[Value, ...]:
    if body.shape == "cylinder":
        return body.length, body.diameter
    size = body.size
    if part is None:
        return size.length, size.width, size.height
    return (
        either(size.length, part.size.length, asking=1),
        either(size.width, part.size.width, asking=1),
        either(size.height, part.size.height, asking=1),
    )


def _point_of(own: BodyRecords, via: Via) -> Three[Value]:
    """Take a point of a hose: its own place, or that of a point of the survey, adjusted first."""
    if not via.point:
        return via.at.x, via.at.y, via.at.z
    typed = own.survey.point[via.point].at
    found = own.survey.adjusted.point.get(via.point)
    if found is None:
        return typed.x, typed.y, typed.z
    return (
        either(found.x, typed.x, asking=1),
        either(found.y, typed.y, asking=1),
        either(found.z, typed.z, asking=1),
    )


def axle_of(group: str) -> str:
    """Say which axle moves a body: front or rear; nothing for what no wheel moves."""
    if not group.startswith(("wheel_", "axle_")):
        return ""
    return "front" if group in ("wheel_fl", "wheel_fr", "axle_front") else "rear"


def travel_of(clearance: Clearance, axle: str) -> Travel:
    """Give the record of an axle's travel."""
    return clearance.front if axle == "front" else clearance.rear


def _moving(own: BodyRecords, group: str, body: Body) -> Moving[Value]:
    axle = axle_of(group)
    if not axle:
        return Moving(group)
    travel = travel_of(own.clearance, axle)
    if body.pivot_axis is None:
        return Moving(group, travel.bump, travel.droop)
    pivot = body.pivot.x, body.pivot.y, body.pivot.z
    out = _wheel_back(own, axle) if body.pivot_axis == "across" else _wheel_right(own, group, axle)
    arm = Arm(body.pivot_axis, pivot, (out, travel.hub))
    return Moving(group, travel.bump, travel.droop, arm)


def _wheel_back(own: BodyRecords, axle: str) -> Value:
    return _NOUGHT if axle == "front" else own.wheelbase


def _wheel_right(own: BodyRecords, group: str, axle: str) -> Value:
    side = constant(RATIO, 1.0 if group.endswith("r") else -1.0, "side")
    return worked(physics.half_track, side, own.tracks[axle == "rear"])


# ----------------------------------------------------------------------------------- what is wanted


def wanted_between(
    own: BodyRecords, shapes: Sequence[Outline[Value]]
) -> Iterator[tuple[int, int, Value]]:
    """Go through the pairs between which a gap is asked, with the gap wanted.

    None is asked of two that move together throughout, nor where they are joined.
    """
    asking = [_Asking.of(own, shape) for shape in shapes]
    for (first, one), (second, other) in combinations(enumerate(asking), 2):
        together = one.groups == other.groups and len(one.groups) == 1
        if not together and other.name not in one.joined and one.name not in other.joined:
            wanted = _wanted(own, one, other)
            if not wanted.absent:
                yield first, second, wanted


@dataclass(frozen=True, slots=True)
class _Asking:
    """What decides the gap wanted around a body; all pairs are gone through with it."""

    name: str
    groups: frozenset[str]
    joined: tuple[str, ...]
    travels: bool
    hose: bool
    said: Value | None

    @classmethod
    def of(cls, own: BodyRecords, shape: Outline[Value]) -> _Asking:
        """Take it from the record and the outline."""
        body = own.body[shape.name]
        said = body.gap if _says(body.gap) else None
        groups, travels = frozenset(shape.groups), bool(shape.travelling)
        return cls(shape.name, groups, body.joined_names, travels, shape.form == "hose", said)


def _wanted(own: BodyRecords, one: _Asking, other: _Asking) -> Value:
    """Gap wanted between two: what they say themselves, the larger one, else by what moves them."""
    said = [each.said for each in (one, other) if each.said is not None]
    if any(gap.absent for gap in said):
        return nonexistent(said[0].kind)
    if said:
        # One that somebody has still to decide speaks before any number.
        return max(said, key=lambda gap: math.inf if gap.number is None else gap.number)
    room = own.clearance.wanted
    if one.travels or other.travels:
        return room.to_suspension
    return room.hoses if one.hose or other.hose else room.around_unit


def _says(gap: Value) -> bool:
    return gap.state is not State.NOT_GIVEN


def wanted_around(own: BodyRecords, outline: Outline[Value]) -> Value:
    """Gap wanted around a body whatever it is that comes near it."""
    asking = _Asking.of(own, outline)
    return _wanted(own, asking, asking)


def ground_wanted(own: BodyRecords, outline: Outline[Value]) -> Value:
    """Height over the ground wanted under a body."""
    ground = own.body[outline.name].ground
    return ground if _says(ground) else own.clearance.wanted.ground
