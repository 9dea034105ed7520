"""Parts that carry high voltage, or turn: one record each, with the common fields of a part."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Tag

from wattwright.build.cables import Cable
from wattwright.build.fields import Column, Plain, Quantity, Record, Sampled
from wattwright.build.motor import Motor
from wattwright.build.parts import Part
from wattwright.kinds import (
    COUNT,
    CURRENT,
    FRACTION,
    HEAT_CAPACITY,
    POWER,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VOLTAGE,
)
from wattwright.sampled import Curve
from wattwright.values import Value

_SHEET = "the maker's data sheet or the plate on the case; photograph it"

DeviceKind = Literal["dcdc", "heater", "compressor", "contactor", "link_capacitor", "bms"]


class OnThePack(Part):
    """What every part on the high-voltage side states: the voltages it works at and bears."""

    voltage_low: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "lowest DC voltage it works at",
            f"{_SHEET}; of an inverter its under-voltage lock or start of derating; contactors, "
            "fuses and capacitors work at any: none",
            minutes=5,
            allowed=("0 V", "1500 V"),
            may_be_none=True,
        ),
    ]
    voltage_high: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "highest DC voltage it bears",
            f"{_SHEET}; the continuous rating for direct current, not a surge and not one for "
            "alternating current; of an inverter its link capacitor or switches, whichever is "
            "lower",
            minutes=5,
            allowed=("1 V", "2000 V"),
        ),
    ]
    current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "direct current it carries or draws for hours",
            f"{_SHEET}; the continuous rating, at the temperature of its place",
            minutes=5,
            allowed=("0.1 A", "1500 A"),
        ),
    ]


class Device(OnThePack):
    """A part on the high-voltage side."""

    kind: Annotated[DeviceKind, Plain("kind of device", "decides which fields it may have")]


class Inverter(OnThePack):
    """The inverter: what it bears on the DC side and what it gives the motor."""

    kind: Annotated[Literal["inverter"], Plain("kind of device")]
    phase_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest phase current, peak of the sine",
            f"{_SHEET}; where it is given in A rms multiply by 1.414",
            minutes=5,
            allowed=("1 A", "3000 A"),
        ),
    ]
    stall_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "phase current it gives at standstill, peak of the sine",
            f"{_SHEET}; at standstill one switch carries all of it, so it is often less than the "
            "highest; where it is given in A rms multiply by 1.414",
            minutes=10,
            allowed=("1 A", "3000 A"),
        ),
    ]
    stall_time: Annotated[
        Value,
        Quantity(
            TIME,
            "how long it gives that current at standstill",
            f"{_SHEET}; ask the maker where only a current is printed",
            minutes=10,
            allowed=("0.1 s", "1 h"),
        ),
    ]
    heat_capacity: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms it by one kelvin",
            "its mass on a scale times 0.8 kJ/(kg·K)",
            minutes=10,
            allowed=("0.1 kJ/K", "100 kJ/K"),
            default="7 kJ/K ± 3",
            basis="inverters of 9 kg, common practice",
        ),
    ]
    highest_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of its base plate at which it gives no more",
            f"{_SHEET}; it reduces its current some kelvins before",
            minutes=10,
            allowed=("40 °C", "130 °C"),
            default="85 °C",
            basis="base plates, common practice",
        ),
    ]
    derating_span: Annotated[
        Value,
        Quantity(
            TEMPERATURE_DIFFERENCE,
            "how far below that temperature it begins to hold back",
            f"{_SHEET}; derating curve over the base plate",
            minutes=10,
            allowed=("1 K", "60 K"),
            default="10 K ± 3",
            basis="settings of inverters and managements, common practice",
        ),
    ]


class Charger(OnThePack):
    """The charger on board: what it takes from the wall, and how much of that arrives."""

    kind: Annotated[Literal["charger"], Plain("kind of device")]
    input_low: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "lowest mains voltage it works at",
            _SHEET,
            minutes=5,
            allowed=("60 V", "400 V"),
        ),
    ]
    input_high: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "highest mains voltage it bears",
            _SHEET,
            minutes=5,
            allowed=("90 V", "500 V"),
        ),
    ]
    input_current: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest mains current it takes, each phase",
            _SHEET,
            minutes=5,
            allowed=("1 A", "100 A"),
        ),
    ]
    input_phases: Annotated[
        Value,
        Quantity(
            COUNT,
            "mains phases it uses",
            _SHEET,
            minutes=2,
            allowed=("1", "3"),
            default="1",
            basis="chargers up to 7 kW, common practice",
            decided=True,
        ),
    ]
    output_power: Annotated[
        Value,
        Quantity(
            POWER,
            "highest power it gives the pack",
            _SHEET,
            minutes=5,
            allowed=("100 W", "50 kW"),
        ),
    ]
    mains_efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "power into the pack over power out of the mains, at large power",
            f"{_SHEET}; or meter in the outlet against the management's volts times amperes",
            minutes=15,
            allowed=("50 %", "99 %"),
            default="93 % ± 2",
            basis="chargers on board at full power, common practice",
        ),
    ]
    mains_efficiency_curve: Annotated[
        Curve,
        Sampled(
            (
                Column("power", POWER, ("50 W", "50 kW")),
                Column("efficiency", FRACTION, ("20 %", "99 %")),
            ),
            "power into the pack over power out of the mains, against power into the pack",
            f"{_SHEET}; or meter in the outlet against the management's, at five powers",
            minutes=60,
        ),
    ]
    power_factor: Annotated[
        Value,
        Quantity(
            FRACTION,
            "power over volts times amperes on the mains side",
            f"{_SHEET}; an energy meter shows it",
            minutes=5,
            allowed=("30 %", "100 %"),
            default="98 % ± 1",
            basis="chargers with correction, at large power, common practice",
        ),
    ]
    isolated: Annotated[
        bool | None,
        Plain(
            "its output is isolated from the mains",
            "maker's sheet: true where input and output are separated by a transformer",
        ),
    ] = None
    leakage: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current it leaks to earth",
            f"{_SHEET}; an electrician's leakage clamp round line and neutral while it charges",
            minutes=15,
            allowed=("0 mA", "50 mA"),
            default="2 mA ± 1.5",
            basis="filters of one charger, below 3.5 mA, common practice",
        ),
    ]
    wall_efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "energy out of the pack while driving over energy out of the wall for it",
            "energy meter in the outlet from empty to full, against the energy the management "
            "counts out of the pack until it is as empty again",
            minutes=30,
            allowed=("50 %", "99 %"),
            default="88 % ± 4",
            basis="charger, cable and cells together, common practice",
        ),
    ]


class Fuse(OnThePack):
    """A fuse: its rating is ``current``, and ``opening_curve`` how long it bears more."""

    kind: Annotated[Literal["fuse"], Plain("kind of device")]
    opening_curve: Annotated[
        Curve,
        Sampled(
            (
                Column("current", CURRENT, ("0.5 A", "100 kA")),
                Column("time", TIME, ("0.0001 s", "100000 s")),
            ),
            "time after which it has opened, against current",
            "maker's printed curve, both scales logarithmic: read eight points or more with a "
            "ruler, the slowest first",
            minutes=30,
        ),
    ]
    breaks: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest direct current it breaks, at its voltage",
            f"{_SHEET}; the figure for direct current alone",
            minutes=5,
            allowed=("10 A", "200 kA"),
        ),
    ]


def _tag(raw: object) -> str:
    kind = raw.get("kind", "") if isinstance(raw, dict) else getattr(raw, "kind", "")
    return PART_KINDS.get(kind, Part).__name__ if isinstance(kind, str) else Part.__name__


AnyPart = Annotated[
    Annotated[Part, Tag("Part")]
    | Annotated[Device, Tag("Device")]
    | Annotated[Inverter, Tag("Inverter")]
    | Annotated[Charger, Tag("Charger")]
    | Annotated[Fuse, Tag("Fuse")]
    | Annotated[Cable, Tag("Cable")]
    | Annotated[Motor, Tag("Motor")],
    Discriminator(_tag),
]

# What may stand in ``kind`` of a part, and the record it makes; without one it is a plain part.
PART_KINDS: dict[str, type[Record]] = {
    "": Part,
    "motor": Motor,
    "inverter": Inverter,
    "charger": Charger,
    "cable": Cable,
    "dcdc": Device,
    "heater": Device,
    "compressor": Device,
    "contactor": Device,
    "fuse": Fuse,
    "link_capacitor": Device,
    "bms": Device,
}

# Names by which a failed choice among them is reported; they are no part of a path.
PART_TAGS = frozenset(model.__name__ for model in PART_KINDS.values())
