"""What is said of the loads at the mounts."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import FORCE

_MAKER = Source("The maker's sheet of the mount, or the weakest of its parts", "", "seen")
_CAUTION = (
    "A mount that lets go lets the unit turn into cables, brake pipes and shafts: bolts by their "
    "class and torque, a second hold where one bolt carries all."
)

LOAD = Check(
    "mounts.load",
    "load at a mount",
    "What the unit puts on a mount in the case that loads it most: standing, driving off either "
    "way, an inverter fault, braking, cornering, a bump.",
    "what the mount carries in use",
    FORCE,
    _MAKER,
    strict=True,
    caution=_CAUTION,
)
CRASH = Check(
    "mounts.crash_load",
    "load at a mount in a crash",
    "What the unit puts on a mount under the accelerations that the rules name; it may bend, and "
    "must not let go.",
    "the load at which mount, bracket or bolts give way",
    FORCE,
    _MAKER,
    strict=True,
    caution=_CAUTION,
)
SIZE = FigureKind("mounts.load_size", "load", "Size of the load at a mount in one case.", FORCE)
BACK = FigureKind("mounts.load_back", "back", "The same, along the vehicle.", FORCE)
RIGHT = FigureKind("mounts.load_right", "right", "The same, across the vehicle.", FORCE)
UP = FigureKind("mounts.load_up", "up", "The same, up and down.", FORCE)
CHECKS = (LOAD, CRASH)
FIGURES = (SIZE, BACK, RIGHT, UP)
TABLES = (Table("what the unit puts on each mount, by case", FIGURES),)
