"""Which of the ways to know a motor the builder's data allows, and who feeds it."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.areas.drive.models import (
    ByCurve,
    ByInduction,
    ByMagnets,
    ByRatings,
    Lower,
    Model,
)
from wattwright.build.devices import Inverter
from wattwright.build.drive import Driveline
from wattwright.build.motor import Motor
from wattwright.build.presence import said
from wattwright.kinds import CURRENT, FRACTION, ROTATIONAL_SPEED, TEMPERATURE, TORQUE
from wattwright.physics import induction, motor_curve, pmsm, stall
from wattwright.values import Lack, Value, constant, either, lacking, smallest, worked

REFERENCE = constant(TEMPERATURE, 293.15, "20 °C, at which flux linkage is given")
_STANDSTILL = constant(ROTATIONAL_SPEED, 0.0, "standstill")
_NONE_LOST = constant(FRACTION, 0.0, "without saturation")


class Feeding:
    """Currents that motor and inverter allow together."""

    def __init__(self, motor: Motor, inverter: Inverter | None, lack: Lack) -> None:
        if inverter is None:
            self.current = self.held = lacking(CURRENT, lack)
        else:
            self.current = smallest(motor.current_limit, inverter.phase_current)
            self.held = smallest(self.current, inverter.stall_current)
        known_for = either(motor.curve_current, motor.current_limit)
        self.share = worked(stall.current_share, self.current, known_for)
        self.held_share = worked(stall.current_share, self.held, known_for)


def model_of(motor: Motor, drive: Driveline, feeding: Feeding) -> Model:
    """Choose by what the builder has, on the cautious side.

    A curve, which knows the real iron; else the circuit, with magnets or without, and never more
    than the ratings beside it; else ratings. Where nothing is said at all, the ratings are asked
    for: they stand on the plate.
    """
    if motor.curve.known:
        return _by_curve(motor, feeding)
    rated = said(motor.peak_torque) or said(motor.peak_power)
    if motor.flux.absent and _said_any(motor, "magnetising", "rotor_resistance"):
        model: Model = _by_induction(motor, feeding)
    elif not motor.flux.absent and (
        magnets_known(motor) or (not rated and _said_any(motor, *_CIRCUIT))
    ):
        hot = flux_at(motor, drive, drive.hottest_magnets)
        model = by_magnets(motor, feeding, hot, motor.saturation)
    else:
        return _by_ratings(motor, feeding)
    return Lower(model, _by_ratings(motor, feeding)) if rated else model


_CIRCUIT = ("flux", "ld", "lq", "pole_pairs", "rs")


def _said_any(motor: Motor, *names: str) -> bool:
    return any(said(getattr(motor, name)) for name in names)


def magnets_known(motor: Motor) -> bool:
    """True where the whole circuit of a motor with magnets is known."""
    return all(getattr(motor, name).known for name in _CIRCUIT)


def flux_at(motor: Motor, drive: Driveline, temperature: Value) -> Value:
    """Flux linkage with the magnets at a temperature."""
    return worked(pmsm.flux_at_temperature, motor.flux, drive.flux_loss, REFERENCE, temperature)


def by_magnets(motor: Motor, feeding: Feeding, flux: Value, loss: Value = _NONE_LOST) -> ByMagnets:
    """Take the circuit of a motor with magnets of a flux, less what saturation takes."""
    d, q, peak = _most_torque(motor, flux, feeding.current, loss)
    *_, stalled = _most_torque(motor, flux, feeding.held, loss)
    circuit = (motor.pole_pairs, flux, motor.ld, motor.lq, motor.rs)
    return ByMagnets(feeding.current, d, q, peak, stalled, *circuit, loss)


def _most_torque(
    motor: Motor, flux: Value, current: Value, loss: Value
) -> tuple[Value, Value, Value]:
    """Currents along and across the magnets that give most torque, and that torque."""
    d = worked(pmsm.mtpa_d_current, current, flux, motor.ld, motor.lq)
    q = worked(pmsm.q_current, current, d)
    torque = worked(pmsm.torque, motor.pole_pairs, flux, motor.ld, motor.lq, d, q)
    return d, q, torque if loss is _NONE_LOST else worked(stall.saturated_torque, torque, loss)


def _by_induction(motor: Motor, feeding: Feeding) -> ByInduction:
    leakages = (motor.magnetising, motor.rotor_leakage)
    leakage = worked(induction.leakage, motor.stator_leakage, *leakages)
    field = worked(induction.rotor_flux_inductance, *leakages)
    rotor = worked(induction.rotor_flux_resistance, motor.rotor_resistance, *leakages)
    circuit = (motor.pole_pairs, motor.rs, leakage, field, rotor)

    def most(current: Value) -> Value:
        d = worked(induction.magnetising_at, current, motor.magnetising_current)
        q = worked(pmsm.q_current, current, d)
        return worked(induction.torque, motor.pole_pairs, field, d, q)

    split = worked(induction.current_ratio, feeding.current, motor.magnetising_current)
    limits = (feeding.current, motor.magnetising_current)
    return ByInduction(*limits, *circuit, split, most(feeding.current), most(feeding.held))


def _by_ratings(motor: Motor, feeding: Feeding) -> ByRatings:
    return ByRatings(
        worked(stall.weakened_torque, motor.peak_torque, feeding.share),
        worked(stall.weakened_torque, motor.peak_torque, feeding.held_share),
        worked(stall.weakened_power, motor.peak_power, feeding.share),
        motor.curve_voltage,
    )


def _by_curve(motor: Motor, feeding: Feeding) -> ByCurve:
    speeds = tuple(constant(ROTATIONAL_SPEED, x, "point of the curve") for x in motor.curve.x)
    torques = tuple(constant(TORQUE, y, "point of the curve") for y in motor.curve.y)

    def of(torque: Value, share: Value) -> Value:
        whole = worked(motor_curve.torque_within, torque, motor.curve.share)
        return worked(stall.weakened_torque, whole, share)

    largest = max(torques, key=lambda torque: torque.number or 0.0)
    first = worked(motor_curve.torque_on_curve, _STANDSTILL, speeds, torques)
    return ByCurve(
        of(largest, feeding.share),
        of(first, feeding.held_share),
        speeds,
        torques,
        motor.curve_voltage,
        motor.curve.share,
        feeding.share,
    )


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
