"""What is said of hole patterns: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import ANGLE, LENGTH, POSITION, RATIO

READING = Check(
    "mounts.pattern_reading",
    "reading against the others of its pattern",
    "What a distance is more than the adjusted pattern has between its holes. Where readings do "
    "not agree, the pattern without them judges.",
    "what the bands explain, so that of patterns that are all right at most one in twenty is named",
    POSITION,
    Source("Data snooping: each residual over its own standard deviation", "", "computed"),
    near=0.0,
    caution="A hole drilled by a wrong reading cannot be undrilled: measure it again first.",
)
HOLE = Check(
    "mounts.pattern_hole",
    "hole against what still assembles",
    "Diameter to be drilled by a pattern, against the smallest that the bolt still goes through "
    "when the measured place and the drilled one are both off. Where the new part gets the thread, "
    "it is the hole in the other part that counts.",
    "bolt, and twice what the place may be off as measured and as drilled",
    LENGTH,
    Source("ASME Y14.5, fixed fasteners: H = F + T1 + T2", "", "computed"),
    near=0.0,
)
SLOT = Check(
    "mounts.pattern_slot",
    "offset from the hole it has to meet",
    "How far a hole is from that of the other pattern, the two laid on each other as well as can "
    "be, against what bolt and holes allow.",
    "half of both diameters together, less the bolt",
    LENGTH,
    Source("Geometry of circles in a plane", "", "computed"),
    near=0.0,
)

X = FigureKind("mounts.pattern_x", "x", "Place of a hole along the sheet.", POSITION)
Y = FigureKind("mounts.pattern_y", "y", "Place of a hole up the sheet.", POSITION)
PLACE = FigureKind(
    "mounts.pattern_place",
    "within",
    "Radius within which the centre is, 95 % of the time, against the best fit of all holes.",
    LENGTH,
)
NEEDED = FigureKind(
    "mounts.pattern_needed",
    "still assembles",
    "Smallest hole that the bolt still goes through.",
    LENGTH,
)
STANDARD_HOLE = FigureKind(
    "mounts.pattern_clearance",
    "usual hole",
    "Clearance hole of the usual series that is not smaller than what still assembles.",
    LENGTH,
)
STANDARD = FigureKind(
    "mounts.pattern_standardised",
    "residual in its own deviations",
    "Reading less adjusted distance, over the standard deviation of that difference.",
    RATIO,
)
CIRCLE = FigureKind(
    "mounts.pattern_circle",
    "circle through the holes",
    "Diameter of the circle that passes all centres as nearly as any, where they lie on one.",
    LENGTH,
)
OFF_CIRCLE = FigureKind(
    "mounts.pattern_off_circle",
    "farthest from that circle",
    "Distance of the hole that is farthest from the circle.",
    LENGTH,
)
OFFSET_X = FigureKind(
    "mounts.pattern_offset_x", "off in x", "Offset along the sheet from the hole to meet.", POSITION
)
OFFSET_Y = FigureKind(
    "mounts.pattern_offset_y", "off in y", "Offset up the sheet from the hole to meet.", POSITION
)
SLOT_LENGTH = FigureKind(
    "mounts.pattern_slot_length",
    "slot, end to end",
    "Length of the hole along the offset, so that the bolt goes in; its diameter where no slot is "
    "needed.",
    LENGTH,
)
DIRECTION = FigureKind(
    "mounts.pattern_slot_direction",
    "slot towards",
    "Direction from this hole in which it has to grow, counter-clockwise from the x axis.",
    ANGLE,
)

CHECKS: tuple[Check, ...] = (READING, HOLE, SLOT)
PLACES = (X, Y, PLACE, NEEDED, STANDARD_HOLE)
SLOTS = (OFFSET_X, OFFSET_Y, SLOT_LENGTH, DIRECTION)
FIGURES: tuple[FigureKind, ...] = (*PLACES, *SLOTS, STANDARD, CIRCLE, OFF_CIRCLE)
TABLES: tuple[Table, ...] = (
    Table("holes of a pattern", PLACES),
    Table("slots", SLOTS),
    Table("readings of a pattern", (STANDARD,)),
)
