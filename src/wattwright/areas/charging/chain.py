"""What flows through the chain of an outlet, what is left of its voltage, and what gets warm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wattwright.areas.charging.charge import described_charge, vehicle_power_links
from wattwright.areas.charging.links import Aboard, Link, Phases, supply_links, vehicle_links
from wattwright.build.outlets import Cord, Outlet, SupplyBox
from wattwright.descriptions.charging import LinkFound, OutletFound
from wattwright.descriptions.pack import PackDescription
from wattwright.kinds import (
    CURRENT,
    FRACTION,
    POWER,
    RESISTANCE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
)
from wattwright.physics import charge_chain, charge_time, conductor, earth_fault
from wattwright.values import Value, constant, either, nonexistent, worked

_BOX = "box"


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Everything that stands around the outlets."""

    aboard: Aboard
    pack: PackDescription
    cords: Mapping[str, Cord]
    boxes: Mapping[str, SupplyBox]


def described_outlet(name: str, outlet: Outlet, scene: Scene) -> OutletFound:
    """Work out one outlet from the wall to the pack."""
    kind = scene.aboard.charging.inlet.kind
    phases = Phases.carrying(outlet, scene.aboard)
    supply = [*supply_links(name, outlet, scene.cords, scene.boxes, kind, phases.cores)]
    links = [*supply, *vehicle_links(scene.aboard)]
    asked = _least([link.allows for link in links if link.flows])
    way = _resistance(links, asked, phases.ways)
    links += vehicle_power_links(scene.aboard, scene.pack, outlet.voltage, phases.count, way)
    draws = _least([link.allows for link in links if link.flows])
    found = tuple(_flowing(links, draws, phases, outlet.voltage))
    return _summed(name, outlet, found, supply, draws, phases.count, scene)


def _least(allowed: Sequence[Value]) -> Value:
    there = tuple(each for each in allowed if not each.absent)
    return worked(charge_chain.least, there) if there else nonexistent(CURRENT)


def _resistance(links: Sequence[Link], current: Value, ways: Value) -> Value:
    """Resistance of the whole way, its cables as warm as a current makes them."""
    parts = [part for link in links for part in _parts(link, current, ways)]
    return (
        worked(conductor.in_series, tuple(parts))
        if parts
        else constant(RESISTANCE, 0.0, "no way known")
    )


def _parts(link: Link, current: Value, ways: Value) -> Iterator[Value]:
    if link.wire is not None:
        yield link.wire.loop(either(link.wire.warm(current), link.wire.limit), ways)
    if link.contact is not None:
        yield worked(charge_chain.of_contacts, link.contact.resistance, ways)


def _flowing(
    links: Sequence[Link], draws: Value, phases: Phases, volts: Value
) -> Iterator[LinkFound]:
    """State every link with the current through it: heat, warmth, and the voltage behind it."""
    for link in links:
        parts = [*_parts(link, draws, phases.ways)]
        loop = worked(conductor.in_series, tuple(parts)) if parts else nonexistent(RESISTANCE)
        if parts:
            volts = worked(charge_chain.volts_left, volts, draws, loop)
        wire, contact = link.wire, link.contact
        yield LinkFound(
            link.name,
            link.says,
            link.allows,
            loop,
            worked(charge_chain.heat_of_way, draws, loop, phases.count)
            if parts
            else nonexistent(POWER),
            wire.warm(draws) if wire is not None else nonexistent(TEMPERATURE),
            wire.limit if wire is not None else nonexistent(TEMPERATURE),
            worked(charge_chain.contact_warmth, draws, contact.resistance, contact.warming)
            if contact is not None
            else nonexistent(TEMPERATURE_DIFFERENCE),
            volts,
            link.flows,
        )


def _summed(
    name: str,
    outlet: Outlet,
    links: tuple[LinkFound, ...],
    supply: Sequence[Link],
    draws: Value,
    phases: Value,
    scene: Scene,
) -> OutletFound:
    known = sorted(
        (link for link in links if link.allows.known), key=lambda link: link.allows.number or 0.0
    )
    weakest = known[0].name if known else ""
    last = links[-1].volts
    box = next((link.volts for link in links if link.name == _BOX), outlet.voltage)
    factor = scene.aboard.of_charger(FRACTION, "power_factor")
    power = worked(charge_time.mains_power, last, draws, factor, phases)
    rest = [link.allows for link in links if link.name != weakest]
    allowed = worked(
        charge_time.mains_power, last, _least([link.allows for link in links]), factor, phases
    )
    raised = worked(charge_time.mains_power, last, _least(rest), factor, phases)
    return OutletFound(
        outlet.label or name.replace("_", " "),
        links,
        _least([link.allows for link in links]),
        _least([link.allows for link in supply if not link.flows]),
        draws,
        weakest,
        outlet.voltage,
        box,
        last,
        worked(
            conductor.share_lost,
            worked(charge_chain.volts_lost, outlet.voltage, last),
            outlet.voltage,
        ),
        power,
        worked(charge_chain.power_gained, allowed, raised),
        described_charge(outlet, power, scene.aboard, scene.pack),
        worked(
            earth_fault.leakage_sum,
            (scene.aboard.of_charger(CURRENT, "leakage"), outlet.earth.shared),
        ),
    )
