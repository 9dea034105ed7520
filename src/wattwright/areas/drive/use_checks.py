"""What is checked of every use, each declared once."""

from __future__ import annotations

from wattwright.findings import Check
from wattwright.formula import Source
from wattwright.kinds import CURRENT, FRACTION, LENGTH, SPEED, TEMPERATURE

_TARGET = Source("The builder's own target", "", "practice")
_RATING = Source("The maker's data sheet of the device", "", "seen")
_SETTING = Source("The setting of inverter or battery management", "", "practice")

RANGE = Check(
    "drive.use_range",
    "range against the one wanted",
    "The use again and again until the charge falls to the reserve, against how far it must go.",
    "how far it must go like this",
    LENGTH,
    _TARGET,
)
CHARGE = Check(
    "drive.use_charge",
    "charge left after the use against the reserve",
    "Charge at the end of the use, driven as often as it is repeated.",
    "the charge with which it should still drive",
    FRACTION,
    _TARGET,
)
FOLLOWED = Check(
    "drive.use_followed",
    "speed missing against what may be",
    "Most by which it stays behind the speed wanted: not torque or power enough, or too warm.",
    "how much may be missing",
    SPEED,
    _TARGET,
    near=0.0,
)
HEAT = Check(
    "drive.use_heat",
    "warmest against where power is taken back",
    "Highest temperature of windings, base plate or cells in the use, in its warmest season.",
    "where inverter or battery management begins to take power back",
    TEMPERATURE,
    _SETTING,
    near=5.0,
)
CURRENT_CARRIED = Check(
    "drive.use_current",
    "pack current over ten minutes against what the device carries",
    "Largest root mean square of the pack current in any ten minutes, or over all of what is "
    "shorter, in the hardest of all uses and on the hill wanted.",
    "the device's continuous rating for direct current",
    CURRENT,
    _RATING,
    near=0.05,
    strict=True,
    caution="A contactor, fuse or cable above its rating burns hours later, under load.",
)
CELLS = Check(
    "drive.use_cells",
    "pack current over ten minutes against what the cells give for hours",
    "Largest root mean square of the pack current in any ten minutes, or over all of what is "
    "shorter, in the hardest of all uses and on the hill wanted.",
    "the maker's continuous rating times the cells in parallel",
    CURRENT,
    Source("The maker's data sheet of the cells", "", "seen"),
    near=0.05,
    strict=True,
    caution="Cells above their rating age within weeks, and hot ones may catch fire.",
)
HILL_HEAT = Check(
    "drive.hill_heat",
    "warmest on the hill against where power is taken back",
    "The hill wanted at the speed wanted, as heavy as it gets, on a hot day, warm already, the "
    "pack held at its low charge.",
    "where inverter or battery management begins to take power back",
    TEMPERATURE,
    _SETTING,
    near=5.0,
    caution="A vehicle that loses its power on a hill has others behind it.",
)
HILL_KEPT = Check(
    "drive.hill_kept",
    "speed missing on the hill against what may be",
    "The hill wanted at the speed wanted, as heavy as it gets, on a hot day, warm already, the "
    "pack held at its low charge.",
    "how much may be missing",
    SPEED,
    _TARGET,
    near=0.0,
)

USE_CHECKS = (RANGE, CHARGE, FOLLOWED, HEAT, CURRENT_CARRIED, CELLS, HILL_HEAT, HILL_KEPT)
