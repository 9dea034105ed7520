"""What the mounts area says of propshafts: checks and figures, each declared once."""

from __future__ import annotations

from wattwright.findings import Check, FigureKind, Table
from wattwright.formula import Source
from wattwright.kinds import (
    ANGLE,
    ANGULAR_ACCELERATION,
    FRACTION,
    FREQUENCY,
    LENGTH,
    POSITION,
    ROTATIONAL_SPEED,
)

_OWN = Source("The builder's own limit; a stated default until then", "", "practice")
# An hundredth of a degree more or less is nothing that a level tells.
_HAIR = 0.00017
_GUARD = (
    "A shaft that breaks or comes out digs into the road or flails under the floor: a loop or "
    "guard round its front end, and bolts of the grade and torque that the maker of the shaft says."
)
_NEVER_UNDER = (
    "Nobody crawls under a vehicle that runs on stands: with the wheels hanging the joints bend "
    "further than ever on the road, and a shaft that lets go does not miss. Look with a camera."
)

RUNNING = Check(
    "mounts.joint_running",
    "joint angle that is run at",
    "Angle between the two axes of a joint, seen from the side and above together, at ride height "
    "and laden.",
    "largest joint angle to run at",
    ANGLE,
    _OWN,
    near=_HAIR,
    warning=True,
)
MOST = Check(
    "mounts.joint_angle",
    "joint angle at the end of the travel",
    "Angle between the two axes of a joint on the bump stops, with the wheels hanging, and with "
    "the axle wound up by the hardest torque: forks must not touch.",
    "largest joint angle at all",
    ANGLE,
    _OWN,
    near=_HAIR,
    caution=_NEVER_UNDER,
)
NEEDLES = Check(
    "mounts.joint_needles",
    "joint angle that keeps needles rolling",
    "At ride height. In a joint that stands straight the needles do not roll and press dents where "
    "they stand.",
    "smallest joint angle",
    ANGLE,
    _OWN,
    near=_HAIR,
    warning=True,
)
TORSION = Check(
    "mounts.shaft_torsion",
    "torsional excitation of all joints together",
    "Angular acceleration that the residual angle of all joints makes at the axle, twice a turn, "
    "at the fastest driving wanted.",
    "most torsional excitation",
    ANGULAR_ACCELERATION,
    _OWN,
)
INERTIA = Check(
    "mounts.shaft_inertia",
    "inertia excitation of a shaft",
    "Angular acceleration of the shaft that is worst off, twice a turn, at the fastest driving "
    "wanted: by the joints before it where the motor holds the speed even (driving), and by those "
    "behind it where the road does (coasting).",
    "most inertia excitation",
    ANGULAR_ACCELERATION,
    _OWN,
)
SPEED = Check(
    "mounts.shaft_speed",
    "speed of a shaft against where it whirls",
    "Speed of the shaft at the motor's highest, in the gear that makes it fastest; and at the "
    "fastest driving wanted.",
    "share of the critical speed of its tube",
    ROTATIONAL_SPEED,
    _OWN,
    caution=(
        "Past its critical speed a tube bends until it breaks: limit the motor's speed in the "
        "inverter to what the shaft bears, and have the shaft balanced after any weld. " + _GUARD
    ),
)
SLIP = Check(
    "mounts.slip",
    "slip that is left",
    "At the height that takes most of it: pushed in the shaft must not bottom, pulled out it must "
    "not leave its splines.",
    "slip to keep at either end",
    POSITION,
    _OWN,
    near=0.0,
    caution=(
        "A shaft that bottoms breaks bearings and housings; one that comes out drops. " + _GUARD
    ),
)

_AT = {
    "ride": ("at ride height", "at ride height"),
    "laden": ("laden", "fully laden and standing"),
    "bump": ("on the bump stops", "on the bump stops"),
    "droop": ("wheels hanging", "with the wheels hanging"),
    "pulling": ("wound up", "at ride height, axle wound up by the hardest torque"),
}
JOINT = {
    height: FigureKind(
        f"mounts.joint_{height}",
        f"joint angle {words}",
        f"Angle of the joint {meaning}.",
        ANGLE,
        words,
    )
    for height, (words, meaning) in _AT.items()
}
UNEVEN = FigureKind(
    "mounts.joint_uneven",
    "unevenness of a joint",
    "Highest less lowest speed behind this joint alone, over the mean, at ride height.",
    FRACTION,
    "unevenness",
)
RESIDUAL = FigureKind(
    "mounts.residual_angle",
    "residual angle",
    "Angle of the one joint that would be as uneven as all joints of the line together.",
    ANGLE,
)
TORSION_AT = FigureKind(
    "mounts.torsion",
    "torsional excitation",
    "What the residual angle makes at the fastest driving wanted.",
    ANGULAR_ACCELERATION,
    "torsion",
)
INERTIA_AT = {
    "driving": FigureKind(
        "mounts.inertia_driving",
        "inertia excitation, driving",
        "Of the shaft that is worst off, by the joints before it, at the fastest driving wanted.",
        ANGULAR_ACCELERATION,
        "inertia, driving",
    ),
    "coasting": FigureKind(
        "mounts.inertia_coasting",
        "inertia excitation, coasting",
        "Of the shaft that is worst off, by the joints behind it, at the fastest driving wanted.",
        ANGULAR_ACCELERATION,
        "inertia, coasting",
    ),
}
LONGER = FigureKind(
    "mounts.shaft_longer",
    "longer than at ride height",
    "How much longer the last shaft is than at ride height; shorter is below nought.",
    POSITION,
    "longer by",
)
HIGHEST = FigureKind(
    "mounts.shaft_highest",
    "highest speed of the propshaft",
    "At the motor's highest speed, in the gear that makes the shaft fastest.",
    ROTATIONAL_SPEED,
)
FASTEST = FigureKind(
    "mounts.shaft_fastest",
    "speed of the propshaft at the fastest driving",
    "At the top speed that is wanted.",
    ROTATIONAL_SPEED,
)
CRITICAL = FigureKind(
    "mounts.shaft_critical",
    "critical speed",
    "Where the tube between its joints whirls. At half of it a shaft with a little play in its "
    "joints may shake too: do not drive for long within 8 % of that.",
    ROTATIONAL_SPEED,
)
PUSHED = FigureKind(
    "mounts.shaft_to_order",
    "length to order, pushed together",
    "From joint to joint with the slip pushed in, so that as much slip is left at either end of "
    "the travel.",
    LENGTH,
)
PLUNGE = FigureKind(
    "mounts.plunge_needed",
    "slip that is needed",
    "From the shortest to the longest the shaft becomes, with the spare at either end.",
    POSITION,
)
ALLOWED = {
    "inertia": FigureKind(
        "mounts.angle_at_speed",
        "largest angle of a joint at this speed",
        "One joint, by the limit of inertia excitation.",
        ANGLE,
        "each joint",
    ),
    "torsion": FigureKind(
        "mounts.residual_at_speed",
        "largest residual angle at this speed",
        "All joints together, by the limit of torsional excitation.",
        ANGLE,
        "all together",
    ),
    "trade": FigureKind(
        "mounts.trade_angle",
        "largest angle of a joint, as the trade prints it",
        "From memory, to compare with; no limit is made of it.",
        ANGLE,
        "as the trade prints it",
    ),
}
FELT = {
    "wheel": FigureKind(
        "mounts.felt_wheel", "turns of the wheel", "Tyre, rim, hub, brake.", FREQUENCY, "wheel"
    ),
    "shaft": FigureKind(
        "mounts.felt_shaft",
        "turns of the propshaft",
        "Balance and runout of shaft and flanges.",
        FREQUENCY,
        "shaft",
    ),
    "shaft_twice": FigureKind(
        "mounts.felt_joints",
        "twice a turn of the propshaft",
        "Joint angles and forks out of line.",
        FREQUENCY,
        "joints",
    ),
}
CHECKS = (RUNNING, MOST, NEEDLES, TORSION, INERTIA, SPEED, SLIP)
FIGURES = (
    *JOINT.values(),
    UNEVEN,
    RESIDUAL,
    TORSION_AT,
    *INERTIA_AT.values(),
    LONGER,
    HIGHEST,
    FASTEST,
    CRITICAL,
    PUSHED,
    PLUNGE,
    *ALLOWED.values(),
    *FELT.values(),
)
TABLES = (
    Table("joint angles at every height", (*JOINT.values(), UNEVEN)),
    Table("the line at every height", (RESIDUAL, TORSION_AT, *INERTIA_AT.values(), LONGER)),
    Table("propshaft, its length", (PUSHED, PLUNGE)),
    Table("joint angle against speed of the shaft", tuple(ALLOWED.values())),
    Table("where a vibration comes from, by what is felt", tuple(FELT.values())),
)
