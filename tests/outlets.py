"""One outlet with round numbers and ways to change it: 230 V, 40 m of 1.5 mm², 10 A."""

from __future__ import annotations

from builders import ELECTRIC, SMALL, opened
from wattwright.areas.charging import Charging
from wattwright.areas.pack import Pack
from wattwright.assessment import Assessment, assess
from wattwright.build.reader import Opened

CHARGER: dict[str, str] = {
    "part.charger.mass": '"7 kg, datasheet"',
    "part.charger.input_low": '"190 V ± 0, datasheet"',
    "part.charger.input_high": '"265 V ± 0, datasheet"',
    "part.charger.input_current": '"16 A ± 0, datasheet"',
    "part.charger.output_power": '"3.3 kW ± 0, datasheet"',
    "part.charger.mains_efficiency": '"90 % ± 0, datasheet"',
    "part.charger.power_factor": '"100 % ± 0, datasheet"',
    "part.charger.leakage": '"3 mA ± 0, datasheet"',
    "part.charger.isolated": "true",
}
PACK: dict[str, str] = {
    "pack.capacity": '"50 Ah ± 0, measured"',
    "pack.charge_cold_from": '"0 °C ± 0, datasheet"',
    "pack.charge_cold_full": '"10 °C ± 0, datasheet"',
    "charging.start": '"20 %"',
    "charging.wanted": '"80 %"',
    "charging.cells": '"20 °C ± 0, measured"',
    "charging.pack_current": '"50 A"',
    "charging.ends_at": '"2 A"',
    "charging.beside": '"0 W ± 0, measured"',
    "charging.consumption": '"200 Wh/km ± 0, measured"',
    "charging.inlet.current": '"32 A"',
    "charging.inlet.drive_lock": "true",
}
BARN: dict[str, str] = {
    "outlet.barn.voltage": '"230 V ± 0, measured"',
    "outlet.barn.breaker": '"16 A"',
    "outlet.barn.breaker_curve": '"B"',
    "outlet.barn.continuous_share": '"100 %"',
    "outlet.barn.other_load": '"0 A"',
    "outlet.barn.socket_current": '"16 A"',
    "outlet.barn.contact": '"0.01 mΩ ± 0, measured"',
    "outlet.barn.warmest": '"30 °C ± 0, measured"',
    "outlet.barn.wiring.section": '"2.5 mm² ± 0, measured"',
    "outlet.barn.wiring.length": '"10 mm ± 0, measured"',
    "outlet.barn.wiring.insulation": '"pvc"',
    "outlet.barn.wiring.laid": '"conduit"',
    "outlet.barn.cords": '"long"',
    "outlet.barn.box": '"box"',
    "outlet.barn.price": "0.5",
    "outlet.barn.earth.system": '"TT"',
    "outlet.barn.earth.rod": '"100 Ω ± 0, measured"',
    "outlet.barn.earth.device": '"A"',
    "outlet.barn.earth.trips_at": '"30 mA"',
    "outlet.barn.earth.shared": '"2 mA ± 0, measured"',
    "cord.long.section": '"1.5 mm² ± 0, measured"',
    "cord.long.length": '"40 m ± 0, measured"',
    "cord.long.insulation": '"rubber"',
    "cord.long.wound": "false",
    "cord.long.plug_current": '"16 A"',
    "cord.long.contact": '"0.01 mΩ ± 0, measured"',
    "cord.long.warmest": '"30 °C ± 0, measured"',
    "supply_box.box.pilot": '"10 A"',
    "supply_box.box.current": '"16 A"',
    "supply_box.box.stops_below": '"190 V ± 0, datasheet"',
    "supply_box.box.dc_detection": '"6 mA"',
    "supply_box.box.trips_at": '"30 mA"',
}
BASE: dict[str, str] = {**SMALL, **ELECTRIC, **CHARGER, **PACK, **BARN}


def plugged(changes: dict[str, str | None] | None = None) -> Opened:
    """Read the build, with changes; a change to None leaves the value out."""
    return opened(changes, BASE)


def charged(changes: dict[str, str | None] | None = None) -> Assessment:
    """Assess pack and charging of it."""
    return assess(plugged(changes), (Pack(), Charging()))
