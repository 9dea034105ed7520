"""The unit as it hangs and as it is wanted, and what every mount needs for that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wattwright.areas.mounts.turning import each_axis, from_to, turned
from wattwright.build.mounts import Mount, Mounts
from wattwright.build.presence import said
from wattwright.descriptions.mounts import Angles, MountNeed, Place, Posed, Surveyed
from wattwright.kinds import ANGLE, COUNT, POSITION
from wattwright.physics import rigid_body
from wattwright.units import read
from wattwright.values import Lack, Value, constant, lacking, worked

_NOUGHT = constant(POSITION, 0.0, "nothing under it")
_NO_TURN = constant(ANGLE, 0.0, "before the yaw")
_ONE = constant(POSITION, read("1 mm", POSITION).number, "one millimetre more")


def posed(own: Mounts, seen: Surveyed) -> Posed:
    """Work out where the unit is wanted, and what is between that and where it hangs."""
    named = _Named(own, seen)
    shaft = named.unit_point("shaft_from"), named.unit_point("shaft_to")
    line = named.vehicle_point("line_from"), named.vehicle_point("line_to")
    wanted = _wanted(own, from_to(*shaft), from_to(*line))
    anchor = each_axis(rigid_body.along_line, *line, own.wanted.share)
    end = each_axis(rigid_body.placed, anchor, turned(from_to(*shaft), wanted))
    unit = tuple(named.mount_point(name, mount, "unit_point") for name, mount in own.mount.items())
    as_wanted = tuple(
        each_axis(rigid_body.placed, anchor, turned(from_to(shaft[0], point), wanted))
        for point in unit
    )
    as_now = tuple(
        named.hanging(mount.unit_point, point)
        for mount, point in zip(own.mount.values(), unit, strict=True)
    )
    shaft_now = named.hanging(own.shaft_from, shaft[0]), named.hanging(own.shaft_to, shaft[1])
    rocking = _Rocking(as_wanted)
    trial = _Trial(tuple(own.mount.values()), as_wanted)
    mounts = tuple(
        _need(
            name,
            mount,
            named.mount_point(name, mount, "vehicle_point"),
            as_wanted[place],
            as_now[place],
            rocking.by_one(place, (anchor, end)),
            trial.forced(place),
        )
        for place, (name, mount) in enumerate(own.mount.items())
    )
    return Posed(
        seen.turned,
        wanted,
        trial.turned(seen.turned),
        line,
        shaft_now,
        (anchor, end),
        _both_off(shaft_now, line),
        _both_off((anchor, end), line),
        worked(rigid_body.crosswise_level, wanted.pitch, wanted.roll),
        mounts,
    )


def _wanted(own: Mounts, shaft: Place, line: Place) -> Angles:
    """Angles as wanted; seen from above the shaft follows its line."""
    pitch, roll = own.wanted.pitch, own.wanted.roll
    before = turned(shaft, Angles(_NO_TURN, pitch, roll))
    return Angles(worked(rigid_body.yaw_onto, line.x, line.y, before.x, before.y), pitch, roll)


def _off(point: Place, line: tuple[Place, Place]) -> Value:
    return worked(rigid_body.off_line, *from_to(line[0], point).all, *from_to(line[0], line[1]).all)


def _both_off(ends: tuple[Place, Place], line: tuple[Place, Place]) -> tuple[Value, Value]:
    return _off(ends[0], line), _off(ends[1], line)


def _need(
    name: str,
    mount: Mount,
    carried_by: Place,
    wanted: Place,
    now: Place,
    by_one: tuple[Value, Value, tuple[Value, Value]],
    forced: Value,
) -> MountNeed:
    bracket = from_to(carried_by, wanted)
    return MountNeed(
        name,
        mount.label or name.replace("_", " "),
        carried_by,
        wanted,
        now,
        bracket,
        worked(rigid_body.span, *bracket.all),
        from_to(carried_by, now),
        from_to(now, wanted),
        *by_one,
        mount.added,
        forced,
    )


@dataclass(frozen=True, eq=False)
class _Tilt:
    """What raising some mounts does: small turns, and the lift of the middle."""

    pitch: Value
    roll: Value
    raised: Value


class _Rocking:
    """The unit on its mounts, of which each may be raised a little."""

    def __init__(self, mounts: Sequence[Place]) -> None:
        self.backs = tuple(place.x for place in mounts)
        self.rights = tuple(place.y for place in mounts)
        if not mounts:
            return
        self._count = constant(COUNT, float(len(mounts)), "mounts")
        self.middle = tuple(
            worked(rigid_body.middle, each, self._count) for each in (self.backs, self.rights)
        )
        self._spreads = (
            self._spread(self.backs, self.backs),
            self._spread(self.backs, self.rights),
            self._spread(self.rights, self.rights),
        )

    def _spread(self, firsts: Sequence[Value], seconds: Sequence[Value]) -> Value:
        return worked(rigid_body.spread, firsts, seconds, self._count)

    def tilt(self, raised: Sequence[Value]) -> _Tilt:
        """Small turns where each mount is raised by so much."""
        sums = (
            *self._spreads,
            self._spread(self.backs, raised),
            self._spread(self.rights, raised),
        )
        return _Tilt(
            worked(rigid_body.plane_pitch, *sums),
            worked(rigid_body.plane_roll, *sums),
            worked(rigid_body.middle, raised, self._count),
        )

    def lift(self, tilt: _Tilt, back: Value, right: Value) -> Value:
        """What a point is lifted by."""
        return worked(
            rigid_body.plane_lift,
            tilt.raised,
            tilt.pitch,
            tilt.roll,
            worked(rigid_body.apart, self.middle[0], back),
            worked(rigid_body.apart, self.middle[1], right),
        )

    def by_one(
        self, place: int, shaft: tuple[Place, Place]
    ) -> tuple[Value, Value, tuple[Value, Value]]:
        """What one millimetre more under one mount does: roll, pitch, both ends of the shaft."""
        raised = [_NOUGHT] * len(self.backs)
        raised[place] = _ONE
        tilt = self.tilt(raised)
        first, second = (self.lift(tilt, end.x, end.y) for end in shaft)
        return tilt.roll, tilt.pitch, (first, second)


class _Trial:
    """Shims that are to be tried, and what they do; nothing where none are."""

    def __init__(self, mounts: Sequence[Mount], places: Sequence[Place]) -> None:
        self.mounts = mounts
        self.rocking = _Rocking(places)
        self.places = places
        self.any = any(said(mount.added) for mount in mounts)
        self.raised = tuple(mount.added if said(mount.added) else _NOUGHT for mount in mounts)
        self.tilt = self.rocking.tilt(self.raised) if self.any else None

    def turned(self, now: Angles) -> Angles:
        """Angles of the unit with the shims in."""
        if self.tilt is None:
            lack = Lack("mounts.mount", "shims to be tried", "none are", "write added at a mount")
            nothing = lacking(ANGLE, lack)
            return Angles(nothing, nothing, nothing)
        return Angles(
            now.yaw,
            worked(rigid_body.turned_further, now.pitch, self.tilt.pitch),
            worked(rigid_body.turned_further, now.roll, self.tilt.roll),
        )

    def forced(self, place: int) -> Value:
        """What one mount is pulled by."""
        if self.tilt is None:
            return lacking(POSITION, Lack("", "shims to be tried", "none are"))
        at = self.places[place]
        lift = self.rocking.lift(self.tilt, at.x, at.y)
        return worked(rigid_body.proud, self.raised[place], lift)


class _Named:
    """Finds the points that the records name."""

    def __init__(self, own: Mounts, seen: Surveyed) -> None:
        self.own, self.seen = own, seen

    def unit_point(self, field: str) -> Place:
        return self._point(getattr(self.own, field), f"mounts.{field}", on_unit=True)

    def vehicle_point(self, field: str) -> Place:
        return self._point(getattr(self.own, field), f"mounts.{field}", on_unit=False)

    def mount_point(self, name: str, mount: Mount, field: str) -> Place:
        path = f"mounts.mount.{name}.{field}"
        return self._point(getattr(mount, field), path, on_unit=field == "unit_point")

    def hanging(self, name: str, point: Place) -> Place:
        """Where a point of the unit is as it hangs; where nobody named one, what is missing."""
        on_unit = self.seen.on_unit.get(name, False)
        return self.seen.in_vehicle[name] if on_unit else point

    def _point(self, name: str, path: str, *, on_unit: bool) -> Place:
        found = self.seen.points.get(name)
        if found is not None and self.seen.on_unit[name] is on_unit:
            return found
        where = "the unit" if on_unit else "the vehicle"
        label = path.rpartition(".")[2].replace("_", " ")
        how = f"name a point of [survey.point] on {where}"
        missing = lacking(POSITION, Lack(path, label, "not given", how, 2.0))
        return Place(missing, missing, missing)
