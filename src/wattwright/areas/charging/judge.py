"""Hold every outlet against its links, the charger's window, its earth, and the pack's cold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.charging import checks
from wattwright.areas.charging.links import FIXED, Aboard, no_box
from wattwright.build.outlets import Outlet, SupplyBox
from wattwright.descriptions.charging import LinkFound, OutletFound
from wattwright.descriptions.pack import PackDescription
from wattwright.findings import Figure, Finding
from wattwright.kinds import CURRENT, RATIO, TEMPERATURE_DIFFERENCE, VOLTAGE
from wattwright.physics import charge_chain, earth_fault
from wattwright.units import read
from wattwright.values import Lack, Value, constant, lacking, worked

Said = Iterator[Finding | Figure]

_SIX = constant(CURRENT, read("6 A", CURRENT).number, "smallest pilot")
_THIRTY = constant(
    TEMPERATURE_DIFFERENCE, read("30 K", TEMPERATURE_DIFFERENCE).number, "common practice"
)
_NEITHER = constant(RATIO, 0.0, "neither")
_YES, _NO = constant(RATIO, 1.0, "yes"), constant(RATIO, -1.0, "no")
# Systems in which a case is not held to the ground by anything.
_FLOATING = ("IT", "none")
_HALF = constant(RATIO, 0.5, "trips from half")
_MULTIPLES = {
    curve: constant(RATIO, multiple, f"curve {curve}")
    for curve, multiple in (("B", 5.0), ("C", 10.0), ("D", 20.0))
}
_ANY = constant(CURRENT, read("1 A", CURRENT).number, "nothing looks for it")
_BEARS_DC = {
    "none": constant(CURRENT, 0.0, "there is no such device"),
    "AC": constant(CURRENT, 0.0, "type AC bears none"),
    "A": constant(CURRENT, read("6 mA", CURRENT).number, "type A"),
    "F": constant(CURRENT, read("6 mA", CURRENT).number, "type F, as type A"),
}


def judge_outlet(
    name: str, outlet: Outlet, found: OutletFound, box: SupplyBox | None, aboard: Aboard
) -> Said:
    """State everything that is said of one outlet."""
    for link in found.links:
        yield from _link(name, link, found.draws)
    yield checks.SMALLEST.at_least(found.supply_allows, _SIX, name)
    low, high = (aboard.of_charger(VOLTAGE, each) for each in ("input_low", "input_high"))
    yield checks.VOLTS.at_least(found.volts, low, name)
    yield checks.VOLTS_HIGH.at_most(found.open_volts, high, name)
    if box is not None:
        yield checks.BOX_VOLTS.at_least(found.box_volts, box.stops_below, name)
    yield checks.DROP.at_most(found.drop, outlet.drop_most, name)
    if outlet.socket != FIXED:
        yield from _earth(name, outlet, found, box)
    yield from _figures(name, found)


def _link(name: str, link: LinkFound, draws: Value) -> Said:
    about = f"{name}/{link.name}"
    if not link.flows:
        yield checks.LINK.at_most(draws, link.allows, about)
    yield checks.WARM.at_most(link.warm, link.limit, about)
    yield checks.CONTACT.at_most(link.contact, _THIRTY, about)
    yield checks.LINK_ALLOWS.of(link.allows, about)
    yield checks.LINK_VOLTS.of(link.volts, about)
    yield checks.LINK_HEAT.of(link.heat, about)
    yield checks.LINK_WARM.of(link.warm, about)


def _earth(name: str, outlet: Outlet, found: OutletFound, box: SupplyBox | None) -> Said:
    earth = outlet.earth
    trips = worked(charge_chain.share_of_rating, earth.trips_at, _HALF)
    yield checks.LEAKAGE.at_most(found.leakage, trips, f"{name}/house")
    if box is not None:
        if earth.system in _FLOATING:
            path = f"supply_box.{outlet.box}.earth_check"
            refuses = _said(box.earth_check, path, f"{found.label}: box looks for an earth")
            yield checks.BEGINS.at_least(worked(charge_chain.opposite, refuses), _NEITHER, name)
        own = worked(charge_chain.share_of_rating, box.trips_at, _HALF)
        yield checks.LEAKAGE.at_most(found.leakage, own, f"{name}/box")
    if earth.device != "B":
        seen = box.dc_detection if box is not None else lacking(CURRENT, no_box(name))
        bears = _BEARS_DC.get(earth.device) or lacking(CURRENT, _no_device(name))
        yield checks.DC_RESIDUAL.at_most(_ANY if seen.absent else seen, bears, name)
    yield from _disconnection(name, outlet)


def _disconnection(name: str, outlet: Outlet) -> Said:
    """Say what the earth does in a fault, by the system it is."""
    earth = outlet.earth
    floating = worked(earth_fault.floating_voltage, outlet.voltage)
    match earth.system:
        case "TN":
            current = worked(earth_fault.loop_current, outlet.voltage, earth.loop)
            multiple = _MULTIPLES.get(outlet.breaker_curve) or lacking(RATIO, _no_curve(name))
            trip = worked(earth_fault.magnetic_trip, outlet.breaker, multiple)
            yield checks.LOOP.at_least(current, trip, name)
            yield checks.EARTH_PATH.of(earth.loop, name)
        case "TT":
            touch = worked(earth_fault.touch_voltage, earth.rod, earth.trips_at)
            yield checks.TOUCH.at_most(touch, earth.touch_limit, name)
            yield checks.EARTH_PATH.of(earth.rod, name)
        case system if system in _FLOATING:
            yield checks.TOUCH.at_most(floating, earth.touch_limit, name)
        case _:
            yield checks.TOUCH.at_most(lacking(VOLTAGE, _no_system(name)), earth.touch_limit, name)


def _figures(name: str, found: OutletFound) -> Said:
    charge = found.charge
    for declared, value in (
        (checks.CURRENT_ALLOWED, found.allows),
        (checks.DRAWN, found.draws),
        (checks.OPEN_VOLTS, found.open_volts),
        (checks.AT_CHARGER, found.volts),
        (checks.OUT_OF_WALL, found.power),
        (checks.INTO_PACK, charge.power),
        (checks.RATE, charge.rate),
        (checks.REACHED, charge.reached),
        (checks.TIME_TAKEN, charge.time),
        (checks.ENERGY_TAKEN, charge.energy),
        (checks.COST, charge.cost),
        (checks.LEAK, found.leakage),
    ):
        yield declared.of(value, name)
    if found.weakest:
        link = next(link for link in found.links if link.name == found.weakest)
        about = f"{name}/{link.name}"
        yield checks.WEAKEST.of(link.allows, about)
        yield checks.GAIN.of(found.gain, about)


def judge_otherwise(name: str, others: Mapping[str, OutletFound]) -> Said:
    """State what would come of other cords."""
    for key, found in others.items():
        about = f"{name}/{key}"
        for declared, value in zip(
            checks.OTHERWISE,
            (found.supply_allows, found.drop, found.volts, found.charge.time),
            strict=True,
        ):
            yield declared.of(value, about)


def judge_aboard(aboard: Aboard, pack: PackDescription) -> Said:
    """State what is said of the vehicle's own side."""
    inlet = aboard.charging.inlet
    yield checks.COLD.at_least(aboard.charging.cells, pack.cells.charge_cold_from)
    lock = _said(inlet.drive_lock, "charging.inlet.drive_lock", "drive lock while plugged in")
    yield checks.LOCK.at_least(lock, _NEITHER)
    yield checks.ISOLATED.at_least(_isolated(aboard), _NEITHER)


def _isolated(aboard: Aboard) -> Value:
    if aboard.charger is None:
        return lacking(RATIO, aboard.missing)
    (name,) = aboard.chargers
    return _said(
        aboard.charger.isolated, f"part.{name}.isolated", "charger isolated from the mains"
    )


def _said(answer: bool | None, path: str, label: str) -> Value:
    if answer is None:
        how = "maker's sheet, or try it as the field says"
        return lacking(RATIO, Lack(path, label, "not given", how, 10.0))
    return _YES if answer else _NO


def _no_device(name: str) -> Lack:
    how = "an electrician reads it off the device: AC, A, F or B; none where there is none"
    path = f"outlet.{name}.earth.device"
    return Lack(path, f"outlet {name}: residual-current device", "not given", how, 5.0)


def _no_curve(name: str) -> Lack:
    how = "the letter before the rating on the breaker, such as C16"
    path = f"outlet.{name}.breaker_curve"
    return Lack(path, f"outlet {name}: curve of the breaker", "not given", how, 2.0)


def _no_system(name: str) -> Lack:
    how = "an electrician says it: TN, TT, IT or none"
    path = f"outlet.{name}.earth.system"
    return Lack(path, f"outlet {name}: earthing system", "not given", how, 5.0)
