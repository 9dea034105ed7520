"""Torque through everything between motor and road: driving hardest, and after a fault."""

from __future__ import annotations

from wattwright.areas.drive.fed import NO_MOTOR
from wattwright.areas.drive.models import ByMagnets, Model
from wattwright.areas.drive.own import Own
from wattwright.build.drive import Link
from wattwright.build.presence import said
from wattwright.descriptions.drive import Load
from wattwright.kinds import RATIO, TORQUE
from wattwright.physics import gearing, pmsm, shaft, short_circuit
from wattwright.values import Lack, Value, constant, either, exceeds, lacking, worked

_ONE = constant(RATIO, 1.0, "turns with the motor")
_HALF = constant(RATIO, 0.5, "one of two half-shafts")


def loads_of(own: Own, peak: Value, models: dict[str, Model]) -> dict[str, Load]:
    """Work out the torque through each link in the gear that multiplies it most."""
    fault = _fault_torque(models)
    return {
        name: Load(
            _strength(link),
            worked(gearing.torque_behind, peak, _gears_before(own, link)),
            worked(gearing.torque_behind, fault, _gears_before(own, link)),
        )
        for name, link in own.drive.link.items()
    }


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
    return worked(gearing.shared_ratio, whole, _HALF)


NO_GEAR = Lack(
    "drive.gear",
    "the gears",
    "not given",
    "write [drive.gear.NAME] with its ratio for each gear that is used; direct drive: one, ratio 1",
    10,
)


def _fault_torque(models: dict[str, Model]) -> Value:
    """Largest torque in the air gap when the inverter of one motor shorts its phases."""
    if not models:
        return lacking(TORQUE, NO_MOTOR)
    torques = [_shorted(name, model) for name, model in models.items()]
    unknown = [torque for torque in torques if not torque.known]
    return unknown[0] if unknown else max(torques, key=lambda torque: torque.number or 0.0)


def _shorted(name: str, model: Model) -> Value:
    if not isinstance(model, ByMagnets):
        return lacking(
            TORQUE,
            Lack(
                f"part.{name}.ld",
                f"{name}: torque when its phases are shorted",
                "needs flux linkage and inductances of the motor",
                "data sheet: short-circuit torque; else LCR meter between two phases, shaft turned",
                30,
            ),
        )
    q = worked(pmsm.q_current, model.current, model.d)
    linked = worked(short_circuit.stator_flux, model.flux, model.ld, model.lq, model.d, q)
    # With the field weakened the sum is no bound any more; with the magnets' own flux it is.
    linked = linked if exceeds(linked, model.flux) else model.flux
    return worked(
        short_circuit.greatest_short_circuit_torque,
        model.pole_pairs,
        linked,
        model.flux,
        model.ld,
        model.lq,
    )
