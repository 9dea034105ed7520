"""What a run is given: the trace, the maps of motor and pack, and one vector of parameters."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wattwright.errors import UseError
from wattwright.uses import places as at

Array: TypeAlias = NDArray[np.float64]

SECONDS = (1.0, 10.0, 60.0, 600.0)  # windows of root mean squares


def _held(numbers: ArrayLike, name: str, dimensions: int = 1) -> Array:
    """Copy numbers into an array of our own that nobody changes by accident."""
    array = np.array(numbers, dtype=np.float64, order="C")
    if array.ndim != dimensions or not array.size:
        raise UseError(f"{name} must have {dimensions} dimension(s) and hold something")
    if not np.isfinite(array).all():
        raise UseError(f"{name} must hold finite numbers only")
    return array


@dataclass(frozen=True, eq=False)
class Trace:
    """Speeds wanted over time.

    ``steps`` lengths of the steps, s; ``speeds`` wanted at each instant, m/s, one more than steps;
    ``grades`` over each step as rise over run, positive uphill (level where left out); ``on``
    over each step: 1 while it is switched on, 0 where it stands switched off (on where left out).
    """

    steps: Array
    speeds: Array
    grades: Array
    on: Array

    def __init__(
        self, steps: ArrayLike, speeds: ArrayLike, grades: ArrayLike = 0.0, on: ArrayLike = 1.0
    ) -> None:
        held = _held(steps, "steps")
        object.__setattr__(self, "steps", held)
        object.__setattr__(self, "speeds", _held(speeds, "speeds"))
        for name, over_steps in (("grades", grades), ("on", on)):
            each = np.broadcast_to(np.asarray(over_steps, dtype=np.float64), held.shape)
            object.__setattr__(self, name, _held(each, name))
        if len(self.speeds) != len(held) + 1:
            raise UseError("a trace has one more speed than steps")
        if (held <= 0).any():
            raise UseError("every step of a trace takes some time")
        if (self.speeds < 0).any():
            raise UseError("no speed of a trace is below nought")
        off = self.on == 0
        if (~off & (self.on != 1)).any():
            raise UseError("over each step a vehicle is switched on or off: 1 or 0")
        if (off & ((self.speeds[:-1] > 0) | (self.speeds[1:] > 0))).any():
            raise UseError("a vehicle that moves is switched on")

    @cached_property
    def digest(self) -> bytes:
        """The same for every trace with the same numbers."""
        return _digest(self.steps, self.speeds, self.grades, self.on)

    @cached_property
    def sines(self) -> Array:
        """Sine of the slope over each step."""
        return self.grades / np.sqrt(1 + self.grades**2)

    @cached_property
    def times(self) -> Array:
        """Time of each instant, s."""
        return np.concatenate(([0.0], np.cumsum(self.steps)))

    @cached_property
    def windows(self) -> tuple[NDArray[np.int64], Array]:
        """Where windows that end at each instant begin: piece, or -1, and share of it."""
        begins, shares = [], []
        for length in SECONDS:
            start = self.times - length
            # Sums of steps may fall short of a whole window by their last digit.
            start[np.abs(start) < 1e-9 * self.times[-1]] = 0.0
            piece = np.searchsorted(self.times, start, side="right") - 1
            piece = np.minimum(piece, len(self.steps) - 1)
            begins.append(piece.astype(np.int64))
            shares.append((start - self.times[piece]) / self.steps[piece])
        return np.concatenate(begins), np.clip(np.concatenate(shares), 0.0, 1.0)


def _digest(*arrays: NDArray[Any]) -> bytes:
    seen = hashlib.sha256()
    for array in arrays:
        seen.update(str(array.shape).encode())
        seen.update(array.tobytes())
    return seen.digest()


@dataclass(frozen=True, eq=False)
class Maps:
    """Curves and grids of motor, inverter and pack; level beyond their ends.

    ``torque_limits`` N·m over ``torque_speeds`` rad/s (rows) and ``torque_voltages`` V at DC;
    ``losses`` of motor and inverter together, W, over ``loss_speeds`` rad/s (rows) and
    ``loss_torques`` N·m without sign; ``open_circuit`` voltage of the pack, V, over ``charges`` as
    a share of the capacity.
    """

    torque_speeds: Array
    torque_voltages: Array
    torque_limits: Array
    loss_speeds: Array
    loss_torques: Array
    losses: Array
    charges: Array
    open_circuit: Array

    def __post_init__(self) -> None:
        for field in fields(self):
            grid = field.name in ("torque_limits", "losses")
            held = _held(getattr(self, field.name), field.name, 2 if grid else 1)
            object.__setattr__(self, field.name, held)
        for name in ("torque_speeds", "torque_voltages", "loss_speeds", "loss_torques", "charges"):
            axis = getattr(self, name)
            if len(axis) < 2 or (np.diff(axis) <= 0).any():
                raise UseError(f"{name} must grow, over two points or more")
        shapes = (
            (self.torque_limits, (len(self.torque_speeds), len(self.torque_voltages))),
            (self.losses, (len(self.loss_speeds), len(self.loss_torques))),
            (self.open_circuit, (len(self.charges),)),
        )
        if any(heights.shape != shape for heights, shape in shapes):
            raise UseError("a map has one height for each pair of places on its axes")
        if any((heights < 0).any() for heights, _ in shapes) or (self.open_circuit <= 0).any():
            raise UseError("torques and losses are not below nought, voltages above it")
        if self.loss_torques[0] != 0 or self.loss_torques[-1] < self.torque_limits.max():
            raise UseError("losses must be known from no torque up to the highest limit of torque")

    @cached_property
    def digest(self) -> bytes:
        """The same for all maps with the same numbers."""
        return _digest(*self.flat)

    @cached_property
    def flat(self) -> tuple[Array, NDArray[np.int64]]:
        """All maps behind one another, and the places by which they are looked up."""
        axes = ("charges", "torque_speeds", "torque_voltages", "loss_speeds", "loss_torques")
        parts: list[Array] = []
        begins: list[int] = []
        points: list[int] = []
        for name in axes:
            axis = getattr(self, name)
            begins.append(sum(len(part) for part in parts))
            points.append(len(axis))
            # Behind each axis stand the inverse lengths of its pieces.
            parts += [axis, 1 / np.diff(axis)]
        for name in ("open_circuit", "torque_limits", "losses"):
            points.append(sum(len(part) for part in parts))
            parts.append(getattr(self, name).ravel())
        places = [0] * len(axes) + begins + points
        return np.concatenate(parts), np.array(places, dtype=np.int64)


@dataclass(frozen=True, kw_only=True)
class Parameters:
    """Everything of a vehicle that is one number, in SI; temperatures in K, charges as shares.

    Road. ``mass`` kg, ``equivalent_mass`` kg with what rotates; ``f0`` N, ``f1`` N·s/m and ``f2``
    N·s²/m² of the road load, wind included, of which ``f0_of_wind`` N; ``rolling_radius`` m;
    ``ratio`` of all gears; ``driveline_efficiency`` either way.

    Motor and inverter. ``torque_scale`` on the limits of torque, ``loss_scale`` on the losses;
    ``motor_loss_share`` of these heats the motor, the rest the inverter; ``highest_motor_speed``
    rad/s.

    Braking by the motor. ``regen_torque`` N·m at the shaft; ``regen_deceleration`` m/s² that the
    grip of the driven axle allows; ``regen_current`` A into the pack, which from a charge of
    ``regen_taper_from`` falls to ``regen_current_full`` A at full charge, and which grows from
    nought at a temperature ``regen_cold_from`` of the pack to all of it at ``regen_cold_full`` K;
    faded out between ``regen_fade_high`` and ``regen_fade_low`` m/s.

    Pack. ``voltage_scale`` on the voltage at rest; ``resistance`` Ω at 25 °C, times 1 there and
    above and growing exponentially to ``cold_factor`` at ``cold_temperature``; ``capacity`` A·s;
    ``discharge_current`` A; ``lowest_voltage`` and ``highest_voltage`` V; ``auxiliary`` and
    ``heater`` W drawn all the time that it is switched on.

    Beginning and end. ``start_charge``; ``end_charge`` at which a run ends; ``ambient`` and
    ``start_`` temperatures.

    Heat. ``heat_capacity_`` J/K of each body; ``motor_resistance`` K/W between its windings and the
    coolant, ``_to_`` W/K between two other bodies.

    Limits. From ``span_`` K below its ``limit_`` a temperature takes torque (motor, inverter) or
    power for driving and charging (pack) away evenly, all of it at the limit.
    """

    mass: float
    equivalent_mass: float
    f0: float
    f1: float
    f2: float
    f0_of_wind: float = 0.0
    rolling_radius: float
    ratio: float
    driveline_efficiency: float
    torque_scale: float = 1.0
    loss_scale: float = 1.0
    motor_loss_share: float
    highest_motor_speed: float
    regen_torque: float = 0.0
    regen_deceleration: float
    regen_current: float
    regen_current_full: float
    regen_taper_from: float
    regen_cold_from: float = 1.0
    regen_cold_full: float = 2.0
    regen_fade_low: float = 5 / 3.6
    regen_fade_high: float = 10 / 3.6
    voltage_scale: float = 1.0
    resistance: float
    cold_factor: float
    cold_temperature: float
    capacity: float
    discharge_current: float
    lowest_voltage: float
    highest_voltage: float
    auxiliary: float
    heater: float = 0.0
    start_charge: float
    end_charge: float = 0.0
    ambient: float
    start_motor: float
    start_inverter: float
    start_drive_coolant: float
    start_pack: float
    start_pack_coolant: float
    heat_capacity_motor: float
    heat_capacity_inverter: float
    heat_capacity_drive_coolant: float
    heat_capacity_pack: float
    heat_capacity_pack_coolant: float
    motor_resistance: float
    inverter_to_coolant: float
    drive_coolant_to_ambient: float
    pack_to_coolant: float
    pack_coolant_to_ambient: float
    pack_to_ambient: float
    limit_motor: float
    limit_inverter: float
    limit_pack: float
    span_motor: float
    span_inverter: float
    span_pack: float

    def __post_init__(self) -> None:
        for name in NAMES:
            number = float(getattr(self, name))
            object.__setattr__(self, name, number)
            if not math.isfinite(number):
                raise UseError(f"{name} must be a finite number")
            if number <= 0 and name.startswith(_ABOVE_NOUGHT):
                raise UseError(f"{name} must be above nought")
            if number < 0 and name not in ("f0", "f1"):
                raise UseError(f"{name} must not be below nought")
        for holds, text in (
            (self.equivalent_mass >= self.mass, "the equivalent mass is the mass or more"),
            (self.driveline_efficiency <= 1, "the driveline efficiency is 1 at most"),
            (self.motor_loss_share <= 1, "the motor's share of the loss is 1 at most"),
            (self.regen_fade_low < self.regen_fade_high, "braking fades from high to low speed"),
            (self.regen_taper_from < 1, "the charging current tapers below full charge"),
            (self.regen_cold_from < self.regen_cold_full, "cold cells are charged less than warm"),
            (self.regen_current_full <= self.regen_current, "the charging current falls"),
            (self.cold_factor >= 1, "cold makes no resistance smaller"),
            (self.cold_temperature < 298.15, "the cold temperature lies below 25 °C"),
            (self.lowest_voltage < self.highest_voltage, "the lowest voltage is below the highest"),
            (self.start_charge <= 1, "the charge at the beginning is 1 at most"),
            (self.end_charge < self.start_charge, "the charge at the end is below the first"),
        ):
            if not holds:
                raise UseError(text)

    @property
    def vector(self) -> Array:
        """All numbers in the order of their fields."""
        return np.array([getattr(self, name) for name in NAMES], dtype=np.float64)

    @staticmethod
    def index(name: str) -> int:
        """Place of a number in the vector."""
        return NAMES.index(name)


NAMES = tuple(field.name for field in fields(Parameters))
_ABOVE_NOUGHT = (
    "mass",
    "equivalent_mass",
    "rolling_radius",
    "ratio",
    "driveline_efficiency",
    "torque_scale",
    "voltage_scale",
    "highest_motor_speed",
    "resistance",
    "motor_resistance",
    "capacity",
    "heat_capacity",
    "ambient",
    "start_",
    "span_",
)


def fitting(every: Iterable[Parameters], maps: Maps) -> Array:
    """Rows of parameters that the maps cover, as one matrix."""
    rows = np.array([each.vector for each in every]).reshape(-1, len(NAMES))
    fastest = rows[:, at.HIGHEST_MOTOR_SPEED].max(initial=0.0)
    if fastest > min(maps.loss_speeds[-1], maps.torque_speeds[-1]) * (1 + 1e-12):
        raise UseError("torque and losses must be known up to the highest speed of the motor")
    strongest = rows[:, at.TORQUE_SCALE].max(initial=0.0) * maps.torque_limits.max()
    if strongest > maps.loss_torques[-1] * (1 + 1e-12):
        raise UseError("losses must be known up to the highest torque, scaled as it is")
    return rows
