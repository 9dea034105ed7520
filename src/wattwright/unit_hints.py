"""Spellings that are refused with the way out, and examples for each kind."""

from __future__ import annotations

from wattwright import kinds

GAUGE_MARKS = ("g", " g", " gauge", " gage")
ABSOLUTE_MARKS = ("a", " a", " abs", " absolute")
_PRESSURES = ("Pa", "hPa", "kPa", "MPa", "bar", "mbar", "atm", "psi", "kgf/cm²")


def _clash(marks: tuple[str, ...], typed: str, wanted: str) -> dict[str, str]:
    what = f"that unit says {typed} pressure, and {wanted} pressure is wanted"
    return {symbol + mark: what for symbol in _PRESSURES for mark in marks}


# Spellings that are understood and refused, with the way out.
_GALLON = "US and imperial measures differ; write gal(US) or gal(imp)"
_POUND_MASS = "a pound is a mass; for the force write lbf"
_UPSIDE_DOWN = "that is distance per energy; write it the other way up, as Wh/km or Wh/mi"
HINTS: dict[kinds.Kind, dict[str, str]] = {
    kinds.MASS: {
        **dict.fromkeys(("ton", "tons"), "there are three different tons; write kg, t or lb"),
    },
    kinds.WIRE_SIZE: {
        "mm": "mm is a length; was mm² meant",
        "AWG": "AWG sizes read here run from 4/0 to 40",
    },
    kinds.VOLUME: dict.fromkeys(("gal", "gallon", "gallons", "qt", "quart", "quarts"), _GALLON),
    kinds.FLOW: dict.fromkeys(("gpm", "gal/min", "gallons/min", "gallons/minute"), _GALLON),
    kinds.FORCE: {
        **dict.fromkeys(("lb", "lbs", "pound", "pounds"), _POUND_MASS),
        **dict.fromkeys(
            ("kg", "kgs", "kilo", "kilos"), "kg is a mass; for the force write kgf or N"
        ),
    },
    kinds.TORQUE: {
        **dict.fromkeys(("kg·m", "m·kg"), "kg·m is a moment of mass; write kgf·m or N·m"),
    },
    kinds.ENERGY_PER_DISTANCE: dict.fromkeys(
        ("mi/kWh", "mile/kWh", "miles/kWh", "km/kWh"), _UPSIDE_DOWN
    ),
    kinds.GAUGE_PRESSURE: _clash(ABSOLUTE_MARKS, "absolute", "gauge"),
    kinds.ABSOLUTE_PRESSURE: _clash(GAUGE_MARKS, "gauge", "absolute"),
    kinds.TEMPERATURE: dict.fromkeys(("°", "deg", "degrees"), "write °C or °F"),
    kinds.TEMPERATURE_DIFFERENCE: dict.fromkeys(("°", "deg", "degrees"), "write K or °F"),
}

EXAMPLES: dict[kinds.Kind, str] = {
    kinds.MASS: "412 kg ± 1.5|908 lb|12 lb 4 oz",
    kinds.LENGTH: "100 1/2 in|8 ft 4 in|25 mm ± 0.1",
    kinds.POSITION: "-360 mm|63 3/4 in",
    kinds.AREA: "20 ft²",
    kinds.WIRE_SIZE: "4/0 AWG|250 kcmil",
    kinds.VOLUME: "1600 cc|1.2 gal(US)",
    kinds.ANGLE: "3° 30'|0.2 rad",
    kinds.GRADE: "1 in 8|5°",
    kinds.FRACTION: "0.2",
    kinds.RATIO: "3.9:1",
    kinds.TIME: "1 h 30 min|8 s",
    kinds.SPEED: "60 mph|25 m/s",
    kinds.ACCELERATION: "9.8 m/s²",
    kinds.FORCE: "470 lbf|210 kgf",
    kinds.TORQUE: "45 lb·ft",
    kinds.ENERGY: "500 J",
    kinds.POWER: "80 hp|1500 W",
    kinds.ENERGY_PER_DISTANCE: "340 Wh/mi|21 kWh/100 km",
    kinds.GAUGE_PRESSURE: "36 psi|240 kPa",
    kinds.ABSOLUTE_PRESSURE: "14.7 psi|1 bar",
    kinds.TEMPERATURE: "77 °F",
    kinds.TEMPERATURE_DIFFERENCE: "20 °F",
    kinds.CURRENT: "80 mA",
    kinds.RESISTANCE: "15 mΩ",
    kinds.FLOW: "2 gal(US)/min",
    kinds.STRESS: "87 ksi",
    kinds.SPRING_RATE: "170 lb/in",
    kinds.DENSITY: "0.075 lb/ft³",
    kinds.MOMENT_OF_MASS: "2500 lb·ft",
}
