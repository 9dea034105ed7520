"""What an inlet and a supply box should show to a meter: pilot, proximity and earth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wattwright.values import Value

# States of the pilot: nothing on the box; vehicle on it; vehicle asking for charge, or charging.
ALONE, PLUGGED, ASKING = "alone", "plugged", "asking"
WITH_VEHICLE = (PLUGGED, ASKING)
# Of a connector of type 1: none in the inlet; in it with its button pressed; in it and latched.
OPEN, PRESSED, LATCHED = "open", "pressed", "latched"


@dataclass(frozen=True, slots=True, eq=False)
class PilotFound:
    """The pilot of an inlet on any box, by state.

    ``low`` is the lower level with the diode, known not to exist where there is none; ``seen_low``
    is the one that this inlet makes. ``off`` is how far levels are from those meant, by state and
    ``low``, and ``tolerance`` how far they may be.
    """

    ohms: Mapping[str, Value]
    high: Mapping[str, Value]
    low: Value
    low_without_diode: Mapping[str, Value]
    seen_low: Mapping[str, Value]
    off: Mapping[str, Value]
    tolerance: Value
    frequency: Value


@dataclass(frozen=True, slots=True, eq=False)
class BoxReadings:
    """What one supply box makes of it.

    ``duty`` is the share of time that its pilot is high, ``meter`` what a voltmeter on direct
    current shows, by state; both empty or known not to exist where there is no pilot. ``coding`` is
    the current that its cable is coded for; known not to exist where nothing is coded.
    """

    duty: Value
    meter: Mapping[str, Value]
    coding: Value


@dataclass(frozen=True, slots=True, eq=False)
class ProximityFound:
    """The proximity line of type 1, by where the connector is.

    ``ohms`` open are of the inlet by itself, pressed and latched of the connector by itself;
    ``volts`` are at the inlet, with the vehicle awake.
    """

    ohms: Mapping[str, Value]
    volts: Mapping[str, Value]


@dataclass(frozen=True, slots=True, eq=False)
class ReadingsFound:
    """What is to be read at an inlet and with every box of the build.

    ``pilot`` is none for an inlet made without one, ``proximity`` for any but type 1.
    """

    pilot: PilotFound | None
    boxes: Mapping[str, BoxReadings]
    proximity: ProximityFound | None
    earth: Value
    earth_most: Value
