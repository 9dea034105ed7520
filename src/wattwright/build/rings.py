"""Retaining rings: the groove as measured, the ring in hand, what the standard says of both."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import FORCE, LENGTH, POSITION, STRESS
from wattwright.values import Value

_CLEAN = "groove scraped clean, burrs left on"


def _length(
    label: str, how: str, most: str = "60 mm", *, may_be_none: bool = False, decided: bool = False
) -> Quantity:
    return Quantity(
        LENGTH,
        label,
        how,
        minutes=4,
        allowed=("0.2 mm", most),
        may_be_none=may_be_none,
        decided=decided,
    )


def _standard(label: str, most: str = "60 mm") -> Quantity:
    return _length(
        label,
        "DIN 471 or DIN 472, table 1, the row of this diameter; write it where the table here is "
        "not enough",
        most,
        decided=True,
    )


def _deviation(label: str) -> Quantity:
    return Quantity(
        POSITION,
        label,
        "DIN 471 or DIN 472, table 1, tolerance of the groove",
        minutes=4,
        allowed=("-0.5 mm", "0.5 mm"),
        decided=True,
    )


class RingStandard(Record):
    """A row of the standard, typed by whoever has it in hand."""

    thickness: Annotated[Value, _standard("thickness of the ring (s)", "5 mm")]
    free: Annotated[Value, _standard("free diameter of the ring (d3)")]
    groove: Annotated[Value, _standard("diameter of the groove (d2)")]
    groove_upper: Annotated[Value, _deviation("upper deviation of the groove")]
    groove_lower: Annotated[Value, _deviation("lower deviation of the groove")]
    width: Annotated[Value, _standard("least width of the groove (m)", "6 mm")]
    edge: Annotated[Value, _standard("least distance of the groove from the edge (n)", "20 mm")]


class Ring(Record):
    """A retaining ring and its groove."""

    label: Annotated[str, Plain("what it holds", "a few words for sheets and findings")] = ""
    on: Annotated[
        Literal["shaft", "bore"],
        Plain("where its groove is", "shaft: DIN 471, opened over it; bore: DIN 472, closed"),
    ]
    shape: Annotated[
        Literal["", "ears", "turned", "claws", "wire"],
        Plain(
            "ring in hand",
            "ears: flat, two ears with holes for pliers that stand away from the groove; turned: "
            "the same with its ears on the side of the groove, so that less of it carries; claws: "
            "with claws all round (DIN 983, DIN 984); wire: round, without ears, another standard",
        ),
    ] = ""
    ear: Annotated[
        Value,
        _length(
            "width of the ring at its ears",
            "calipers from the edge that sits in the groove to the far edge of an ear; "
            '"none" for a ring without ears, and until there is one',
            may_be_none=True,
        ),
    ]
    room: Annotated[
        Value,
        _length(
            "room beside the groove for the ears",
            "calipers, from the surface of the shaft to the nearest thing around it all round, or "
            'from the wall of the bore inwards to what turns in it; "none" where all is open',
            "200 mm",
            may_be_none=True,
        ),
    ]
    diameter: Annotated[
        Value,
        _length("diameter of shaft or bore beside the groove", "micrometer, three directions"),
    ]
    groove: Annotated[
        Value,
        _length(
            "diameter of the groove",
            f"calipers with knife edges, or over a pair of drill shanks in it; {_CLEAN}",
        ),
    ]
    width: Annotated[
        Value,
        _length("width of the groove", f"feeler gauges or drill shanks that just enter; {_CLEAN}"),
    ]
    edge: Annotated[
        Value,
        _length(
            "distance from the groove to the end of the shaft or the bore",
            "depth rod of the calipers, from the wall that carries",
            "200 mm",
        ),
    ]
    thickness: Annotated[
        Value,
        _length(
            "thickness of the ring in hand",
            'micrometer, away from the ears and from burrs; "none" until there is a ring',
            "5 mm",
            may_be_none=True,
        ),
    ]
    free: Annotated[
        Value,
        _length(
            "free diameter of the ring in hand",
            "calipers, neither opened nor closed, square to its gap: inside of a shaft ring, "
            'outside of a bore ring; "none" until there is a ring',
            may_be_none=True,
        ),
    ]
    load: Annotated[
        Value,
        Quantity(
            FORCE,
            "force along the shaft that it has to hold",
            "what the joint pushes: weight on it, thrust of the gear, force of the puller; else "
            "what its maker states for the bearing",
            minutes=20,
            allowed=("1 N", "200 kN"),
        ),
    ]
    strength: Annotated[
        Value,
        Quantity(
            STRESS,
            "yield strength of the grooved part",
            "data sheet of its material; a file says whether it is harder",
            minutes=20,
            allowed=("40 MPa", "2000 MPa"),
            default="200 MPa ± 10",
            basis="what DIN 471 and DIN 472 state the load of a groove for",
        ),
    ]
    standard: Annotated[RingStandard, Section("what the standard says, where you have read it")]
