"""Sheet of the charging inlet: pilot, proximity and earth, dead, at a bench supply and at a box."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from wattwright.areas.charging.readings import describe_readings
from wattwright.assessment import Assessment
from wattwright.bench.sheet import Line, Sheet
from wattwright.build.model import Build
from wattwright.build.outlets import SupplyBox
from wattwright.descriptions.readings import (
    ALONE,
    ASKING,
    LATCHED,
    OPEN,
    PLUGGED,
    PRESSED,
    BoxReadings,
    PilotFound,
    ProximityFound,
    ReadingsFound,
)
from wattwright.kinds import RESISTANCE, VOLTAGE
from wattwright.units import Taste
from wattwright.values import Value

_CAUTIONS = (
    (
        "Nobody opens a supply box, a post or an outlet: their inside is the work of those with "
        "the licence. Everything here is read at pilot, proximity and earth alone; no probe goes "
        "near the mains pins of inlet or connector."
    ),
    (
        "Before anything is plugged in, two test leads are brought out from pilot and earth of the "
        "inlet and its covers are closed again. For the box alone an adapter with pilot and earth "
        "brought out is used, never bare probes in the connector."
    ),
    "Wheels chocked, drive off, key out; service disconnect out for the lines that are read dead.",
    "The 12 V of the bench is fused at 1 A at its plus and goes through the 1 kΩ resistor only.",
)
_TOOLS = (
    "voltmeter with diode, frequency and duty ranges; a scope shows the levels themselves",
    "four-wire or bonding meter for the earth",
    "supply set to 12.0 V, or a 12 V battery, fused at 1 A",
    "resistor of 1 kΩ ± 1 %, 0.5 W; test leads with sleeved plugs",
    "adapter with pilot and earth brought out",
)
_METER, _DUTY, _OHMS = "voltmeter, direct current", "duty range of the meter", "ohmmeter"
_SCOPE = "scope, or peak range of the meter"
_BENCH = "inlet, bench supply"
_AT_CONNECTOR = "connector in the hand"
_OPEN_PILOT = (
    "it stays at 12 V: the pilot or the earth is open between inlet and charger, or the diode is "
    "the wrong way round"
)
_NOT_ASKING = (
    "it stays at 9 V: the switch that asks is not closed; charger, battery management or drive "
    "lock says no"
)
_NO_DIODE = "it comes up towards nought: the diode is missing or shorted, and a box will refuse"


def readings_sheet(build: Build, assessment: Assessment, taste: Taste) -> Sheet:
    """Read the charging inlet dead, at a bench supply, and with each box of the build.

    What is to be expected follows from inlet and boxes alone, whether the rest is known or not.
    """
    del assessment, taste
    found = describe_readings(build.charging.inlet, build.supply_box)
    return Sheet(
        "charging_readings",
        "Pilot and proximity of the inlet",
        "Why a charge does not begin: whether resistors, diode, earth and asking switch of the "
        "vehicle show a supply box what it waits for, before anybody blames box or charger.",
        _CAUTIONS,
        _TOOLS,
        (
            _earth(found),
            *_proximity(found.proximity),
            *_codings(build.supply_box, found.boxes),
            *_of_pilot(found.pilot),
            *_of_boxes(found),
        ),
    )


def _known(value: Value) -> Value | None:
    return value if value.known else None


def _earth(found: ReadingsFound) -> Line:
    return Line(
        "earth",
        "Nothing plugged in: read from the earth pin to bare metal of the charger's case, then to "
        "the body; the larger one, less what the leads show.",
        "inlet, dead",
        "four-wire or bonding meter, 0.2 A or more",
        "charging.inlet.earth",
        RESISTANCE,
        stop_if="it is over the limit: no charge, the earth comes first",
        limit=found.earth_most,
    )


def _proximity(found: ProximityFound | None) -> Iterator[Line]:
    if found is None:
        return
    yield Line(
        "proximity_open",
        "Nothing plugged in, 12 V off: read from proximity to earth.",
        "inlet, dead",
        _OHMS,
        "charging.inlet.proximity",
        RESISTANCE,
        _known(found.ohms[OPEN]),
    )
    for where, act in (
        (LATCHED, "Read from proximity to earth, button let go."),
        (PRESSED, "The same with the button pressed: it grows."),
    ):
        yield Line(
            f"handle_{where}",
            act,
            _AT_CONNECTOR,
            _OHMS,
            kind=RESISTANCE,
            expected=_known(found.ohms[where]),
            stop_if="it does not change with the button: its switch or spring is stuck",
        )
    for where, act in (
        (OPEN, "Vehicle awake, nothing plugged in: read proximity against earth."),
        (PRESSED, "Connector in, box without mains, button held: the same."),
        (LATCHED, "Button let go until it latches: the same."),
    ):
        yield Line(
            f"proximity_volts_{where}",
            act,
            "test leads of the inlet",
            _METER,
            kind=VOLTAGE,
            expected=_known(found.volts[where]),
            stop_if="it does not fall as the connector latches: the charger stays asleep, and the "
            "vehicle may drive off plugged in"
            if where == LATCHED
            else "",
        )


def _codings(boxes: Mapping[str, SupplyBox], found: Mapping[str, BoxReadings]) -> Iterator[Line]:
    for name, box in boxes.items():
        if found[name].coding.absent:
            continue
        yield Line(
            f"{name}_coding",
            "Cable in the hand, plugged into nothing: read from proximity to earth in the plug for "
            "the vehicle. 1500 Ω stands for 13 A, 680 Ω for 20 A, 220 Ω for 32 A, 100 Ω for 63 A.",
            f"cable of {name.replace('_', ' ')}",
            _OHMS,
            f"supply_box.{name}.coding",
            RESISTANCE,
            _known(box.coding),
            stop_if="it is none of these by more than a few per cent: do not use the cable until "
            "it is known why",
        )


def _of_pilot(found: PilotFound | None) -> Iterator[Line]:
    if found is None:
        yield Line(
            "no_pilot",
            "This inlet is made without pilot and proximity: nothing of it is read, and nothing "
            "tells the charger how much it may draw. Set the charger to the outlet by hand.",
            "inlet",
        )
        return
    yield Line(
        "diode",
        "12 V off, diode range, plus on the pilot and minus on earth: the voltage of the diode. "
        "Many ohmmeters do not get through it and show an open line.",
        "inlet, dead",
        "diode range of the meter",
        "charging.inlet.diode",
        VOLTAGE,
    )
    yield Line(
        "diode_turned",
        "The same turned round, minus on the pilot: an open line, on the diode and the ohm range.",
        "inlet, dead",
        "diode and ohm range",
        stop_if="it shows anything but an open line: the diode is shorted or missing",
    )
    yield from _at_the_bench(found)


def _at_the_bench(found: PilotFound) -> Iterator[Line]:
    yield Line(
        "bench_supply",
        "Read the supply itself, before the resistor. Each tenth of a volt over 12 V lifts the "
        "next reading by 0.07 V.",
        _BENCH,
        _METER,
        kind=VOLTAGE,
        expected=_known(found.high[ALONE]),
    )
    yield Line(
        "bench_plugged",
        "+12 V through 1 kΩ into the pilot, minus on earth, charger told nothing: read pilot "
        "against earth. What stands behind the diode is 1 kΩ · (U - 0.7 V) / (12 V - U).",
        _BENCH,
        _METER,
        kind=VOLTAGE,
        expected=_known(found.high[PLUGGED]),
        stop_if=_OPEN_PILOT,
    )
    yield Line(
        "bench_asking",
        "12 V of the vehicle on, charger asked to charge: the same reading falls.",
        _BENCH,
        _METER,
        kind=VOLTAGE,
        expected=_known(found.high[ASKING]),
        stop_if=_NOT_ASKING,
    )
    yield Line(
        "bench_turned",
        "Supply turned round, -12 V through 1 kΩ into the pilot: it stays near -12 V.",
        _BENCH,
        _METER,
        kind=VOLTAGE,
        expected=_known(found.seen_low[ASKING]),
        stop_if=_NO_DIODE,
    )
    for state, word in ((PLUGGED, "plugged in"), (ASKING, "asking")):
        yield Line(
            f"ohms_{state}",
            f"Resistance behind the diode, {word}: worked out of the reading above, for the book.",
            _BENCH,
            "sum",
            kind=RESISTANCE,
            expected=_known(found.ohms[state]),
        )


def _of_boxes(found: ReadingsFound) -> Iterator[Line]:
    if found.pilot is None:
        return
    for name, box in found.boxes.items():
        yield from _of_box(name, box, found.pilot)


def _of_box(name: str, box: BoxReadings, found: PilotFound) -> Iterator[Line]:
    words = name.replace("_", " ")

    def line(what: str, act: str, tool: str, expected: Value, stop: str = "") -> Line:
        return Line(
            f"{name}_{what}",
            act,
            words,
            tool,
            kind=expected.kind,
            expected=_known(expected),
            stop_if=stop,
        )

    yield line(
        "alone",
        "Box on, only the adapter in it: pilot against earth stands still.",
        _METER,
        found.high[ALONE],
        "there is nothing: the box has no mains, no earth, or has stopped itself; its lamps and "
        "its maker's sheet say which",
    )
    yield line(
        "frequency",
        "Plugged into the vehicle, not asking: frequency between pilot and earth.",
        "frequency range of the meter",
        found.frequency,
    )
    yield line("duty", "The share of time that it is high: what the box offers.", _DUTY, box.duty)
    yield line("plugged", "The upper level, not asking.", _SCOPE, found.high[PLUGGED], _OPEN_PILOT)
    yield line(
        "plugged_mean",
        "The same on an ordinary voltmeter: the mean, which is neither level.",
        _METER,
        box.meter[PLUGGED],
    )
    yield line(
        "asking",
        "Asked to charge, and while it charges: the upper level.",
        _SCOPE,
        found.high[ASKING],
        _NOT_ASKING,
    )
    yield line("asking_mean", "The same on an ordinary voltmeter.", _METER, box.meter[ASKING])
    yield line("low", "The lower level, asking.", _SCOPE, found.seen_low[ASKING], _NO_DIODE)
