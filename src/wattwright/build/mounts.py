"""How the power unit hangs: its mounts, and where it is wanted."""

from __future__ import annotations

from typing import Annotated

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import ANGLE, FRACTION, LENGTH, POSITION
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
