"""What was measured of points: on the vehicle, and on the power unit that is to hang in it."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import ANGLE, POSITION
from wattwright.values import Value

# Between the names of two points in the key of a distance or slope.
BETWEEN = "-"

_PAIR = "keys are two names of [survey.point] with a hyphen between: left_hole-sill_mark"
_ONE = "keys are names of [survey.point]"
_TAPE = "tape from centre to centre, pulled straight, read twice, the vehicle standing as weighed"
_PLUMB = "plumb bob from the point, its mark on the floor, then tape from the mark to"


def _coordinate(label: str, how: str) -> Quantity:
    return Quantity(POSITION, label, how, minutes=4, allowed=("-8 m", "8 m"))


class Spot(Record):
    """Coordinates of a point: of the vehicle's axes, or of the unit's own."""

    x: Annotated[
        Value,
        _coordinate(
            "distance back",
            "vehicle: tape along the floor from under the front wheel centres, ahead is below "
            "zero; unit: square and rule on the bench, back from the unit's zero",
        ),
    ]
    y: Annotated[
        Value,
        _coordinate(
            "distance to the right",
            "vehicle: tape from the middle line, left is below zero; unit: square and rule on the "
            "bench, to the right of the unit's zero",
        ),
    ]
    z: Annotated[
        Value,
        _coordinate(
            "height",
            "vehicle: tape from the floor; unit: height gauge or square on the bench, above the "
            "unit's zero, the machined face level",
        ),
    ]


class SurveyPoint(Record):
    """A point that can be found again: the centre of a hole, a punch mark, the end of a shaft."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and drawings")] = ""
    on: Annotated[
        Literal["vehicle", "unit"],
        Plain("what it belongs to", "vehicle: stays with the body; unit: moves with the unit"),
    ] = "vehicle"
    at: Annotated[
        Spot,
        Section(
            "where it is, as far as measured or drawn",
            "of a point on the unit from the unit's own zero, axes as the vehicle's: back, right, "
            "up; what is not known stays out",
        ),
    ]


class Found(Record):
    """Where the adjustment put a point."""

    x: Annotated[Value, _coordinate("distance back, adjusted", "wattwright adjust")]
    y: Annotated[Value, _coordinate("distance to the right, adjusted", "wattwright adjust")]
    z: Annotated[Value, _coordinate("height, adjusted", "wattwright adjust")]


def _turned(label: str) -> Quantity:
    return Quantity(ANGLE, label, "wattwright adjust", minutes=1, allowed=("-180°", "180°"))


class Pose(Record):
    """Where the unit's zero is in the vehicle, and how the unit is turned."""

    x: Annotated[Value, _coordinate("unit's zero: distance back", "wattwright adjust")]
    y: Annotated[Value, _coordinate("unit's zero: distance to the right", "wattwright adjust")]
    z: Annotated[Value, _coordinate("unit's zero: height", "wattwright adjust")]
    yaw: Annotated[Value, _turned("nose turned left")]
    pitch: Annotated[Value, _turned("nose up")]
    roll: Annotated[Value, _turned("right side up")]


class Adjusted(Record):
    """What an adjustment of all readings gave, and of which readings."""

    of: Annotated[
        str, Plain("readings it was made of", "written by wattwright adjust; do not change it")
    ] = ""
    point: Annotated[dict[str, Found], Section("where every point is, by name")]
    pose: Annotated[Pose, Section("where the unit is")]


class Survey(Record):
    """Points and everything that was measured of them, by whatever could be measured."""

    point: Annotated[dict[str, SurveyPoint], Section("points, by name")]
    distance: Annotated[
        dict[str, Value],
        Quantity(
            POSITION,
            "distance between two points",
            _TAPE,
            minutes=3,
            allowed=("1 mm", "12 m"),
            help=_PAIR,
        ),
    ]
    across_floor: Annotated[
        dict[str, Value],
        Quantity(
            POSITION,
            "distance between the plumb marks of two points",
            "plumb bob from both points, marks on the floor, tape between the marks",
            minutes=5,
            allowed=("1 mm", "12 m"),
            help=_PAIR,
        ),
    ]
    height: Annotated[
        dict[str, Value],
        Quantity(
            POSITION,
            "height of a point above the floor",
            "tape or height gauge from the level floor straight up, the vehicle standing as "
            "weighed, air pressures set",
            minutes=2,
            allowed=("-1 m", "4 m"),
            help=_ONE,
        ),
    ]
    behind: Annotated[
        dict[str, Value],
        Quantity(
            POSITION,
            "distance of a point behind the front axle",
            f"{_PLUMB} the line under the front wheel centres; ahead of it is below zero",
            minutes=4,
            allowed=("-2 m", "8 m"),
            help=_ONE,
        ),
    ]
    right: Annotated[
        dict[str, Value],
        Quantity(
            POSITION,
            "distance of a point to the right of the middle line",
            f"{_PLUMB} the middle line on the floor; left of it is below zero",
            minutes=4,
            allowed=("-2 m", "2 m"),
            help=_ONE,
        ),
    ]
    slope: Annotated[
        dict[str, Value],
        Quantity(
            ANGLE,
            "rise of the line from the first point to the second",
            "digital level on a straight edge between the two, read again turned end for end, "
            "the mean of both; the second lower than the first is below zero",
            minutes=4,
            allowed=("-90°", "90°"),
            help=_PAIR,
        ),
    ]
    lengthwise: Annotated[
        Value,
        Quantity(
            ANGLE,
            "unit level along: nose up",
            "digital level along a machined face of the unit, set to zero on the vehicle's own "
            "level line, read again turned end for end; nose down is below zero",
            minutes=4,
            allowed=("-90°", "90°"),
        ),
    ]
    crosswise: Annotated[
        Value,
        Quantity(
            ANGLE,
            "unit level across: right side up",
            "digital level across a machined face of the unit, set to zero on the vehicle's own "
            "level line, read again turned end for end; right side down is below zero",
            minutes=4,
            allowed=("-90°", "90°"),
        ),
    ]
    set_aside: Annotated[
        str,
        Plain(
            "readings set aside",
            "as named in the adjustment, with commas between: distance.left_hole-sill_mark; "
            "measure them again, write the new reading, take them out here",
        ),
    ] = ""
    adjusted: Annotated[Adjusted, Section("what wattwright adjust made of it")]


def pair(key: str, points: Collection[str]) -> tuple[str, str] | None:
    """Split a key into the two points it names; none where it does not name two."""
    pieces = key.split(BETWEEN)
    cuts = ((BETWEEN.join(pieces[:k]), BETWEEN.join(pieces[k:])) for k in range(1, len(pieces)))
    return next((cut for cut in cuts if all(name in points for name in cut)), None)
