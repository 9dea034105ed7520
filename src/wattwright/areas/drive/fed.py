"""What all motors together give on the pack, whose voltage falls under their load."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from wattwright.areas.drive.efficiency import Efficiency
from wattwright.areas.drive.models import Model
from wattwright.descriptions.pack import PackState
from wattwright.kinds import FRACTION, TORQUE
from wattwright.physics import fed_by_pack, pack_voltage
from wattwright.values import Lack, Value, constant, lacking, worked

NO_MOTOR = Lack(
    "part.NAME", "the motor", "not given", "give the part that is the motor kind = motor", 5
)
# Speeds at which the curve is worked out beforehand, for drawing it and for searching along it.
_POINTS = 16
_ROUNDS = 20
_HALVINGS = 12
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
        """Speed up to which the torque does not fall."""
        return self.speeds[1] if len(self.speeds) > 1 else 0.0


@dataclass(frozen=True, slots=True)
class Settled:
    """Torque at a speed in plain numbers, and what rules it there.

    ``gain`` is how much of a change of torque comes back through the voltage it leaves.
    """

    torque: float
    by_pack: bool
    gain: float = 0.0


class Fed:
    """The drive on the pack in one state."""

    def __init__(self, drive: Drive, state: PackState) -> None:
        self.drive = drive
        self.state = state
        needed = (state.open_circuit, state.resistance, state.power, state.current)
        self.known = (
            bool(drive.models)
            and all(model.known for model in drive.models)
            and all(value.known for value in (*needed, drive.auxiliary, drive.max_speed))
        )
        self._at_rest = state.open_circuit.number or 0.0
        self._resistance = state.resistance.number or 0.0
        self._auxiliary = drive.auxiliary.number or 0.0
        self._power = state.power.number or 0.0
        self._lowest = self._at_rest - (state.current.number or 0.0) * self._resistance
        self.curve = self._curve() if self.known else Curve((), ())

    def at(self, speed: Value) -> Value:
        """Torque at a speed of the shaft."""
        settled = self.settle(speed.number or 0.0) if self.known else Settled(0.0, by_pack=False)
        efficiency = self.efficiency(speed, settled.torque)
        if settled.by_pack:
            return worked(
                fed_by_pack.torque_at_power,
                self.state.power,
                self.drive.auxiliary,
                speed,
                efficiency,
            )
        trial = constant(TORQUE, settled.torque, "torque found by going round")
        taken = worked(fed_by_pack.dc_power, trial, speed, efficiency, self.drive.auxiliary)
        voltage = worked(
            pack_voltage.voltage_at_power, taken, self.state.open_circuit, self.state.resistance
        )
        by_voltage = _together([model.at(speed, voltage) for model in self.drive.models])
        if not self.known:
            # What the pack allows would have to be known too.
            return worked(fed_by_pack.weaker_torque, by_voltage, self._by_pack(speed, efficiency))
        if not settled.gain:
            return by_voltage
        gain = constant(FRACTION, settled.gain, "share of a change that comes back")
        return worked(fed_by_pack.settled_torque, trial, by_voltage, gain)

    def _by_pack(self, speed: Value, efficiency: Value) -> Value:
        return worked(
            fed_by_pack.torque_at_power, self.state.power, self.drive.auxiliary, speed, efficiency
        )

    def efficiency(self, speed: Value, torque: float) -> Value:
        """Efficiency of the motor that loses most, each carrying its share of the torque."""
        share = torque / max(1, len(self.drive.models))
        each = [known.at(speed, share) for known in self.drive.efficiencies]
        return min(each, key=lambda value: value.number or 0.0)

    def settle(self, speed: float) -> Settled:
        """Find the torque on which motor and pack agree.

        At the lowest voltage the pack may fall to, either the motor asks for more than the pack
        feeds there, and the pack rules; or the voltage settles higher, between that and rest.
        """
        weakest = self._torque(speed, self._lowest)
        if speed > 0:
            share = weakest / len(self.drive.models)
            spare = max(0.0, self._power - self._auxiliary) * self._efficiency(speed, share) / speed
            if weakest >= spare:
                return Settled(spare, by_pack=True)
        low, high = self._lowest, self._at_rest
        voltage, torque = low, weakest
        at_low = self._left(speed, torque) - low
        before = (high, self._left(speed, self._torque(speed, high)) - high)
        for _ in range(_ROUNDS):
            if abs(at_low) < _SETTLED * high or before[1] == at_low:
                break
            step = at_low * (voltage - before[0]) / (at_low - before[1])
            before = (voltage, at_low)
            voltage = min(high, max(low, voltage - step))
            torque = self._torque(speed, voltage)
            at_low = self._left(speed, torque) - voltage
        return Settled(torque, by_pack=False, gain=self._loop_gain(speed, voltage, torque))

    def _loop_gain(self, speed: float, voltage: float, torque: float) -> float:
        step = 1e-4 * voltage
        by_voltage = (self._torque(speed, voltage + step) - torque) / step
        root = 2 * voltage - self._at_rest
        if by_voltage <= 0 or root <= 0:
            return 0.0
        share = torque / len(self.drive.models)
        return by_voltage * -self._resistance / root * speed / self._efficiency(speed, share)

    def _efficiency(self, speed: float, share: float) -> float:
        return min(each.number(speed, share) for each in self.drive.efficiencies)

    def _torque(self, speed: float, voltage: float) -> float:
        return sum(model.number(speed, voltage) for model in self.drive.models)

    def _left(self, speed: float, torque: float) -> float:
        """Voltage that a torque leaves."""
        share = torque / len(self.drive.models)
        taken = torque * speed / self._efficiency(speed, share) + self._auxiliary
        root = max(0.0, self._at_rest**2 - 4 * taken * self._resistance)
        return (self._at_rest + math.sqrt(root)) / 2

    def _curve(self) -> Curve:
        most = self.drive.max_speed.number or 0.0
        corner = self._corner(most)
        steps = range(1, _POINTS + 1) if corner < most else ()
        beyond = (corner + (most - corner) * step / _POINTS for step in steps)
        speeds = [0.0, corner, *beyond]
        return Curve(tuple(speeds), tuple(self.settle(speed).torque for speed in speeds))

    def _corner(self, most: float) -> float:
        """Speed up to which the torque does not fall, closed in on by halving."""
        enough = self.settle(0.0).torque * (1 - 1e-9)
        if self.settle(most).torque >= enough:
            return most
        low, high = 0.0, most
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if self.settle(middle).torque >= enough else (low, middle)
        return low
