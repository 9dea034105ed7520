"""Speeds of the motor in each gear, what it gives there, and what its magnets do unswitched."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.areas.drive.models import ByInduction, ByMagnets, ByRatings, Lower, Model
from wattwright.areas.drive.motor import Feeding, flux_at
from wattwright.areas.drive.own import Own
from wattwright.build.drive import Driveline, Gear
from wattwright.build.motor import Motor
from wattwright.build.presence import said
from wattwright.build.vehicle import Tyre
from wattwright.descriptions.drive import GearSpeeds, Generation, Pull
from wattwright.descriptions.pack import PackDescription
from wattwright.errors import FormulaError
from wattwright.kinds import LENGTH, ROTATIONAL_SPEED, TIME
from wattwright.physics import (
    diode_generation,
    fed_by_pack,
    gearing,
    induction,
    motor_curve,
    pmsm,
    rolling_radius,
)
from wattwright.values import (
    Given,
    Origin,
    Value,
    asked_for,
    given,
    largest,
    nonexistent,
    worked,
)

# What a size says of the rolled distance beside what tyres of that size really roll.
_SIZE_BAND = 0.02


def pull_of(motor: Motor, model: Model, feeding: Feeding, pack: PackDescription) -> Pull:
    """Work out what one motor gives at low speed, and where its voltage runs out."""
    known_by = model.one if isinstance(model, Lower) else model
    full, empty = (_corner(known_by, voltage) for voltage in (pack.v_max, pack.v_min))
    return Pull(model.peak, model.stalled, full, empty, _hold_time(motor, feeding))


def _hold_time(motor: Motor, feeding: Feeding) -> Value:
    """Time to the limit of the windings by copper as hot as that limit; not before it is asked."""
    if not said(motor.heat_capacity):
        return nonexistent(TIME)
    resistance = worked(fed_by_pack.hot_resistance, motor.rs, motor.winding_limit)
    loss = worked(fed_by_pack.copper_loss, resistance, feeding.current)
    body = (motor.heat_capacity, motor.thermal_resistance)
    return worked(fed_by_pack.time_to_limit, *body, loss, motor.warm, motor.winding_limit)


def _corner(model: Model, voltage: Value) -> Value:
    """Corner of a motor known by its ratings; a curve shows its own."""
    if isinstance(model, ByInduction):
        return _induction_corner(model, voltage)
    if isinstance(model, ByMagnets):
        circuit = (model.pole_pairs, model.flux, model.ld, model.lq, model.rs)
        return worked(pmsm.base_speed, voltage, *circuit, model.d, model.q)
    if isinstance(model, ByRatings):
        share = worked(motor_curve.voltage_ratio, voltage, model.voltage)
        power = worked(motor_curve.power_at_voltage, model.power, share)
        return worked(motor_curve.corner_speed, model.peak, power)
    return nonexistent(ROTATIONAL_SPEED)


def _induction_corner(model: ByInduction, voltage: Value) -> Value:
    d = worked(induction.magnetising_at, model.current, model.magnetising_limit)
    q = worked(pmsm.q_current, model.current, d)
    slip = worked(induction.slip_speed, model.field, model.rotor, d, q)
    circuit = (model.pole_pairs, model.rs, model.leakage, model.field)
    return worked(induction.base_speed, voltage, slip, *circuit, d, q)


def speeds_in(
    own: Own, gear: Gear, radius: Value, motor: Motor, model: Model, pack: PackDescription
) -> GearSpeeds:
    """Work out the speeds of one motor in one gear."""
    ratio = worked(gearing.total_ratio, gear.ratio, own.drive.final_ratio)
    at_top = worked(gearing.motor_speed, own.targets.top_speed, ratio, radius)
    return GearSpeeds(
        at_top,
        worked(gearing.road_speed, motor.max_speed, ratio, radius),
        model.at(at_top, pack.v_min),
    )


def generation_of(
    motor: Motor, drive: Driveline, pack: PackDescription, gears: Mapping[str, GearSpeeds]
) -> Generation:
    """Work out what the magnets of one motor do when the inverter stops switching."""
    cold = flux_at(motor, drive, drive.coldest_magnets)
    # A missed downshift can turn the motor to its very limit, so its EMF counts there; how fast
    # it turns in planned driving is what counts for generation.
    emf = worked(pmsm.line_emf_peak, motor.max_speed, cold, motor.pole_pairs)
    fastest = largest(*(gear.motor_at_top for gear in gears.values())) if gears else motor.max_speed
    begins = worked(pmsm.speed_of_emf, pack.v_min, cold, motor.pole_pairs)
    phase = worked(pmsm.phase_emf_peak, fastest, cold, motor.pole_pairs)
    diodes = worked(diode_generation.diode_voltage, pack.v_min)
    peak = worked(
        diode_generation.generated_current,
        phase,
        diodes,
        fastest,
        motor.pole_pairs,
        motor.ld,
        motor.lq,
    )
    direct = worked(diode_generation.generated_dc_current, peak)
    return Generation(
        emf,
        begins,
        fastest,
        direct,
        worked(diode_generation.generated_torque, pack.v_min, direct, fastest),
    )


def rolling_from_size(own: Own) -> Value:
    """Rolled distance that follows from the size of the driven tyres: typical, never exact."""
    if own.drive.driven is None and own.tyre.front.size != own.tyre.rear.size:
        return own.drive.rolling_circumference
    axle = "front" if own.drive.driven == "front" else "rear"
    tyre: Tyre = own.tyre.front if axle == "front" else own.tyre.rear
    if not tyre.size:
        return own.drive.rolling_circumference
    try:
        size = rolling_radius.read_size(tyre.size)
    except FormulaError:
        return own.drive.rolling_circumference
    if not size.limits:
        return asked_for(own.drive.rolling_circumference, "diameter of this size is from memory")
    origin = Given(
        f"tyre.{axle}.size",
        f"tyre {axle}: diameter that belongs to the size",
        Origin.TYPICAL,
        tyre.size,
        _SIZE_BAND * size.diameter,
        "± 2 % between makes and with wear",
        how="chalk mark on tyre and floor, roll five turns with the driver aboard, tape, divide; "
        "write it as drive.rolling_circumference",
        minutes=10,
    )
    diameter = given(LENGTH, size.diameter, origin)
    factor = (
        rolling_radius.rolling_circumference
        if size.radial
        else rolling_radius.cross_ply_circumference
    )
    return worked(factor, diameter)
