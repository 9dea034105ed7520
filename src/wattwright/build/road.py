"""What the road takes: rolling, air, and where that is driven."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Quantity, Record, Section
from wattwright.kinds import (
    AREA,
    DRAG_LINEAR,
    DRAG_SQUARE,
    FORCE,
    FRACTION,
    MASS,
    POSITION,
    RATIO,
    SPEED,
    TEMPERATURE,
    TIME,
)
from wattwright.values import Value

_REPORT = "test report or the maker's coast-down; the three belong together"


class Window(Record):
    """One window of a coast-down: from one speed to a lower one, out of gear, on the level."""

    from_speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed at which the watch is started",
            "speed over ground by a satellite receiver, not the speedometer",
            minutes=15,
            allowed=("5 km/h", "150 km/h"),
        ),
    ]
    to_speed: Annotated[
        Value,
        Quantity(
            SPEED,
            "speed at which the watch is stopped",
            "speed over ground by a satellite receiver, not the speedometer",
            minutes=15,
            allowed=("0 km/h", "140 km/h"),
        ),
    ]
    time: Annotated[
        Value,
        Quantity(
            TIME,
            "time between the two, mean of both directions",
            "stop-watch or video of the receiver, level road without wind, out of gear, tyres "
            "warm, each direction twice",
            minutes=30,
            allowed=("1 s", "300 s"),
        ),
    ]


class Road(Record):
    """Rolling, air and rotating masses, by whichever data the builder has."""

    drag_coefficient: Annotated[
        Value,
        Quantity(
            RATIO,
            "drag coefficient of the body",
            "a book about the model; saloons of the 1970s about 0.45, pickups about 0.5",
            minutes=15,
            allowed=("0.15", "1.5"),
        ),
    ]
    frontal_area: Annotated[
        Value,
        Quantity(
            AREA,
            "area of the vehicle seen from the front",
            "photograph from far in front, count squares; about 0.8 of width times height",
            minutes=20,
            allowed=("0.5 m²", "8 m²"),
        ),
    ]
    rolling_coefficient: Annotated[
        Value,
        Quantity(
            RATIO,
            "rolling resistance over weight",
            "coast-down at walking speed on level tar; new radial tyres about 0.010, old ones "
            "0.013, cross-ply 0.018, gravel 0.02",
            minutes=30,
            allowed=("0.004", "0.2"),
            default="0.013 ± 0.003",
            basis="radial tyres on tar, common practice",
        ),
    ]
    f0: Annotated[
        Value,
        Quantity(
            FORCE,
            "constant part of the road load, where it is known",
            _REPORT,
            minutes=15,
            allowed=("10 N", "2000 N"),
        ),
    ]
    f1: Annotated[
        Value,
        Quantity(
            DRAG_LINEAR,
            "part of the road load that grows with speed",
            _REPORT,
            minutes=15,
            allowed=("-10 N/(km/h)", "20 N/(km/h)"),
        ),
    ]
    f2: Annotated[
        Value,
        Quantity(
            DRAG_SQUARE,
            "part of the road load that grows with speed squared",
            _REPORT,
            minutes=15,
            allowed=("0 N/(km/h)²", "0.3 N/(km/h)²"),
        ),
    ]
    mass: Annotated[
        Value,
        Quantity(
            MASS,
            "mass during the coast-down, or for which the three parts hold",
            "vehicle scale with everybody aboard, on the day",
            minutes=15,
            allowed=("200 kg", "12000 kg"),
        ),
    ]
    coast_down: Annotated[
        dict[str, Window], Section("windows of a coast-down, by name; two or more")
    ]
    rotating_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "mass that wheels and shafts add while accelerating, as a share",
            "weigh a wheel with its tyre: three quarters of all wheels over the vehicle's mass",
            minutes=20,
            allowed=("0 %", "20 %"),
            default="3 % ± 1",
            basis="wheels of a car, common practice",
        ),
    ]
    altitude: Annotated[
        Value,
        Quantity(
            POSITION,
            "altitude of the roads",
            "map with contour lines, or a satellite receiver at rest",
            minutes=2,
            allowed=("-400 m", "5000 m"),
            default="0 m",
            basis="sea level, where the air is densest",
        ),
    ]
    air_temperature: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature of the air",
            "decide it: the season that counts; cold air is denser",
            minutes=1,
            allowed=("-40 °C", "50 °C"),
            default="15 °C",
            basis="standard atmosphere",
        ),
    ]
    headwind: Annotated[
        Value,
        Quantity(
            SPEED,
            "headwind along the road",
            "decide it: 0 km/h for calm; a fresh breeze is 30 km/h",
            minutes=1,
            allowed=("0 km/h", "100 km/h"),
            default="0 km/h",
            decided=True,
        ),
    ]
