"""What is said of half-shafts: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import ANGLE, FRACTION, POSITION
from wattwright.kinds import LENGTH as LENGTH_KIND

_MAKER = Source("The maker's catalogue of the joint; a stated default until then", "", "practice")
_STANDS = (
    "Springs come out only with the vehicle on stands and the spring held; nobody under a vehicle "
    "on a jack, and no running shafts with anybody near."
)

INNER = Check(
    "mounts.cv_inner",
    "angle of the inner joint",
    "Between the unit's shaft and the half-shaft, in space, with the unit as it hangs.",
    "the largest angle of this joint",
    ANGLE,
    _MAKER,
    near=0.0,
    caution=_STANDS,
)
OUTER = Check(
    "mounts.cv_outer",
    "angle of the outer joint",
    "Between the half-shaft and the axis of the hub, in space, wheels straight ahead.",
    "the largest angle of this joint",
    ANGLE,
    _MAKER,
    near=0.0,
    caution=_STANDS,
)
LOCK = Check(
    "mounts.cv_lock",
    "angle of the outer joint at full lock",
    "The largest one over both locks and all heights, in space. At full lock and hanging, a start "
    "with all of the torque breaks joints: ease off.",
    "the largest angle of this joint",
    ANGLE,
    _MAKER,
    near=0.0,
    caution=_STANDS,
)
STEADY = Check(
    "mounts.cv_steady",
    "angle of a joint that turns for hours",
    "At ride height: with the angle a joint grows hot and its life falls.",
    "the largest angle for hours",
    ANGLE,
    _MAKER,
    near=0.0,
)
SPARE = Check(
    "mounts.cv_spare",
    "way left to a plunging joint",
    "The least that is left over all heights: in, before the shaft bottoms and breaks bearing, "
    "mount or case; out, before the joint comes apart.",
    "the way that must be left",
    LENGTH_KIND,
    Source("8 to 10 mm at each end", "", "practice"),
    near=0.0,
    caution=_STANDS,
)
INNER_ANGLE = FigureKind("mounts.cv_inner_angle", "inner joint", "Angle of the inner joint.", ANGLE)
OUTER_ANGLE = FigureKind("mounts.cv_outer_angle", "outer joint", "Angle of the outer joint.", ANGLE)
PLUNGE = FigureKind(
    "mounts.cv_plunge", "plunge", "How much longer it is than at ride height.", POSITION
)
LEFT_IN = FigureKind("mounts.cv_left_in", "left in", "Way left before it bottoms.", POSITION)
LEFT_OUT = FigureKind("mounts.cv_left_out", "left out", "Way left before it comes apart.", POSITION)
OUTER_STEERED = FigureKind(
    "mounts.cv_outer_steered",
    "outer joint, steered",
    "Angle of the outer joint with the wheel at full lock.",
    ANGLE,
)
LIFE = FigureKind(
    "mounts.cv_life",
    "life left by the angle",
    "At ride height: life of a ball joint at this angle, over that of a straight one with the same "
    "torque. Of what it lives by it says nothing else: grease, boots and torque count too.",
    FRACTION,
)
LENGTH = FigureKind(
    "mounts.half_shaft_length",
    "half-shaft between joint centres",
    "At ride height, with the unit as it hangs: the length to order by.",
    POSITION,
)
CHECKS = (INNER, OUTER, LOCK, STEADY, SPARE)
FIGURES = (INNER_ANGLE, OUTER_ANGLE, OUTER_STEERED, PLUNGE, LEFT_IN, LEFT_OUT, LIFE, LENGTH)
TABLES = (Table("half-shafts by height", (INNER_ANGLE, OUTER_ANGLE, PLUNGE, LEFT_IN, LEFT_OUT)),)
