"""A power cable of the vehicle: a part with a mass, and a run of conductors that carry current."""

from __future__ import annotations

from typing import Annotated, Literal

from wattwright.build.conductors import Wire, warmest
from wattwright.build.fields import Plain, Quantity, Section
from wattwright.build.parts import Part
from wattwright.kinds import (
    COUNT,
    CURRENT,
    FRACTION,
    LENGTH,
    RATIO,
    RESISTANCE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    TORQUE,
    VOLTAGE,
)
from wattwright.values import Value


class Cable(Part):
    """A power cable of the high-voltage side; where no mass is given it follows from its wire."""

    kind: Annotated[Literal["cable"], Plain("kind of device")]
    begins: Annotated[str, Plain("where it begins", "a name of [part]; pack for the pack")] = ""
    ends: Annotated[str, Plain("where it ends", "a name of [part]; pack for the pack")] = ""
    wire: Annotated[Wire, Section("what it is made of, and how it lies")]
    conductors: Annotated[
        Value,
        Quantity(
            COUNT,
            "conductors of that length that share one route",
            "count them: two poles 2, three phases 3",
            minutes=1,
            allowed=("1", "12"),
            default="2",
            basis="two poles, out and back",
            decided=True,
        ),
    ]
    rated_voltage: Annotated[
        Value,
        Quantity(
            VOLTAGE,
            "voltage it is made for, direct current",
            "print on the jacket; a welding cable is not made for the pack's voltage",
            minutes=3,
            allowed=("30 V", "3000 V"),
            decided=True,
        ),
    ]
    warmest: Annotated[
        Value, warmest("it", "50 °C ± 10", "under a bonnet or beside a motor, common practice")
    ]
    shield: Annotated[
        Literal["", "none", "both_ends", "one_end"],
        Plain(
            "its shield", "bonded at both ends, at one, or none; the inverter's maker says which"
        ),
    ] = ""
    carries: Annotated[
        Value,
        Quantity(
            CURRENT,
            "current it carries for hours, of three phases the effective value",
            "what the device at its end draws for hours: maker's sheet; left out: taken from the "
            "drive or from that device",
            minutes=10,
            allowed=("0.05 A", "1500 A"),
        ),
    ]
    peak: Annotated[
        Value,
        Quantity(
            CURRENT,
            "highest current, for as long as is written under peak_time",
            "setting of inverter or battery management, whichever keeps it; none: never more than "
            "for hours",
            minutes=10,
            allowed=("0.05 A", "3000 A"),
            may_be_none=True,
        ),
    ]
    peak_time: Annotated[
        Value,
        Quantity(
            TIME,
            "how long that highest current lasts at most",
            "setting of inverter or battery management that takes it back",
            minutes=10,
            allowed=("0.1 s", "1 h"),
        ),
    ]
    kept_by: Annotated[
        str,
        Plain(
            "what keeps that current and time",
            "a name of [part]: inverter, fuse or management; a cable thinner than its peak would "
            "want for hours passes only where this is named",
        ),
    ] = ""
    drop_limit: Annotated[
        Value,
        Quantity(
            FRACTION,
            "share of the pack's lowest voltage that may be lost in it, out and back",
            "decide it: what is lost here warms the cable and is not there to drive with",
            minutes=2,
            allowed=("0.1 %", "10 %"),
            default="2 %",
            basis="traction cables, common practice",
        ),
    ]
    overload: Annotated[
        Value,
        Quantity(
            TEMPERATURE_DIFFERENCE,
            "how far above its temperature for life its insulation may get until a fuse opens",
            "maker's sheet of the cable: temperature of the overload test, less that for life",
            minutes=10,
            allowed=("0 K", "150 K"),
            default="50 K ± 10",
            basis="six hours at 50 K above its class is the overload test of cables for vehicles "
            "(ISO 6722-1, from memory)",
        ),
    ]
    fuse: Annotated[str, Plain("fuse that protects it", "a name of [part] of kind fuse")] = ""
    lug: Annotated[str, Plain("lugs at its ends", "such as M8, 35 mm², tinned")] = ""
    lug_contact: Annotated[
        Value,
        Quantity(
            RESISTANCE,
            "resistance of one lug on its post",
            "pack out of circuit: bench supply, 50 A through the joint, millivolts across it, over "
            "the current",
            minutes=10,
            allowed=("0.001 mΩ", "0.1 Ω"),
            default="0.05 mΩ ± 0.04",
            basis="lugs crimped and bolted well, common practice",
        ),
    ]
    lug_torque: Annotated[
        Value,
        Quantity(
            TORQUE,
            "torque of the bolt at its ends",
            "maker of the device it goes to",
            minutes=5,
            allowed=("0.5 N·m", "200 N·m"),
            decided=True,
        ),
    ]
    bend: Annotated[
        Value,
        Quantity(
            LENGTH,
            "tightest bend on its way, radius to the inside",
            "a can or a jar of known diameter that just fits the bend, half of it",
            minutes=5,
            allowed=("3 mm", "2 m"),
        ),
    ]
    bend_multiple: Annotated[
        Value,
        Quantity(
            RATIO,
            "tightest bend its maker allows, as a multiple of its outside diameter",
            "maker's sheet; left out: 4 for a cable laid once, 10 for one with a shield, common "
            "practice",
            minutes=5,
            allowed=("1", "30"),
            decided=True,
        ),
    ]
    clips: Annotated[
        Value,
        Quantity(
            LENGTH,
            "widest distance between its clips",
            "tape along the cable, from clip to clip, where they are furthest apart",
            minutes=3,
            allowed=("10 mm", "5 m"),
        ),
    ]
    clips_limit: Annotated[
        Value,
        Quantity(
            LENGTH,
            "widest distance between clips that is good enough",
            "rule of the country or of whoever approves the vehicle",
            minutes=10,
            allowed=("50 mm", "2 m"),
            default="450 mm ± 150",
            basis="300 mm to 450 mm, common practice",
        ),
    ]
