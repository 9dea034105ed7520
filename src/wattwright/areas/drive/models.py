"""Ways to know a motor: circuit with magnets, circuit without, a curve, ratings, two of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from wattwright.physics import fed_by_pack, induction, motor_curve, pmsm, stall
from wattwright.values import Value, worked

# Of a motor whose circuit is not known, current over torque as shares; common practice: part of the
# torque comes from the iron, so that half of it takes more than half of the current.
_LESS_THAN_LINEAR = 0.8
# Points along the currents of most torque.
_STEPS = 16
# So little below the voltage the currents of most torque need, the limit is the current alone.
_CLEAR = 0.999


class Model(Protocol):
    """A motor with its inverter, as far as torque goes."""

    @property
    def peak(self) -> Value:
        """Largest torque at low speed."""

    @property
    def stalled(self) -> Value:
        """Torque that the inverter holds at standstill."""

    @property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""

    def at(self, speed: Value, voltage: Value) -> Value:
        """Largest torque at a speed and a DC voltage."""

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers, for searching, up to ``reach``."""

    def reach(self, voltage: float) -> float:
        """Speed up to which the torque is known at a DC voltage."""

    def current_share(self, torque_share: float, speed: float, voltage: float) -> float:
        """Share of the highest phase current at a share of the torque it can give there."""

    def copper(self, torque: float, speed: float, voltage: float) -> float | None:
        """Heat of the windings alone at a torque; none where the circuit is not known."""


def _numbers(values: tuple[Value, ...]) -> tuple[float, ...]:
    return tuple(value.number or 0.0 for value in values)


@dataclass(frozen=True, eq=False)
class ByMagnets:
    """A motor with magnets, by flux linkage, inductances and resistance."""

    current: Value
    d: Value
    q: Value
    peak: Value
    stalled: Value
    pole_pairs: Value
    flux: Value
    ld: Value
    lq: Value
    rs: Value
    loss: Value

    @cached_property
    def _all(self) -> tuple[Value, ...]:
        return (self.current, self.pole_pairs, self.flux, self.ld, self.lq, self.rs)

    @cached_property
    def _plain(self) -> tuple[float, ...]:
        return _numbers(self._all)

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return all(value.known for value in (*self._all, self.peak, self.loss))

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque at low speed while the voltage is enough for it with room to spare, else less."""
        clear = _CLEAR * (voltage.number or 0.0) / math.sqrt(3)
        if self.known and speed.number is not None and self._needed(speed.number) < clear:
            return self.peak
        limit = worked(pmsm.torque_limit, speed, voltage, *self._all, self.d)
        return worked(stall.saturated_torque, limit, self.loss)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers."""
        if self._needed(speed) <= voltage / math.sqrt(3):
            return self.peak.number or 0.0
        current, pole_pairs, flux, ld, lq, rs = self._plain
        d = self.d.number or 0.0
        limit = pmsm.torque_limit(speed, voltage, current, pole_pairs, flux, ld, lq, rs, d)
        return limit * (1 - (self.loss.number or 0.0))

    def reach(self, voltage: float) -> float:
        """The circuit holds at any speed."""
        del voltage
        return math.inf

    @cached_property
    def _shares(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Shares of torque and of current, along the currents of most torque."""
        highest, pole_pairs, flux, ld, lq, _ = self._plain
        shares = tuple(step / _STEPS for step in range(_STEPS + 1))
        torques = []
        for share in shares:
            current = share * highest
            d = pmsm.mtpa_d_current(current, flux, ld, lq) if share else 0.0
            q = pmsm.q_current(current, d)
            torques.append(pmsm.torque(pole_pairs, flux, ld, lq, d, q))
        return tuple(torque / torques[-1] for torque in torques), shares

    def current_share(self, torque_share: float, speed: float, voltage: float) -> float:
        """Share of the highest phase current: for the torque, and against the magnets."""
        pulling = motor_curve.torque_on_curve(min(1.0, torque_share), *self._shares)
        highest, pole_pairs, flux, ld, _, _ = self._plain
        if speed <= 0:
            return pulling
        weakening = pmsm.weakening_current(speed, voltage, pole_pairs, flux, ld) / highest
        return min(1.0, math.hypot(pulling, weakening))

    def copper(self, torque: float, speed: float, voltage: float) -> float | None:
        """Heat of the windings at a torque, by the currents of most torque."""
        share = self.current_share(torque / (self.peak.number or 1.0), speed, voltage)
        return 1.5 * (self.rs.number or 0.0) * ((self.current.number or 0.0) * share) ** 2

    def _needed(self, speed: float) -> float:
        """Voltage that the currents of most torque need."""
        _, pole_pairs, flux, ld, lq, rs = self._plain
        d, q = self.d.number or 0.0, self.q.number or 0.0
        return pmsm.phase_voltage(speed, pole_pairs, flux, ld, lq, rs, d, q)


@dataclass(frozen=True, eq=False)
class ByInduction:
    """A motor without magnets, by its equivalent circuit."""

    current: Value
    magnetising_limit: Value
    pole_pairs: Value
    rs: Value
    leakage: Value
    field: Value
    rotor: Value
    split: Value
    peak: Value
    stalled: Value

    @cached_property
    def _all(self) -> tuple[Value, ...]:
        circuit = (self.pole_pairs, self.rs, self.leakage, self.field, self.rotor)
        return (self.current, self.magnetising_limit, *circuit, self.split)

    @cached_property
    def _plain(self) -> tuple[float, ...]:
        return _numbers(self._all)

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return all(value.known for value in (*self._all, self.peak))

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque inside the limits of current, magnetising current and voltage."""
        return worked(induction.torque_limit, speed, voltage, *self._all)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers."""
        current, magnetising, pole_pairs, rs, leakage, field, rotor, split = self._plain
        return induction.torque_limit(
            speed, voltage, current, magnetising, pole_pairs, rs, leakage, field, rotor, split
        )

    def reach(self, voltage: float) -> float:
        """The circuit holds at any speed."""
        del voltage
        return math.inf

    def current_share(self, torque_share: float, speed: float, voltage: float) -> float:
        """Field current held, the current across it as the torque."""
        del speed, voltage
        highest, magnetising = self._plain[:2]
        field = min(magnetising, highest / math.sqrt(2)) / highest
        return math.sqrt(field**2 + (1 - field**2) * min(1.0, torque_share) ** 2)

    def copper(self, torque: float, speed: float, voltage: float) -> float | None:
        """Not told apart from the other losses."""
        del torque, speed, voltage
        return None


class _CircuitUnknown:
    """What is taken of a motor whose circuit nobody knows."""

    def current_share(self, torque_share: float, speed: float, voltage: float) -> float:
        """About as much of the current as of the torque, more where there is little."""
        del speed, voltage
        return math.pow(min(1.0, torque_share), _LESS_THAN_LINEAR)

    def copper(self, torque: float, speed: float, voltage: float) -> float | None:
        """Not known."""
        del torque, speed, voltage
        return None


@dataclass(frozen=True, eq=False)
class ByRatings(_CircuitUnknown):
    """A motor known by highest torque and power at a stated voltage."""

    peak: Value
    stalled: Value
    power: Value
    voltage: Value

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return self.peak.known and self.power.known and self.voltage.known

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque up to the corner, power beyond it, which moves with the voltage."""
        share = worked(motor_curve.voltage_ratio, voltage, self.voltage)
        power = worked(motor_curve.power_at_voltage, self.power, share)
        return worked(motor_curve.torque_of_ratings, speed, self.peak, power)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers."""
        power = (self.power.number or 0.0) * voltage / (self.voltage.number or 1.0)
        return motor_curve.torque_of_ratings(speed, self.peak.number or 0.0, power)

    def reach(self, voltage: float) -> float:
        """Ratings are taken to hold at any speed."""
        del voltage
        return math.inf


@dataclass(frozen=True, eq=False)
class ByCurve(_CircuitUnknown):
    """A motor known by points of torque against speed at a stated voltage."""

    peak: Value
    stalled: Value
    speeds: tuple[Value, ...]
    torques: tuple[Value, ...]
    voltage: Value
    share: Value
    weaker: Value

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return self.peak.known and self.voltage.known

    @cached_property
    def _plain(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        return _numbers(self.speeds), _numbers(self.torques)

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque on the curve at the speed that the same flux belongs to."""
        share = worked(motor_curve.voltage_ratio, voltage, self.voltage)
        on_curve = worked(motor_curve.equivalent_speed, speed, share)
        torque = worked(motor_curve.torque_on_curve, on_curve, self.speeds, self.torques)
        whole = worked(motor_curve.torque_within, torque, self.share)
        return worked(stall.weakened_torque, whole, self.weaker)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers; level beyond the end, where nobody may look."""
        speeds, torques = self._plain
        on_curve = min(speeds[-1], speed * (self.voltage.number or 0.0) / voltage)
        share = self.weaker.number or 0.0
        return motor_curve.torque_on_curve(on_curve, speeds, torques) * share**2

    def reach(self, voltage: float) -> float:
        """Speed that belongs to the end of the curve at a voltage."""
        return self._plain[0][-1] * voltage / (self.voltage.number or 1.0)


@dataclass(frozen=True, eq=False)
class Lower:
    """A motor known twice: the lower torque counts."""

    one: Model
    other: Model

    @cached_property
    def peak(self) -> Value:
        """Largest torque at low speed."""
        return worked(fed_by_pack.weaker_torque, self.one.peak, self.other.peak)

    @cached_property
    def stalled(self) -> Value:
        """Torque that the inverter holds at standstill."""
        return worked(fed_by_pack.weaker_torque, self.one.stalled, self.other.stalled)

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return self.one.known and self.other.known

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque that both allow."""
        both = (self.one.at(speed, voltage), self.other.at(speed, voltage))
        return worked(fed_by_pack.weaker_torque, *both)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers."""
        return min(self.one.number(speed, voltage), self.other.number(speed, voltage))

    def reach(self, voltage: float) -> float:
        """Speed up to which both are known."""
        return min(self.one.reach(voltage), self.other.reach(voltage))

    def current_share(self, torque_share: float, speed: float, voltage: float) -> float:
        """That of the circuit, which is the first of the two."""
        return self.one.current_share(torque_share, speed, voltage)

    def copper(self, torque: float, speed: float, voltage: float) -> float | None:
        """That of the circuit."""
        return self.one.copper(torque, speed, voltage)
