"""What each cable carries: for hours, and at its highest for a while."""

from __future__ import annotations

from wattwright.areas.high_voltage.own import Own, is_phases
from wattwright.areas.traction import TEN_MINUTES, draws, pack_currents, worst
from wattwright.build.cables import Cable
from wattwright.build.devices import Charger, OnThePack
from wattwright.build.presence import said
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Duties
from wattwright.descriptions.pack import PackDescription
from wattwright.kinds import CURRENT
from wattwright.physics import cable_heat, fed_by_pack
from wattwright.values import Lack, Value, either, lacking, worked

_HOW = "clamp meter for direct current on the cable, or the maker's sheet of what it feeds"


def for_hours(
    own: Own,
    name: str,
    cable: Cable,
    pack: PackDescription,
    drive: DriveDescription,
    duties: Duties,
) -> Value:
    """Current it carries for hours: as typed, else what the device or the drive draws."""
    if said(cable.carries):
        return cable.carries
    if is_phases(cable):
        return _phase(own, name, cable, duties)
    fed = [part for part in own.ends(cable).values() if draws(part)]
    if not fed:
        found = pack_currents(duties)
        return worst(found) if found else drive.thirty_current
    return worst(_drawn(part, pack) for part in fed if isinstance(part, OnThePack))


def _drawn(part: OnThePack, pack: PackDescription) -> Value:
    """Current of a device; a charger gives its power at the pack's lowest voltage at most."""
    if not isinstance(part, Charger):
        return part.current
    by_power = worked(fed_by_pack.current_at_voltage, part.output_power, pack.v_min)
    return either(part.current, by_power)


def _phase(own: Own, name: str, cable: Cable, duties: Duties) -> Value:
    """Effective phase current over ten minutes, in the hardest use."""
    motor = own.motor(cable)
    peaks = [
        duty.phase_current[motor].by_window[TEN_MINUTES]
        for duty in duties.uses.values()
        if motor in duty.phase_current
    ]
    if not peaks:
        why = "not given, and no use says what the motor draws"
        path = f"part.{name}.carries"
        words = f"{name.replace('_', ' ')}: current it carries for hours"
        return lacking(CURRENT, Lack(path, words, why, _HOW, 10))
    return worked(cable_heat.effective_current, worst(peaks))


def highest(own: Own, cable: Cable, pack: PackDescription) -> Value:
    """Highest current: as typed, else what inverter or battery management allows."""
    if said(cable.peak):
        return cable.peak
    inverter = own.inverter(cable)
    if is_phases(cable) and inverter is not None:
        allowed = worked(cable_heat.effective_current, inverter.phase_current)
        return either(allowed, cable.peak, asking=1)
    return either(pack.cells.discharge_current, cable.peak, asking=1)


def has_peak(own: Own, cable: Cable) -> bool:
    """Say whether more may go through it for a while: traction, or where it is written."""
    return said(cable.peak) or not any(draws(part) for part in own.ends(cable).values())
