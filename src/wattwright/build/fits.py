"""A fit: one spigot or dowel in its hole, by ISO 286 class and as measured."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record
from wattwright.kinds import LENGTH, POSITION
from wattwright.values import Value

HoleClass = Literal["", "H7"]
ShaftClass = Literal["", "g6", "h6", "js6", "k6", "m6", "p6"]

# Deviations of a machined fit are fractions of a tenth.
_MOST = ("-0.5 mm", "0.5 mm")


def _diameter(label: str, how: str, *, decided: bool = False) -> Quantity:
    return Quantity(
        LENGTH,
        label,
        how,
        minutes=10,
        allowed=("3 mm", "250 mm"),
        may_be_none=not decided,
        decided=decided,
    )


def _deviation(label: str, of: str) -> Quantity:
    return Quantity(
        POSITION,
        label,
        f"ISO 286-2, the {of}, or the drawing; write it only where the table here is not enough",
        minutes=10,
        allowed=_MOST,
        decided=True,
    )


class Fit(Record):
    """A spigot, a dowel or a shaft in its hole."""

    label: Annotated[str, Plain("what it is", "a few words for sheets and the drawing")] = ""
    nominal: Annotated[
        Value,
        _diameter(
            "nominal diameter",
            "the round number that both parts are made to; from the drawing, or the part that is "
            "there already",
            decided=True,
        ),
    ]
    hole_class: Annotated[
        HoleClass, Plain("class of the hole", "H7: what a reamer and a good boring bar keep")
    ] = ""
    shaft_class: Annotated[
        ShaftClass,
        Plain(
            "class of the spigot, dowel or shaft",
            "g6: slides, h6: by hand, js6 and k6: light knocks, m6 and p6: pressed for good",
        ),
    ] = ""
    hole: Annotated[
        Value,
        _diameter(
            "diameter of the hole as made",
            "bore gauge set by a micrometer, clean and at room temperature, three directions, the "
            'mean; "none" until it is made',
        ),
    ]
    shaft: Annotated[
        Value,
        _diameter(
            "diameter of the spigot, dowel or shaft as made",
            "micrometer, clean and at room temperature, three directions, the mean; "
            '"none" until it is made',
        ),
    ]
    hole_upper: Annotated[Value, _deviation("upper deviation of the hole", "hole's class")]
    hole_lower: Annotated[Value, _deviation("lower deviation of the hole", "hole's class")]
    shaft_upper: Annotated[Value, _deviation("upper deviation of the shaft", "shaft's class")]
    shaft_lower: Annotated[Value, _deviation("lower deviation of the shaft", "shaft's class")]
