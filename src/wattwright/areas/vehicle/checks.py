"""What the vehicle area says: its checks and its figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind
from wattwright.formula import Source
from wattwright.kinds import ANGLE, FRACTION, LENGTH, MASS, POSITION, SPEED

_PLATE = Source("Maker's plate or registration paper; the rule where one is answered", "", "seen")
_AUTHORITY = Source("The authority's or engineer's answer; a stated default until then", "", "seen")

AXLE_LOAD = Check(
    "vehicle.axle_load",
    "axle load",
    "What stands on an axle in a loading case, against what the axle may carry.",
    "the rule for this axle, otherwise the maker's plate",
    MASS,
    _PLATE,
    caution="An overloaded axle lengthens braking and breaks springs, bearings and tyres.",
)
GROSS_MASS = Check(
    "vehicle.gross_mass",
    "gross mass",
    "Mass of the vehicle in a loading case, against the highest mass allowed.",
    "the rule for gross mass, otherwise the maker's plate",
    MASS,
    _PLATE,
    near=0.02,
)
TYRE_LOAD = Check(
    "vehicle.tyre_load",
    "load on the tyre nearest its limit",
    "Load on the wheel of an axle whose load and band reach highest, against what the tyre "
    "carries at its pressure.",
    "load index or sidewall, lowered for a pressure below the rated one",
    MASS,
    Source("UN Regulations No. 30 and No. 54; ETRTO Standards Manual", "", "seen"),
    caution="An overloaded or soft tyre runs hot and can burst at speed.",
)
TYRE_SPEED = Check(
    "vehicle.tyre_speed",
    "fastest driving against the tyre's speed rating",
    "The fastest speed the vehicle will be driven at, against the tyre's speed symbol.",
    "speed symbol on the sidewall",
    SPEED,
    Source("UN Regulation No. 30", "speed category symbols", "seen"),
    near=0.0,
)
MASS_CHANGE = Check(
    "vehicle.mass_change",
    "change of kerb mass",
    "Kerb mass of the conversion against that of the donor, as a share of the donor's.",
    "the rule for mass change",
    FRACTION,
    _AUTHORITY,
)
SPLIT_CHANGE = Check(
    "vehicle.split_change",
    "change of the rear axle's share",
    "Share of the mass on the rear axle in a loading case, after less before, in points.",
    "the rule for the axle split",
    FRACTION,
    _AUTHORITY,
)
SIDE_IMBALANCE = Check(
    "vehicle.side_imbalance",
    "difference between left and right",
    "Right side less left side, as a share of the mass.",
    "the rule for side imbalance",
    FRACTION,
    _AUTHORITY,
)
LIFT_ACCURACY = Check(
    "vehicle.lift_accuracy",
    "band of the centre of gravity height from the lift",
    "How closely scales and level give the height at the tilt that was used.",
    "how closely the builder wants to know it",
    LENGTH,
    Source("First-order error of the axle-lift formula", "", "computed"),
    near=0.0,
    caution="A lifted vehicle can roll or slide: chock the wheels on the floor, stands under "
    "the lifted ones, nobody underneath or inside.",
)
WEIGH_IN = Check(
    "vehicle.weigh_in",
    "scales against ledger",
    "The conversion on the scales less the ledger of what is fitted; above zero the scales show "
    "more than the book.",
    "what scales and weighed parts explain together",
    MASS,
    Source("Root sum of squares of the bands of everything weighed or measured", "", "computed"),
    near=0.0,
)

MASS_TOTAL = FigureKind("vehicle.mass", "mass", "Mass of the vehicle in a loading case.", MASS)
FRONT = FigureKind("vehicle.front", "front", "Load on the front axle.", MASS)
REAR = FigureKind("vehicle.rear", "rear", "Load on the rear axle.", MASS)
WHEELS = {
    "fl": FigureKind("vehicle.fl", "fl", "Load on the front left wheel.", MASS),
    "fr": FigureKind("vehicle.fr", "fr", "Load on the front right wheel.", MASS),
    "rl": FigureKind("vehicle.rl", "rl", "Load on the rear left wheel.", MASS),
    "rr": FigureKind("vehicle.rr", "rr", "Load on the rear right wheel.", MASS),
}
REAR_SHARE = FigureKind(
    "vehicle.rear_share", "rear share", "Share of the mass on the rear axle.", FRACTION
)
DIAGONAL = FigureKind(
    "vehicle.diagonal_imbalance",
    "diagonal",
    "Diagonal front left to rear right less the other, as a share of the mass.",
    FRACTION,
)
CG_X = FigureKind("vehicle.cg_x", "cg back", "Centre of gravity behind the front axle.", POSITION)
CG_Y = FigureKind(
    "vehicle.cg_y", "cg right", "Centre of gravity to the right of the middle.", POSITION
)
CG_Z = FigureKind("vehicle.cg_z", "cg up", "Centre of gravity above the floor.", LENGTH)
PAYLOAD = FigureKind(
    "vehicle.payload", "payload left", "Mass that may still come aboard in a loading case.", MASS
)
LIFT_ANGLE = FigureKind(
    "vehicle.lift_angle",
    "tilt that would do",
    "Smallest tilt at which scales and level give the height as closely as wanted.",
    ANGLE,
)
LIFT_HEIGHT = FigureKind(
    "vehicle.lift_height",
    "cg height from the lift",
    "Centre of gravity height as the lift gave it, with everything that was aboard.",
    LENGTH,
)
MISSING_MASS = FigureKind(
    "vehicle.missing_mass",
    "one missing thing: its mass",
    "Mass of the single thing that would explain the weigh-in; below zero: booked too much.",
    MASS,
)
MISSING_X = FigureKind(
    "vehicle.missing_x",
    "one missing thing: behind the front axle",
    "Where the single missing thing would be, front to back.",
    POSITION,
)
MISSING_Y = FigureKind(
    "vehicle.missing_y",
    "one missing thing: right of the middle",
    "Where the single missing thing would be, side to side.",
    POSITION,
)

CHECKS = (
    AXLE_LOAD,
    GROSS_MASS,
    TYRE_LOAD,
    TYRE_SPEED,
    MASS_CHANGE,
    SPLIT_CHANGE,
    SIDE_IMBALANCE,
    LIFT_ACCURACY,
    WEIGH_IN,
)
TABLE = (MASS_TOTAL, FRONT, REAR, *WHEELS.values(), REAR_SHARE, DIAGONAL, CG_X, CG_Y, CG_Z, PAYLOAD)
FIGURES = (
    *TABLE,
    LIFT_ANGLE,
    LIFT_HEIGHT,
    MISSING_MASS,
    MISSING_X,
    MISSING_Y,
)
