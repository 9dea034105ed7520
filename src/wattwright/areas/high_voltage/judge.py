"""Every power cable against its limits and its fuse."""

from __future__ import annotations

from collections.abc import Iterator

from wattwright.areas.high_voltage import against, checks, currents
from wattwright.areas.high_voltage.describe import laid
from wattwright.areas.high_voltage.followed import Followed
from wattwright.areas.high_voltage.own import Own, is_phases
from wattwright.areas.wired import Wired
from wattwright.build.cables import Cable
from wattwright.build.devices import Fuse
from wattwright.descriptions.drive import DriveDescription
from wattwright.descriptions.duty import Duties
from wattwright.descriptions.high_voltage import CableFound, HighVoltageDescription
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import CURRENT, JOULE_INTEGRAL, TIME, VOLTAGE
from wattwright.physics import conductor, contact, fuse
from wattwright.values import Lack, Value, constant, exceeds, lacking, nonexistent, worked

Said = Iterator[Finding | Figure]


def judge(
    own: Own,
    found: HighVoltageDescription,
    pack: PackDescription,
    drive: DriveDescription,
    duties: Duties,
) -> Said:
    """Compare every cable with what it bears."""
    for name, cable in own.cables.items():
        seen, run = found.cables[name], laid(name, cable)
        current = currents.for_hours(own, name, cable, pack, drive, duties)
        warm = run.warm(current)
        yield from _for_hours(name, cable, seen, current, warm)
        if currents.has_peak(own, cable):
            yield _peak(own, name, cable, seen, run, warm)
        yield from _lost(name, cable, run, current, warm, pack)
        yield checks.RATED_VOLTAGE.at_least(cable.rated_voltage, pack.v_max, name)
        if is_phases(cable):
            yield checks.FUSED.of(nonexistent(CURRENT), name)
        else:
            yield from _fused(own, name, cable, seen, run, current, warm)
        yield checks.BEND.at_least(cable.bend, seen.bend, name)
        yield checks.CLIPS.at_most(cable.clips, cable.clips_limit, name)


def _for_hours(name: str, cable: Cable, seen: CableFound, current: Value, warm: Value) -> Said:
    yield checks.TEMPERATURE_HELD.at_most(warm, seen.limit, name)
    yield checks.CURRENT_HELD.at_most(current, seen.allows, name)
    yield checks.ROUTE.of(cable.wire.length, name)
    yield checks.SIZE.of(cable.wire.section, name)
    yield checks.CARRIED.of(current, name)
    yield checks.WARM.of(warm, name)
    yield checks.LUG_HEAT.of(worked(contact.contact_heat, current, cable.lug_contact), name)


def _peak(own: Own, name: str, cable: Cable, seen: CableFound, run: Wired, warm: Value) -> Finding:
    """Temperature at the highest current: for hours where it carries that, else for its time."""
    reached = run.warm(seen.peak)
    if exceeds(seen.peak, seen.allows):
        followed = Followed(run, warm, seen.limit, seen.allows)
        reached = followed.after(seen.peak, _kept_time(own, name, cable))
    return checks.PEAK.at_most(reached, seen.limit, name)


def _kept_time(own: Own, name: str, cable: Cable) -> Value:
    """Time of the highest current, which counts only where a part is named that keeps it."""
    if own.kept(cable):
        return cable.peak_time
    path = f"part.{name}.kept_by"
    words = f"{name.replace('_', ' ')}: what keeps its highest current and the time of it"
    said = f"{cable.kept_by} is removed" if cable.kept_by else "not given"
    why = f"{said}: it would not carry that current for hours"
    how = (
        "read the current and the time that inverter or management is set to, or the fuse's "
        "curve; name that part, and write the time as peak_time"
    )
    return lacking(TIME, Lack(path, words, why, how, 10))


def _lost(
    name: str, cable: Cable, run: Wired, current: Value, warm: Value, pack: PackDescription
) -> Said:
    one = worked(conductor.when_warm, run.per_length, run.coefficient, warm)
    all_of_them = worked(conductor.of_loop, one, run.length, cable.conductors)
    yield checks.HEAT.of(worked(conductor.power_lost, current, all_of_them), name)
    if is_phases(cable):
        yield checks.LOST.of(nonexistent(VOLTAGE), name)
        return
    lost = worked(conductor.voltage_lost, current, run.loop(warm))
    yield checks.LOST.of(lost, name)
    share = worked(conductor.share_lost, lost, pack.v_min)
    yield checks.DROP.at_most(share, cable.drop_limit, name)


def _fused(
    own: Own,
    name: str,
    cable: Cable,
    seen: CableFound,
    run: Wired,
    current: Value,
    warm: Value,
) -> Said:
    """What protects it: without a fuse that is named nothing is known to."""
    yield checks.FAULT.of(seen.fault, name)
    device = own.fuse(cable)
    if device is None:
        path, words = f"part.{name}.fuse", f"{name.replace('_', ' ')}: fuse that protects it"
        how = "follow it back towards the pack to the first fuse, and name that part"
        why = f"{cable.fuse} is removed" if cable.fuse else "not given"
        missing = lacking(CURRENT, Lack(path, words, why, how, 10))
        yield checks.FUSED.of(missing, name)
        yield checks.FUSE_RATING.at_most(missing, seen.allows, name)
        return
    yield checks.FUSED.of(device.current, name)
    yield checks.FUSE_CARRIES.at_most(current, device.current, name)
    yield checks.FUSE_BREAKS.at_most(seen.fault, device.breaks, name)
    if not device.opening_curve.known:
        yield checks.FUSE_RATING.at_most(device.current, seen.allows, name)
        through = lacking(JOULE_INTEGRAL, next(iter(device.opening_curve.share.lacks)))
        yield checks.WITHSTAND.at_most(through, seen.withstand, name)
        return
    yield from _by_curve(name, cable, seen, run, warm, device)


def _by_curve(
    name: str, cable: Cable, seen: CableFound, run: Wired, warm: Value, device: Fuse
) -> Said:
    curve = device.opening_curve
    first = constant(CURRENT, curve.x[0], "first current of the fuse's curve")
    yield checks.FUSE_REACH.at_most(first, seen.overloads, name)
    followed = Followed(run, warm, seen.overload_limit, seen.overloads)
    stands, at = against.closest(followed, seen.fault, curve)
    yield checks.FUSE_CURVE.at_least(stands, at, name)
    through = worked(fuse.let_through, seen.fault, against.opens_after(curve, seen.fault))
    if (seen.fault.number or 0.0) > curve.x[-1]:
        path, words = (
            f"part.{cable.fuse}.opening_curve",
            f"{cable.fuse.replace('_', ' ')}: its curve",
        )
        why = f"it ends at {curve.x[-1]:.0f} A, and the short circuit gives {seen.fault.number:.0f}"
        how = "maker's printed curve or table: one more point at the short-circuit current"
        through = lacking(JOULE_INTEGRAL, Lack(path, words, f"{why} A", how, 10))
    yield checks.WITHSTAND.at_most(through, seen.withstand, name)
