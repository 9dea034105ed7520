"""Pilot, proximity and earth of the inlet: what a meter should show in each state."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.charging import reading_checks as checks
from wattwright.areas.listed import from_table
from wattwright.build.charging import Inlet
from wattwright.build.outlets import SupplyBox
from wattwright.descriptions.readings import (
    ALONE,
    ASKING,
    LATCHED,
    OPEN,
    PLUGGED,
    PRESSED,
    WITH_VEHICLE,
    BoxReadings,
    PilotFound,
    ProximityFound,
    ReadingsFound,
)
from wattwright.findings import Figure, Finding
from wattwright.kinds import CURRENT, FRACTION, FREQUENCY, RESISTANCE, VOLTAGE, Kind
from wattwright.physics import pilot
from wattwright.tables import Row, load
from wattwright.units import read, write
from wattwright.values import (
    Lack,
    Value,
    asked_for,
    constant,
    exceeds,
    lacking,
    nonexistent,
    worked,
)

# Up to here the share of time says a current by the first of two rules.
_FIRST_RULE = constant(CURRENT, 51.0, "IEC 61851-1, annex A")
_NO_DIODE = constant(VOLTAGE, 0.0, "no diode")
_EARTH_MOST = constant(RESISTANCE, read("0.1 Ω", RESISTANCE).number, "UN Regulation No. 100")
_KIND = Lack(
    "charging.inlet.kind",
    "kind of inlet",
    "not given",
    "look at its pins, and at the standard printed on it",
    2.0,
)


def describe_readings(inlet: Inlet, boxes: Mapping[str, SupplyBox]) -> ReadingsFound:
    """Work out what inlet and boxes should show; what is missing travels into it."""
    found = None if inlet.kind == "industrial" else _pilot(inlet)
    return ReadingsFound(
        found,
        {name: _with_box(box, inlet.kind, found) for name, box in boxes.items()},
        _proximity(inlet) if inlet.kind == "type_1" else None,
        inlet.earth,
        _EARTH_MOST,
    )


def _pilot(inlet: Inlet) -> PilotFound:
    source = _published("source", VOLTAGE)
    behind = _published("source resistance", RESISTANCE)
    ohms = {
        PLUGGED: inlet.pilot_plugged,
        ASKING: worked(pilot.side_by_side, inlet.pilot_plugged, inlet.pilot_asking),
    }
    diode = _NO_DIODE if inlet.diode.absent else inlet.diode
    high = {
        state: worked(pilot.pilot_high, source, behind, ohms[state], diode)
        for state in WITH_VEHICLE
    }
    low = nonexistent(VOLTAGE) if inlet.diode.absent else worked(pilot.pilot_low, source)
    without = {
        state: worked(pilot.pilot_low_without_diode, source, behind, ohms[state])
        for state in WITH_VEHICLE
    }
    seen_low = without if inlet.diode.absent else dict.fromkeys(WITH_VEHICLE, low)
    off = {state: worked(pilot.pilot_off, high[state], _meant(state)) for state in WITH_VEHICLE}
    # Asking, the resistance is least: there a missing diode lifts the lower level most.
    off["low"] = worked(pilot.pilot_off, seen_low[ASKING], _meant("low"))
    return PilotFound(
        ohms,
        {ALONE: source, **high},
        low,
        without,
        seen_low,
        off,
        _exact("level plugged", "within"),
        _published("frequency", FREQUENCY),
    )


def _with_box(box: SupplyBox, kind: str, found: PilotFound | None) -> BoxReadings:
    if found is None:
        return BoxReadings(nonexistent(FRACTION), {}, nonexistent(CURRENT))
    rule = pilot.pilot_duty_above if exceeds(box.pilot, _FIRST_RULE) else pilot.pilot_duty
    duty = worked(rule, box.pilot)
    meter = {
        state: worked(pilot.pilot_average, duty, found.high[state], found.seen_low[state])
        for state in WITH_VEHICLE
    }
    return BoxReadings(duty, meter, coded_current(box.coding, kind))


def coded_current(coding: Value, kind: str) -> Value:
    """Current that a cable is coded for; only cables of type 2 are."""
    if kind == "type_1":
        return nonexistent(CURRENT)
    if kind != "type_2":
        return lacking(CURRENT, _KIND)
    codes = [row for row in load("proximity_codes") if row.cells["resistance"]]
    fits = coding.number is None or any(_fits(coding, row) for row in codes)
    return worked(
        pilot.coded_current,
        coding if fits else asked_for(coding, _between(coding.number or 0.0, codes)),
        [_code(row, "least", RESISTANCE) for row in codes],
        [_code(row, "most", RESISTANCE) for row in codes],
        [_code(row, "current", CURRENT) for row in codes],
    )


def _fits(coding: Value, row: Row) -> bool:
    """Say whether a reading may be that of a code's resistor: by its own ± and the reading's."""
    code = _ohms(row, "resistance")
    within = read(row.cells["within"], FRACTION).number
    return abs((coding.number or 0.0) - code) <= within * code + coding.band


def _between(number: float, codes: list[Row]) -> str:
    """Say what a resistance that is no code lies between."""
    below = [row for row in codes if _ohms(row, "resistance") < number]
    above = [row for row in codes if _ohms(row, "resistance") > number]
    # The table goes from the least to the most.
    sides = (f"above {_says(row)}" for row in below[-1:]), (f"below {_says(row)}" for row in above)
    said = [next(side) for side, rows in zip(sides, (below, above), strict=True) if rows]
    return f"{write(number, RESISTANCE)} is the resistor of no code: {', and '.join(said)}"


def _says(row: Row) -> str:
    code, current, least, most = (
        row.cells[column] for column in ("resistance", "current", "least", "most")
    )
    return f"{code} for {current} (taken from {least} to {most})"


def _ohms(row: Row, column: str) -> float:
    return read(row.cells[column], RESISTANCE).number


def _proximity(inlet: Inlet) -> ProximityFound:
    supply = _published("proximity supply", VOLTAGE)
    pull_up = _published("proximity pull-up", RESISTANCE)
    handle = {
        PRESSED: _published("handle pressed", RESISTANCE),
        LATCHED: _published("handle latched", RESISTANCE),
    }
    to_earth = {OPEN: inlet.proximity} | {
        where: worked(pilot.side_by_side, inlet.proximity, ohms) for where, ohms in handle.items()
    }
    return ProximityFound(
        {OPEN: inlet.proximity, **handle},
        {
            where: worked(pilot.proximity_voltage, supply, pull_up, ohms)
            for where, ohms in to_earth.items()
        },
    )


def _meant(level: str) -> Value:
    return _exact(f"level {level}", "value")


def _exact(item: str, column: str) -> Value:
    """Take a cell of the pilot's table as the number that is meant, without a band."""
    text = load("pilot_circuit").row(item).cells[column]
    return constant(VOLTAGE, read(text, VOLTAGE).number, f"{item}, {column}")


def _published(item: str, kind: Kind) -> Value:
    row = load("pilot_circuit").row(item)
    text, band = row.cells["value"], read(row.cells["within"], kind).number
    return from_table(kind, "pilot_circuit", row, text, f"{item} of the pilot circuit", band=band)


def _code(row: Row, column: str, kind: Kind) -> Value:
    label = f"{column} of the code {row.cells['code']}"
    return from_table(kind, "proximity_codes", row, row.cells[column], label)


def judge_readings(found: ReadingsFound) -> Iterator[Finding | Figure]:
    """State what is to be read, and hold levels and earth against what they may be."""
    yield checks.BONDING.at_most(found.earth, found.earth_most)
    if found.pilot is not None:
        yield from _of_pilot(found.pilot)
        yield from _of_boxes(found.boxes)
    if found.proximity is not None:
        for where, ohms in found.proximity.ohms.items():
            yield checks.PROXIMITY_OHMS.of(ohms, where)
        for where, volts in found.proximity.volts.items():
            yield checks.PROXIMITY_VOLTS.of(volts, where)


def _of_pilot(found: PilotFound) -> Iterator[Finding | Figure]:
    for about, off in found.off.items():
        yield checks.PILOT_LEVELS.within(off, found.tolerance, about)
    for state, ohms in found.ohms.items():
        yield checks.PILOT_OHMS.of(ohms, state)
    for state, high in found.high.items():
        yield checks.PILOT_HIGH.of(high, state)
    yield checks.PILOT_LOW.of(found.low, "with_diode")
    for state, low in found.low_without_diode.items():
        yield checks.PILOT_LOW_NO_DIODE.of(low, state)


def _of_boxes(boxes: Mapping[str, BoxReadings]) -> Iterator[Figure]:
    for name, box in boxes.items():
        yield checks.PILOT_DUTY.of(box.duty, name)
        for state, mean in box.meter.items():
            yield checks.PILOT_METER.of(mean, f"{name}/{state}")
        if not box.coding.absent:
            yield checks.CODING_CURRENT.of(box.coding, name)
