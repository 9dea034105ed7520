"""What is said of the room between bodies and over the ground, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import LENGTH, POSITION

_PRACTICE = Source(
    "Workshop practice: 20 to 25 mm to suspension at full travel, 10 to 15 mm beyond what rubber "
    "gives, 100 to 120 mm under boxes",
    "",
    "practice",
)

GAP = Check(
    "mounts.gap",
    "gap between two bodies",
    "Least gap between two bodies that do not move together, over all positions of the wheels and "
    "all that the unit moves on its rubber; below nought they meet.",
    "what is wanted around either, else between what moves so",
    LENGTH,
    _PRACTICE,
    caution="Nobody under a vehicle that stands on a jack alone: stands under the body, wheels "
    "chocked. Springs come out only with the vehicle on stands and the spring held. Make room by "
    "moving what is new; cut nothing of the structure.",
)
GROUND = Check(
    "mounts.ground",
    "height over the ground, laden",
    "Height of the lowest point of a body over the ground with everybody and everything aboard.",
    "what is wanted under it, else under boxes",
    LENGTH,
    _PRACTICE,
    caution="Measure with the vehicle on its wheels; nobody under one that stands on a jack alone.",
)
GAP_X = FigureKind(
    "mounts.gap_x",
    "nearest place: behind the front axle",
    "Where two bodies come nearest, front to back.",
    POSITION,
    "back",
)
GAP_Y = FigureKind(
    "mounts.gap_y",
    "nearest place: right of the middle",
    "Where two bodies come nearest, side to side.",
    POSITION,
    "right",
)
GAP_Z = FigureKind(
    "mounts.gap_z",
    "nearest place: above the floor",
    "Where two bodies come nearest, over the floor.",
    POSITION,
    "up",
)
GAP_TRAVEL = FigureKind(
    "mounts.gap_travel",
    "wheel travel at the nearest place",
    "How far the wheel that moves either body is up from ride height there; down is below zero, "
    "nought where no wheel moves either.",
    POSITION,
    "wheel up",
)
OTHER_TRAVEL = FigureKind(
    "mounts.gap_other_travel",
    "travel of another wheel at the nearest place",
    "How far a second wheel that moves the two is up from ride height there.",
    POSITION,
)
CHECKS = (GAP, GROUND)
TABLE = (GAP_X, GAP_Y, GAP_Z, GAP_TRAVEL)
FIGURES = (*TABLE, OTHER_TRAVEL)
TABLES = (Table("Where bodies come nearest", TABLE),)
