"""Instruments at hand, and how far each may be off."""

from __future__ import annotations

from types import MappingProxyType
from typing import Annotated, Literal

from wattwright.build.fields import Plain, Quantity, Record
from wattwright.kinds import (
    ANGLE,
    CURRENT,
    FORCE,
    FRACTION,
    GAUGE_PRESSURE,
    LENGTH,
    MASS,
    RESISTANCE,
    SPEED,
    TEMPERATURE_DIFFERENCE,
    TIME,
    TORQUE,
    VOLTAGE,
    Kind,
)
from wattwright.values import Value

Measures = Literal[
    "mass",
    "length",
    "angle",
    "pressure",
    "temperature",
    "voltage",
    "current",
    "resistance",
    "torque",
    "force",
    "speed",
    "time",
]
# How far an instrument may be off is a difference: of temperatures too.
KINDS: MappingProxyType[str, Kind] = MappingProxyType(
    {
        "mass": MASS,
        "length": LENGTH,
        "angle": ANGLE,
        "pressure": GAUGE_PRESSURE,
        "temperature": TEMPERATURE_DIFFERENCE,
        "voltage": VOLTAGE,
        "current": CURRENT,
        "resistance": RESISTANCE,
        "torque": TORQUE,
        "force": FORCE,
        "speed": SPEED,
        "time": TIME,
    }
)


class Instrument(Record):
    """One instrument at hand."""

    says: Annotated[str, Plain("what it is", "as you would call it across the garage")] = ""
    measures: Annotated[Measures, Plain("what it measures")] = "mass"
    within: Annotated[
        str,
        Plain(
            "how far it may be off, whatever it shows",
            "a quantity of what it measures, such as 0.5 kg; from its papers, or from a check "
            "against something known",
        ),
    ] = ""
    of_reading: Annotated[
        Value,
        Quantity(
            FRACTION,
            "how far it may be off beside that, as a share of what it shows",
            "the share in its papers: ± 0.8 % of reading, for example",
            minutes=5,
            allowed=("0 %", "20 %"),
            default="0 %",
        ),
    ]
