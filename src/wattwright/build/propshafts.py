"""Propshafts: the axes from gearbox or motor to the axle, and how the last of them swings."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.uses import turn
from wattwright.kinds import (
    ANGLE,
    ANGULAR_ACCELERATION,
    DENSITY,
    FRACTION,
    LENGTH,
    POSITION,
    STRESS,
)
from wattwright.values import Value

Yokes = Literal["in line", "crossed"]
_LEVEL = "digital level on the machined face of its flange, or along the tube, at ride height"
_MOVED = "springs out or on a jack, plumb bob and rule at the joint of the pinion"


def _limit(label: str, kind: str, default: str, basis: str, allowed: tuple[str, str]) -> Quantity:
    kinds = {"angle": ANGLE, "share": FRACTION, "acceleration": ANGULAR_ACCELERATION}
    return Quantity(
        kinds[kind],
        label,
        "what you decide, or what the maker of joints and shaft says",
        minutes=5,
        allowed=allowed,
        default=default,
        decided=True,
        basis=basis,
    )


class Axis(Record):
    """One axis of the line, at ride height; of a shaft its tube and its forks too."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and drawings")] = ""
    rise: Annotated[
        Value,
        Quantity(
            ANGLE,
            "rise seen from the side, rear end up above zero",
            _LEVEL,
            minutes=5,
            allowed=("-20°", "20°"),
            help="what points down to the rear is below zero; a pinion with its nose up as well",
        ),
    ]
    turn: Annotated[
        Value,
        Quantity(
            ANGLE,
            "turn seen from above, rear end to the right above zero",
            "plumb bob under both ends, chalk line, tape; how far apart over how long",
            minutes=15,
            allowed=("-20°", "20°"),
            default="0° ± 0.5",
            basis="most lines run straight back, common practice",
        ),
    ]
    length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "length between the middles of its joints, at ride height",
            "tape from the middle of one cross to the middle of the other",
            minutes=3,
            allowed=("50 mm", "5 m"),
        ),
    ]
    diameter: Annotated[
        Value,
        Quantity(
            LENGTH,
            "outer diameter of its tube",
            "calipers, paint scraped off",
            minutes=3,
            allowed=("10 mm", "300 mm"),
        ),
    ]
    wall: Annotated[
        Value,
        Quantity(
            LENGTH,
            "wall of its tube",
            "calipers at a drain hole or an offcut; the maker's paper",
            minutes=5,
            allowed=("0.5 mm", "150 mm"),
            help="half the diameter for a solid bar",
        ),
    ]
    yokes: Annotated[Yokes, Plain("how its two forks stand", "in line, as usual, or crossed")] = (
        "in line"
    )
    phase_error: Annotated[
        Value,
        Quantity(
            ANGLE,
            "how far its forks are off that, seen from behind, clockwise above zero",
            "shaft on a bench, a level across the caps of one fork, then of the other",
            minutes=10,
            allowed=("-90°", "90°"),
            default="0° ± 1",
            basis="as makers weld them, common practice",
            help="one tooth of a spline put together wrong is 360° over its teeth",
        ),
    ]


class Travel(Record):
    """Where the rear joint of the last shaft goes from ride height."""

    by: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far the joint of the pinion goes",
            _MOVED,
            minutes=20,
            allowed=("0 mm", "500 mm"),
            may_be_none=True,
            help="none where the axle drive is bolted to the body",
        ),
    ]
    back: Annotated[
        Value,
        Quantity(
            POSITION,
            "how far it goes back meanwhile, ahead below zero",
            _MOVED,
            minutes=10,
            allowed=("-200 mm", "200 mm"),
            default="0 mm ± 5",
            basis="leaf springs with their fixed eye in front, common practice",
        ),
    ]
    nose_up: Annotated[
        Value,
        Quantity(
            ANGLE,
            "how far the nose of the pinion goes up meanwhile",
            _LEVEL,
            minutes=10,
            allowed=("-20°", "20°"),
            default="0° ± 1",
            basis="leaf springs carry the axle nearly level, common practice",
        ),
    ]


class Propshaft(Record):
    """A line of shafts from gearbox or motor to the axle."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and drawings")] = ""
    compared_only: Annotated[
        bool,
        Plain(
            "only to compare with, such as the line of the old engine: shown and not judged",
            "true or false",
        ),
    ] = False
    axis: Annotated[dict[str, Axis], Section("axes by name, a number in front for their order")]
    laden: Annotated[Travel, Section("up from ride height, fully laden and standing")]
    bump: Annotated[Travel, Section("up from ride height, onto the bump stops")]
    droop: Annotated[Travel, Section("down from ride height, wheels hanging")]
    wind_up: Annotated[
        Value,
        Quantity(
            ANGLE,
            "how far the nose of the pinion goes up under the hardest torque",
            "a mark on the pinion's flange filmed by a camera tied under the body, while somebody "
            "pulls away hard on an empty yard, nobody beside it or under it; then level, standing, "
            "to what the film shows",
            minutes=30,
            allowed=("0°", "20°"),
            may_be_none=True,
            help="none where the axle drive is bolted to the body",
        ),
    ]
    nose_length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "from the middle of the axle to the joint of the pinion",
            "tape along the pinion housing",
            minutes=2,
            allowed=("50 mm", "1 m"),
            default="250 mm ± 80",
            basis="usual axles, common practice",
        ),
    ]
    slip_range: Annotated[
        Value,
        Quantity(
            LENGTH,
            "slip from pushed in to as far out as it may come",
            "rule: pushed in to the stop, then pulled until the splines still carry as they should",
            minutes=5,
            allowed=("0 mm", "500 mm"),
        ),
    ]
    slip_at_ride: Annotated[
        Value,
        Quantity(
            LENGTH,
            "slip pulled out at ride height",
            "mark the sliding piece at ride height, unbolt the rear flange, push in, rule",
            minutes=15,
            allowed=("0 mm", "500 mm"),
        ),
    ]
    youngs_modulus: Annotated[
        Value,
        Quantity(
            STRESS,
            "modulus of elasticity of its tubes",
            "handbook: steel 206 GPa, aluminium 70 GPa",
            minutes=2,
            allowed=("5 GPa", "300 GPa"),
            default="206 GPa ± 4",
            basis="steel tube, common practice",
        ),
    ]
    density: Annotated[
        Value,
        Quantity(
            DENSITY,
            "density of its tubes",
            "handbook: steel 7850 kg/m³, aluminium 2700 kg/m³",
            minutes=2,
            allowed=("1000 kg/m³", "9000 kg/m³"),
            default="7850 kg/m³ ± 50",
            basis="steel tube, common practice",
        ),
    ]
    angle_running: Annotated[
        Value,
        _limit(
            "largest joint angle to run at",
            "angle",
            "3° ± 0.1",
            "usual single cross joints, common practice",
            ("0.1°", "35°"),
        ),
    ]
    angle_most: Annotated[
        Value,
        _limit(
            "largest joint angle at all, before forks touch",
            "angle",
            "15° ± 3",
            "usual cross joints, common practice; measure where your forks touch",
            ("1°", "45°"),
        ),
    ]
    angle_least: Annotated[
        Value,
        _limit(
            "smallest joint angle, so that needles roll",
            "angle",
            "0.5° ± 0.1",
            "needle bearings, common practice",
            ("0°", "5°"),
        ),
    ]
    torsion_limit: Annotated[
        Value,
        _limit(
            "most torsional excitation",
            "acceleration",
            "400 rad/s² ± 8",
            "common practice; the published chart for two joints at 1500 to 1700 rpm keeps to 396 "
            "to 408 rad/s² at all of its 26 points",
            ("50 rad/s²", "5000 rad/s²"),
        ),
    ]
    inertia_limit: Annotated[
        Value,
        _limit(
            "most inertia excitation",
            "acceleration",
            "1000 rad/s² ± 50",
            "common practice; the trade's tables of angle against speed keep to 882 to 1023 rad/s²",
            ("50 rad/s²", "5000 rad/s²"),
        ),
    ]
    critical_share: Annotated[
        Value,
        _limit(
            "share of the critical speed that is used at most",
            "share",
            "75 % ± 1",
            "common practice; makers of shafts print 65 % to 75 %",
            ("10 %", "95 %"),
        ),
    ]
    slip_spare: Annotated[
        Value,
        Quantity(
            LENGTH,
            "slip to keep at either end",
            "what you decide",
            minutes=1,
            allowed=("0 mm", "100 mm"),
            default="10 mm ± 0.5",
            decided=True,
            basis="common practice",
        ),
    ]

    @property
    def axes(self) -> tuple[tuple[str, Axis], ...]:
        """The axes with their names, from the front to the rear."""
        return tuple(sorted(self.axis.items(), key=lambda item: turn(item[0]) or 0))

    @property
    def shafts(self) -> tuple[tuple[str, Axis], ...]:
        """The axes with a joint at both ends; with one joint alone the axis behind it."""
        return self.axes[1:] if len(self.axes) == 2 else self.axes[1:-1]
