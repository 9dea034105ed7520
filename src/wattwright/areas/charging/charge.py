"""What a charge comes to: what charger and pack take, how long it lasts, what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from wattwright.areas.charging.links import Aboard, Link
from wattwright.build.outlets import Outlet
from wattwright.descriptions.charging import ChargeFound, Drawn
from wattwright.descriptions.pack import PackDescription
from wattwright.errors import FormulaError
from wattwright.kinds import (
    ENERGY,
    FRACTION,
    POWER,
    RATIO,
    TIME,
    VOLTAGE,
)
from wattwright.physics import charge_chain, charge_time
from wattwright.units import read
from wattwright.values import Value, constant, either, nonexistent, smallest, worked

# Instants of a drawing.
_INSTANTS = 60
_TWENTY_HOURS = constant(TIME, read("20 h", TIME).number, "a twentieth of the capacity")
_KILOWATT_HOUR = constant(ENERGY, read("1 kWh", ENERGY).number, "one kilowatt hour")


def vehicle_power_links(
    aboard: Aboard, pack: PackDescription, volts: Value, phases: Value, way: Value
) -> Iterator[Link]:
    """Yield the links that are told as power: what the charger gives, and what the pack takes."""
    gives = aboard.of_charger(POWER, "output_power")
    takes = worked(
        charge_chain.power_of_current,
        aboard.charging.pack_current,
        cold_share(aboard, pack),
        pack.half.open_circuit,
    )
    for name, says, power in (
        ("charger_power", "charger's power", gives),
        ("pack", "pack with its management", takes),
    ):
        drawn = worked(
            charge_chain.charger_power, power, efficiency(aboard, power), aboard.charging.beside
        )
        allows = worked(
            charge_chain.current_of_power,
            drawn,
            volts,
            way,
            aboard.of_charger(FRACTION, "power_factor"),
            phases,
        )
        yield Link(name, says, allows, flows=True)


def efficiency(aboard: Aboard, power: Value) -> Value:
    """Power into the pack over power out of the mains; by its curve where there is one."""
    charger = aboard.charger
    if charger is None or not charger.mains_efficiency_curve.known:
        return aboard.of_charger(FRACTION, "mains_efficiency")
    curve = charger.mains_efficiency_curve
    powers = tuple(constant(POWER, each, "point of the curve") for each in curve.x)
    shares = tuple(constant(FRACTION, each, "point of the curve") for each in curve.y)
    on_curve = worked(charge_chain.efficiency_at, power, powers, shares)
    return worked(charge_chain.efficiency_within, on_curve, curve.share)


def cold_share(aboard: Aboard, pack: PackDescription) -> Value:
    """Share of its charging current that the pack takes at the temperature of its cells."""
    cells = pack.cells
    return worked(
        charge_chain.cold_share,
        aboard.charging.cells,
        cells.charge_cold_from,
        cells.charge_cold_full,
    )


def described_charge(
    outlet: Outlet, power: Value, aboard: Aboard, pack: PackDescription
) -> ChargeFound:
    """Work out a charge with a power out of the mains, from its start to what is wanted."""
    own, cells = aboard.charging, pack.cells
    # What goes into the pack is not known before the efficiency: all that comes out of the mains
    # stands for it, which is a few per cent off on a curve that is nearly level.
    eta = efficiency(aboard, power)
    into_pack = worked(charge_chain.pack_power, power, eta, own.beside)
    ends_at = either(
        own.ends_at, worked(charge_chain.usual_end, cells.capacity, _TWENTY_HOURS), asking=1
    )
    curve = _curve(pack)
    reached = worked(charge_time.charge_reached, ends_at, pack.v_max, cells.resistance, *curve)
    until = smallest(own.wanted, reached)
    limit = worked(charge_time.share_of_current, own.pack_current, cold_share(aboard, pack))
    way = (
        cells.capacity,
        own.start,
        until,
        into_pack,
        limit,
        pack.v_max,
        cells.resistance,
        *curve,
    )
    time = worked(charge_time.charge_time, *way)
    energy = worked(
        charge_time.energy_from_wall,
        worked(charge_time.charge_energy, *way),
        eta,
        own.beside,
        time,
    )
    return ChargeFound(
        until,
        into_pack,
        time,
        energy,
        worked(charge_chain.cost, energy, _KILOWATT_HOUR, _price(outlet)),
        worked(charge_chain.distance_rate, into_pack, own.consumption),
        partial(_drawn, way),
    )


def _drawn(way: tuple[Value | tuple[Value, ...], ...]) -> tuple[Drawn, ...]:
    """Take a charge instant by instant; empty where it cannot be worked out."""
    numbers = [_plain(each) for each in way]
    if any(each is None for each in numbers):
        return ()
    capacity, start, until, *rest = numbers
    shares = [start + (until - start) * step / _INSTANTS for step in range(_INSTANTS + 1)]
    try:
        times = [charge_time.charge_time(capacity, start, share, *rest) for share in shares]
        energies = [charge_time.charge_energy(capacity, start, share, *rest) for share in shares]
    except FormulaError:
        return ()
    # Between two instants the power is what went in meanwhile.
    powers = [
        (later - energy) / (after - time)
        for energy, later, time, after in zip(
            energies, energies[1:], times, times[1:], strict=False
        )
        if after > time
    ]
    return tuple(map(Drawn, times[1:], shares[1:], powers)) if powers else ()


def _plain(each: Value | tuple[Value, ...]) -> Any:
    if isinstance(each, tuple):
        numbers = [value.number for value in each]
        return None if None in numbers else numbers
    return each.number


def _curve(pack: PackDescription) -> tuple[tuple[Value, ...], tuple[Value, ...]]:
    """Voltage at rest against charge; what is missing to know it where there is none."""
    cells = pack.cells
    if not cells.charges:
        missing = pack.half.open_circuit
        return (Value(FRACTION, None, lacks=missing.lacks),), (missing,)
    return (
        tuple(constant(FRACTION, share, "point of the curve") for share in cells.charges),
        tuple(constant(VOLTAGE, volts, "point of the curve") for volts in cells.at_rest),
    )


def _price(outlet: Outlet) -> Value:
    if outlet.price is None:
        return nonexistent(RATIO)
    return constant(RATIO, outlet.price, "price of one kilowatt hour")
