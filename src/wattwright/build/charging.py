"""Charging, on the side of the vehicle: inlet, pilot circuit, and what a charge is to do."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import (
    CURRENT,
    ENERGY_PER_DISTANCE,
    FRACTION,
    POWER,
    RESISTANCE,
    TEMPERATURE,
    VOLTAGE,
)
from wattwright.values import Value


def _ohms(label: str, how: str, default: str, basis: str, *, none: bool = False) -> Quantity:
    return Quantity(
        RESISTANCE,
        label,
        how,
        minutes=5,
        allowed=("10 Ω", "10 kΩ"),
        default=default,
        basis=basis,
        may_be_none=none,
    )


_UNPLUGGED = "ohmmeter at the inlet, nothing plugged in, 12 V off"


class Inlet(Record):
    """The inlet of the vehicle, with its pilot and proximity circuits."""

    kind: Annotated[
        Literal["", "type_1", "type_2", "industrial"],
        Plain(
            "kind of inlet",
            "type_1 and type_2 of IEC 62196-2; industrial: IEC 60309, without a pilot",
        ),
    ] = ""
    current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current it is made for",
            "printed on it; its wires may bear less",
            minutes=3,
            allowed=("1 A", "250 A"),
            decided=True,
        ),
    ]
    pilot_plugged: Annotated[
        Value,
        _ohms(
            "resistor from pilot to earth, always there",
            "12 V, fused at 1 A, through 1 kΩ into the pilot, nothing plugged in: ohms are 1 kΩ "
            "times (U - 0.7 V) over (12 V - U), U between pilot and earth; few ohmmeters get "
            "through the diode",
            "2740 Ω ± 3 %",
            "IEC 61851-1, annex A",
        ),
    ]
    pilot_asking: Annotated[
        Value,
        _ohms(
            "resistor that is switched across it to ask for charge",
            "read the resistor's rings; ohmmeter across it, one end off",
            "1300 Ω ± 3 %",
            "IEC 61851-1, annex A",
        ),
    ]
    diode: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage over the diode of the pilot",
            "diode range of the meter at the inlet, 12 V off: plus on the pilot; turned round it "
            "must show nothing",
            minutes=5,
            allowed=("0.2 V", "1.2 V"),
            default="0.7 V ± 0.1",
            basis="silicon diode at some milliamperes",
            may_be_none=True,
        ),
    ]
    proximity: Annotated[
        Value,
        _ohms(
            "resistor from proximity to earth in the inlet, of type 1",
            _UNPLUGGED,
            "2700 Ω ± 5 %",
            "SAE J1772, from memory",
            none=True,
        ),
    ]
    earth: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance from the inlet's earth pin to charger case and body",
            "nothing plugged in: four-wire or bonding meter, at least 0.2 A, to bare metal; less "
            "what the leads show",
            minutes=10,
            allowed=("0.1 mΩ", "10 kΩ"),
        ),
    ]
    drive_lock: Annotated[
        bool | None,
        Plain(
            "it cannot drive while something is plugged in",
            "try it: plug in with the supply off, key on, ask for drive, wheels on stands",
        ),
    ] = None


class Charging(Record):
    """What a charge is to do, and what goes on beside it."""

    inlet: Annotated[Inlet, Section("the inlet with its pilot and proximity")]
    start: Annotated[
        Value,
        Quantity(
            FRACTION,
            "charge of the pack when it is plugged in",
            "decide it: what is usually left",
            minutes=1,
            allowed=("0 %", "99 %"),
            default="20 %",
            basis="our own figure",
            decided=True,
        ),
    ]
    wanted: Annotated[
        Value,
        Quantity(
            FRACTION,
            "charge of the pack that is wanted",
            "decide it: what tomorrow takes, and what the cell maker calls kind for every day",
            minutes=1,
            allowed=("1 %", "100 %"),
            default="90 %",
            basis="our own figure",
            decided=True,
        ),
    ]
    cells: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the cells while charging",
            "battery management's own reading, on the evening it is plugged in",
            minutes=3,
            allowed=("-30 °C", "50 °C"),
            default="15 °C ± 5",
            basis="a mild evening",
        ),
    ]
    pack_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest charging current of the pack from the outlet",
            "cell maker's sheet for hours of charging, times cells in parallel; what is set in "
            "the battery management, whichever is lower",
            minutes=10,
            allowed=("0.5 A", "500 A"),
            decided=True,
        ),
    ]
    ends_at: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current at which the charge ends, at the highest voltage",
            "setting of charger or battery management; a twentieth of the capacity is usual",
            minutes=5,
            allowed=("0.05 A", "100 A"),
            decided=True,
        ),
    ]
    beside: Annotated[
        Value,
        Quantity(
            POWER,
            "power taken from the high-voltage side while it charges",
            "energy meter at the outlet, charge ended and everything awake: DC-DC, pumps, fans",
            minutes=20,
            allowed=("0 W", "3 kW"),
            default="80 W ± 40",
            basis="12 V side and pumps awake, common practice",
        ),
    ]
    consumption: Annotated[
        Value,
        Quantity(
            ENERGY_PER_DISTANCE,
            "energy out of the pack for each kilometre",
            "a week's kilometres over the energy the management counted out of the pack; left "
            "out: the first of your uses",
            minutes=10,
            allowed=("30 Wh/km", "1500 Wh/km"),
        ),
    ]
