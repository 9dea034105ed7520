"""What is said of the adaptor plate: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import LENGTH, POSITION

_LOCATES = (
    "No paper template and no centre punch locates a shaft: what carries a fit is bored by its "
    "dimensions and measured. A coupling that runs out eats the gearbox's front bearing, then its "
    "seal and its gears."
)
_LIMIT = Source("Run-out of pilot and coupler, 0.05 mm once round", "", "practice")
_STACK = Source("Worst-case tolerance stack; ISO 1101 for the zones", "", "computed")

USED = Check(
    "mounts.adaptor_used",
    "run-out that the coupler uses up",
    "What the coupler on the motor's shaft shows by itself, of what is allowed. The rest is shared "
    "between what centres the gearbox and the tilt of the face; past the limit the coupler alone "
    "uses it up, and no plate, however true, makes up for that.",
    "what the builder allows, else 0.05 mm",
    LENGTH,
    _LIMIT,
    caution=_LOCATES,
)
DOWEL = Check(
    "mounts.adaptor_dowel",
    "position of a dowel against what run-out leaves",
    "Dowels that are all off the same way carry the gearbox off its axis: their zone must be no "
    "wider than that of what centres it.",
    "share of the run-out left that is for what centres",
    LENGTH,
    _STACK,
    near=0.0,
    caution=_LOCATES,
)
KNOWN = Check(
    "mounts.adaptor_place",
    "how well the place of a fit is known",
    "Zone in which its place is known, against the one it is to be bored in. Past the limit its "
    "numbers are good enough to find it, not to bore it: it is picked up from the other part with "
    "an indicator in the spindle, or its place measured again on a surface plate.",
    "position tolerance of the fit",
    LENGTH,
    _STACK,
    near=0.0,
    warning=True,
    caution=_LOCATES,
)
LEFT = FigureKind(
    "mounts.adaptor_left",
    "run-out left for the adaptor",
    "Run-out allowed, less what the coupler shows by itself.",
    POSITION,
)
COAXIALITY = FigureKind(
    "mounts.adaptor_coaxiality",
    "coaxiality to datum B",
    "Diameter of the zone in which the axis of what centres the gearbox has to be.",
    LENGTH,
)
PARALLELISM = FigureKind(
    "mounts.adaptor_parallelism",
    "parallelism of the face to datum A",
    "Distance of the two planes between which the gearbox's face of the plate has to be, over the "
    "circle that it is read on.",
    LENGTH,
)
X = FigureKind(
    "mounts.adaptor_x",
    "to the right of datum B",
    "Place of a hole from the datum's axis, seen from the motor's side.",
    POSITION,
)
Y = FigureKind(
    "mounts.adaptor_y",
    "above datum B",
    "Place of a hole from the datum's axis, seen from the motor's side.",
    POSITION,
)
ZONE = FigureKind(
    "mounts.adaptor_position",
    "position tolerance",
    "Diameter of the zone in which the axis of the hole has to be. Of bolt holes the lesser of "
    "two: the rule for fixed and floating fasteners, and what is left beside how well the place "
    "of the other part's hole is known.",
    LENGTH,
)

CHECKS: tuple[Check, ...] = (USED, DOWEL, KNOWN)
HOLES = (X, Y, ZONE)
FIGURES: tuple[FigureKind, ...] = (LEFT, COAXIALITY, PARALLELISM, *HOLES)
TABLES: tuple[Table, ...] = (Table("Adaptor plate, hole by hole", HOLES),)
