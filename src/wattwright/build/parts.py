"""Things with a place: points, parts and the places people and goods take."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.kinds import COUNT, LENGTH, MASS, POSITION
from wattwright.values import Value

PartState = Literal["wanted", "ordered", "here", "fitted", "removed"]


class Point(Record):
    """A place on the vehicle, from the floor midway between the front wheels."""

    x: Annotated[
        Value,
        Quantity(
            POSITION,
            "distance behind the front axle",
            "tape along the floor from a plumb line at the front wheel centre to one at the "
            "middle of the thing, vehicle level; ahead of the axle is below zero",
            minutes=4,
            allowed=("-2 m", "8 m"),
        ),
    ]
    y: Annotated[
        Value,
        Quantity(
            POSITION,
            "offset to the right of the middle",
            "tape from the vehicle's middle line to the middle of the thing; left is below zero",
            minutes=4,
            allowed=("-1.6 m", "1.6 m"),
        ),
    ]
    z: Annotated[
        Value,
        Quantity(
            POSITION,
            "height above the floor",
            "tape from the floor to the middle of the thing, vehicle level at ride height",
            minutes=4,
            allowed=("0 m", "4 m"),
        ),
    ]


class Size(Record):
    """Outside measures of a thing, as a box."""

    length: Annotated[
        Value,
        Quantity(
            LENGTH,
            "length, front to back",
            "tape or calipers over everything that sticks out",
            minutes=2,
            allowed=("1 mm", "8 m"),
        ),
    ]
    width: Annotated[
        Value,
        Quantity(
            LENGTH,
            "width, left to right",
            "tape or calipers over everything that sticks out",
            minutes=2,
            allowed=("1 mm", "3 m"),
        ),
    ]
    height: Annotated[
        Value,
        Quantity(
            LENGTH,
            "height",
            "tape or calipers over everything that sticks out",
            minutes=2,
            allowed=("1 mm", "3 m"),
        ),
    ]


class Part(Record):
    """One physical thing, declared once; its mass is counted once."""

    kind: Annotated[str, Plain("kind of device", "left out for what has no fields of its own")] = ""
    label: Annotated[str, Plain("what it is", "a few words for lists and drawings")] = ""
    count: Annotated[
        Value,
        Quantity(
            COUNT,
            "how many of them",
            "count them where they are stored or fitted",
            minutes=1,
            allowed=("0", "10000"),
            help="when several like things stand together; mass is then that of one",
            default="1",
            decided=True,
        ),
    ]
    mass: Annotated[
        Value,
        Quantity(
            MASS,
            "mass of one",
            "bathroom scale or hanging scale, part alone and dry unless it is fitted wet; "
            "a heavy part: one end at a time on the scale and add the two",
            minutes=6,
            allowed=("0 kg", "3000 kg"),
        ),
    ]
    at: Annotated[Point, Section("where its middle is")]
    size: Annotated[Size, Section("outside measures")]
    price: Annotated[float | None, Plain("price of one", "in the currency named in [build]")] = None
    supplier: Annotated[str, Plain("supplier note", "where it came from, invoice, warranty")] = ""
    state: Annotated[
        PartState,
        Plain("state", "wanted, ordered, here or fitted; removed: no longer part of the plan"),
    ] = "wanted"
    intake: Annotated[str, Plain("intake notes", "what was seen when it arrived")] = ""
    note: Annotated[str, Plain("note")] = ""


class Place(Record):
    """A seat, a load bed or a tank: where people and goods stand."""

    label: Annotated[str, Plain("what it is")] = ""
    role: Annotated[
        Literal["driver", "seat", "load", "tank"],
        Plain(
            "role",
            "driver and seat take a person, load takes goods, tank holds the donor's fuel",
        ),
    ]
    at: Annotated[Point, Section("where the middle of the load is")]
    full: Annotated[
        Value,
        Quantity(
            MASS,
            "mass when full",
            "load: what the handbook or the plate allows; tank: litres times 0.75 kg for petrol "
            "or 0.84 kg for diesel; a seat needs none, the rule for one person is used",
            minutes=5,
            allowed=("0 kg", "5000 kg"),
        ),
    ]
