"""What every cable states, wherever it lies: size, length, metal, insulation, and what is round it.

Mains wiring, cords and the cables of the vehicle all have it, so that one physics serves them all.
"""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record
from wattwright.kinds import COUNT, LENGTH, RESISTANCE, TEMPERATURE, THERMAL_RESISTANCE, WIRE_SIZE
from wattwright.values import Value

Metal = Literal["copper", "aluminium"]
# PVC, cross-linked polyethylene, rubber, silicone: temperatures are in a table by these names.
Insulation = Literal["", "pvc", "rubber", "xlpe", "silicone"]
# Alone in still air, side by side with others, in a tube, in a wall.
Laid = Literal["free", "bundle", "conduit", "wall"]


def length_of(what: str) -> Quantity:
    """Declare the length of a run, one way."""
    return Quantity(
        LENGTH,
        f"length of {what}, one way",
        "tape along its whole way, end to end, what is coiled up too; printed length of a cord",
        minutes=10,
        allowed=("10 mm", "500 m"),
    )


def warmest(what: str, default: str, basis: str) -> Quantity:
    """Declare the warmest air around something."""
    return Quantity(
        TEMPERATURE,
        f"warmest air around {what} while it carries current",
        "thermometer hung beside it for an hour, out of the sun, on a warm day",
        minutes=60,
        allowed=("-40 °C", "150 °C"),
        default=default,
        basis=basis,
    )


def contact_of(what: str) -> Quantity:
    """Declare the resistance of one contact."""
    return Quantity(
        RESISTANCE,
        f"resistance of one contact of {what}",
        "a qualified person: millivolts across plug and socket at a known current, over that "
        "current; else leave it out and feel the plug after half an hour",
        minutes=20,
        allowed=("0.01 mΩ", "1 Ω"),
        default="5 mΩ ± 3",
        basis="used household and industrial contacts, common practice",
    )


def warming_of(what: str) -> Quantity:
    """Declare how much one watt in a contact warms it."""
    return Quantity(
        THERMAL_RESISTANCE,
        f"warming of one contact of {what} for one watt in it",
        "infrared thermometer on the plug's face after half an hour, less the air, over the watts "
        "in both pins",
        minutes=45,
        allowed=("0.2 K/W", "50 K/W"),
        default="6 K/W ± 3",
        basis="pins of plugs of 10 A to 32 A, common practice",
    )


SECTION = Quantity(
    WIRE_SIZE,
    "cross-section of one conductor",
    "print on the jacket, such as 3G1.5 or 14/3; else count the strands and multiply by the area "
    "of one, micrometer at a cut end",
    minutes=5,
    allowed=("0.05 mm²", "400 mm²"),
)


class Wire(Record):
    """A run of cable: what it is made of and what is round it."""

    section: Annotated[Value, SECTION]
    length: Annotated[Value, length_of("the run")]
    metal: Annotated[Metal, Plain("metal of the conductors", "copper, or aluminium")] = "copper"
    insulation: Annotated[
        Insulation,
        Plain(
            "insulation",
            "printed on the jacket: pvc to 70 °C, rubber to 60 °C, xlpe to 90 °C, silicone to "
            "180 °C",
        ),
    ] = ""
    hottest: Annotated[
        Value,
        Quantity(
            TEMPERATURE,
            "temperature its insulation bears for life",
            "print on the jacket or its maker's sheet; left out: by the insulation named",
            minutes=5,
            allowed=("50 °C", "250 °C"),
            decided=True,
        ),
    ]
    outside: Annotated[
        Value,
        Quantity(
            LENGTH,
            "outside diameter of the cable",
            "calipers over the jacket, two directions, the mean; left out: by its size",
            minutes=3,
            allowed=("0.8 mm", "120 mm"),
        ),
    ]
    laid: Annotated[
        Laid,
        Plain(
            "how it lies where it is worst",
            "free: alone in still air; bundle: beside others that carry current; conduit: in a "
            "tube or channel; wall: inside a wall that is lagged",
        ),
    ] = "free"
    grouped: Annotated[
        Value,
        Quantity(
            COUNT,
            "conductors or cables that lie together and carry current, this one too",
            "count them where they lie closest",
            minutes=3,
            allowed=("1", "40"),
            default="1",
            basis="this one alone",
        ),
    ]
