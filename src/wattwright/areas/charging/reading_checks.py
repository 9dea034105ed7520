"""What is said of pilot, proximity and earth of the inlet: each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import CURRENT, FRACTION, RESISTANCE, VOLTAGE

PILOT_LEVELS = Check(
    "charging.pilot_levels",
    "level of the pilot, off what the box takes for that state",
    "What resistors and diode of the inlet make of the pilot, less the level that is meant: 9 V "
    "plugged in, 6 V asking, -12 V at the bottom. A box that sees another level does not close its "
    "contacts.",
    "1 V either way",
    VOLTAGE,
    Source("IEC 61851-1", "annex A, levels ± 1 V, as the manual of a controller cites it"),
)
BONDING = Check(
    "charging.bonding",
    "earth of the inlet to charger case and body",
    "From the inlet's earth pin to bare metal of charger case and body. Through it every fault of "
    "the charger has to trip what protects the outlet, and the pilot has its way back.",
    "0.1 Ω",
    RESISTANCE,
    Source("UN Regulation No. 100", "5.1.2.2, at 0.2 A or more; ISO 6469-3"),
    strict=True,
    caution="Nothing plugged in, service disconnect out, high voltage proven dead. No charge while "
    "this is not sound.",
)
PILOT_OHMS = FigureKind(
    "charging.pilot_ohms",
    "pilot to earth in the vehicle",
    "Behind the diode: plugged in, and asking for charge. An ohmmeter may not get through the "
    "diode; the level on a bench supply tells it.",
    RESISTANCE,
)
PILOT_HIGH = FigureKind(
    "charging.pilot_high",
    "upper level of the pilot",
    "Between pilot and earth at the inlet: box alone, plugged in, and asking or charging.",
    VOLTAGE,
)
PILOT_LOW = FigureKind(
    "charging.pilot_low",
    "lower level of the pilot",
    "With the diode in its place nothing flows, and it stays where the box feeds it.",
    VOLTAGE,
)
PILOT_LOW_NO_DIODE = FigureKind(
    "charging.pilot_low_no_diode",
    "lower level without a diode",
    "What is read where the diode is missing or shorted: the box refuses then.",
    VOLTAGE,
)
PILOT_DUTY = FigureKind(
    "charging.pilot_duty",
    "share of time that the pilot is high",
    "What a meter with a duty range shows at the current that the box tells.",
    FRACTION,
)
PILOT_METER = FigureKind(
    "charging.pilot_meter",
    "pilot on an ordinary voltmeter",
    "The mean of the square wave, which a voltmeter on direct current shows instead of its levels.",
    VOLTAGE,
)
PROXIMITY_OHMS = FigureKind(
    "charging.proximity_ohms",
    "proximity to earth",
    "Open: at the inlet by itself. Pressed and latched: at the connector by itself.",
    RESISTANCE,
)
PROXIMITY_VOLTS = FigureKind(
    "charging.proximity_volts",
    "proximity with the vehicle awake",
    "At the inlet: nothing in it, connector with its button pressed, connector latched.",
    VOLTAGE,
)
CODING_CURRENT = FigureKind(
    "charging.coding_current",
    "current that the cable is coded for",
    "By the resistor from proximity to earth in its plug; the vehicle draws no more.",
    CURRENT,
)
CHECKS = (PILOT_LEVELS, BONDING)
FIGURES = (
    PILOT_OHMS,
    PILOT_HIGH,
    PILOT_LOW,
    PILOT_LOW_NO_DIODE,
    PILOT_DUTY,
    PILOT_METER,
    PROXIMITY_OHMS,
    PROXIMITY_VOLTS,
    CODING_CURRENT,
)
TABLES = (
    Table("pilot by state", (PILOT_OHMS, PILOT_HIGH, PILOT_LOW, PILOT_LOW_NO_DIODE)),
    Table("pilot by box", (PILOT_DUTY, PILOT_METER, CODING_CURRENT)),
    Table("proximity", (PROXIMITY_OHMS, PROXIMITY_VOLTS)),
)
