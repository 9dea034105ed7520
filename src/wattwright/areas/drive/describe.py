"""Speeds of the motor in each gear, and what its magnets do when nobody switches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.build.devices import Inverter, Motor, OnThePack
from wattwright.build.drive import Driveline, Gear
from wattwright.build.parts import Part
from wattwright.build.vehicle import Targets, Tyre, Tyres
from wattwright.descriptions.drive import DriveDescription, GearSpeeds, Generation, Pull
from wattwright.descriptions.pack import PackDescription
from wattwright.errors import FormulaError
from wattwright.kinds import CURRENT, LENGTH, TEMPERATURE
from wattwright.physics import diode_generation, gearing, pmsm, rolling_radius
from wattwright.values import (
    Given,
    Lack,
    Origin,
    Value,
    asked_for,
    constant,
    either,
    given,
    lacking,
    largest,
    smallest,
    worked,
)

_REFERENCE = constant(TEMPERATURE, 293.15, "20 °C, at which flux linkage is given")
# What a size says of the rolled distance beside what tyres of that size really roll.
_SIZE_BAND = 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """The records of the build that the drive area reads."""

    part: Mapping[str, Part]
    drive: Driveline
    tyre: Tyres
    targets: Targets

    @property
    def motors(self) -> dict[str, Motor]:
        """Motors by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, Motor) and _kept(p)}

    @property
    def inverters(self) -> dict[str, Inverter]:
        """Inverters by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, Inverter) and _kept(p)}

    @property
    def high_voltage(self) -> dict[str, OnThePack]:
        """Everything that hangs on the pack, by name."""
        return {n: p for n, p in self.part.items() if isinstance(p, OnThePack) and _kept(p)}


def _kept(part: Part) -> bool:
    return part.state != "removed"


def describe(own: Own, pack: PackDescription) -> DriveDescription:
    """Work out speeds, EMF and what the motors give."""
    circumference = either(own.drive.rolling_circumference, _from_size(own))
    radius = worked(rolling_radius.rolling_radius, circumference)
    points = {name: _at_most_torque(own, name, motor) for name, motor in own.motors.items()}
    gears = {
        name: {
            gear: _speeds(own, record, radius, motor, points[name], pack)
            for gear, record in own.drive.gear.items()
        }
        for name, motor in own.motors.items()
    }
    return DriveDescription(
        circumference,
        gears,
        {n: _generation(motor, own.drive, pack, gears[n]) for n, motor in own.motors.items()},
        {n: _pull(motor, points[n], pack) for n, motor in own.motors.items()},
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Point:
    """Currents of most torque per ampere."""

    current: Value
    d: Value
    q: Value


def _at_most_torque(own: Own, name: str, motor: Motor) -> _Point:
    inverter = inverter_of(own, motor)
    current = (
        smallest(motor.current_limit, inverter.phase_current)
        if inverter
        else lacking(CURRENT, no_inverter(name))
    )
    d = worked(pmsm.mtpa_d_current, current, motor.flux, motor.ld, motor.lq)
    return _Point(current, d, worked(pmsm.q_current, current, d))


def inverter_of(own: Own, motor: Motor) -> Inverter | None:
    """Find the inverter that feeds a motor: the one it names, or the only one there is."""
    inverters = own.inverters
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


def _pull(motor: Motor, point: _Point, pack: PackDescription) -> Pull:
    circuit = (motor.pole_pairs, motor.flux, motor.ld, motor.lq)
    base_full, base_empty = (
        worked(pmsm.base_speed, voltage, *circuit, motor.rs, point.d, point.q)
        for voltage in (pack.v_max, pack.v_min)
    )
    return Pull(worked(pmsm.torque, *circuit, point.d, point.q), base_full, base_empty)


def _speeds(
    own: Own, gear: Gear, radius: Value, motor: Motor, point: _Point, pack: PackDescription
) -> GearSpeeds:
    ratio = worked(gearing.total_ratio, gear.ratio, own.drive.final_ratio)
    at_top = worked(gearing.motor_speed, own.targets.top_speed, ratio, radius)
    return GearSpeeds(
        at_top,
        worked(gearing.road_speed, motor.max_speed, ratio, radius),
        worked(
            pmsm.torque_limit,
            at_top,
            pack.v_min,
            point.current,
            motor.pole_pairs,
            motor.flux,
            motor.ld,
            motor.lq,
            motor.rs,
            point.d,
        ),
    )


def _generation(
    motor: Motor, drive: Driveline, pack: PackDescription, gears: Mapping[str, GearSpeeds]
) -> Generation:
    cold = worked(
        pmsm.flux_at_temperature,
        motor.flux,
        drive.flux_loss,
        _REFERENCE,
        drive.coldest_magnets,
    )
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


def _from_size(own: Own) -> Value:
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
