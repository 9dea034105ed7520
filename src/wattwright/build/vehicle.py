"""The vehicle's own records: donor, weighings, tyres and loading cases."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.parts import Part
from wattwright.kinds import (
    ANGLE,
    COUNT,
    GAUGE_PRESSURE,
    GRADE,
    LENGTH,
    MASS,
    SPEED,
    TEMPERATURE,
    TIME,
)
from wattwright.values import Value

_WHEEL = (
    "wheel scale under this wheel, the other three on scales or blocks of the same height, level "
    "floor, brakes off, rolled back and forth once"
)
_AXLE = "weighbridge or axle scale, this axle alone on the plate, the other level with it"
_LIMIT = "read it off the maker's plate or the registration paper; photograph it"


class Axle(Record):
    """One axle of the donor."""

    track: Annotated[
        Value,
        Quantity(
            LENGTH,
            "track",
            "tape from tyre middle to tyre middle at hub height, or outside to outside less one "
            "tyre width, wheels straight",
            minutes=5,
            allowed=("0.7 m", "2.4 m"),
        ),
    ]
    limit: Annotated[
        Value,
        Quantity(
            MASS,
            "highest load the maker allows on this axle",
            _LIMIT,
            minutes=3,
            allowed=("100 kg", "6000 kg"),
            may_be_none=True,
        ),
    ]


class Lift(Record):
    """A weighing with one axle lifted, from which the height of the centre of gravity follows."""

    lifted: Annotated[Literal["front", "rear"], Plain("axle that was lifted")] = "rear"
    angle: Annotated[
        Value,
        Quantity(
            ANGLE,
            "tilt of the vehicle",
            "digital level on a sill or frame rail: reading lifted less reading level",
            minutes=5,
            allowed=("0°", "40°"),
        ),
    ]
    height: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height the wheel centres were lifted by",
            "tape from floor to hub centre, lifted less level, both sides, instead of the angle",
            minutes=5,
            allowed=("0 m", "2 m"),
        ),
    ]
    floor_level: Annotated[
        Value,
        Quantity(
            MASS,
            "load on the axle that stays on the floor, before lifting",
            "same scales and same things aboard as for the lifted reading, vehicle level; left "
            "out: taken from the weighing",
            minutes=10,
            allowed=("10 kg", "6000 kg"),
        ),
    ]
    floor_lifted: Annotated[
        Value,
        Quantity(
            MASS,
            "load on the axle that stays on the floor, other axle lifted",
            "scales under the axle on the floor, suspension locked with blocks, wheels free to "
            "roll, brakes off, lifted axle on stands under the wheels",
            minutes=30,
            allowed=("10 kg", "6000 kg"),
        ),
    ]
    axle_height: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height of the wheel centres above the floor when level",
            "tape from the floor to the hub centre, all four, mean",
            minutes=4,
            allowed=("0.15 m", "0.6 m"),
        ),
    ]
    suspension_locked: Annotated[
        bool | None,
        Plain(
            "suspension locked",
            "true when blocks or struts kept the springs from moving; otherwise the height is "
            "doubtful",
        ),
    ] = None
    wanted: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how closely the height should be known",
            "decide it: 30 mm is enough for comparing before and after",
            minutes=1,
            allowed=("1 mm", "0.5 m"),
            default="30 mm",
            basis="common practice",
            decided=True,
        ),
    ]


class Weighing(Record):
    """One weighing: wheels on four scales, or axles one at a time."""

    fl: Annotated[
        Value,
        Quantity(MASS, "front left wheel", _WHEEL, minutes=8, allowed=("0 kg", "3000 kg")),
    ]
    fr: Annotated[
        Value,
        Quantity(MASS, "front right wheel", _WHEEL, minutes=8, allowed=("0 kg", "3000 kg")),
    ]
    rl: Annotated[
        Value,
        Quantity(MASS, "rear left wheel", _WHEEL, minutes=8, allowed=("0 kg", "3000 kg")),
    ]
    rr: Annotated[
        Value,
        Quantity(MASS, "rear right wheel", _WHEEL, minutes=8, allowed=("0 kg", "3000 kg")),
    ]
    front: Annotated[
        Value,
        Quantity(
            MASS,
            "front axle, where only axles were weighed",
            _AXLE,
            minutes=15,
            allowed=("0 kg", "6000 kg"),
        ),
    ]
    rear: Annotated[
        Value,
        Quantity(
            MASS,
            "rear axle, where only axles were weighed",
            _AXLE,
            minutes=15,
            allowed=("0 kg", "6000 kg"),
        ),
    ]
    aboard: Annotated[
        dict[str, Value],
        Quantity(
            MASS,
            "mass aboard at this place during the weighing",
            "who sat where and what lay where; fuel from the gauge or from what was filled in",
            minutes=3,
            allowed=("0 kg", "5000 kg"),
            help="keys are names of [place]; an empty vehicle says aboard = {}",
        ),
    ]
    cg_height: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height of the centre of gravity, where it is known from elsewhere",
            "an axle-lift weighing: see the lift record",
            minutes=60,
            allowed=("0.2 m", "2 m"),
        ),
    ]
    lift: Annotated[Lift, Section("weighing with one axle lifted")]
    note: Annotated[str, Plain("note", "which scales, where, in what weather")] = ""


class Donor(Record):
    """The combustion vehicle as found, and what was taken out of it."""

    description: Annotated[str, Plain("what it is")] = ""
    wheelbase: Annotated[
        Value,
        Quantity(
            LENGTH,
            "wheelbase",
            "tape from hub centre to hub centre along the floor, both sides, wheels straight",
            minutes=10,
            allowed=("1.2 m", "5.5 m"),
        ),
    ]
    gross_limit: Annotated[
        Value,
        Quantity(
            MASS,
            "highest gross mass the maker allows",
            _LIMIT,
            minutes=3,
            allowed=("300 kg", "12000 kg"),
            may_be_none=True,
        ),
    ]
    front: Annotated[Axle, Section("front axle")]
    rear: Annotated[Axle, Section("rear axle")]
    weighed: Annotated[Weighing, Section("the donor as found, on the scales")]
    removed: Annotated[dict[str, Part], Section("what was taken out, one record each")]


class Tyre(Record):
    """The tyres on one axle of the conversion."""

    size: Annotated[str, Plain("size", "as written on the sidewall")] = ""
    load_index: Annotated[
        Value,
        Quantity(
            COUNT,
            "load index",
            "read it off the sidewall, the number after the size; single fitment where two stand",
            minutes=1,
            allowed=("50", "130"),
        ),
    ]
    max_load: Annotated[
        Value,
        Quantity(
            MASS,
            "highest load of one tyre, where it is written in kg or lb",
            "read it off the sidewall",
            minutes=1,
            allowed=("100 kg", "3000 kg"),
        ),
    ]
    speed_symbol: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed symbol",
            "read it off the sidewall, the letter after the load index",
            minutes=1,
            codes="tyre_speed_symbol",
        ),
    ]
    pressure: Annotated[
        Value,
        Quantity(
            GAUGE_PRESSURE,
            "pressure it will run at, cold",
            "gauge on the valve before driving, tyre at outside temperature",
            minutes=3,
            allowed=("0.8 bar", "8 bar"),
            decided=True,
        ),
    ]
    load_at_pressure: Annotated[
        Value,
        Quantity(
            MASS,
            "load of one tyre at that pressure, from the tyre maker's table",
            "tyre maker's load and pressure table; needed for commercial tyres below their rated "
            "pressure, for which no formula is printed in a standard",
            minutes=10,
            allowed=("100 kg", "3000 kg"),
        ),
    ]
    table_pressure: Annotated[
        Value,
        Quantity(
            GAUGE_PRESSURE,
            "pressure that the load from the table is for",
            "the same line of the tyre maker's table",
            minutes=2,
            allowed=("0.8 bar", "8 bar"),
        ),
    ]
    rated_pressure: Annotated[
        Value,
        Quantity(
            GAUGE_PRESSURE,
            "pressure at which it carries the load of its index",
            "read it off the sidewall or the tyre maker's table; passenger tyres without any "
            "marking: ask a tyre shop",
            minutes=3,
            allowed=("1.5 bar", "8 bar"),
            default="2.5 bar",
            basis="passenger tyres of standard load, as rated by most tables",
        ),
    ]


class Tyres(Record):
    """Tyres by axle."""

    front: Annotated[Tyre, Section("front tyres")]
    rear: Annotated[Tyre, Section("rear tyres")]


class Case(Record):
    """One way of loading the vehicle, beside kerb, driver and full."""

    says: Annotated[str, Plain("in words")] = ""
    aboard: Annotated[
        dict[str, Value],
        Quantity(
            MASS,
            "mass aboard at this place",
            "weigh it, or count and multiply",
            minutes=3,
            allowed=("0 kg", "5000 kg"),
            help="keys are names of [place]",
            decided=True,
        ),
    ]


class Targets(Record):
    """What the builder wants of the finished vehicle."""

    top_speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "fastest it will be driven",
            "decide it; it sets the speed rating the tyres need",
            minutes=2,
            allowed=("10 km/h", "250 km/h"),
            decided=True,
        ),
    ]
    hill_grade: Annotated[
        Value,
        Quantity(
            GRADE,
            "steepest hill it must start and climb on, in every loading case",
            "digital level on a board along the steepest stretch, or rise over run from the map",
            minutes=20,
            allowed=("1 %", "50 %"),
            decided=True,
        ),
    ]
    hill_speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed it must keep up that hill",
            "decide it: what the traffic behind will bear",
            minutes=2,
            allowed=("5 km/h", "150 km/h"),
            decided=True,
        ),
    ]
    hill_length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "length of the steepest hill it must keep climbing",
            "trip meter from its foot to its top, or the map",
            minutes=10,
            allowed=("50 m", "50 km"),
            decided=True,
        ),
    ]
    hill_outside: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature outside on the hottest day it is climbed",
            "decide it: thermometer in the shade at the foot of the hill, in August",
            minutes=1,
            allowed=("-10 °C", "55 °C"),
            default="30 °C",
            basis="a hot day, common practice",
        ),
    ]
    speed_missing: Annotated[
        Value,
        Quantity(
            SPEED,
            "by how much it may stay behind a speed that is wanted, on a use or on the hill",
            "decide it: what nobody behind you notices",
            minutes=1,
            allowed=("0.5 km/h", "30 km/h"),
            default="2 km/h ± 0.5",
            basis="as test benches allow their drivers, common practice",
        ),
    ]
    zero_to_fifty: Annotated[
        Value,
        Quantity(
            TIME,
            "longest time from standstill to 50 km/h, driver aboard",
            "decide it: 10 s keeps up with town traffic",
            minutes=2,
            allowed=("2 s", "60 s"),
            decided=True,
        ),
    ]
