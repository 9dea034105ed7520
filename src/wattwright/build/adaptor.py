"""The adaptor plate between motor and gearbox: what its drawing needs beside patterns and fits."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record, Section
from wattwright.build.presence import said
from wattwright.kinds import ANGLE, FRACTION, LENGTH, POSITION
from wattwright.values import Value

Face = Literal["motor", "gearbox"]
Looking = Literal["", "to the motor", "to the gearbox"]

_SEEN = "as the drawing shows it, from the motor's side"


def _place(axis: str, way: str, of: str) -> Quantity:
    return Quantity(
        POSITION,
        f"{of}, {axis} from the datum's axis",
        "height gauge on a surface plate, or the read-out of the mill, from a pin in the datum's "
        f"bore; {way} is above zero, {_SEEN}",
        minutes=30,
        allowed=("-1 m", "1 m"),
    )


def depth_of(what: str) -> Quantity:
    """Declare how deep something is cut."""
    return Quantity(
        LENGTH,
        f"depth of {what} in the new part",
        'what you decide; "none": it goes through',
        minutes=2,
        allowed=("0.5 mm", "300 mm"),
        may_be_none=True,
        decided=True,
    )


def _decided(label: str, how: str, most: str, default: str = "", basis: str = "") -> Quantity:
    return Quantity(
        LENGTH,
        label,
        how,
        minutes=5,
        allowed=("0.001 mm", most),
        default=default,
        basis=basis,
        decided=True,
    )


class Placing(Record):
    """Where a hole pattern lies on the plate."""

    pattern: Annotated[str, Plain("pattern", "a name of [pattern]")] = ""
    looking: Annotated[
        Looking,
        Plain(
            "the way one looks on its holes as the pattern is drawn",
            "to the motor: measured on the motor's own face, and mirrored on the drawing; to the "
            "gearbox: measured on the bell-housing's own face. Wrong, and the plate is scrap",
        ),
    ] = ""
    x: Annotated[Value, _place("to the right", "right", "hole at the pattern's origin")]
    y: Annotated[Value, _place("upwards", "up", "hole at the pattern's origin")]
    turn: Annotated[
        Value,
        Quantity(
            ANGLE,
            "angle of the pattern's x axis",
            f"from the places of two holes; counter-clockwise is above zero, {_SEEN}",
            minutes=30,
            allowed=("-360°", "360°"),
        ),
    ]


class Feature(Record):
    """Something of the plate that carries a fit and stands in no pattern."""

    fit: Annotated[str, Plain("fit", "a name of [coupling.fit]")] = ""
    part: Annotated[
        Literal["hole", "shaft"],
        Plain("which part of the fit the plate has", "hole: a bore; shaft: a spigot that stands"),
    ] = "hole"
    face: Annotated[
        Face, Plain("face it is cut from", "the side of the plate that it is seen on")
    ] = "motor"
    x: Annotated[Value, _place("to the right", "right", "its axis")]
    y: Annotated[Value, _place("upwards", "up", "its axis")]
    depth: Annotated[Value, depth_of("the bore, or height of the spigot,")]


class Adaptor(Record):
    """What a machinist needs to know of the adaptor plate."""

    label: Annotated[str, Plain("what it is", "a few words for the drawing")] = ""
    datum: Annotated[
        str,
        Plain(
            "feature whose axis is datum B",
            "a name of its features: the bore or spigot that centres the motor, from which all "
            "places are counted",
        ),
    ] = ""
    motor_holes: Annotated[Placing, Section("holes to the motor")]
    gearbox_holes: Annotated[Placing, Section("holes to the gearbox")]
    feature: Annotated[dict[str, Feature], Section("bores and spigots that carry a fit, by name")]
    outside: Annotated[
        Value, _decided("diameter of the outline", "what you decide; left out: as the blank", "2 m")
    ]
    material: Annotated[
        str, Plain("material", "as you would order it: standard, grade, state of the blank")
    ] = ""
    general: Annotated[
        str, Plain("general tolerances", "standard and class that hold where none is written")
    ] = "ISO 2768-mK"
    flatness: Annotated[
        Value,
        _decided(
            "flatness of both faces",
            "what you decide with the machinist",
            "1 mm",
            "0.02 mm",
            "faces ground or fly-cut in one setting, common practice",
        ),
    ]
    dowel_position: Annotated[
        Value,
        _decided(
            "position of what carries a fit off the middle, across the zone",
            "what you decide with the machinist",
            "1 mm",
            "0.02 mm",
            "dowel holes bored by coordinates, common practice",
        ),
    ]
    face_share: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the run-out left that the faces may take",
            "what you decide with the machinist; the rest is for what centres",
            minutes=5,
            allowed=("5 %", "95 %"),
            default="50 %",
            basis="half each, common practice",
            decided=True,
        ),
    ]

    @property
    def begun(self) -> bool:
        """True where anybody has written anything of the plate, if only a name."""
        names = (self.label, self.datum, self.material)
        patterns = (self.motor_holes.pattern, self.gearbox_holes.pattern)
        return said(self) or bool(self.feature) or any(names) or any(patterns)
