"""Half-shafts: how far their joints bend and plunge as the hub goes up and down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from wattwright.areas.mounts import half_shaft_checks as checks
from wattwright.areas.mounts.turning import each_axis, from_to
from wattwright.build.half_shafts import HalfShaft
from wattwright.build.mounts import Mounts
from wattwright.descriptions.half_shafts import HEIGHTS, LOCKS, Drawn, HalfShaftFound, ShaftAt
from wattwright.descriptions.mounts import Place, Surveyed
from wattwright.findings import Figure, Finding
from wattwright.kinds import ANGLE, POSITION, RATIO
from wattwright.physics import half_shaft, rigid_body
from wattwright.values import (
    Lack,
    Value,
    constant,
    lacking,
    largest,
    nonexistent,
    smallest,
    worked,
)

_NOUGHT = constant(POSITION, 0.0, "as it stands")
# Heights of a drawing, from droop to bump.
_STEPS = 28
_UP, _DOWN = constant(RATIO, 1.0, "up"), constant(RATIO, -1.0, "down")
_LEFT, _RIGHT = constant(RATIO, 1.0, "to the left"), constant(RATIO, -1.0, "to the right")
_ACROSS = Place(_NOUGHT, constant(POSITION, 1.0, "across the vehicle"), _NOUGHT)
_PLUMB = [constant(RATIO, share, "plumb") for share in (0.0, 0.0, 1.0)]


def describe_half_shafts(
    shafts: Mapping[str, HalfShaft], own: Mounts, seen: Surveyed
) -> dict[str, HalfShaftFound]:
    """Work out every half-shaft at ride height, at bump and hanging."""
    return {name: _Shaft(name, shaft, own, seen).found() for name, shaft in shafts.items()}


class _Shaft:
    def __init__(self, name: str, shaft: HalfShaft, own: Mounts, seen: Surveyed) -> None:
        self.name, self.shaft, self.seen = name, shaft, seen
        self.inner = self._on_unit(shaft.inner, f"half_shaft.{name}.inner")
        self.outer = self._on_vehicle(shaft.outer, "outer")
        # The unit's own shaft, as it hangs.
        self.unit_axis = from_to(
            self._on_unit(own.shaft_from, "mounts.shaft_from"),
            self._on_unit(own.shaft_to, "mounts.shaft_to"),
        )

    def _on_unit(self, name: str, path: str) -> Place:
        if self.seen.on_unit.get(name, False):
            return self.seen.in_vehicle[name]
        return _missing(path, "a point of [survey.point] on the unit")

    def _on_vehicle(self, name: str, field: str) -> Place:
        if name in self.seen.points and not self.seen.on_unit[name]:
            return self.seen.points[name]
        path = f"half_shaft.{self.name}.{field}"
        return _missing(path, "a point of [survey.point] on the vehicle")

    def found(self) -> HalfShaftFound:
        """State it at every height."""
        shaft = self.shaft
        rises = {
            "ride": _NOUGHT,
            "bump": worked(half_shaft.rise, shaft.bump, _UP),
            "droop": worked(half_shaft.rise, shaft.droop, _DOWN),
        }
        at_ride = worked(rigid_body.span, *from_to(self.inner, self.outer).all)
        at = {height: self._at(rises[height], height, at_ride) for height in HEIGHTS}
        steered = self._steered(rises, at_ride)
        everywhere = {**at, **steered}
        outer = (
            largest(*(each.outer_angle for each in steered.values()))
            if steered
            else nonexistent(ANGLE)
        )
        return HalfShaftFound(
            shaft.label or self.name.replace("_", " "),
            at,
            steered,
            outer,
            {
                where: worked(half_shaft.pushed_in, shaft.plunge_in, each.plunge)
                for where, each in everywhere.items()
            },
            {
                where: worked(half_shaft.plunge_left, shaft.plunge_out, each.plunge)
                for where, each in everywhere.items()
            },
            shaft.spare,
            shaft.steady,
            shaft.inner_most,
            shaft.outer_most,
            partial(self._drawn, at_ride),
        )

    def _drawn(self, at_ride: Value) -> tuple[Drawn, ...]:
        """Joints and plunge from droop to bump; empty where a step cannot be worked out."""
        bump, droop = self.shaft.bump.number, self.shaft.droop.number
        if bump is None or droop is None:
            return ()
        found = []
        for step in range(_STEPS + 1):
            rise = constant(POSITION, -droop + (bump + droop) * step / _STEPS, "on the way")
            at = self._at(rise, "on the way", at_ride)
            numbers = (at.inner_angle.number, at.outer_angle.number, at.plunge.number)
            if None in numbers:
                return ()
            found.append(Drawn(rise.number or 0.0, *(each or 0.0 for each in numbers)))
        return tuple(found)

    def _steered(self, rises: Mapping[str, Value], at_ride: Value) -> dict[str, ShaftAt]:
        """State it with the wheel at both locks, at every height; nothing where it is not steered.

        The axis of steering goes up and down with the hub; that it leans a little more or less on
        the way is left out.
        """
        if self.shaft.steer.absent:
            return {}
        turns = {
            lock: worked(half_shaft.lock, self.shaft.steer, sign)
            for lock, sign in zip(LOCKS, (_LEFT, _RIGHT), strict=True)
        }
        found = {}
        for height in HEIGHTS:
            outer, hub_axis = self._moved(rises[height], height)
            n, arm = self._kingpin()
            for lock, turn in turns.items():
                place = outer
                if arm is not None:
                    out = from_to(arm, _swung(arm, n, turn))
                    place = each_axis(rigid_body.placed, outer, out)
                found[f"{height}/{lock}"] = self._between(place, _swung(hub_axis, n, turn), at_ride)
        return found

    def _kingpin(self) -> tuple[list[Value], Place | None]:
        """Which way the axis of steering points, and the arm from it to the outer joint."""
        lower_name, upper_name = self.shaft.steer_from, self.shaft.steer_to
        if not (lower_name and upper_name):
            return _PLUMB, None
        lower = self._on_vehicle(lower_name, "steer_from")
        axis = from_to(lower, self._on_vehicle(upper_name, "steer_to"))
        n = [worked(half_shaft.direction, each, *axis.all) for each in axis.all]
        return n, from_to(lower, self.outer)

    def _at(self, rise: Value, height: str, at_ride: Value) -> ShaftAt:
        return self._between(*self._moved(rise, height), at_ride)

    def _between(self, outer: Place, hub_axis: Place, at_ride: Value) -> ShaftAt:
        along = from_to(self.inner, outer)
        length = worked(rigid_body.span, *along.all)
        return ShaftAt(
            self.inner,
            outer,
            worked(half_shaft.joint_angle, *self.unit_axis.all, *along.all),
            worked(half_shaft.joint_angle, *hub_axis.all, *along.all),
            length,
            worked(half_shaft.plunge, length, at_ride),
        )

    def _moved(self, rise: Value, height: str) -> tuple[Place, Place]:
        """Where the outer joint is, and which way the hub turns."""
        if height == "ride":
            return self.outer, _ACROSS
        if self.shaft.arm == "straight":
            up = worked(rigid_body.placed, self.outer.z, rise)
            return Place(self.outer.x, self.outer.y, up), _ACROSS
        pivot = self._on_vehicle(self.shaft.pivot_from, "pivot_from")
        axis = from_to(pivot, self._on_vehicle(self.shaft.pivot_to, "pivot_to"))
        n = [worked(half_shaft.direction, each, *axis.all) for each in axis.all]
        arm = from_to(pivot, self.outer)
        turn = worked(
            half_shaft.arm_turn,
            worked(half_shaft.arm_level, *arm.all, *n),
            worked(half_shaft.arm_across, arm.x, arm.y, n[0], n[1]),
            rise,
        )
        outer = each_axis(rigid_body.placed, pivot, _swung(arm, n, turn))
        turns = self.shaft.arm == "swing"
        return outer, _swung(_ACROSS, n, turn) if turns else _ACROSS


def _swung(vector: Place, n: list[Value], turn: Value) -> Place:
    return Place(
        worked(half_shaft.swung_x, *vector.all, *n, turn),
        worked(half_shaft.swung_y, *vector.all, *n, turn),
        worked(half_shaft.swung_z, *vector.all, *n, turn),
    )


def _missing(path: str, what: str) -> Place:
    label = path.rpartition(".")[2].replace("_", " ")
    missing = lacking(POSITION, Lack(path, label, "not given", f"name {what}", 2.0))
    return Place(missing, missing, missing)


def judge_half_shafts(found: Mapping[str, HalfShaftFound]) -> Iterator[Finding | Figure]:
    """Hold joints and ways against what they bear."""
    for name, shaft in found.items():
        for height, at in shaft.at.items():
            about = f"{name}/{height}"
            yield checks.INNER.at_most(at.inner_angle, shaft.inner_most, about)
            yield checks.OUTER.at_most(at.outer_angle, shaft.outer_most, about)
            yield checks.INNER_ANGLE.of(at.inner_angle, about)
            yield checks.OUTER_ANGLE.of(at.outer_angle, about)
            yield checks.PLUNGE.of(at.plunge, about)
            yield checks.LEFT_IN.of(shaft.left_in[height], about)
            yield checks.LEFT_OUT.of(shaft.left_out[height], about)
        for where, at in shaft.steered.items():
            yield checks.OUTER_STEERED.of(at.outer_angle, f"{name}/{where}")
        yield checks.LOCK.at_most(shaft.outer_steered, shaft.outer_most, name)
        ride = shaft.at["ride"]
        for joint, angle in (("inner", ride.inner_angle), ("outer", ride.outer_angle)):
            yield checks.LIFE.of(worked(half_shaft.life_share, angle), f"{name}/{joint}")
        yield checks.STEADY.at_most(ride.inner_angle, shaft.steady, f"{name}/inner")
        yield checks.STEADY.at_most(ride.outer_angle, shaft.steady, f"{name}/outer")
        yield checks.SPARE.at_least(smallest(*shaft.left_in.values()), shaft.spare, f"{name}/in")
        yield checks.SPARE.at_least(smallest(*shaft.left_out.values()), shaft.spare, f"{name}/out")
        yield checks.LENGTH.of(ride.length, name)
