"""What each power cable bears, from what it is made of and how it lies."""

from __future__ import annotations

from dataclasses import replace

from wattwright.areas.high_voltage.against import curves
from wattwright.areas.high_voltage.currents import highest
from wattwright.areas.high_voltage.followed import Followed
from wattwright.areas.high_voltage.own import Own
from wattwright.areas.listed import from_table
from wattwright.areas.wired import Wired, outside_of, wired
from wattwright.build.cables import Cable
from wattwright.build.presence import said
from wattwright.descriptions.high_voltage import (
    CableFound,
    CurvesFound,
    HighVoltageDescription,
)
from wattwright.descriptions.pack import PackDescription
from wattwright.kinds import RATIO, TEMPERATURE
from wattwright.physics import cable_laying, cable_warming, short_circuit_cable
from wattwright.tables import load
from wattwright.units import read
from wattwright.values import Given, Origin, Value, constant, given, worked

_COLD = constant(TEMPERATURE, read("20 °C", TEMPERATURE).number, "a fault may come cold")
# What each insulation stands for the seconds of a short circuit, by a row of a table.
_SHORT = {
    "pvc": "PVC 70 C, <=300 mm2, live conductor",
    "rubber": "rubber 60 C, live conductor",
    "xlpe": "XLPE/EPR 90 C, live conductor",
    "silicone": "silicone rubber 180 C",
}
_BENDS = {True: ("10", "3", "with a shield"), False: ("4", "1", "laid once, without a shield")}


def describe(own: Own, pack: PackDescription) -> HighVoltageDescription:
    """Work out every cable."""
    return HighVoltageDescription(
        {name: _cable(own, name, cable, pack) for name, cable in own.cables.items()}
    )


def laid(name: str, cable: Cable) -> Wired:
    """Take a cable as it lies; its own other poles lie beside it unless it is said otherwise."""
    wire = cable.wire
    if wire.laid != "free" and not said(wire.grouped):
        wire = wire.model_copy(update={"grouped": cable.conductors})
    return wired(wire, f"part.{name}.wire", 1, cable.warmest)


def _cable(own: Own, name: str, cable: Cable, pack: PackDescription) -> CableFound:
    run = laid(name, cable)
    over = worked(cable_warming.overload_limit, run.limit, cable.overload)
    fuse = own.fuse(cable)
    fault = worked(short_circuit_cable.prospective, pack.v_max, pack.resistance, run.loop(_COLD))
    overloads = replace(run, limit=over).allows()
    outside = outside_of(cable.wire, f"part.{name}.wire")

    def drawn(start: Value) -> CurvesFound:
        return curves(Followed(run, start, over, overloads), fault, fuse)

    return CableFound(
        run.limit,
        over,
        run.allows(),
        overloads,
        fault,
        _withstand(cable, run, over),
        worked(cable_laying.bend_radius, outside, _bend(name, cable)),
        highest(own, cable, pack),
        drawn,
    )


def _withstand(cable: Cable, run: Wired, over: Value) -> Value:
    """Joule integral it stands, from its temperature for life to what a short circuit may make."""
    end, row_name = over, _SHORT.get(cable.wire.insulation)
    if row_name is not None:
        row = load("adiabatic_k").row(row_name)
        text = f"{row.cells['end_C']} °C"
        label = f"what {cable.wire.insulation} bears for seconds"
        end = from_table(TEMPERATURE, "adiabatic_k", row, text, label)
    by_metal = {
        "copper": short_circuit_cable.copper_density,
        "aluminium": short_circuit_cable.aluminium_density,
    }
    density = worked(by_metal[cable.wire.metal], run.limit, end)
    return worked(short_circuit_cable.withstand, density, cable.wire.section)


def _bend(name: str, cable: Cable) -> Value:
    """Tightest bend as a multiple of the diameter: as typed, else by common practice."""
    if said(cable.bend_multiple):
        return cable.bend_multiple
    text, band, says = _BENDS[cable.shield in ("both_ends", "one_end")]
    origin = Given(
        f"part.{name}.bend_multiple",
        f"{name.replace('_', ' ')}: tightest bend over diameter, {says}",
        Origin.TYPICAL,
        text,
        float(band),
        f"± {band}, common practice",
        how="maker's sheet of the cable",
        minutes=5,
    )
    return given(RATIO, float(text), origin)
