"""Parts that carry high voltage, or turn: one record each, with the common fields of a part."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Tag

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.parts import Part
from wattwright.kinds import (
    COUNT,
    CURRENT,
    FLUX_LINKAGE,
    FRACTION,
    HEAT_CAPACITY,
    INDUCTANCE,
    INERTIA,
    POWER,
    RESISTANCE,
    ROTATIONAL_SPEED,
    TEMPERATURE,
    THERMAL_RESISTANCE,
    TIME,
    TORQUE,
    VOLTAGE,
)
from wattwright.values import Value

_SHEET = "the maker's data sheet or the plate on the case; photograph it"

DeviceKind = Literal[
    "charger", "dcdc", "heater", "compressor", "contactor", "fuse", "link_capacitor", "bms"
]


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
            allowed=("0 A", "1500 A"),
            may_be_none=True,
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


class Point(Record):
    """One working point of motor and inverter whose efficiency is known."""

    speed: Annotated[
        Value,
        Quantity(
            ROTATIONAL_SPEED,
            "speed of the shaft",
            f"{_SHEET}; optical counter where it is measured",
            minutes=5,
            allowed=("10 rpm", "30000 rpm"),
        ),
    ]
    torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "torque of the shaft",
            f"{_SHEET}; lever and scale on a bench where it is measured",
            minutes=20,
            allowed=("0.1 N·m", "3000 N·m"),
        ),
    ]
    efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "efficiency of motor and inverter together",
            "shaft power over DC power: clamp meter and voltmeter at the inverter's DC side",
            minutes=20,
            allowed=("5 %", "100 %"),
        ),
    ]


class Motor(Part):
    """The motor, by whichever data the builder has."""

    kind: Annotated[Literal["motor"], Plain("kind of device")]
    fed_by: Annotated[
        str, Plain("name of the inverter that feeds it", "needed only where there are several")
    ] = ""
    pole_pairs: Annotated[
        Value,
        Quantity(
            COUNT,
            "pole pairs",
            "data sheet, or turn the shaft by hand with two phases fed a small direct current "
            "and count the rests in one turn",
            minutes=15,
            allowed=("1", "20"),
            decided=True,
        ),
    ]
    flux: Annotated[
        Value,
        Quantity(
            FLUX_LINKAGE,
            "flux linkage of the magnets, peak, magnets at 20 °C; none: no magnets",
            "spin the shaft with a drill at a counted speed, scope or true-rms meter between two "
            "phases: line rms times 0.8165 over the electrical speed",
            minutes=30,
            allowed=("1 mWb", "1 Wb"),
            may_be_none=True,
        ),
    ]
    ld: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "inductance along the magnets",
            "data sheet, or LCR meter between two phases, shaft turned: half the smallest reading",
            minutes=20,
            allowed=("1 µH", "100 mH"),
        ),
    ]
    lq: Annotated[
        Value,
        Quantity(
            INDUCTANCE,
            "inductance across the magnets",
            "data sheet, or LCR meter between two phases, shaft turned: half the largest reading",
            minutes=20,
            allowed=("1 µH", "100 mH"),
        ),
    ]
    rs: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of one phase",
            "four-wire meter between two phases, motor cold and still: half the reading",
            minutes=10,
            allowed=("0.01 mΩ", "10 Ω"),
        ),
    ]
    current_limit: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest phase current the motor bears, peak of the sine",
            f"{_SHEET}; where it is given in A rms multiply by 1.414",
            minutes=5,
            allowed=("1 A", "3000 A"),
        ),
    ]
    max_speed: Annotated[
        Value,
        Quantity(
            ROTATIONAL_SPEED,
            "highest speed",
            f"{_SHEET}; rotor and bearings",
            minutes=5,
            allowed=("100 rpm", "30000 rpm"),
        ),
    ]
    curve_voltage: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "DC voltage for which the curve or the ratings hold",
            f"{_SHEET}; the voltage printed beside the curve",
            minutes=5,
            allowed=("12 V", "1500 V"),
        ),
    ]
    peak_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "highest torque, where no curve and no inductances are known",
            f"{_SHEET}; with the inverter it will run on",
            minutes=5,
            allowed=("1 N·m", "3000 N·m"),
        ),
    ]
    peak_power: Annotated[
        Value,
        Quantity(
            POWER,
            "highest power, where no curve and no inductances are known",
            f"{_SHEET}; with the inverter it will run on, at the DC voltage stated",
            minutes=5,
            allowed=("0.5 kW", "1000 kW"),
        ),
    ]
    continuous_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "torque it gives for thirty minutes",
            f"{_SHEET}; with the cooling it will have",
            minutes=5,
            allowed=("1 N·m", "3000 N·m"),
        ),
    ]
    continuous_power: Annotated[
        Value,
        Quantity(
            POWER,
            "power it gives for thirty minutes",
            f"{_SHEET}; UN Regulation No. 85 names it so; with the cooling it will have",
            minutes=5,
            allowed=("0.5 kW", "1000 kW"),
        ),
    ]
    efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "efficiency of motor and inverter together at large torque",
            f"{_SHEET}; a grid or some points say more",
            minutes=10,
            allowed=("30 %", "99 %"),
            default="88 % ± 5",
            basis="motor and inverter at large torque, common practice",
        ),
    ]
    point: Annotated[
        dict[str, Point], Section("working points whose efficiency is known, by name")
    ]
    inertia: Annotated[
        Value,
        Quantity(
            INERTIA,
            "inertia of the rotor with coupling and clutch",
            f"{_SHEET}; else mass of the rotor times the square of 0.7 of its radius",
            minutes=10,
            allowed=("0.0005 kg·m²", "2 kg·m²"),
            default="0.05 kg·m² ± 0.03",
            basis="motors of this size with a coupling, common practice",
        ),
    ]
    heat_capacity: Annotated[
        Value,
        Quantity(
            HEAT_CAPACITY,
            "heat that warms its windings by one kelvin",
            "mass of the copper times 0.39 kJ/(kg·K), a fifth of the motor's mass where it is "
            "unknown",
            minutes=15,
            allowed=("0.1 kJ/K", "100 kJ/K"),
        ),
    ]
    thermal_resistance: Annotated[
        Value,
        Quantity(
            THERMAL_RESISTANCE,
            "warming of the windings above the coolant for one watt of loss",
            "half an hour at a steady load: windings less coolant, over the loss",
            minutes=60,
            allowed=("0.1 K/kW", "2000 K/kW"),
        ),
    ]
    winding_limit: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature at which its windings are shut down",
            "setting of the inverter; class of the insulation on the plate",
            minutes=10,
            allowed=("80 °C", "220 °C"),
            default="140 °C",
            basis="class F or H less a reserve, common practice",
        ),
    ]
    warm: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of coolant or case from which a hill is taken",
            "thermometer on the hose or case after half an hour's drive",
            minutes=10,
            allowed=("0 °C", "120 °C"),
            default="60 °C",
            basis="warm coolant on a hot day, common practice",
        ),
    ]


def _tag(raw: object) -> str:
    kind = raw.get("kind", "") if isinstance(raw, dict) else getattr(raw, "kind", "")
    return PART_KINDS.get(kind, Part).__name__ if isinstance(kind, str) else Part.__name__


AnyPart = Annotated[
    Annotated[Part, Tag("Part")]
    | Annotated[Device, Tag("Device")]
    | Annotated[Inverter, Tag("Inverter")]
    | Annotated[Motor, Tag("Motor")],
    Discriminator(_tag),
]

# What may stand in ``kind`` of a part, and the record it makes; without one it is a plain part.
PART_KINDS: dict[str, type[Record]] = {
    "": Part,
    "motor": Motor,
    "inverter": Inverter,
    "charger": Device,
    "dcdc": Device,
    "heater": Device,
    "compressor": Device,
    "contactor": Device,
    "fuse": Device,
    "link_capacitor": Device,
    "bms": Device,
}

# Names by which a failed choice among them is reported; they are no part of a path.
PART_TAGS = frozenset(model.__name__ for model in PART_KINDS.values())
