"""What carries the torque between motor and gearbox, against the hardest start and a fault."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.mounts import coupling_checks as checks
from wattwright.areas.mounts.sizes import judge_bolt_size, judge_key_size
from wattwright.build.coupling import Coupling
from wattwright.build.joints import Flange, Key, Spline
from wattwright.build.presence import said
from wattwright.descriptions.drive import Load
from wattwright.findings import Figure, Finding
from wattwright.kinds import TORQUE
from wattwright.physics import friction_joint, key
from wattwright.values import Lack, Value, lacking, worked

_NO_LINK = Lack(
    "coupling.link",
    "coupling: link of the driveline that it is",
    "not given",
    'write [drive.link.coupler] with what it turns with, and link = "coupler" in [coupling]',
    5.0,
)


def judge_joints(own: Coupling, links: Mapping[str, Load] | None) -> Iterator[Finding | Figure]:
    """State what every joint that was written down carries, and whether its parts are standard."""
    if said(own.key):
        yield from judge_key_size(own.key)
    if said(own.flange):
        yield from judge_bolt_size(own.flange)
    load = (links or {}).get(own.link)
    none = lacking(TORQUE, _NO_LINK)
    torques = {
        "launch": load.launch if load is not None else none,
        "fault": load.fault if load is not None else none,
    }
    slips = worked(
        friction_joint.flange_torque,
        own.flange.bolts,
        own.flange.clamp,
        own.flange.friction,
        own.flange.circle,
    )
    holds = worked(
        friction_joint.cone_torque,
        own.taper.pull,
        own.taper.friction,
        own.taper.mean_diameter,
        own.taper.half_angle,
    )
    for about, torque in torques.items():
        if said(own.key):
            yield from _key(own.key, torque, about)
        if said(own.spline):
            yield checks.SPLINE.at_most(
                _spline(own.spline, torque), own.spline.pressure_allowed, about
            )
        if said(own.flange):
            yield checks.FLANGE.at_most(torque, slips, about)
            yield checks.BOLTS.at_most(_bolts(own.flange, torque), own.flange.shear_allowed, about)
        if said(own.taper):
            yield checks.TAPER.at_most(torque, holds, about)


def _key(own: Key, torque: Value, about: str) -> Iterator[Finding]:
    shear = worked(key.key_shear, torque, own.diameter, own.width, own.length)
    pressure = worked(key.key_pressure, torque, own.diameter, own.height, own.length)
    yield checks.KEY_SHEAR.at_most(shear, own.shear_allowed, about)
    yield checks.KEY_PRESSURE.at_most(pressure, own.pressure_allowed, about)


def _spline(own: Spline, torque: Value) -> Value:
    return worked(
        key.spline_pressure,
        torque,
        own.mean_diameter,
        own.teeth,
        own.flank,
        own.length,
        own.bearing,
    )


def _bolts(own: Flange, torque: Value) -> Value:
    return worked(friction_joint.flange_bolt_shear, torque, own.bolts, own.bolt, own.circle)
