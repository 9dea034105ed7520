"""The driveline between motor and road."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import (
    FRACTION,
    LENGTH,
    POWER,
    RATIO,
    STRESS,
    TEMPERATURE,
    TIME,
    TORQUE,
)
from wattwright.values import Value

TurnsWith = Literal["motor", "propshaft", "wheel"]


class Gear(Record):
    """One gear that is used."""

    ratio: Annotated[
        Value,
        Quantity(
            RATIO,
            "turns of the motor for one turn of the gearbox output",
            "workshop manual; or motor's cables off, wheels on stands: turn the input by hand and "
            "count turns of the output, gear engaged",
            minutes=10,
            allowed=("0.2", "20"),
            decided=True,
        ),
    ]
    efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the torque this gear passes on",
            "gearbox maker's sheet; a direct gear with nothing between the shafts: 100 %",
            minutes=10,
            allowed=("50 %", "100 %"),
            default="97 % ± 2",
            basis="one pair of gears with its bearings, common practice",
        ),
    ]
    backwards: Annotated[bool, Plain("reverse gear", "true for the gear that drives backwards")] = (
        False
    )


class Link(Record):
    """One thing the torque goes through on its way to the road."""

    turns_with: Annotated[
        TurnsWith,
        Plain(
            "shaft it turns with",
            "motor: clutch, coupling, gearbox input; propshaft: what lies behind the gearbox up "
            "to the final drive; wheel: one half-shaft or joint of two on the axle",
        ),
    ]
    torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "highest torque its maker allows",
            "maker's sheet or catalogue of the gearbox, clutch or joint; else the highest torque "
            "of the engine it was made for, times the gears before it",
            minutes=20,
            allowed=("5 N·m", "30000 N·m"),
            may_be_none=True,
        ),
    ]
    diameter: Annotated[
        Value,
        Quantity(
            LENGTH,
            "smallest outside diameter under load, of a shaft without a rating",
            "caliper at the thinnest place; at splines the root, not the bar beside them",
            minutes=10,
            allowed=("8 mm", "200 mm"),
        ),
    ]
    bore: Annotated[
        Value,
        Quantity(
            LENGTH,
            "inside diameter of a tube",
            "caliper at an open end; solid: leave out",
            minutes=5,
            allowed=("0 mm", "190 mm"),
            default="0 mm",
        ),
    ]
    yield_strength: Annotated[
        Value,
        Quantity(
            STRESS,
            "stress at which its steel yields in tension",
            "shaft maker; else hardness on a filed spot, turned into strength with a table",
            minutes=30,
            allowed=("150 MPa", "2000 MPa"),
        ),
    ]

    reversing_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of that which it bears back and forth, between driving and braking",
            "maker's sheet: endurance over rating; of a shaft by its steel, half where it is "
            "polished and hardened, less with splines, a keyway or rust",
            minutes=20,
            allowed=("5 %", "100 %"),
            default="40 % ± 10",
            basis="splined shafts of heat treated steel, common practice",
        ),
    ]


class Start(Record):
    """Starting on a hill."""

    time: Annotated[
        Value,
        Quantity(
            TIME,
            "how long the motor must hold before the vehicle rolls",
            "decide it: from letting the brake go until it moves",
            minutes=1,
            allowed=("0.5 s", "30 s"),
            default="3 s",
            basis="our own figure for a start with the hand brake",
            decided=True,
        ),
    ]
    friction: Annotated[
        Value,
        Quantity(
            RATIO,
            "friction between tyres and the worst road it must start on",
            "choose the road: dry tar about 0.8, wet tar 0.6, wet gravel or grass 0.4, snow 0.2",
            minutes=2,
            allowed=("0.05", "1.2"),
            default="0.4 ± 0.1",
            basis="wet gravel, common practice",
        ),
    ]


class Regen(Record):
    """Braking by the motor when the accelerator is let go."""

    torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "braking torque of all motors together when the accelerator is let go",
            "setting of the inverter, as torque at the shaft; 0 N·m where it is switched off",
            minutes=5,
            allowed=("0 N·m", "2000 N·m"),
            decided=True,
        ),
    ]
    friction: Annotated[
        Value,
        Quantity(
            RATIO,
            "friction between tyres and the most slippery road it is driven on",
            "choose the road: wet tar 0.6, snow 0.2, ice 0.1",
            minutes=2,
            allowed=("0.05", "1.0"),
            default="0.2 ± 0.05",
            basis="snow, common practice",
        ),
    ]
    lights_stop_lamps: Annotated[
        bool | None,
        Plain("the motor's braking lights the stop lamps", "true where it is wired or set so"),
    ] = None


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
            "tag on the axle; or both wheels off the ground on stands, others chocked, key out: "
            "turn the shaft and count turns of both wheels, their mean counts; one wheel held "
            "doubles the other's turns",
            minutes=10,
            allowed=("0.5", "20"),
            decided=True,
        ),
    ]
    differential: Annotated[
        Literal["open", "locked"] | None,
        Plain(
            "differential",
            "open: both wheels get the same torque; locked: a lock, limited slip or none, so that "
            "one wheel may get all of it",
        ),
    ] = None
    front_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the force at the front wheels, where all are driven",
            "transfer case or centre differential by its sheet; two motors: their torques; locked: "
            "half is usual",
            minutes=10,
            allowed=("1 %", "99 %"),
            default="50 % ± 10",
            basis="centre differential with like halves, common practice",
        ),
    ]
    final_efficiency: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the torque the final drive, joints and wheel bearings pass on",
            "axle maker's sheet",
            minutes=10,
            allowed=("50 %", "100 %"),
            default="95 % ± 2",
            basis="bevel gears and joints, common practice",
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
    reverse: Annotated[
        Literal["motor", "gear"] | None,
        Plain("what turns back for reverse", "motor, turned the other way, or a gear of the box"),
    ] = None
    shift_time: Annotated[
        Value,
        Quantity(
            TIME,
            "time one change of gear takes without drive",
            "stop-watch on the road; without a clutch the motor must be brought to speed first",
            minutes=10,
            allowed=("0.1 s", "10 s"),
            default="1.5 s ± 0.5",
            basis="changing by hand, common practice",
        ),
    ]
    auxiliary: Annotated[
        Value,
        Quantity(
            POWER,
            "power the pack feeds beside the motor while driving",
            "clamp meter around the insulated pack cable of the DC-DC, times the pack's voltage as "
            "the battery management shows it, lamps, wipers and pumps on, plus heater and "
            "compressor if they run; nothing opened, nothing touched",
            minutes=20,
            allowed=("0 W", "15 kW"),
            default="500 W ± 300",
            basis="lamps, pumps and wipers, common practice",
        ),
    ]
    link: Annotated[
        dict[str, Link],
        Section("what the torque goes through: clutch, gearbox, joints, shafts, by name"),
    ]
    start: Annotated[Start, Section("starting on a hill")]
    regen: Annotated[Regen, Section("braking by the motor")]
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
    hottest_magnets: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the magnets on a long hill; hot magnets are weaker",
            "the inverter's reading of the rotor or winding after a long hill; left out: typical",
            minutes=30,
            allowed=("0 °C", "180 °C"),
            default="100 °C ± 30",
            basis="rotor after a long hill, common practice",
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
