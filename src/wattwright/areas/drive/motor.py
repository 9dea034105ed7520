"""What a motor gives at a speed and a voltage, by whichever data the builder has."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from wattwright.build.devices import Inverter, Motor
from wattwright.build.presence import said
from wattwright.errors import FormulaError
from wattwright.kinds import CURRENT, ROTATIONAL_SPEED, TORQUE
from wattwright.physics import motor_curve, pmsm, stall
from wattwright.values import Lack, Value, constant, lacking, smallest, worked

# So little below the voltage the currents of most torque need, the limit is the current alone.
_CLEAR = 0.999
_STANDSTILL = constant(ROTATIONAL_SPEED, 0.0, "standstill")


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


@dataclass(frozen=True, eq=False)
class ByCircuit:
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

    @property
    def _all(self) -> tuple[Value, ...]:
        return (self.current, self.pole_pairs, self.flux, self.ld, self.lq, self.rs)

    @property
    def known(self) -> bool:
        return all(value.known for value in self._all) and self.peak.known

    def at(self, speed: Value, voltage: Value) -> Value:
        if self._current_rules(speed, voltage):
            return self.peak
        return worked(pmsm.torque_limit, speed, voltage, *self._all, self.d)

    def _current_rules(self, speed: Value, voltage: Value) -> bool:
        if not (self.known and speed.known and voltage.known):
            return False
        current, *circuit = (value.number or 0.0 for value in self._all)
        d = self.d.number or 0.0
        q = math.sqrt(max(0.0, current**2 - d**2))
        needed = pmsm.phase_voltage(speed.number or 0.0, *circuit, d, q)
        return needed < _CLEAR * (voltage.number or 0.0) / math.sqrt(3)

    def number(self, speed: float, voltage: float) -> float:
        numbers = [value.number or 0.0 for value in self._all]
        return pmsm.torque_limit(speed, voltage, *numbers, self.d.number or 0.0)


@dataclass(frozen=True, eq=False)
class ByRatings:
    """A motor known by highest torque and power at a stated voltage."""

    peak: Value
    stalled: Value
    power: Value
    voltage: Value

    @property
    def known(self) -> bool:
        return self.peak.known and self.power.known and self.voltage.known

    def at(self, speed: Value, voltage: Value) -> Value:
        share = worked(motor_curve.voltage_ratio, voltage, self.voltage)
        power = worked(motor_curve.power_at_voltage, self.power, share)
        return worked(motor_curve.torque_of_ratings, speed, self.peak, power)

    def number(self, speed: float, voltage: float) -> float:
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

    @property
    def known(self) -> bool:
        return self.peak.known and self.voltage.known

    def at(self, speed: Value, voltage: Value) -> Value:
        share = worked(motor_curve.voltage_ratio, voltage, self.voltage)
        on_curve = worked(motor_curve.equivalent_speed, speed, share)
        torque = worked(motor_curve.torque_on_curve, on_curve, self.speeds, self.torques)
        return worked(motor_curve.torque_within, torque, self.share)

    def number(self, speed: float, voltage: float) -> float:
        on_curve = speed * (self.voltage.number or 0.0) / voltage
        numbers = ([v.number or 0.0 for v in row] for row in (self.speeds, self.torques))
        try:
            return motor_curve.torque_on_curve(on_curve, *numbers)
        except FormulaError:
            return 0.0


def model_of(motor: Motor, inverter: Inverter | None, lack: Lack) -> Model:
    """Choose by what the builder has: a curve, the circuit with magnets, or ratings."""
    current = largest_current(motor, inverter, lack)
    stall_current = inverter.stall_current if inverter else lacking(CURRENT, lack)
    if motor.curve.known:
        return _by_curve(motor, current, stall_current)
    circuit = (motor.flux, motor.ld, motor.lq, motor.pole_pairs, motor.rs)
    ratings = said(motor.peak_torque) or said(motor.peak_power)
    if motor.flux.absent or (ratings and not all(value.known for value in circuit)):
        peak = motor.peak_torque
        stalled = worked(stall.stalled_torque, peak, stall_current, current)
        return ByRatings(peak, stalled, motor.peak_power, motor.curve_voltage)
    d, peak = most_torque(motor, current)
    held = smallest(current, stall_current)
    return ByCircuit(
        current,
        d,
        peak,
        most_torque(motor, held)[1],
        motor.pole_pairs,
        motor.flux,
        motor.ld,
        motor.lq,
        motor.rs,
    )


def _by_curve(motor: Motor, current: Value, stall_current: Value) -> ByCurve:
    speeds = tuple(constant(ROTATIONAL_SPEED, x, "point of the curve") for x in motor.curve.x)
    torques = tuple(constant(TORQUE, y, "point of the curve") for y in motor.curve.y)
    first = worked(motor_curve.torque_on_curve, _STANDSTILL, speeds, torques)
    peak = worked(motor_curve.torque_within, first, motor.curve.share)
    stalled = worked(stall.stalled_torque, peak, stall_current, current)
    return ByCurve(peak, stalled, speeds, torques, motor.curve_voltage, motor.curve.share)


def largest_current(motor: Motor, inverter: Inverter | None, lack: Lack) -> Value:
    """Largest current that both motor and inverter bear."""
    if inverter is None:
        return lacking(CURRENT, lack)
    return smallest(motor.current_limit, inverter.phase_current)


def most_torque(motor: Motor, current: Value) -> tuple[Value, Value]:
    """Current along the magnets at which a current gives most torque, and that torque."""
    d = worked(pmsm.mtpa_d_current, current, motor.flux, motor.ld, motor.lq)
    q = worked(pmsm.q_current, current, d)
    circuit = (motor.pole_pairs, motor.flux, motor.ld, motor.lq)
    return d, worked(pmsm.torque, *circuit, d, q)


def inverter_of(inverters: Mapping[str, Inverter], motor: Motor) -> Inverter | None:
    """Find the inverter that feeds a motor: the one it names, or the only one there is."""
    if motor.fed_by:
        return inverters.get(motor.fed_by)
    return next(iter(inverters.values())) if len(inverters) == 1 else None


def no_inverter(motor: str) -> Lack:
    """What is missing where nobody said which inverter feeds a motor."""
    return Lack(
        f"part.{motor}.fed_by",
        "the inverter that feeds the motor",
        "not given",
        "give the inverter kind = inverter; where there are several, follow the three phase cables "
        "and write its name as fed_by of the motor",
        2,
    )
