"""Parts that carry high voltage, or turn: one record each, with the common fields of a part."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Tag

from wattwright.build.fields import Column, Plain, Quantity, Record, Sampled
from wattwright.build.parts import Part
from wattwright.kinds import (
    COUNT,
    CURRENT,
    FLUX_LINKAGE,
    FRACTION,
    INDUCTANCE,
    RESISTANCE,
    ROTATIONAL_SPEED,
    TORQUE,
    VOLTAGE,
)
from wattwright.sampled import Curve, Grid
from wattwright.values import Value

_SHEET = "the maker's data sheet or the plate on the case; photograph it"
_SPEED_COLUMN = Column("speed", ROTATIONAL_SPEED, ("0 rpm", "30000 rpm"))
_TORQUE_COLUMN = Column("torque", TORQUE, ("0 N·m", "3000 N·m"))

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
    curve: Annotated[
        Curve,
        Sampled(
            (_SPEED_COLUMN, _TORQUE_COLUMN),
            "torque against speed, at the highest current, at one DC voltage",
            "maker's sheet: read 8 or more points off the printed curve with a ruler, the first "
            "at standstill and the last at the highest speed",
            minutes=30,
        ),
    ]
    efficiency_grid: Annotated[
        Grid,
        Sampled(
            (_SPEED_COLUMN, _TORQUE_COLUMN, Column("efficiency", FRACTION, ("1 %", "100 %"))),
            "efficiency of motor and inverter together by speed and torque",
            "maker's sheet, or a bench with torque and DC power measured: read it off the contour "
            "lines at crossings of whole speeds and torques",
            minutes=60,
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
