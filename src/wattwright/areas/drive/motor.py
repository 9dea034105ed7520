"""Which of the ways to know a motor the builder's data allows, and who feeds it."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.areas.drive.models import ByCurve, ByInduction, ByMagnets, ByRatings, Model
from wattwright.build.devices import Inverter
from wattwright.build.motor import Motor
from wattwright.build.presence import said
from wattwright.kinds import CURRENT, ROTATIONAL_SPEED, TORQUE
from wattwright.physics import induction, motor_curve, pmsm, stall
from wattwright.values import Lack, Value, constant, lacking, smallest, worked

_STANDSTILL = constant(ROTATIONAL_SPEED, 0.0, "standstill")


def model_of(motor: Motor, inverter: Inverter | None, lack: Lack) -> Model:
    """Choose by what the builder has.

    A curve, which knows the real iron; else the circuit, with magnets or without; else ratings.
    Where nothing is said at all, the ratings are asked for: they stand on the plate.
    """
    current = _largest_current(motor, inverter, lack)
    held = inverter.stall_current if inverter else lacking(CURRENT, lack)
    if motor.curve.known:
        return _by_curve(motor, current, held)
    if motor.flux.absent and _said_any(motor, "magnetising", "rotor_resistance"):
        return _by_induction(motor, current, held)
    if not motor.flux.absent and (_magnets_known(motor) or not _rated(motor)):
        return _by_magnets(motor, current, held)
    stalled = worked(stall.stalled_torque, motor.peak_torque, held, current)
    return ByRatings(motor.peak_torque, stalled, motor.peak_power, motor.curve_voltage)


def _said_any(motor: Motor, *names: str) -> bool:
    return any(said(getattr(motor, name)) for name in names)


def _magnets_known(motor: Motor) -> bool:
    circuit = (motor.flux, motor.ld, motor.lq, motor.pole_pairs, motor.rs)
    return all(value.known for value in circuit)


def _rated(motor: Motor) -> bool:
    circuit = _said_any(motor, "flux", "ld", "lq", "pole_pairs", "rs")
    return _said_any(motor, "peak_torque", "peak_power") or not circuit


def _by_magnets(motor: Motor, current: Value, held: Value) -> ByMagnets:
    d, peak = _most_torque(motor, current)
    stalled = _most_torque(motor, smallest(current, held))[1]
    circuit = (motor.pole_pairs, motor.flux, motor.ld, motor.lq, motor.rs)
    return ByMagnets(current, d, peak, stalled, *circuit)


def _most_torque(motor: Motor, current: Value) -> tuple[Value, Value]:
    """Current along the magnets at which a current gives most torque, and that torque."""
    d = worked(pmsm.mtpa_d_current, current, motor.flux, motor.ld, motor.lq)
    q = worked(pmsm.q_current, current, d)
    return d, worked(pmsm.torque, motor.pole_pairs, motor.flux, motor.ld, motor.lq, d, q)


def _by_induction(motor: Motor, current: Value, held: Value) -> ByInduction:
    leakages = (motor.magnetising, motor.rotor_leakage)
    leakage = worked(induction.leakage, motor.stator_leakage, *leakages)
    field = worked(induction.rotor_flux_inductance, *leakages)
    rotor = worked(induction.rotor_flux_resistance, motor.rotor_resistance, *leakages)
    circuit = (motor.pole_pairs, motor.rs, leakage, field, rotor)

    def largest(amperes: Value) -> tuple[Value, Value]:
        split = worked(induction.current_ratio, amperes, motor.magnetising_current)
        limits = (amperes, motor.magnetising_current)
        # At standstill any pack has voltage enough; the one the curve is for stands in.
        d = worked(induction.magnetising_at, *limits)
        q = worked(pmsm.q_current, amperes, d)
        return split, worked(induction.torque, motor.pole_pairs, field, d, q)

    split, peak = largest(current)
    stalled = largest(smallest(current, held))[1]
    return ByInduction(current, motor.magnetising_current, *circuit, split, peak, stalled)


def _by_curve(motor: Motor, current: Value, held: Value) -> ByCurve:
    speeds = tuple(constant(ROTATIONAL_SPEED, x, "point of the curve") for x in motor.curve.x)
    torques = tuple(constant(TORQUE, y, "point of the curve") for y in motor.curve.y)
    first = worked(motor_curve.torque_on_curve, _STANDSTILL, speeds, torques)
    peak = worked(motor_curve.torque_within, first, motor.curve.share)
    stalled = worked(stall.stalled_torque, peak, held, current)
    return ByCurve(peak, stalled, speeds, torques, motor.curve_voltage, motor.curve.share)


def _largest_current(motor: Motor, inverter: Inverter | None, lack: Lack) -> Value:
    """Largest current that both motor and inverter bear."""
    if inverter is None:
        return lacking(CURRENT, lack)
    return smallest(motor.current_limit, inverter.phase_current)


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
