"""Four ways to know a motor: circuit with magnets, circuit without, a curve, ratings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from wattwright.errors import FormulaError
from wattwright.physics import induction, motor_curve, pmsm
from wattwright.values import Value, worked

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
        """Work out the same in plain numbers, for searching; nought beyond what is known."""


def _numbers(values: tuple[Value, ...]) -> tuple[float, ...]:
    return tuple(value.number or 0.0 for value in values)


@dataclass(frozen=True, eq=False)
class ByMagnets:
    """A motor with magnets, by flux linkage, inductances and resistance."""

    current: Value
    d: Value
    peak: Value
    stalled: Value
    pole_pairs: Value
    flux: Value
    ld: Value
    lq: Value
    rs: Value

    @cached_property
    def _all(self) -> tuple[Value, ...]:
        return (self.current, self.pole_pairs, self.flux, self.ld, self.lq, self.rs)

    @cached_property
    def _plain(self) -> tuple[float, ...]:
        return _numbers(self._all)

    @cached_property
    def known(self) -> bool:
        """True where nothing is missing to tell its torque."""
        return all(value.known for value in (*self._all, self.peak))

    def at(self, speed: Value, voltage: Value) -> Value:
        """Torque at low speed while the voltage is enough for it with room to spare, else less."""
        clear = _CLEAR * (voltage.number or 0.0) / math.sqrt(3)
        if self.known and speed.number is not None and self._needed(speed.number) < clear:
            return self.peak
        return worked(pmsm.torque_limit, speed, voltage, *self._all, self.d)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers."""
        if self._needed(speed) <= voltage / math.sqrt(3):
            return self.peak.number or 0.0
        current, pole_pairs, flux, ld, lq, rs = self._plain
        d = self.d.number or 0.0
        return pmsm.torque_limit(speed, voltage, current, pole_pairs, flux, ld, lq, rs, d)

    def _needed(self, speed: float) -> float:
        """Voltage that the currents of most torque need."""
        current, pole_pairs, flux, ld, lq, rs = self._plain
        d = self.d.number or 0.0
        q = math.sqrt(max(0.0, current**2 - d**2))
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


@dataclass(frozen=True, eq=False)
class ByRatings:
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


@dataclass(frozen=True, eq=False)
class ByCurve:
    """A motor known by points of torque against speed at a stated voltage."""

    peak: Value
    stalled: Value
    speeds: tuple[Value, ...]
    torques: tuple[Value, ...]
    voltage: Value
    share: Value

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
        return worked(motor_curve.torque_within, torque, self.share)

    def number(self, speed: float, voltage: float) -> float:
        """Work out the same in plain numbers; nought beyond the end of the curve."""
        on_curve = speed * (self.voltage.number or 0.0) / voltage
        try:
            return motor_curve.torque_on_curve(on_curve, *self._plain)
        except FormulaError:
            return 0.0
