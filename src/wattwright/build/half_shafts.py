"""Half-shafts and their joints: between which points, on what arm, and what they bear."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record
from wattwright.kinds import ANGLE, LENGTH
from wattwright.values import Value

_STANDS = "vehicle on stands under the body, wheel off, jack under the hub"


class HalfShaft(Record):
    """One shaft from the unit to a driven wheel."""

    label: Annotated[str, Plain("what it is")] = ""
    inner: Annotated[
        str, Plain("centre of its inner joint", "a name of [survey.point] on the unit")
    ] = ""
    outer: Annotated[
        str,
        Plain(
            "centre of its outer joint", "a name of [survey.point] on the vehicle, at ride height"
        ),
    ] = ""
    arm: Annotated[
        Literal["swing", "parallel", "straight"],
        Plain(
            "how the hub moves",
            "swing: it turns with its arm about the pivots (trailing and semi-trailing arm, swing "
            "axle); parallel: it goes along the arc of an arm and keeps its angle (wishbones, the "
            "lower arm of a strut); straight: up and down (dead beam)",
        ),
    ] = "swing"
    pivot_from: Annotated[
        str, Plain("first pivot of the arm", "a name of [survey.point] on the vehicle")
    ] = ""
    pivot_to: Annotated[
        str, Plain("second pivot of the arm", "a name of [survey.point] on the vehicle")
    ] = ""
    bump: Annotated[
        Value,
        Quantity(
            LENGTH,
            "travel of the hub up, from ride height to the bump stop pressed",
            f"{_STANDS}: spring out, raise the hub until the rubber is pressed to half, tape",
            minutes=30,
            allowed=("1 mm", "400 mm"),
        ),
    ]
    droop: Annotated[
        Value,
        Quantity(
            LENGTH,
            "travel of the hub down, from ride height to hanging",
            f"{_STANDS}: let it hang, tape",
            minutes=15,
            allowed=("1 mm", "400 mm"),
        ),
    ]
    steer: Annotated[
        Value,
        Quantity(
            ANGLE,
            "largest turn of the wheel for steering, either way",
            "turntables, or a chalk line along the rim on the floor: straight ahead, then full "
            'lock both ways, the larger one; "none" where the wheel is not steered',
            minutes=15,
            allowed=("1°", "60°"),
            may_be_none=True,
        ),
    ]
    steer_from: Annotated[
        str,
        Plain(
            "lower point of the axis it is steered about",
            "a name of [survey.point] on the vehicle: lower ball joint or kingpin; left out: it "
            "turns about a plumb line through the centre of its outer joint",
        ),
    ] = ""
    steer_to: Annotated[
        str,
        Plain(
            "upper point of that axis",
            "a name of [survey.point] on the vehicle: upper ball joint, kingpin, or top of the "
            "strut",
        ),
    ] = ""
    plunge_in: Annotated[
        Value,
        Quantity(
            LENGTH,
            "way it can still be pushed in, at ride height",
            "at ride height push the shaft in until it stops, calipers at the joint before and "
            "after; a grease mark on the shaft shows it too",
            minutes=10,
            allowed=("0 mm", "100 mm"),
        ),
    ]
    plunge_out: Annotated[
        Value,
        Quantity(
            LENGTH,
            "way it can still be pulled out, at ride height",
            "at ride height pull the shaft out until it stops, gently, as a ring holds it; "
            "calipers at the joint before and after",
            minutes=10,
            allowed=("0 mm", "100 mm"),
        ),
    ]
    spare: Annotated[
        Value,
        Quantity(
            LENGTH,
            "way that must be left at either end",
            "what you decide",
            minutes=1,
            allowed=("0 mm", "50 mm"),
            default="9 mm ± 1",
            basis="8 to 10 mm at each end, common practice",
            decided=True,
        ),
    ]
    steady: Annotated[
        Value,
        Quantity(
            ANGLE,
            "largest angle of a joint that turns for hours",
            "maker's catalogue of the joint",
            minutes=10,
            allowed=("1°", "30°"),
            default="7° ± 1",
            basis="joints of half-shafts kept for life and heat, common practice",
        ),
    ]
    inner_most: Annotated[
        Value,
        Quantity(
            ANGLE,
            "largest angle of the inner joint, wherever the suspension is",
            "maker's catalogue; a plunging tripod or ball joint gives 18° to 26°",
            minutes=10,
            allowed=("1°", "60°"),
            default="18° ± 2",
            basis="plunging joints of small cars, common practice",
        ),
    ]
    outer_most: Annotated[
        Value,
        Quantity(
            ANGLE,
            "largest angle of the outer joint, wherever the suspension is",
            "maker's catalogue; a fixed ball joint gives 45° and more, a second plunging one less",
            minutes=10,
            allowed=("1°", "60°"),
            default="18° ± 2",
            basis="plunging joints of small cars, common practice",
        ),
    ]
