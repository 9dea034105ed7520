"""What all motors together give on the pack, whose voltage falls under their load."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from wattwright.areas.drive.efficiency import Efficiency
from wattwright.areas.drive.motor import Model
from wattwright.descriptions.pack import PackState
from wattwright.kinds import FRACTION, TORQUE
from wattwright.physics import fed_by_pack, pack_voltage
from wattwright.values import Lack, Value, constant, lacking, worked

NO_MOTOR = Lack(
    "part.NAME", "the motor", "not given", "give the part that is the motor kind = motor", 5
)
# Speeds at which the curve is worked out beforehand, for drawing it and for searching along it.
_POINTS = 32
_ROUNDS = 40
# Close enough that the last step of Newton's method leaves no digit that anybody reads.
_SETTLED = 1e-6


@dataclass(frozen=True, eq=False)
class Drive:
    """Motors on one shaft, and what they and everything else take from the pack."""

    models: tuple[Model, ...]
    efficiencies: tuple[Efficiency, ...]
    auxiliary: Value
    max_speed: Value

    @property
    def peak(self) -> Value:
        """Torque at low speed."""
        return _together([model.peak for model in self.models])

    @property
    def stalled(self) -> Value:
        """Torque at standstill."""
        return _together([model.stalled for model in self.models])


def _together(torques: Sequence[Value]) -> Value:
    if not torques:
        return lacking(TORQUE, NO_MOTOR)
    return torques[0] if len(torques) == 1 else worked(fed_by_pack.total_torque, torques)


@dataclass(frozen=True, eq=False)
class Curve:
    """Torque of the drive against speed at one state of the pack, in plain numbers."""

    speeds: tuple[float, ...]
    torques: tuple[float, ...]

    def at(self, speed: float) -> float:
        """Torque between the points; nought beyond the last."""
        if not self.speeds or speed > self.speeds[-1] * (1 + 1e-12):
            return 0.0
        place = min(max(bisect_right(self.speeds, speed), 1), len(self.speeds) - 1)
        low, high = self.speeds[place - 1], self.speeds[place]
        weak, strong = self.torques[place - 1], self.torques[place]
        return weak + (strong - weak) * (speed - low) / (high - low)

    @property
    def level_up_to(self) -> float:
        """Speed up to which the torque hardly falls."""
        return max(
            (
                speed
                for speed, torque in zip(self.speeds, self.torques, strict=True)
                if torque >= 0.999 * self.torques[0]
            ),
            default=0.0,
        )


class Fed:
    """The drive on the pack in one state."""

    def __init__(self, drive: Drive, state: PackState) -> None:
        self.drive = drive
        self.state = state
        needed = (state.open_circuit, state.resistance, state.power, drive.auxiliary)
        self.known = (
            bool(drive.models)
            and all(model.known for model in drive.models)
            and all(value.known for value in (*needed, drive.max_speed))
        )
        self.curve = self._curve() if self.known else Curve((), ())

    def at(self, speed: Value) -> Value:
        """Torque at a speed of the shaft."""
        trial, gain = self._settle(speed.number or 0.0) if self.known else (0.0, 0.0)
        efficiency = self.efficiency(speed, trial)
        taken = worked(
            fed_by_pack.dc_power,
            constant(TORQUE, trial, "torque found by going round"),
            speed,
            efficiency,
            self.drive.auxiliary,
        )
        voltage = worked(
            pack_voltage.voltage_at_power, taken, self.state.open_circuit, self.state.resistance
        )
        by_voltage = _together([model.at(speed, voltage) for model in self.drive.models])
        if gain:
            by_voltage = worked(
                fed_by_pack.settled_torque,
                constant(TORQUE, trial, "torque found by going round"),
                by_voltage,
                constant(FRACTION, gain, "share of a change that comes back"),
            )
        if self.known and not speed.number:
            return by_voltage
        by_pack = worked(
            fed_by_pack.torque_at_power, self.state.power, self.drive.auxiliary, speed, efficiency
        )
        return worked(fed_by_pack.weaker_torque, by_voltage, by_pack)

    def efficiency(self, speed: Value, torque: float) -> Value:
        """Efficiency of the motor that loses most, each carrying its share of the torque."""
        each = [
            known.at(speed.number or 0.0, torque / len(self.drive.models))
            for known in self.drive.efficiencies
        ]
        return min(each, key=lambda value: value.number or 0.0)

    def number(self, speed: float) -> float:
        """Torque at a speed in plain numbers."""
        torque = self._settle(speed)[0]
        if speed <= 0:
            return torque
        spare = (self.state.power.number or 0.0) - (self.drive.auxiliary.number or 0.0)
        return min(torque, max(0.0, spare) * self._efficiency(speed, torque) / speed)

    def _efficiency(self, speed: float, torque: float) -> float:
        share = torque / len(self.drive.models)
        return min(each.number(speed, share) for each in self.drive.efficiencies)

    def _settle(self, speed: float) -> tuple[float, float]:
        """Torque that the voltage it leaves still gives, and how much of a change comes back."""
        at_rest = self.state.open_circuit.number or 0.0
        # Below half the rest voltage more current gives less power: no load is driven there.
        voltage, torque = at_rest, 0.0
        for _ in range(_ROUNDS):
            torque = self._torque(speed, voltage)
            left = self._voltage_left(speed, torque)
            if abs(left - voltage) < _SETTLED * at_rest:
                break
            voltage = left
        return torque, self._loop_gain(speed, voltage, torque)

    def _loop_gain(self, speed: float, voltage: float, torque: float) -> float:
        step = 1e-4 * voltage
        by_voltage = (self._torque(speed, voltage + step) - torque) / step
        resistance = self.state.resistance.number or 0.0
        root = 2 * voltage - (self.state.open_circuit.number or 0.0)
        if by_voltage <= 0 or root <= 0:
            return 0.0
        by_torque = -resistance / root * speed / self._efficiency(speed, torque)
        return by_voltage * by_torque

    def _torque(self, speed: float, voltage: float) -> float:
        return sum(model.number(speed, voltage) for model in self.drive.models)

    def _voltage_left(self, speed: float, torque: float) -> float:
        at_rest = self.state.open_circuit.number or 0.0
        resistance = self.state.resistance.number or 0.0
        taken = torque * speed / self._efficiency(speed, torque)
        taken += self.drive.auxiliary.number or 0.0
        return (at_rest + math.sqrt(max(0.0, at_rest**2 - 4 * taken * resistance))) / 2

    def _curve(self) -> Curve:
        most = self.drive.max_speed.number or 0.0
        speeds = [most * place / _POINTS for place in range(_POINTS + 1)]
        torques = [self.number(speed) for speed in speeds]
        corner = self._corner(speeds, torques)
        if corner is not None:
            place = bisect_right(speeds, corner)
            speeds.insert(place, corner)
            torques.insert(place, self.number(corner))
        return Curve(tuple(speeds), tuple(torques))

    def _corner(self, speeds: Sequence[float], torques: Sequence[float]) -> float | None:
        """Speed at which the torque begins to fall, closed in on by halving."""
        low_torque = torques[0] * (1 - 1e-9)
        falling = next((n for n, torque in enumerate(torques) if torque < low_torque), None)
        if not falling:
            return None
        low, high = speeds[falling - 1], speeds[falling]
        for _ in range(12):
            middle = (low + high) / 2
            low, high = (middle, high) if self.number(middle) >= low_torque else (low, middle)
        return low
