"""A second way to everything the drive says of the road, with nothing of the package in it.

The vehicle is a plain record of numbers. What differs from the package: the motor's torque is
searched along a fine net of currents; torque and voltage of the pack are brought together by
halving the torque; times are trapezoids over many speeds; top speeds are halved on force less road
load. Everything works on arrays of speeds, so that it is quick enough to be fine.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
MotorTorque = Callable[[Floats, Floats], Floats]
G = 9.80665
# A torque to 1e-9 of the largest; what is held against it is allowed 1e-6.
HALVINGS = 30
# Of so many speeds at once, and so often, the last two that lie on either side: to 1e-9 of it.
SPEEDS, ROUNDS = 33, 6
# Trapezoids: the error goes with the square of a step; with 300 it is below 4e-5.
STEPS = 300


@dataclass(frozen=True)
class Magnets:
    """A motor with magnets, by its circuit: largest torque within current and voltage."""

    pole_pairs: float = 3.0
    flux: float = 0.066
    ld: float = 0.3e-3
    lq: float = 0.3e-3
    rs: float = 0.02
    current: float = 240.0

    def __call__(self, speed: Floats, voltage: Floats) -> Floats:
        """Search i_d on a net that is drawn closer around the best point found, four times."""
        w, most = (self.pole_pairs * speed)[:, None], (voltage / math.sqrt(3))[:, None]
        low, high = np.full(w.shape, -self.current), np.full(w.shape, self.current)
        net = np.linspace(0.0, 1.0, 41)[None, :]
        best = np.zeros(speed.shape)
        for _ in range(6):
            d = low + (high - low) * net
            torque = self._along(d, w, most)
            at = torque.argmax(axis=1)
            best = np.maximum(best, torque[np.arange(len(at)), at])
            middle = np.take_along_axis(d, at[:, None], axis=1)
            step = (high - low) / 20
            low = np.maximum(-self.current, middle - step)
            high = np.minimum(self.current, middle + step)
        return np.maximum(0.0, best)

    def _along(self, d: Floats, w: Floats, most: Floats) -> Floats:
        """Torque with as much current across as the circle and |u| = U/√3 leave."""
        circle = np.sqrt(np.maximum(0.0, self.current**2 - d**2))
        # |u|² is a quadratic in i_q: a q² + 2 b q + c.
        linked = self.flux + self.ld * d
        a = self.rs**2 + (w * self.lq) ** 2
        b = self.rs * w * linked - self.rs * d * w * self.lq
        c = (self.rs * d) ** 2 + (w * linked) ** 2 - most**2
        root = b * b - a * c
        ellipse = (-b + np.sqrt(np.maximum(0.0, root))) / np.maximum(a, 1e-300)
        q = np.minimum(circle, ellipse)
        torque = 1.5 * self.pole_pairs * (self.flux + (self.ld - self.lq) * d) * q
        return np.where(root >= 0, torque, -np.inf)


@dataclass(frozen=True)
class Induction:
    """A motor without magnets, by its circuit in rotor-flux coordinates."""

    pole_pairs: float
    rs: float
    leakage: float
    field: float
    rotor: float
    current: float
    saturates: float

    def __call__(self, speed: Floats, voltage: Floats) -> Floats:
        """Search the ratio of the currents on a net of decades, drawn closer six times."""
        low = np.full((len(speed), 1), -2.0)
        high = np.full((len(speed), 1), 2.0)
        net = np.linspace(0.0, 1.0, 41)[None, :]
        best = np.zeros(speed.shape)
        for _ in range(6):
            decades = low + (high - low) * net
            x = 10.0**decades
            w = self.pole_pairs * speed[:, None] + self.rotor * x / self.field
            u_d = self.rs - w * self.leakage * x
            u_q = self.rs * x + w * (self.leakage + self.field)
            by_voltage = voltage[:, None] / math.sqrt(3) / np.hypot(u_d, u_q)
            by_current = self.current / np.hypot(1.0, x)
            d = np.minimum(self.saturates, np.minimum(by_voltage, by_current))
            torque = 1.5 * self.pole_pairs * self.field * x * d**2
            at = torque.argmax(axis=1)
            best = np.maximum(best, torque[np.arange(len(at)), at])
            middle = np.take_along_axis(decades, at[:, None], axis=1)
            step = (high - low) / 20
            low, high = middle - step, middle + step
        return best


@dataclass(frozen=True)
class Ratings:
    """A motor by torque, power and the voltage they hold at."""

    torque: float
    power: float
    voltage: float

    def __call__(self, speed: Floats, voltage: Floats) -> Floats:
        """Torque up to the corner, beyond it power that goes with the voltage."""
        power = self.power * voltage / self.voltage
        with np.errstate(divide="ignore"):
            return np.minimum(self.torque, np.where(speed > 0, power / speed, np.inf))


@dataclass(frozen=True)
class Points:
    """A motor by points of its curve at a voltage, which stretch with the voltage."""

    speeds: tuple[float, ...]
    torques: tuple[float, ...]
    voltage: float

    def __call__(self, speed: Floats, voltage: Floats) -> Floats:
        """Straight lines between the points."""
        return np.interp(speed * self.voltage / voltage, self.speeds, self.torques)


@dataclass(frozen=True)
class Pack:
    """Voltage at rest, resistance, and how far either may be used."""

    rest: float
    resistance: float
    current: float
    lowest: float


@dataclass(frozen=True)
class Vehicle:
    """Everything that counts, in SI."""

    motor: MotorTorque
    pack: Pack
    ratio: float
    geared: float
    share: float
    limit: float
    efficiency: float = 0.9
    auxiliary: float = 500.0
    radius: float = 2.0 / (2 * math.pi)
    mass: float = 1091.0
    inertia: float = 0.02
    rolling: float = 0.01
    square: float = 0.04 * 3.6**2
    wind: float = 0.0

    @property
    def turns(self) -> float:
        """Turning of the motor for one metre."""
        return self.ratio * self.geared / self.radius

    @property
    def fastest(self) -> float:
        """Road speed at the highest speed of the motor."""
        return self.limit / self.turns

    @property
    def equivalent(self) -> float:
        """Mass with all that rotates."""
        return self.mass + self.inertia * self.turns**2

    def torque(self, speed: Floats) -> Floats:
        """Largest torque that motor and pack both give at a speed of the shaft."""
        found = self.motor(speed, np.full(speed.shape, self.pack.rest))
        held_back = ~self._possible(speed, found)
        at, high = speed[held_back], found[held_back]
        low = np.zeros(at.shape)
        for _ in range(HALVINGS if len(at) else 0):
            middle = (low + high) / 2
            enough = self._possible(at, middle)
            low, high = np.where(enough, middle, low), np.where(enough, high, middle)
        found[held_back] = low
        return found

    def _possible(self, speed: Floats, torque: Floats) -> NDArray[np.bool_]:
        power = torque * speed / self.efficiency + self.auxiliary
        root = self.pack.rest**2 - 4 * power * self.pack.resistance
        voltage = (self.pack.rest + np.sqrt(np.maximum(0.0, root))) / 2
        current = power / voltage
        fed = (root >= 0) & (current <= self.pack.current) & (voltage >= self.pack.lowest)
        # At standstill no power turns the shaft, whatever the pack may give.
        fed |= speed == 0
        return fed & (torque <= self.motor(speed, voltage))

    def force(self, speed: Floats) -> Floats:
        """Force at the road."""
        return self.torque(speed * self.turns) * self.turns * self.share

    def road(self, speed: Floats) -> Floats:
        """What the road takes on the level."""
        return self.rolling * self.mass * G + self.square * (speed + self.wind) ** 2

    def surplus(self, speed: Floats) -> Floats:
        """Force left over on the level."""
        return self.force(speed) - self.road(speed)

    def grade(self, speed: float) -> float:
        """Grade climbed at a speed."""
        left = float(self.surplus(np.array([speed]))[0])
        return math.tan(math.asin(left / (self.mass * G)))

    def top_speed(self) -> float:
        """Speed at which nothing is left over, or at which the gear ends."""
        return last_with_some_left(self.surplus, self.fastest)

    def time(self, start: float, end: float) -> float:
        """Time from one speed to another."""
        speeds = np.linspace(start, end, STEPS + 1)
        return float(np.trapezoid(self.equivalent / self.surplus(speeds), speeds))

    def in_gear(self, geared: float, share: float) -> Vehicle:
        """The same in another gear."""
        return replace(self, geared=geared, share=share)


def last_with_some_left(left: Callable[[Floats], Floats], fastest: float) -> float:
    """Speed from which on nothing is left over; the fastest if there always is."""
    low, high = 0.0, fastest
    for _ in range(ROUNDS):
        speeds = np.linspace(low, high, SPEEDS)
        short = np.flatnonzero(left(speeds) < 0)
        if not len(short):
            return high
        low, high = speeds[max(0, short[0] - 1)], speeds[short[0]]
    return float(low)


def powers(vehicle: Vehicle) -> Floats:
    """Power at the shaft at many speeds up to the highest."""
    speeds = np.linspace(0.0, vehicle.limit, 801)
    return vehicle.torque(speeds) * speeds


def through(low: Vehicle, high: Vehicle, leave: float, end: float, shift: float) -> float:
    """Time from standstill in the low gear up to a speed, then in the high one."""
    slowed = leave - float(low.road(np.array([leave]))[0]) * shift / low.equivalent
    return low.time(0.0, leave) + shift + high.time(slowed, end)
