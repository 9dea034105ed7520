"""What takes room: bodies with their outlines, what moves each, and the room between them."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.parts import Point, Size
from wattwright.build.uses import turn
from wattwright.kinds import ANGLE, LENGTH
from wattwright.values import Value

Outline = Literal["box", "cylinder", "hose"]
Mover = Literal[
    "body",
    "unit",
    "wheel_fl",
    "wheel_fr",
    "wheel_rl",
    "wheel_rr",
    "axle_front",
    "axle_rear",
]
_MOVED = (
    "body: fixed to the vehicle; unit: with the power unit on its rubber; wheel_fl, wheel_fr, "
    "wheel_rl, wheel_rr: with one wheel; axle_front, axle_rear: with a live axle"
)
_NONE = '"none" where it is meant to touch'


def _turned(label: str, help_: str) -> Quantity:
    return Quantity(
        ANGLE,
        label,
        "digital level or protractor on the body, or what you decide",
        minutes=2,
        allowed=("-180°", "180°"),
        help=help_,
        default="0°",
        decided=True,
    )


class Via(Record):
    """One point that a hose, pipe or cable runs through."""

    at: Annotated[Point, Section("where the middle of the hose is there")]
    point: Annotated[
        str, Plain("or a point of the survey", "a name of [survey.point] on the vehicle")
    ] = ""
    moves_with: Annotated[
        Mover | None, Plain("what moves this point", "left out: what moves the whole hose")
    ] = None


class Body(Record):
    """Something that takes room: a box, a cylinder, or a hose through points."""

    label: Annotated[str, Plain("what it is", "a few words for lists and drawings")] = ""
    shape: Annotated[
        Outline,
        Plain("outline", "hose: pipes, cables and shafts too, a round line through points"),
    ] = "box"
    part: Annotated[
        str, Plain("the part whose place and measures it has", "a name of [part]; typed once")
    ] = ""
    moves_with: Annotated[Mover, Plain("what moves it", _MOVED)] = "body"
    at: Annotated[Point, Section("where its middle is")]
    size: Annotated[Size, Section("outside measures of a box, before it is turned")]
    diameter: Annotated[
        Value,
        Quantity(
            LENGTH,
            "diameter of a cylinder or hose",
            "calipers over the widest place, clips and sleeves included",
            minutes=2,
            allowed=("0.5 mm", "2 m"),
        ),
    ]
    length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "length of a cylinder",
            "tape from end to end",
            minutes=2,
            allowed=("1 mm", "8 m"),
        ),
    ]
    axis: Annotated[
        Literal["along", "across", "up"],
        Plain("which way a cylinder lies before it is turned", "along: front to back"),
    ] = "across"
    yaw: Annotated[Value, _turned("nose turned left", "turned last, about the upright")]
    pitch: Annotated[Value, _turned("nose up", "turned second; nose down is below zero")]
    roll: Annotated[Value, _turned("right side up", "turned first; left side up is below zero")]
    via: Annotated[
        dict[str, Via], Section("points of a hose in order, names beginning with a number")
    ]
    pivot_axis: Annotated[
        Literal["along", "across"] | None,
        Plain(
            "swings about a line",
            "across: a trailing or leading arm; along: a swing axle or wishbone; left out: it "
            "goes straight up and down with its wheel",
        ),
    ] = None
    pivot: Annotated[Point, Section("a point of the line it swings about")]
    joined: Annotated[
        str,
        Plain(
            "bodies it is joined to",
            "names with commas between; where two are bolted together no gap is asked",
        ),
    ] = ""
    gap: Annotated[
        Value,
        Quantity(
            LENGTH,
            "gap wanted around it",
            f"what you decide; {_NONE}",
            minutes=1,
            allowed=("0 mm", "500 mm"),
            help="left out: as [clearance.wanted] says; of two bodies the larger counts",
            may_be_none=True,
            decided=True,
        ),
    ]
    ground: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height over the ground wanted under it, laden",
            'what you decide; "none" for a tyre, which stands on it',
            minutes=1,
            allowed=("0 mm", "1 m"),
            help="left out: as [clearance.wanted] says",
            may_be_none=True,
            decided=True,
        ),
    ]

    @property
    def points(self) -> tuple[tuple[str, Via], ...]:
        """The points of a hose with their names, in the order in which it runs."""
        return tuple(sorted(self.via.items(), key=lambda item: turn(item[0]) or 0))

    @property
    def joined_names(self) -> tuple[str, ...]:
        """Names of the bodies it is joined to."""
        return tuple(name for each in self.joined.split(",") if (name := each.strip()))


class Travel(Record):
    """How far the wheels of an axle go up and down, seen from the body."""

    bump: Annotated[
        Value,
        Quantity(
            LENGTH,
            "wheel travel up from ride height",
            "spring out, vehicle on stands: jack under the hub from ride height until the bump "
            "stop is squeezed; rule at the wheel centre against the wing",
            minutes=30,
            allowed=("0 mm", "500 mm"),
        ),
    ]
    droop: Annotated[
        Value,
        Quantity(
            LENGTH,
            "wheel travel down from ride height",
            "vehicle on stands under the body, wheel hanging: rule at the wheel centre against "
            "the wing, less the same at ride height",
            minutes=15,
            allowed=("0 mm", "500 mm"),
        ),
    ]
    laden_drop: Annotated[
        Value,
        Quantity(
            LENGTH,
            "how far the body sinks at this axle fully laden",
            "rule from the floor to the wing above the wheel centre, empty and then with everybody "
            "and everything aboard",
            minutes=20,
            allowed=("0 mm", "400 mm"),
        ),
    ]
    hub: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height of the wheel centre over the floor",
            "tape from the level floor to the middle of the hub, both sides, the mean",
            minutes=3,
            allowed=("50 mm", "1 m"),
            help="needed for what swings about a pivot",
        ),
    ]


def _gives(label: str) -> Quantity:
    return Quantity(
        LENGTH,
        label,
        "lever between unit and body, gently, until the rubber goes solid; dial gauge or rule, "
        "half of what lies between both ends",
        minutes=20,
        allowed=("0 mm", "100 mm"),
        default="10 mm",
        basis="rubber mounts give 10 to 15 mm, common practice",
    )


class Rubber(Record):
    """How far the power unit moves on its rubber, each way from where it rests."""

    along: Annotated[Value, _gives("movement forwards and back, each way")]
    across: Annotated[Value, _gives("movement left and right, each way")]
    up: Annotated[Value, _gives("movement up and down, each way")]


def _room(label: str, default: str, basis: str) -> Quantity:
    return Quantity(
        LENGTH,
        label,
        "what you decide",
        minutes=1,
        allowed=("0 mm", "500 mm"),
        default=default,
        basis=f"{basis}, common practice",
    )


class Room(Record):
    """Gaps wanted where a body says nothing of its own."""

    to_suspension: Annotated[
        Value,
        _room(
            "gap to anything a wheel moves, at full travel",
            "25 mm",
            "20 to 25 mm beyond full travel, for flexing and stones",
        ),
    ]
    around_unit: Annotated[
        Value,
        _room(
            "gap around the power unit, beyond its movement",
            "15 mm",
            "10 to 15 mm beyond what the rubber gives",
        ),
    ]
    hoses: Annotated[
        Value,
        _room(
            "gap of hoses and cables to what shakes",
            "10 mm",
            "10 mm between clips, so that nothing chafes",
        ),
    ]
    ground: Annotated[
        Value,
        _room(
            "height over the ground, laden", "120 mm", "100 to 120 mm under boxes on made-up roads"
        ),
    ]


class Clearance(Record):
    """What moves how far, and how much room is wanted."""

    front: Annotated[Travel, Section("travel of the front wheels")]
    rear: Annotated[Travel, Section("travel of the rear wheels")]
    rubber: Annotated[Rubber, Section("movement of the power unit on its mounts")]
    wanted: Annotated[Room, Section("gaps wanted")]
