"""What the vehicle is put through: a test cycle, a recorded way, or stretches of road."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section, Track
from wattwright.kinds import (
    ACCELERATION,
    COUNT,
    FRACTION,
    GRADE,
    LENGTH,
    POWER,
    SPEED,
    TEMPERATURE,
    TIME,
)
from wattwright.sampled import Route
from wattwright.values import Value

CycleName = Literal["wltc_1", "wltc_2", "wltc_3a", "wltc_3b", "udds", "hwfet", "us06", "nedc"]

# Asked of a use and of a season alike.
HeaterPower = Annotated[
    Value,
    Quantity(
        POWER,
        "power of heater or air conditioning from the pack, on average; left out: by the cabin",
        "the battery management's power, vehicle at rest, with it on less with it off, cabin "
        "warmed through; nothing opened",
        minutes=20,
        allowed=("0 W", "15 kW"),
        decided=True,
    ),
]

_NUMBERED = re.compile(r"[0-9]+")


class Stretch(Record):
    """A stretch of road, driven at one speed up or down one grade."""

    length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "length of the stretch",
            "trip meter from one end to the other, or the map on the table",
            minutes=5,
            allowed=("10 m", "300 km"),
            decided=True,
        ),
    ]
    speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed held on it",
            "satellite receiver on the dashboard on a usual day, driver aboard; not the "
            "speedometer, which shows too much",
            minutes=5,
            allowed=("3 km/h", "200 km/h"),
            decided=True,
        ),
    ]
    grade: Annotated[
        Value,
        Quantity(
            GRADE,
            "rise over run, below zero downhill",
            "two contour lines of the map over the length between them; or a digital level on a "
            "board along the road",
            minutes=10,
            allowed=("-25 %", "25 %"),
            default="0 %",
            decided=True,
        ),
    ]
    stop: Annotated[
        Value,
        Quantity(
            TIME,
            "time standing at its end",
            "clock on the dashboard on a usual day; 0 s: driven through; ten minutes or more count "
            "as switched off",
            minutes=2,
            allowed=("0 s", "24 h"),
            default="0 s",
            decided=True,
        ),
    ]


class Use(Record):
    """One thing the vehicle is put through: a cycle, a route or stretches, one of the three."""

    says: Annotated[str, Plain("in words")] = ""
    cycle: Annotated[
        CycleName | None,
        Plain("published test cycle", "speeds second by second on a level road"),
    ] = None
    route: Annotated[
        Route,
        Track(
            "the way as recorded or planned",
            "satellite receiver in the vehicle, a point every second, the whole way on a usual "
            "day; export the track as GPX",
            minutes=60,
            help=".csv: distance or time with speed, and altitude or grade; .gpx: a track",
        ),
    ]
    speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed on a route that has neither times nor speeds",
            "satellite receiver on the dashboard on a usual day, mean while moving",
            minutes=5,
            allowed=("3 km/h", "200 km/h"),
            decided=True,
        ),
    ]
    stretch: Annotated[
        dict[str, Stretch],
        Section(
            "stretches, one after the other",
            "each name begins with the number that says its turn, such as 20_long_hill",
        ),
    ]
    acceleration: Annotated[
        Value,
        Quantity(
            ACCELERATION,
            "acceleration when speeding up",
            "stop-watch from standstill to 50 km/h as usually driven, on the level, driver aboard: "
            "13.9 m/s over the seconds",
            minutes=10,
            allowed=("0.2 m/s²", "5 m/s²"),
            default="1.0 m/s²",
            basis="with the traffic, common practice",
        ),
    ]
    braking: Annotated[
        Value,
        Quantity(
            ACCELERATION,
            "deceleration when slowing down",
            "stop-watch from 50 km/h to standstill as usually driven, on the level, driver aboard: "
            "13.9 m/s over the seconds",
            minutes=10,
            allowed=("0.2 m/s²", "5 m/s²"),
            default="1.0 m/s²",
            basis="with the traffic, common practice",
        ),
    ]
    gear: Annotated[
        str, Plain("gear it is driven in", "a name of [drive.gear]; left out: the best single one")
    ] = ""
    case: Annotated[
        str,
        Plain("loading case", "kerb, driver, full or a name of [case]; left out: driver"),
    ] = "driver"
    range: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far it must go like this on one charge, in every season",
            "decide it: the longest day you will not give up",
            minutes=2,
            allowed=("5 km", "1000 km"),
            decided=True,
        ),
    ]
    repeat: Annotated[
        Value,
        Quantity(
            COUNT,
            "how many times it is driven on one charge",
            "decide it: 2 for there and back the same way",
            minutes=1,
            allowed=("1", "1000"),
            default="1",
            decided=True,
        ),
    ]
    outside_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature outside",
            "decide it: the season that counts; thermometer in the shade, at driving time",
            minutes=1,
            allowed=("-40 °C", "50 °C"),
            default="15 °C",
            basis="standard atmosphere",
        ),
    ]
    heater_power: HeaterPower
    start_charge: Annotated[
        Value,
        Quantity(
            FRACTION,
            "charge of the pack at the start",
            "decide it: 100 % after a night at the socket; the battery management shows it",
            minutes=1,
            allowed=("1 %", "100 %"),
            default="100 %",
            decided=True,
        ),
    ]
    headwind: Annotated[
        Value,
        Quantity(
            SPEED,
            "headwind all the way",
            "decide it: 0 km/h for calm; a fresh breeze is 30 km/h",
            minutes=1,
            allowed=("0 km/h", "100 km/h"),
            default="0 km/h",
            decided=True,
        ),
    ]

    @property
    def stretches(self) -> tuple[tuple[str, Stretch], ...]:
        """The stretches with their names, in the order in which they are driven."""
        return tuple(sorted(self.stretch.items(), key=lambda item: turn(item[0]) or 0))


class Season(Record):
    """A season, or an age of the pack, in which every use is driven once more."""

    says: Annotated[str, Plain("in words")] = ""
    outside_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature outside, of the cells too when it sets out; left out: as the use has it",
            "decide it; thermometer in the shade, at driving time",
            minutes=1,
            allowed=("-40 °C", "50 °C"),
            decided=True,
        ),
    ]
    heater_power: HeaterPower
    headwind: Annotated[
        Value,
        Quantity(
            SPEED,
            "headwind all the way; left out: as the use has it",
            "decide it: 0 km/h for calm; a fresh breeze is 30 km/h",
            minutes=1,
            allowed=("0 km/h", "100 km/h"),
            decided=True,
        ),
    ]
    aged: Annotated[bool, Plain("the pack is at the end of its life", "true or false")] = False


def turn(name: str) -> int | None:
    """Give the number at the beginning of a stretch's name; none where there is none."""
    match = _NUMBERED.match(name)
    return int(match[0]) if match else None
