"""What one gear makes of the motors: force, top speed, grades and times."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from wattwright.areas.drive.fed import Curve
from wattwright.areas.drive.road import Taking
from wattwright.kinds import DRAG_LINEAR, FORCE, SPEED, TIME, Kind
from wattwright.physics import acceleration, fed_by_pack, gearing, tractive
from wattwright.values import Lack, Value, constant, lacking, worked

# Gauss and Legendre's places and weights on -1 … 1: two where the force hardly changes, more
# where it falls, four over a long way.
_TWO = ((-0.5773502691896257, 1.0), (0.5773502691896257, 1.0))
_THREE = (
    (-0.7745966692414834, 0.5555555555555556),
    (0.0, 0.8888888888888888),
    (0.7745966692414834, 0.5555555555555556),
)
_LONG = 10.0  # m/s
# Less than this share of the force left over at the beginning, and a piece is halved.
_SCARCE, _LEAST = 0.5, 0.05
_FOUR = (
    (-0.8611363115940526, 0.3478548451374539),
    (-0.3399810435848563, 0.6521451548625461),
    (0.3399810435848563, 0.6521451548625461),
    (0.8611363115940526, 0.3478548451374539),
)
_HALVINGS = 40
_ANY = 10.0  # m/s, at which what is missing can be asked as well as at any other speed
_STEP = 0.05  # m/s, over which slopes along the curve are taken


class Pulling(Protocol):
    """Whatever turns the shaft: the drive on the pack in one state, or for thirty minutes."""

    known: bool
    reach: float
    curve: Curve

    @property
    def beyond(self) -> Lack:
        """What is missing past ``reach``."""

    def at(self, speed: Value) -> Value:
        """Torque at a speed of the shaft."""

    def number(self, speed: float) -> float:
        """Work out the same in plain numbers."""


class InGear:
    """Something that turns the shaft, in one gear."""

    def __init__(
        self, fed: Pulling, ratio: Value, efficiency: Value, radius: Value, limit: Value
    ) -> None:
        self.fed = fed
        self.ratio = ratio
        self.efficiency = efficiency
        self.radius = radius
        self.limit = limit
        parts = (ratio, efficiency, radius, limit)
        self.known = fed.known and all(value.known for value in parts)

    def turned_by(self, other: Pulling) -> InGear:
        """Let something else turn the shaft in the same gear."""
        return InGear(other, self.ratio, self.efficiency, self.radius, self.limit)

    def force(self, speed: Value) -> Value:
        """Force at the road at a road speed."""
        turns = worked(gearing.motor_speed, speed, self.ratio, self.radius)
        return self.force_of(self.fed.at(turns))

    def force_within(self, speed: Value) -> Value:
        """Force at the road at a speed that this gear may not reach."""
        if self.known and (speed.number or 0.0) > (self.limit.number or 0.0):
            return too_fast(FORCE)
        return self.force(speed)

    def _within(self, speed: Value, force: Value) -> Value:
        """Leave a force that does not hang on the pack to the speeds that this gear reaches."""
        limit = self.limit.number
        return too_fast(FORCE) if limit is not None and (speed.number or 0.0) > limit else force

    def force_of(self, torque: Value) -> Value:
        """Force at the road that a torque of the motors makes."""
        return worked(gearing.road_force, torque, self.ratio, self.efficiency, self.radius)

    def number(self, speed: float) -> float:
        """Work out the force in plain numbers, along the curve."""
        return self.fed.curve.at(speed * self.turns) * self.per_torque

    def exactly(self, speed: float) -> float:
        """Work out the force in plain numbers, at the very speed."""
        return self.fed.number(speed * self.turns) * self.per_torque

    @property
    def turns(self) -> float:
        """Speed of the shaft over the road speed, in plain numbers."""
        return (self.ratio.number or 0.0) / (self.radius.number or 1.0)

    @property
    def per_torque(self) -> float:
        """Force at the road over the torque, in plain numbers."""
        return self.turns * (self.efficiency.number or 0.0)

    def top_speed(self, taking: Taking) -> Value:
        """Speed at which the road takes all of the force, or at which the motor may not turn on."""
        if not (self.known and taking.known):
            speed = constant(SPEED, _ANY)
            return worked(
                fed_by_pack.settled_speed,
                self.limit,
                self.force(speed),
                taking.at(speed),
                constant(DRAG_LINEAR, 1.0),
            )
        limit = self.limit.number or 0.0
        reached = self.fed.reach / self.turns
        most = min(limit, reached)
        if self._left(most, taking) >= 0:
            ends_first = reached < limit * (1 - 1e-9)
            return lacking(SPEED, self.fed.beyond) if ends_first else self.limit
        found = self._balance(most, taking)
        rise = self._rise(found, most, taking)
        trial = constant(SPEED, found, "speed found by search")
        return worked(
            fed_by_pack.settled_speed,
            trial,
            self.force(trial),
            taking.at(trial),
            constant(DRAG_LINEAR, rise, "gain of the road load on the force"),
        )

    def _rise(self, speed: float, most: float, taking: Taking) -> float:
        """How fast the road load gains on the force, inside the speeds this gear reaches."""
        ends = max(0.0, speed - _STEP), min(most, speed + _STEP)
        low, high = (self.exactly(end) - taking.number(end) for end in ends)
        return (low - high) / (ends[1] - ends[0])

    def _left(self, speed: float, taking: Taking) -> float:
        return self.number(speed) - taking.number(speed)

    def _balance(self, most: float, taking: Taking) -> float:
        low, high = 0.0, most
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if self._left(middle, taking) >= 0 else (low, middle)
        return low

    def grade(self, speed: Value, taking: Taking, mass: Value) -> Value:
        """Grade that is climbed at a speed."""
        there = self.force_within(speed)
        left = worked(tractive.surplus_force, there, taking.at(speed))
        return worked(tractive.gradient_possible, left, mass)

    def time(self, start: float, end: float, taking: Taking, equivalent: Value) -> Value:
        """Time from one speed to another."""
        if self.known and end > (self.limit.number or 0.0):
            return too_fast(TIME)
        speeds, widths = zip(*self._nodes(start, end, taking), strict=True)
        forces = []
        for speed in speeds:
            at = constant(SPEED, speed, "speed on the way")
            forces.append(worked(tractive.surplus_force, self.force(at), taking.at(at)))
        shares = [constant(SPEED, width, "speed it stands for") for width in widths]
        return worked(acceleration.time_over_points, equivalent, shares, forces)

    def time_number(self, start: float, end: float, taking: Taking, equivalent: float) -> float:
        """Work out the same in plain numbers; endless where the force does not suffice."""
        total = 0.0
        for speed, width in self._nodes(start, end, taking):
            left = self._left(speed, taking)
            if left <= 0:
                return float("inf")
            total += equivalent * width / left
        return total

    def _nodes(self, start: float, end: float, taking: Taking) -> Iterator[tuple[float, float]]:
        """Speeds on the way and what each stands for, closer where little force is left."""
        if not (self.known and taking.known):
            yield end, end - start
            return
        middle = min(max(self.fed.curve.level_up_to / self.turns, start), end)
        if middle > start:
            yield from _spread(start, middle, _TWO)
        low = middle
        while end > low:
            # Towards the top speed the time runs away: halve what is left until little is lost.
            scarce = self._left(end, taking) < _SCARCE * self._left(low, taking)
            high = (low + end) / 2 if scarce and end - low > _LEAST else end
            yield from _spread(low, high, _FOUR if high - low > _LONG else _THREE)
            low = high
        # Stands for nothing, but the force must suffice up to the very end.
        yield end, 0.0


def too_fast(kind: Kind) -> Value:
    """Say that the motor may not turn as fast as this gear would need."""
    lack = Lack("", "speed", "this gear ends below it, at the highest speed of the motor")
    return lacking(kind, lack)


def _spread(
    low: float, high: float, rule: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    half = (high - low) / 2
    for place, weight in rule:
        yield low + half * (1 + place), half * weight
