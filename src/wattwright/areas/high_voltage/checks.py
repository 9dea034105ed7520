"""What is said of each power cable, declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import (
    CURRENT,
    FRACTION,
    JOULE_INTEGRAL,
    LENGTH,
    POWER,
    TEMPERATURE,
    VOLTAGE,
    WIRE_SIZE,
)

_BALANCE = Source("Heat in is heat out", "conduction, free convection, radiation", "computed")
_SHEET = Source("The maker's data sheet", "", "seen")
_PRACTICE = Source("Common practice of the trade", "", "practice")
_CURVES = Source("Comparison of two curves point by point", "", "computed")
_DEAD = (
    "Several hundred volts kill. Work on these cables only with the pack out of circuit and both "
    "poles proven dead, with gloves and insulated tools; local codes and licensed practice come "
    "first."
)
_FIRE = (
    "Direct current does not go out by itself: a cable that its fuse does not protect burns "
    "until nothing is left of it. Local codes and licensed practice come first."
)

TEMPERATURE_HELD = Check(
    "high_voltage.temperature",
    "temperature of the cable after hours against what its insulation bears",
    "Temperature of the conductors at the current they carry for hours, in the warmest air, as the "
    "cable lies.",
    "what the insulation bears for life",
    TEMPERATURE,
    _BALANCE,
    near=10.0,
    strict=True,
    caution=_FIRE,
)
CURRENT_HELD = Check(
    "high_voltage.current",
    "current for hours against what the cable carries",
    "Current of the drive over ten minutes in the hardest use, or of the device at its end, "
    "against the current that warms the cable to what its insulation bears.",
    "the current that warms it to its limit",
    CURRENT,
    _BALANCE,
    strict=True,
    caution=_FIRE,
)
PEAK = Check(
    "high_voltage.peak",
    "temperature at the highest current against what the insulation bears",
    "From its temperature after hours, the highest current for as long as it is let through. A "
    "cable that would not carry it for hours passes only where a part is named that keeps current "
    "and time.",
    "what the insulation bears for life",
    TEMPERATURE,
    _BALANCE,
    near=5.0,
    strict=True,
    caution=_FIRE,
)
DROP = Check(
    "high_voltage.drop",
    "share of the voltage lost in the cable",
    "Voltage lost out and back at the current for hours, as warm as that makes it, of the lowest "
    "voltage of the pack.",
    "the share that may be lost",
    FRACTION,
    _PRACTICE,
    strict=True,
)
RATED_VOLTAGE = Check(
    "high_voltage.rated_voltage",
    "voltage the cable is made for against the highest of the pack",
    "What is printed on the jacket for direct current, against the full pack.",
    "highest voltage of the pack",
    VOLTAGE,
    _SHEET,
    near=0.0,
    strict=True,
    caution=_DEAD,
)
FUSE_CARRIES = Check(
    "high_voltage.fuse_carries",
    "current for hours against the rating of the fuse",
    "A fuse that carries its rating for hours, in a warm box, ages and opens on a hill: a fifth to "
    "spare is common practice.",
    "rating of the fuse",
    CURRENT,
    _SHEET,
    near=0.2,
    strict=True,
)
FUSE_RATING = Check(
    "high_voltage.fuse_rating",
    "rating of the fuse against what the cable carries",
    "Where no curve of the fuse has been read: a fuse rated above what the cable carries for hours "
    "lets it burn slowly. With its curve the two are compared current by current instead.",
    "the current that the cable carries for hours",
    CURRENT,
    _PRACTICE,
    near=0.0,
    strict=True,
    caution=_FIRE,
)
FUSE_REACH = Check(
    "high_voltage.fuse_reach",
    "current from which the fuse's curve says that it opens",
    "First current of the curve, against the one that brings the cable to its overload temperature "
    "in hours: between the two nothing says that the fuse ever opens. A fuse made for short "
    "circuits alone begins far above.",
    "the current that brings the cable to its overload temperature in hours",
    CURRENT,
    _CURVES,
    near=0.0,
    strict=True,
    caution=_FIRE,
)
FUSE_CURVE = Check(
    "high_voltage.fuse_curve",
    "current the cable stands for as long as its fuse takes",
    "Where it is the smallest share of the fuse's current, from a slow overload to a short "
    "circuit: cable warm from hours of work, and for less than a minute its metal alone keeping "
    "heat. Below the limit it is above its overload temperature before the fuse has opened.",
    "current at which the fuse takes that long",
    CURRENT,
    _CURVES,
    near=0.1,
    strict=True,
    caution=_FIRE,
)
FUSE_BREAKS = Check(
    "high_voltage.fuse_breaks",
    "short-circuit current against what the fuse breaks",
    "Full pack, warm and new, into a short circuit at the cable's far end.",
    "direct current that the fuse breaks",
    CURRENT,
    _SHEET,
    near=0.25,
    strict=True,
    caution="A fuse above what it breaks goes on burning as an arc, and bursts.",
)
WITHSTAND = Check(
    "high_voltage.short_circuit",
    "what the fuse lets through in a short circuit against what the cable stands",
    "Joule integral until the fuse has opened, by its curve at the short-circuit current, against "
    "that of the conductor from its temperature for life to what the insulation bears for seconds.",
    "k²S² of the conductor",
    JOULE_INTEGRAL,
    Source("IEC 60364-4-43", "434.5.2", "memory"),
    near=0.25,
    strict=True,
    caution=_FIRE,
)
BEND = Check(
    "high_voltage.bend",
    "tightest bend against what the cable bears",
    "Radius to the inner side, against the multiple of its outside diameter that its maker or "
    "common practice allows.",
    "smallest radius allowed",
    LENGTH,
    _PRACTICE,
    near=0.0,
    strict=True,
)
CLIPS = Check(
    "high_voltage.clips",
    "distance between clips",
    "A cable that hangs rubs through on the frame.",
    "widest distance that is good enough",
    LENGTH,
    _PRACTICE,
    near=0.0,
    strict=True,
    caution=_DEAD,
)
CHECKS = (
    TEMPERATURE_HELD,
    CURRENT_HELD,
    PEAK,
    DROP,
    RATED_VOLTAGE,
    FUSE_CARRIES,
    FUSE_RATING,
    FUSE_REACH,
    FUSE_CURVE,
    FUSE_BREAKS,
    WITHSTAND,
    BEND,
    CLIPS,
)

ROUTE = FigureKind(
    "high_voltage.length", "length of the cable", "Along its whole way, one way.", LENGTH, "length"
)
SIZE = FigureKind(
    "high_voltage.size", "cross-section of the cable", "Of one conductor.", WIRE_SIZE, "size"
)
CARRIED = FigureKind(
    "high_voltage.carries",
    "current of the cable for hours",
    "As typed, else of the drive over ten minutes in the hardest use, or of the device at its end; "
    "of three phases the effective value.",
    CURRENT,
    "for hours",
)
WARM = FigureKind(
    "high_voltage.warm",
    "temperature of the cable after hours",
    "Its conductors, in the warmest air.",
    TEMPERATURE,
    "after hours",
)
LOST = FigureKind(
    "high_voltage.lost_voltage",
    "voltage lost in the cable",
    "Out and back, at the current for hours and as warm as that makes it.",
    VOLTAGE,
    "lost",
)
FUSED = FigureKind(
    "high_voltage.fuse", "rating of the cable's fuse", "As printed on it.", CURRENT, "fuse"
)
FAULT = FigureKind(
    "high_voltage.fault",
    "short-circuit current at the cable's far end",
    "Full pack, warm and new, once steady; the first milliseconds may give a third more.",
    CURRENT,
    "short circuit",
)
HEAT = FigureKind(
    "high_voltage.heat",
    "heat of the cable",
    "All conductors over the whole way, at the current for hours.",
    POWER,
    "heat",
)
LUG_HEAT = FigureKind(
    "high_voltage.lug_heat",
    "heat of one lug",
    "At the current for hours. A lug warmer than the cable beside it is a fault that grows.",
    POWER,
    "each lug",
)
TABLE = (ROUTE, SIZE, CARRIED, WARM, LOST, FUSED)
MORE = (FAULT, HEAT, LUG_HEAT)
FIGURES = (*TABLE, *MORE)
TABLES = (Table("power cables", TABLE), Table("power cables: faults and heat", MORE))
