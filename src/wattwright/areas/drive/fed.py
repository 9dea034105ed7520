"""What all motors together give on the pack, whose voltage falls under their load."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

from wattwright.areas.drive.efficiency import Efficiency
from wattwright.areas.drive.models import Model
from wattwright.descriptions.pack import PackState
from wattwright.kinds import FRACTION, ROTATIONAL_SPEED, TORQUE, VOLTAGE, Kind
from wattwright.physics import fed_by_pack, motor_curve, pack_voltage
from wattwright.values import Lack, Value, constant, lacking, worked

NO_MOTOR = Lack(
    "part.NAME", "the motor", "not given", "give the part that is the motor kind = motor", 5
)
_HALVINGS_OF_VOLTAGE = 40
# Speeds at which the curve is worked out beforehand, for drawing it and for searching along it.
_POINTS = 16
_ROUNDS = 20
# Share of the highest speed below which losses no longer fall with it; common practice.
_SLOW = 0.25
_HALVINGS = 12
# Close enough that the last step of Newton's method leaves no digit that anybody reads.
_SETTLED = 1e-6


@dataclass(frozen=True, eq=False)
class Drive:
    """Motors on one shaft, and what they and everything else take from the pack."""

    names: tuple[str, ...]
    models: tuple[Model, ...]
    efficiencies: tuple[Efficiency, ...]
    auxiliary: Value
    max_speed: Value

    @property
    def peak(self) -> Value:
        """Torque at low speed."""
        return together([model.peak for model in self.models])

    @property
    def stalled(self) -> Value:
        """Torque at standstill."""
        return together([model.stalled for model in self.models])


def together(torques: Sequence[Value]) -> Value:
    """Torque of all motors on one shaft."""
    return of_all(TORQUE, fed_by_pack.total_torque, torques)


def of_all(kind: Kind, total: Callable[..., float], by_motor: Sequence[Value]) -> Value:
    """Sum over the motors; of a single one there is nothing to add up."""
    if not by_motor:
        return lacking(kind, NO_MOTOR)
    return by_motor[0] if len(by_motor) == 1 else worked(total, by_motor)


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
    voltage: float
    by_pack: bool = False
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
            and all(efficiency.known for efficiency in drive.efficiencies)
            and all(value.known for value in (*needed, drive.auxiliary, drive.max_speed))
        )
        self._at_rest = state.open_circuit.number or 0.0
        self._resistance = state.resistance.number or 0.0
        self._auxiliary = drive.auxiliary.number or 0.0
        self._power = state.power.number or 0.0
        self._lowest = self._at_rest - (state.current.number or 0.0) * self._resistance
        # A motor's curve, taken at another voltage, ends where the pack falls lowest.
        most = drive.max_speed.number or 0.0
        self.reach = min(most, *self._reaches.values()) if self.known else 0.0
        self.curve = self._curve() if self.known else Curve((), ())

    @cached_property
    def _reaches(self) -> dict[str, float]:
        """Speed up to which each motor is known at the lowest voltage."""
        both = zip(self.drive.names, self.drive.models, strict=True)
        return {name: model.reach(self._lowest) for name, model in both}

    @property
    def beyond(self) -> Lack:
        """What is missing past the end of a motor's curve."""
        reach = self._reaches
        return Lack(
            f"part.{min(reach, key=lambda name: reach[name])}.curve",
            "torque at this speed and voltage",
            "the curve, taken at another voltage, ends before it",
            "more points of the curve, up to the motor's highest speed times its voltage over the "
            "pack's lowest",
            30,
        )

    def at(self, speed: Value) -> Value:
        """Torque at a speed of the shaft."""
        if not self.known:
            return self._lacking(speed)
        if (speed.number or 0.0) > self.reach * (1 + 1e-9):
            return lacking(TORQUE, self.beyond)
        settled = self.settle(speed.number or 0.0)
        if settled.by_pack:
            return self._by_pack(speed, self.efficiency(speed, settled.torque))
        if not settled.gain:
            # The current rules: any voltage near this one gives the same.
            held = constant(VOLTAGE, settled.voltage, "voltage found by going round")
            return together([model.at(speed, held) for model in self.drive.models])
        trial = constant(TORQUE, settled.torque, "torque found by going round")
        gain = constant(FRACTION, settled.gain, "share of a change that comes back")
        answered = self._answered(speed, trial, self.efficiency(speed, settled.torque))
        return worked(fed_by_pack.settled_torque, trial, answered, gain)

    def _answered(self, speed: Value, trial: Value, efficiency: Value) -> Value:
        """Torque at the voltage that a trial leaves."""
        taken = worked(fed_by_pack.dc_power, trial, speed, efficiency, self.drive.auxiliary)
        voltage = worked(
            pack_voltage.voltage_at_power, taken, self.state.open_circuit, self.state.resistance
        )
        return together([model.at(speed, voltage) for model in self.drive.models])

    def _lacking(self, speed: Value) -> Value:
        """Join everything that is missing, of motors and of pack."""
        efficiency = self.efficiency(speed, 0.0)
        answered = self._answered(speed, constant(TORQUE, 0.0), efficiency)
        return worked(fed_by_pack.weaker_torque, answered, self._by_pack(speed, efficiency))

    def _by_pack(self, speed: Value, efficiency: Value) -> Value:
        return worked(
            fed_by_pack.torque_at_power, self.state.power, self.drive.auxiliary, speed, efficiency
        )

    def torque_at(self, speed: float, voltage: float) -> float:
        """Largest torque at a voltage that is held; nought beyond the end of a motor's curve."""
        reach = min(model.reach(voltage) for model in self.drive.models)
        return self._torque(speed, voltage) if speed <= reach * (1 + 1e-9) else 0.0

    def loss(self, speed: float, torque: float) -> float:
        """Losses of motors and inverters at a torque, in plain numbers.

        An efficiency that is taken to be the same everywhere leaves no loss at standstill, where
        the windings still warm: there the copper counts, or where it is not known, the loss at
        the same torque and a quarter of the highest speed.
        """
        share = torque / len(self.drive.models)
        lost = self._lost(speed, torque)
        if all(each.told(speed, share) for each in self.drive.efficiencies):
            return lost
        copper = [model.copper(share, speed, self._at_rest) for model in self.drive.models]
        if None not in copper:
            return max(lost, sum(each or 0.0 for each in copper))
        return max(lost, self._lost(_SLOW * (self.drive.max_speed.number or 0.0), torque))

    def _lost(self, speed: float, torque: float) -> float:
        """Losses by the efficiency of the motor that loses most."""
        share = torque / len(self.drive.models)
        worst = min(each.for_losses(speed, share) for each in self.drive.efficiencies)
        return torque * speed * (1 / worst - 1)

    def loss_band(self) -> Value:
        """Efficiency at half of speed and torque: by its band all losses are known."""
        middle = 0.5 * self.reach
        speed = constant(ROTATIONAL_SPEED, middle, "half of the highest speed")
        return self.efficiency(speed, 0.5 * self.number(middle) if self.known else 0.0)

    def efficiency(self, speed: Value, torque: float) -> Value:
        """Efficiency of the motor that loses most, each carrying its share of the torque."""
        if not self.drive.models:
            return lacking(FRACTION, NO_MOTOR)
        share = torque / len(self.drive.models)
        each = [known.at(speed, share) for known in self.drive.efficiencies]
        return min(each, key=lambda value: value.number or 0.0)

    def number(self, speed: float) -> float:
        """Torque at a speed in plain numbers."""
        return self.settle(speed).torque

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
                return Settled(spare, self._lowest, by_pack=True)
        strongest = self._torque(speed, self._at_rest)
        if strongest <= weakest * (1 + 1e-12):
            return Settled(weakest, self._left(speed, weakest))
        return self._between(speed, weakest, strongest)

    def _between(self, speed: float, weakest: float, strongest: float) -> Settled:
        """Close in by the secant on the voltage that its own torque leaves."""
        low, high = self._lowest, self._at_rest
        voltage, torque = low, weakest
        over = self._left(speed, torque) - low
        before = (high, strongest, self._left(speed, strongest) - high)
        by_voltage = 0.0
        for _ in range(_ROUNDS):
            if voltage != before[0]:
                by_voltage = (torque - before[1]) / (voltage - before[0])
            if abs(over) < _SETTLED * high or over == before[2]:
                break
            step = over * (voltage - before[0]) / (over - before[2])
            before = (voltage, torque, over)
            voltage = min(high, max(low, voltage - step))
            torque = self._torque(speed, voltage)
            over = self._left(speed, torque) - voltage
        else:
            torque, voltage = self._halved(speed)
        return Settled(torque, voltage, gain=self._loop_gain(speed, voltage, torque, by_voltage))

    def _halved(self, speed: float) -> tuple[float, float]:
        """Close in by halving, which a curve with corners cannot lead astray."""
        low, high = self._lowest, self._at_rest
        for _ in range(_HALVINGS_OF_VOLTAGE):
            middle = (low + high) / 2
            over = self._left(speed, self._torque(speed, middle)) >= middle
            low, high = (middle, high) if over else (low, middle)
        return self._torque(speed, low), low

    def _loop_gain(self, speed: float, voltage: float, torque: float, by_voltage: float) -> float:
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
        most = self.reach
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


class Thirty:
    """The drive for thirty minutes: no more than the motors stand, nor than the pack feeds."""

    def __init__(self, fed: Fed, ratings: Sequence[tuple[Value, Value]]) -> None:
        self.fed = fed
        self.ratings = ratings
        self.known = fed.known and all(value.known for pair in ratings for value in pair)
        self.reach = fed.reach
        self.curve = self._curve() if self.known else Curve((), ())

    @property
    def beyond(self) -> Lack:
        """What is missing past the end of a motor's curve."""
        return self.fed.beyond

    def at(self, speed: Value) -> Value:
        """Torque at a speed of the shaft."""
        stood = [worked(motor_curve.torque_of_ratings, speed, *pair) for pair in self.ratings]
        return worked(fed_by_pack.weaker_torque, together(stood), self.fed.at(speed))

    def number(self, speed: float) -> float:
        """Work out the same in plain numbers."""
        return min(self._stood(speed), self.fed.number(speed))

    def _stood(self, speed: float) -> float:
        """Torque that the motors stand for thirty minutes."""
        return sum(motor_curve.torque_of_ratings(speed, *pair) for pair in self._plain)

    @cached_property
    def _plain(self) -> list[tuple[float, float]]:
        return [(torque.number or 0.0, power.number or 0.0) for torque, power in self.ratings]

    def _curve(self) -> Curve:
        corners = {power / torque for torque, power in self._plain if torque}
        speeds = sorted({*self.fed.curve.speeds, *(c for c in corners if c < self.reach)})
        torques = (min(self._stood(speed), self.fed.curve.at(speed)) for speed in speeds)
        return Curve(tuple(speeds), tuple(torques))
