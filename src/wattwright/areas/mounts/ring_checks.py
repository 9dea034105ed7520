"""What is said of retaining rings: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import FORCE, LENGTH, POSITION

_DIN = Source("DIN 471 and DIN 472, table 1", "as the table's row says", "seen")
_STEP = Source("Half of the step to the free diameter of the next size", "", "computed")
_GRIND = (
    "Never grind a ring thinner, its ears shorter or its ends back, and never break the square "
    "edge of the groove: the flat face and that edge are what carry. Goggles on: a ring that slips "
    "from the pliers flies. A ring that was opened too far or bent goes into the bin."
)

GROOVE = Check(
    "mounts.ring_groove",
    "groove against its standard",
    "How far the measured groove is from the middle of what the standard allows for the shaft or "
    "bore it is in.",
    "half of the tolerance of the groove",
    POSITION,
    _DIN,
    near=0.0,
)
WIDTH = Check(
    "mounts.ring_width",
    "width of the groove",
    "Measured width against the least that lets the ring in.",
    "least width of the standard (m)",
    LENGTH,
    _DIN,
    near=0.0,
)
EDGE = Check(
    "mounts.ring_edge",
    "land beside the groove",
    "What is left between groove and end, against the least that bears what the groove bears.",
    "least edge distance of the standard (n)",
    LENGTH,
    _DIN,
    near=0.0,
    caution="A groove too near the end breaks out all at once.",
)
LOAD = Check(
    "mounts.ring_load",
    "load of the groove",
    "Force along the shaft against what the wall of the groove carries. Holds where a square edge "
    "leans on the ring; behind a chamfer or a rounded race it carries far less: put a square "
    "washer between.",
    "groove's wall by yield strength over 1.2, as the standard's own loads",
    FORCE,
    Source("DIN 471 and DIN 472, load of the groove: rule that all rows keep", "", "computed"),
)
EARS = Check(
    "mounts.ring_ears",
    "ring in hand: room for its ears",
    "How far the ears stand out of the groove, against the room there is for them. Ears that touch "
    "are no reason to grind: take a ring of another shape.",
    "room beside the groove",
    POSITION,
    Source("Geometry of a ring in a groove", "", "computed"),
    near=0.0,
    caution=_GRIND,
)
THICKNESS = Check(
    "mounts.ring_thickness",
    "ring in hand: thickness",
    "How far the thickness of the ring in hand is from that which belongs here.",
    "play that the standard leaves in the groove (m - s)",
    POSITION,
    _DIN,
    near=0.0,
    caution=_GRIND,
)
FREE = Check(
    "mounts.ring_free",
    "ring in hand: free diameter",
    "How far the free diameter of the ring in hand is from that which belongs here.",
    "half of the step to the next size: beyond it, the ring may be that of a neighbour",
    POSITION,
    _STEP,
    near=0.0,
    warning=True,
    caution=_GRIND,
)
GOES_IN = Check(
    "mounts.ring_goes_in",
    "ring in hand: goes into the groove",
    "Thickness of the ring in hand against the width of the groove as measured.",
    "measured width of the groove",
    LENGTH,
    Source("Geometry of a ring in a groove", "", "computed"),
    near=0.0,
    caution=_GRIND,
)
GRIPS = Check(
    "mounts.ring_grips",
    "ring in hand: sits under tension",
    "By how much the groove holds the ring open (a shaft) or closed (a bore): without it the ring "
    "turns, and leaves the groove at speed.",
    "more than nothing",
    POSITION,
    Source("Geometry of a ring in a groove", "", "computed"),
    near=0.0,
    caution=_GRIND,
)

SIZE = FigureKind("mounts.ring_size", "ring for", "Diameter the ring is sold for.", LENGTH)
THICK = FigureKind("mounts.ring_s", "thickness (s)", "Thickness of the ring.", LENGTH)
OPEN = FigureKind("mounts.ring_d3", "free (d3)", "Free diameter of the ring.", LENGTH)
CUT = FigureKind("mounts.ring_d2", "groove (d2)", "Diameter of the groove.", LENGTH)
WIDE = FigureKind("mounts.ring_m", "width (m)", "Least width of the groove.", LENGTH)
LAND = FigureKind("mounts.ring_n", "land (n)", "Least land beside the groove.", LENGTH)
CARRIES = FigureKind(
    "mounts.ring_capacity", "carries", "Load along the shaft that the groove carries.", FORCE
)

CHECKS: tuple[Check, ...] = (GROOVE, WIDTH, EDGE, LOAD, THICKNESS, FREE, GOES_IN, GRIPS, EARS)
FIGURES: tuple[FigureKind, ...] = (SIZE, THICK, OPEN, CUT, WIDE, LAND, CARRIES)
TABLES: tuple[Table, ...] = (Table("Retaining rings", FIGURES),)
