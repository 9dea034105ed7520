"""Torque through everything between motor and road: driving hardest, and after a fault."""

from __future__ import annotations

from collections.abc import Mapping

from wattwright.areas.drive.fed import NO_MOTOR, together
from wattwright.areas.drive.models import ByMagnets, Model
from wattwright.areas.drive.motor import Feeding, by_magnets, flux_at, magnets_known
from wattwright.areas.drive.own import Own
from wattwright.build.drive import Link
from wattwright.build.presence import said
from wattwright.descriptions.drive import Load
from wattwright.kinds import RATIO, TORQUE
from wattwright.physics import gearing, shaft, short_circuit
from wattwright.values import Lack, Value, constant, either, exceeds, lacking, worked

_ONE = constant(RATIO, 1.0, "turns with the motor")
_EVEN = constant(RATIO, 0.5, "one of two half-shafts, open differential")
_WHOLE = constant(RATIO, 1.0, "one half-shaft may get all of it")
_NO_DIFFERENTIAL = Lack(
    "drive.differential",
    "drive: the differential",
    "not given",
    "both driven wheels free, gear engaged: turn one; the other turns back: open; with it: locked",
    5,
)


def hardest_torques(
    own: Own, models: Mapping[str, Model], feedings: Mapping[str, Feeding]
) -> tuple[Value, Value]:
    """Most torque of the motors: driving, and in the air gap after a fault of an inverter."""
    cold = {name: _cold_magnets(own, name, feedings[name]) for name in models}
    launch = together([(cold[name] or models[name]).peak for name in models])
    return launch, _fault_torque(own, cold)


def loads_of(own: Own, launch: Value, fault: Value) -> dict[str, Load]:
    """Work out the torque through each link in the gear that multiplies it most."""
    loads = {}
    for name, link in own.drive.link.items():
        ratio = _gears_before(own, link)
        torques = (launch, fault, own.drive.regen.torque)
        driving, jolt, braking = (worked(gearing.torque_behind, each, ratio) for each in torques)
        strength = _strength(link)
        loads[name] = Load(
            strength,
            driving,
            jolt,
            worked(shaft.reversing_torque, driving, braking, link.reversing_share),
            worked(shaft.reversing_strength, strength, link.reversing_share),
        )
    return loads


def _cold_magnets(own: Own, name: str, feeding: Feeding) -> ByMagnets | None:
    """What cold magnets give without saturation: the most there may be."""
    motor = own.motors[name]
    if motor.curve.known or not magnets_known(motor):
        return None
    return by_magnets(motor, feeding, flux_at(motor, own.drive, own.drive.coldest_magnets))


def _strength(link: Link) -> Value:
    """Rating of the maker, or where the steel of the shaft begins to yield."""
    shear = worked(shaft.shear_yield, link.yield_strength)
    from_steel = worked(shaft.hollow_yield_torque, shear, link.diameter, link.bore)
    return either(link.torque, from_steel, asking=int(said(link.diameter)))


def _gears_before(own: Own, link: Link) -> Value:
    """Ratio from the motor to the link, in the lowest gear used."""
    if link.turns_with == "motor":
        return _ONE
    gears = [gear.ratio for gear in own.drive.gear.values()]
    if not gears:
        return lacking(RATIO, NO_GEAR)
    unknown = [ratio for ratio in gears if not ratio.known]
    lowest = unknown[0] if unknown else max(gears, key=lambda ratio: ratio.number or 0.0)
    if link.turns_with == "propshaft":
        return lowest
    whole = worked(gearing.total_ratio, lowest, own.drive.final_ratio)
    match own.drive.differential:
        case None:
            return lacking(RATIO, _NO_DIFFERENTIAL)
        case "open":
            return worked(gearing.shared_ratio, whole, _EVEN)
        case "locked":
            return worked(gearing.shared_ratio, whole, _WHOLE)


NO_GEAR = Lack(
    "drive.gear",
    "the gears",
    "not given",
    "write [drive.gear.NAME] with its ratio for each gear that is used; direct drive: one, ratio 1",
    10,
)


def _fault_torque(own: Own, cold: Mapping[str, ByMagnets | None]) -> Value:
    """Largest torque in the air gap when the inverter of one motor shorts its phases."""
    if not cold:
        return lacking(TORQUE, NO_MOTOR)
    torques = [_shorted(own, name, magnets) for name, magnets in cold.items()]
    unknown = [torque for torque in torques if not torque.known]
    return unknown[0] if unknown else max(torques, key=lambda torque: torque.number or 0.0)


def _shorted(own: Own, name: str, magnets: ByMagnets | None) -> Value:
    if magnets is None or own.motors[name].fault_torque.known:
        return own.motors[name].fault_torque
    flux, ld, lq = magnets.flux, magnets.ld, magnets.lq
    linked = worked(short_circuit.stator_flux, flux, ld, lq, magnets.d, magnets.q)
    # With the field weakened the sum is no bound any more; with the magnets' own flux it is.
    linked = linked if exceeds(linked, flux) else flux
    circuit = (magnets.pole_pairs, linked, flux, ld, lq)
    return worked(short_circuit.greatest_short_circuit_torque, *circuit)
