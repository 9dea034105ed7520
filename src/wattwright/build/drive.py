"""The driveline between motor and road."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import FRACTION, LENGTH, RATIO, TEMPERATURE
from wattwright.values import Value


class Gear(Record):
    """One gear that is used."""

    ratio: Annotated[
        Value,
        Quantity(
            RATIO,
            "turns of the motor for one turn of the gearbox output",
            "workshop manual, or turn the input by hand and count turns of the output, gear "
            "engaged",
            minutes=10,
            allowed=("0.2", "20"),
            decided=True,
        ),
    ]


class Driveline(Record):
    """Gears, final drive and the wheel that rolls."""

    driven: Annotated[
        Literal["front", "rear", "all"] | None, Plain("driven axle", "front, rear or all")
    ] = None
    final_ratio: Annotated[
        Value,
        Quantity(
            RATIO,
            "turns of the propshaft or transaxle input for one turn of the wheels",
            "tag on the axle, or both wheels free: turn the shaft and count turns of the wheels; "
            "one wheel held doubles the other's turns",
            minutes=10,
            allowed=("0.5", "20"),
            decided=True,
        ),
    ]
    rolling_circumference: Annotated[
        Value,
        Quantity(
            LENGTH,
            "distance the driven wheel rolls in one turn",
            "chalk mark on tyre and floor, roll five turns with the driver aboard, tape, divide; "
            "left out: taken from the tyre size, which is typical only",
            minutes=10,
            allowed=("0.8 m", "3 m"),
        ),
    ]
    gear: Annotated[
        dict[str, Gear], Section("gears that are used, by name; direct drive: one with ratio 1")
    ]
    coldest_magnets: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "lowest temperature of the magnets while driving",
            "coldest morning of the year; cold magnets are stronger",
            minutes=2,
            allowed=("-40 °C", "40 °C"),
            default="-20 °C",
            basis="common practice for a cold climate",
        ),
    ]
    flux_loss: Annotated[
        Value,
        Quantity(
            FRACTION,
            "flux the magnets lose in 100 kelvin of warming",
            "magnet maker's sheet; about 11 % for neodymium, 4 % for samarium cobalt",
            minutes=10,
            allowed=("0 %", "25 %"),
            default="11 %",
            basis="neodymium magnets, from memory",
        ),
    ]
