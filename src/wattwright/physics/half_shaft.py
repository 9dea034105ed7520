"""Half-shafts: where a hub goes on its arm, how the joints bend, how far the shaft plunges.

    direction                        where a line leads
    arm_level, arm_across            what an arm about a pivot axis rises by, for a small and a
                                     quarter turn
    arm_turn                         turn of the arm at which its end has risen by so much
    swung_x, swung_y, swung_z        a vector turned with the arm
    joint_angle                      angle of a joint between two lines
    rise                             what a hub has risen by
    plunge                           how much longer or shorter the shaft has to be
    plunge_left, pushed_in           what is left before a joint comes apart, or bottoms
    lock                             a turn for steering, left or right
    life_share                       what a joint's angle leaves of its life

The arm turns about a straight line through its pivots: across for a trailing arm, along for a
swing axle, between for a semi-trailing one. With r from a pivot to the end of the arm and n along
the pivot axis, a turn θ takes r to r cos θ + (n × r) sin θ + n (n·r)(1 - cos θ) (Rodrigues).
"""

from __future__ import annotations

from math import acos, atan2, copysign, cos, hypot, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Fraction, Length, Position, Ratio

RODRIGUES = Source("Turn of a vector about a line, Rodrigues", "", "computed")
GEOMETRY = Source("Vectors in space", "", "computed")
BALL_JOINTS = Source(
    "Universal Joints and Driveshafts", "durability of ball joints, joint angle factor", "memory"
)

ASKED = {
    "arm_x": ("arm from pivot to hub: back", "420 mm"),
    "arm_y": ("arm from pivot to hub: to the right", "-60 mm"),
    "arm_z": ("arm from pivot to hub: up", "-40 mm"),
    "axis_x": ("pivot axis: back", "40 mm"),
    "axis_y": ("pivot axis: to the right", "300 mm"),
    "axis_z": ("pivot axis: up", "0 mm"),
    "along": ("one of the three", "300 mm"),
    "n_x": ("direction of the pivot axis: back", "0.13"),
    "n_y": ("direction of the pivot axis: to the right", "0.99"),
    "n_z": ("direction of the pivot axis: up", "0"),
    "level": ("rise of the arm by the cosine of its turn", "-40 mm"),
    "across": ("rise of the arm by the sine of its turn", "-420 mm"),
    "travel": ("travel of the hub", "60 mm"),
    "sign": ("1 up, -1 down", "1"),
    "arm_turn.rise": ("what its end has risen by", "60 mm"),
    "turn": ("turn of the arm", "8°"),
    "first_x": ("first line: back", "0 mm"),
    "first_y": ("first line: to the right", "410 mm"),
    "first_z": ("first line: up", "0 mm"),
    "second_x": ("second line: back", "5 mm"),
    "second_y": ("second line: to the right", "400 mm"),
    "second_z": ("second line: up", "30 mm"),
    "length": ("distance of the joint centres now", "408 mm"),
    "at_ride": ("distance of the joint centres at ride height", "404 mm"),
    "room": ("way the joint has at ride height", "18 mm"),
    "used": ("way that is used", "4 mm"),
    "steer": ("largest turn of the wheel", "32°"),
    "lock.sign": ("1 to the left, -1 to the right", "1"),
    "joint": ("angle of the joint", "7°"),
}


@formula("n", GEOMETRY)
def direction(along: Position, axis_x: Position, axis_y: Position, axis_z: Position) -> Ratio:
    """Share of a line's length along one axis: its direction cosine.

    ``along`` m one of the three, ``axis_x``, ``axis_y``, ``axis_z`` m of the line; result 1.
    """
    if not axis_x**2 + axis_y**2 + axis_z**2 > 0.0:
        raise FormulaError("the two ends are one point: the line has no direction")
    return along / sqrt(axis_x**2 + axis_y**2 + axis_z**2)


@formula("A", RODRIGUES)
def arm_level(
    arm_x: Position, arm_y: Position, arm_z: Position, n_x: Ratio, n_y: Ratio, n_z: Ratio
) -> Position:
    """Rise of an arm's end by the cosine of its turn.

    r_z - n_z (n·r): ``arm_…`` m from a pivot to the end, ``n_…`` direction of the pivot axis; m.
    """
    return arm_z - n_z * (n_x * arm_x + n_y * arm_y + n_z * arm_z)


@formula("B", RODRIGUES)
def arm_across(arm_x: Position, arm_y: Position, n_x: Ratio, n_y: Ratio) -> Position:
    """Rise of an arm's end by the sine of its turn.

    (n × r)_z: ``arm_…`` m from a pivot to the end, ``n_…`` direction of the pivot axis; m.
    """
    return n_x * arm_y - n_y * arm_x


@formula("θ", RODRIGUES)
def arm_turn(level: Position, across: Position, rise: Position) -> Angle:
    """Turn of an arm at which its end has risen by so much.

    From A cos θ + B sin θ = A + h: φ - sgn(φ) acos((A + h)/√(A² + B²)) with φ = atan2(B, A), the
    nearer of the two. ``level`` A, ``across`` B, ``rise`` h m; result rad. As high as the arm goes.
    """
    if not abs(level + rise) <= hypot(level, across):
        raise FormulaError("the arm does not reach so far up or down")
    return atan2(across, level) - copysign(
        acos((level + rise) / hypot(level, across)), atan2(across, level)
    )


@formula("r_x′", RODRIGUES)
def swung_x(
    arm_x: Position,
    arm_y: Position,
    arm_z: Position,
    n_x: Ratio,
    n_y: Ratio,
    n_z: Ratio,
    turn: Angle,
) -> Position:
    """How far back a vector leads after a turn about an axis.

    r_x cos θ + (n_y r_z - n_z r_y) sin θ + n_x (n·r)(1 - cos θ): ``arm_…`` r m, ``n_…`` direction
    of the axis, ``turn`` θ rad; result m.
    """
    return (
        arm_x * cos(turn)
        + (n_y * arm_z - n_z * arm_y) * sin(turn)
        + n_x * (n_x * arm_x + n_y * arm_y + n_z * arm_z) * (1 - cos(turn))
    )


@formula("r_y′", RODRIGUES)
def swung_y(
    arm_x: Position,
    arm_y: Position,
    arm_z: Position,
    n_x: Ratio,
    n_y: Ratio,
    n_z: Ratio,
    turn: Angle,
) -> Position:
    """How far to the right a vector leads after a turn about an axis.

    r_y cos θ + (n_z r_x - n_x r_z) sin θ + n_y (n·r)(1 - cos θ): ``arm_…`` r m, ``n_…`` direction
    of the axis, ``turn`` θ rad; result m.
    """
    return (
        arm_y * cos(turn)
        + (n_z * arm_x - n_x * arm_z) * sin(turn)
        + n_y * (n_x * arm_x + n_y * arm_y + n_z * arm_z) * (1 - cos(turn))
    )


@formula("r_z′", RODRIGUES)
def swung_z(
    arm_x: Position,
    arm_y: Position,
    arm_z: Position,
    n_x: Ratio,
    n_y: Ratio,
    n_z: Ratio,
    turn: Angle,
) -> Position:
    """How far up a vector leads after a turn about an axis.

    r_z cos θ + (n_x r_y - n_y r_x) sin θ + n_z (n·r)(1 - cos θ): ``arm_…`` r m, ``n_…`` direction
    of the axis, ``turn`` θ rad; result m.
    """
    return (
        arm_z * cos(turn)
        + (n_x * arm_y - n_y * arm_x) * sin(turn)
        + n_z * (n_x * arm_x + n_y * arm_y + n_z * arm_z) * (1 - cos(turn))
    )


@formula("β", GEOMETRY)
def joint_angle(
    first_x: Position,
    first_y: Position,
    first_z: Position,
    second_x: Position,
    second_y: Position,
    second_z: Position,
) -> Angle:
    """Angle of a joint between two lines, in space.

    atan2(|a × b|, |a·b|): both m, of any length above nought and either way round; result rad, from
    nought to a right angle. For small angles it is √(a² + b²) of those in side view and plan.
    """
    return atan2(
        sqrt(
            (first_y * second_z - first_z * second_y) ** 2
            + (first_z * second_x - first_x * second_z) ** 2
            + (first_x * second_y - first_y * second_x) ** 2
        ),
        abs(first_x * second_x + first_y * second_y + first_z * second_z),
    )


@formula("h", GEOMETRY)
def rise(travel: Length, sign: Ratio) -> Position:
    """What the hub has risen by. ``travel`` m, ``sign`` 1 up and -1 down; result m."""
    return travel * sign


@formula("ΔL", GEOMETRY)
def plunge(length: Position, at_ride: Position) -> Position:
    """How much longer the shaft has to be than at ride height. Both m; above nought it pulls."""
    return length - at_ride


@formula("s", GEOMETRY)
def plunge_left(room: Length, used: Position) -> Position:
    """What is left before a joint comes apart.

    ``room`` m it could be pulled out at ride height, ``used`` m that the shaft is longer now;
    result m, below nought where it is apart.
    """
    return room - used


@formula("s", GEOMETRY)
def pushed_in(room: Length, used: Position) -> Position:
    """What is left before a joint bottoms.

    ``room`` m it could be pushed in at ride height, ``used`` m that the shaft is longer now, below
    nought where it is shorter; result m, below nought where it has bottomed.
    """
    return room + used


@formula("δ", GEOMETRY)
def lock(steer: Angle, sign: Ratio) -> Angle:
    """Turn of a steered wheel. ``steer`` rad, ``sign`` 1 to the left and -1 to the right; rad."""
    return steer * sign


@formula("L/L_0", BALL_JOINTS, valid={"joint": (0.0, 0.7853981633974483)})
def life_share(joint: Angle) -> Fraction:
    """Life of a ball joint at an angle, over that of a straight one with the same torque and speed.

    ((1 - sin β) cos² β)³: the torque that a joint bears for life falls with the factor in brackets,
    and its life with the third power of the torque. ``joint`` β rad, up to 45°; result 1. Joints
    of rollers on trunnions follow another law and fall less.
    """
    return ((1 - sin(joint)) * cos(joint) ** 2) ** 3
