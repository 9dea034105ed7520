"""How the power unit hangs: its mounts, and where it is wanted."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import ACCELERATION, ANGLE, FORCE, FRACTION, LENGTH, POSITION, SPRING_RATE
from wattwright.values import Value

_DRAWN = "what you decide; the old engine's angle where a propshaft stays"


class Wanted(Record):
    """Where the unit is to be: its angles, and the line its shaft is to lie on."""

    roll: Annotated[
        Value,
        Quantity(
            ANGLE,
            "right side up, wanted",
            _DRAWN,
            minutes=1,
            allowed=("-45°", "45°"),
            default="0°",
            decided=True,
            help="0° is level across",
        ),
    ]
    pitch: Annotated[
        Value,
        Quantity(
            ANGLE,
            "nose up, wanted",
            f"{_DRAWN}; of a drive unit the tilt its oil marks are made for",
            minutes=5,
            allowed=("-45°", "45°"),
            decided=True,
            help="nose down is below zero",
        ),
    ]
    share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "how far along the target line the shaft's first point sits",
            "0 % is at the first end of the line, 100 % at the second",
            minutes=2,
            allowed=("0 %", "100 %"),
            decided=True,
        ),
    ]


class Mount(Record):
    """One mount: a point of the unit, and the point of the vehicle that carries it."""

    label: Annotated[str, Plain("what it is")] = ""
    unit_point: Annotated[str, Plain("its point on the unit", "a name of [survey.point]")] = ""
    vehicle_point: Annotated[
        str, Plain("the point of the vehicle that carries it", "a name of [survey.point]")
    ] = ""
    added: Annotated[
        Value,
        Quantity(
            POSITION,
            "shims to be tried under it",
            "calipers over the stack; what would be taken out is below zero",
            minutes=2,
            allowed=("-100 mm", "100 mm"),
            decided=True,
            help="to see what they would do to the unit before they are cut",
        ),
    ]
    stiffness: Annotated[
        Value,
        Quantity(
            SPRING_RATE,
            "how stiff it is",
            "maker's sheet; or a known weight on it and calipers before and after; only how stiff "
            "the mounts are to each other counts",
            minutes=15,
            allowed=("1 N/mm", "100000 N/mm"),
            default="300 N/mm ± 100",
            basis="rubber mounts of small units, all alike, common practice",
        ),
    ]
    rated: Annotated[
        Value,
        Quantity(
            FORCE,
            "largest load it carries in use",
            "maker's sheet; or what bracket and bolts carry without yielding, whichever is less",
            minutes=20,
            allowed=("10 N", "200000 N"),
        ),
    ]
    holds: Annotated[
        Value,
        Quantity(
            FORCE,
            "load at which mount, bracket or bolts give way",
            "maker's sheet; or the weakest of bolt, bracket and weld by calculation",
            minutes=30,
            allowed=("10 N", "500000 N"),
        ),
    ]


class Jolts(Record):
    """What the unit is put through, in accelerations of the vehicle."""

    bump: Annotated[
        Value,
        Quantity(
            ACCELERATION,
            "acceleration over a bump, weight included",
            "what you decide; 3 to 5 times gravity is common",
            minutes=2,
            allowed=("1 g", "10 g"),
            default="4 g ± 1",
            basis="3 to 5 times gravity, common practice",
        ),
    ]
    braking: Annotated[
        Value,
        Quantity(
            ACCELERATION,
            "deceleration when braking hard",
            "what you decide; dry road and good tyres give about gravity",
            minutes=2,
            allowed=("0.1 g", "2 g"),
            default="1 g ± 0.1",
            basis="dry road, common practice",
        ),
    ]
    cornering: Annotated[
        Value,
        Quantity(
            ACCELERATION,
            "acceleration sideways when cornering hard",
            "what you decide; dry road and good tyres give about gravity",
            minutes=2,
            allowed=("0.1 g", "2 g"),
            default="1 g ± 0.1",
            basis="dry road, common practice",
        ),
    ]


class Mounts(Record):
    """The unit's mounts, its shaft, and where they are to be."""

    unit: Annotated[str, Plain("the part that hangs on them", "a name of [part]")] = ""
    shaft_from: Annotated[
        str, Plain("first point of its output shaft", "a name of [survey.point] on the unit")
    ] = ""
    shaft_to: Annotated[
        str, Plain("second point of its output shaft", "a name of [survey.point] on the unit")
    ] = ""
    line_from: Annotated[
        str,
        Plain(
            "first end of the line the shaft is to lie on",
            "a name of [survey.point] on the vehicle: a wheel hub, or the end of the propshaft",
        ),
    ] = ""
    line_to: Annotated[
        str, Plain("second end of that line", "a name of [survey.point] on the vehicle")
    ] = ""
    reacts: Annotated[
        Literal["axle", "propshaft"],
        Plain(
            "torque that the mounts hold",
            "axle: of a drive unit or transaxle, the torque of both wheels; propshaft: of a "
            "gearbox along the vehicle, the torque of its output",
        ),
    ] = "axle"
    jolts: Annotated[Jolts, Section("what the unit is put through")]
    wanted: Annotated[Wanted, Section("where the unit is to be")]
    mount: Annotated[dict[str, Mount], Section("mounts, by name")]
    level_within: Annotated[
        Value,
        Quantity(
            ANGLE,
            "how far each angle may be off",
            "what you decide",
            minutes=1,
            allowed=("0.02°", "10°"),
            default="0.5° ± 0.05",
            decided=True,
            basis="a digital level and shims of 1 mm reach it, common practice",
        ),
    ]
    line_within: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far the shaft may be off its line",
            "what you decide; less where its joints are near their limits",
            minutes=1,
            allowed=("0.1 mm", "100 mm"),
            default="3 mm ± 0.3",
            decided=True,
            basis="joints take up the rest, common practice",
        ),
    ]
    forced_within: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far a mount may be pulled to meet its bracket",
            "what you decide: rubber gives a little, a rigid mount nothing",
            minutes=1,
            allowed=("0.01 mm", "20 mm"),
            default="1 mm ± 0.1",
            decided=True,
            basis="rubber mounts, common practice",
        ),
    ]
