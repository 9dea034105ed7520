"""Room between bodies that move: how far each reaches, where travel takes it, what is left.

    reach_of_box, reach_of_cylinder, reach_of_hose, reach_of_movement, reach_where_touched
                                          how far a body reaches from its middle in a direction
    along_length, along_width, along_height
                                          a direction as a turned body sees it
    travel, raised                        a wheel goes straight up and down
    swing, swung_out, swung_up, seen_out, seen_up
                                          an arm swings about its pivot
    on_hose, half_track, place            points between others
    gap                                   room between two bodies along a direction
    sunk, lowest                          height over the ground, laden

Two convex bodies that do not touch are parted by two parallel planes, and no pair of planes lies
further apart than those square to the line between their nearest points. Along that direction the
gap is the distance of the middles less what either body reaches; along any other it comes out
smaller, never larger. With the direction and the two points held, its slopes are those of the true
gap: either turned or moved by a little changes the gap only by the square of that.

Over the ground a body that lies flat comes lower whichever way it tilts: there the reach has a
corner, and its slope by an angle is taken on the steeper side.

Sources: the distance of two convex sets as that of two parallel planes between them (Boyd and
Vandenberghe, Convex Optimization, 8.2), from memory; reaches and turning follow from definitions.
"""

from __future__ import annotations

from math import asin, copysign, cos, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Length, Position, Ratio

SUPPORT = Source("Support function: the furthest projection onto a direction", "", "computed")
SEPARATION = Source(
    "Separating planes of convex bodies", "Boyd, Vandenberghe, Convex Optimization, 8.2", "memory"
)
TURNING = Source("Product of plane rotations: yaw, then pitch, then roll", "", "computed")
ARM = Source("Circle about the pivot", "", "computed")
DEFINITION = Source("Definition", "", "computed")
BETWEEN_AXLES = Source("Straight line between the axles", "", "computed")
BETWEEN = Source("Straight line between two points", "", "computed")

ASKED = {
    "length": ("length", "430 mm"),
    "width": ("width", "560 mm"),
    "height": ("height", "380 mm"),
    "diameter": ("diameter", "28 mm"),
    "along": ("share of the direction that lies along the length", "0.6"),
    "across": ("share of the direction that lies along the width", "0"),
    "upward": ("share of the direction that lies along the height", "0.8"),
    "reach_of_cylinder.across": ("share of the direction across the axis", "0"),
    "reach_of_cylinder.upward": ("share of the direction across the axis and that", "0.8"),
    "reach_of_movement.along": ("share of the direction that points back", "0.6"),
    "reach_of_movement.across": ("share of the direction that points right", "0"),
    "reach_of_movement.upward": ("share of the direction that points up", "0.8"),
    "at_length": ("where it is touched, share of the length from its middle", "0.5"),
    "at_width": ("where it is touched, share of the width from its middle", "0.1"),
    "at_height": ("where it is touched, share of the height from its middle", "0.5"),
    "move_along": ("movement forwards and back, each way", "10 mm"),
    "move_across": ("movement left and right, each way", "10 mm"),
    "move_up": ("movement up and down, each way", "12 mm"),
    "back": ("share of the direction that points back", "0.6"),
    "right": ("share of the direction that points right", "0"),
    "up": ("share of the direction that points up", "0.8"),
    "yaw": ("nose turned left", "5°"),
    "pitch": ("nose up", "3°"),
    "roll": ("right side up", "0°"),
    "share": ("how far up (1) or down (-1) the wheel is", "0.75"),
    "most": ("travel to the stop on that side", "70 mm"),
    "rest": ("height at ride height", "280 mm"),
    "travelled": ("wheel travel, down below zero", "52 mm"),
    "wheel": ("place of the wheel centre, out from the vehicle's zero", "2052 mm"),
    "wheel_height": ("height of the wheel centre", "262 mm"),
    "pivot": ("place of the pivot, out from the vehicle's zero", "1690 mm"),
    "pivot_height": ("height of the pivot", "280 mm"),
    "middle": ("place of the body's middle, out from the vehicle's zero", "1880 mm"),
    "middle_height": ("height of the body's middle", "270 mm"),
    "turned": ("angle the arm has swung by", "8°"),
    "out": ("share of the direction that points out along the arm's circle", "0.6"),
    "first": ("coordinate of the first point", "1400 mm"),
    "second": ("coordinate of the second point", "1650 mm"),
    "on_hose.share": ("how far from the first point to the second", "0.4"),
    "side": ("1 for the right side, -1 for the left", "-1"),
    "track": ("track", "1212 mm"),
    "centre": ("coordinate of the body's middle", "2085 mm"),
    "offset": ("from the middle to the place", "-190 mm"),
    "x_a": ("first body: distance back of its middle", "2085 mm"),
    "y_a": ("first body: distance right of its middle", "-35 mm"),
    "z_a": ("first body: height of its middle", "290 mm"),
    "x_b": ("second body: distance back of its middle", "2410 mm"),
    "y_b": ("second body: distance right of its middle", "-60 mm"),
    "z_b": ("second body: height of its middle", "560 mm"),
    "reach_a": ("reach of the first body in the direction", "190 mm"),
    "reach_b": ("reach of the second body in the direction", "60 mm"),
    "movement": ("reach of what the rubber gives, in the direction", "10 mm"),
    "front_drop": ("how far the front sinks laden", "25 mm"),
    "rear_drop": ("how far the rear sinks laden", "40 mm"),
    "behind": ("how far behind the front axle", "1120 mm"),
    "wheelbase": ("wheelbase", "2052 mm"),
    "lowest.height": ("height of the body's middle at ride height", "215 mm"),
    "reach": ("reach of the body downwards", "80 mm"),
    "drop": ("how far it sinks laden", "32 mm"),
}


@formula("h", SUPPORT)
def reach_of_box(
    length: Length, width: Length, height: Length, along: Ratio, across: Ratio, upward: Ratio
) -> Length:
    """How far a box reaches from its middle in a direction.

    With measures in m and the direction as its shares along them, whose squares add up to 1.
    """
    return (length * abs(along) + width * abs(across) + height * abs(upward)) / 2


@formula("h", SUPPORT)
def reach_of_cylinder(
    length: Length, diameter: Length, along: Ratio, across: Ratio, upward: Ratio
) -> Length:
    """How far a cylinder reaches from its middle in a direction.

    With measures in m and the direction as its shares along the axis and across it, whose squares
    add up to 1.
    """
    return (length * abs(along) + diameter * sqrt(across**2 + upward**2)) / 2


def _touched_slopes(
    length: float,
    width: float,
    height: float,
    along: float,
    across: float,
    upward: float,
    at_length: float,
    at_width: float,
    at_height: float,
) -> tuple[float, ...]:
    sizes, ways = (length, width, height), (along, across, upward)
    spots = (at_length, at_width, at_height)
    return (
        *(way * spot for way, spot in zip(ways, spots, strict=True)),
        *(size * spot for size, spot in zip(sizes, spots, strict=True)),
        *(size * way for size, way in zip(sizes, ways, strict=True)),
    )


@formula("h", SUPPORT, gradient=_touched_slopes)
def reach_where_touched(
    length: Length,
    width: Length,
    height: Length,
    along: Ratio,
    across: Ratio,
    upward: Ratio,
    at_length: Ratio,
    at_width: Ratio,
    at_height: Ratio,
) -> Length:
    """How far a body reaches from its middle in a direction, at the point where it comes nearest.

    With measures in m, of a cylinder the diameter twice, and the point as a share of each measure
    from the middle: 0.5 at a face. There it is what reach_of_box and reach_of_cylinder give, and
    where a face lies flat it tells how a tilt moves the very point.
    """
    return length * at_length * along + width * at_width * across + height * at_height * upward


@formula("h", SUPPORT)
def reach_of_hose(diameter: Length) -> Length:
    """How far a hose reaches from the middle of its bore, in any direction across or beyond it."""
    return diameter / 2


@formula("h", SUPPORT)
def reach_of_movement(
    move_along: Length,
    move_across: Length,
    move_up: Length,
    along: Ratio,
    across: Ratio,
    upward: Ratio,
) -> Length:
    """How far movement within a box of rubber reaches in a direction.

    A body that moves within a box fills its own outline widened by that box, and the reach of
    the two together is the sum of both.
    """
    return move_along * abs(along) + move_across * abs(across) + move_up * abs(upward)


@formula("e_x", TURNING)
def along_length(back: Ratio, right: Ratio, up: Ratio, yaw: Angle, pitch: Angle) -> Ratio:
    """Share of a direction that lies along the length of a turned body."""
    return (back * cos(yaw) + right * sin(yaw)) * cos(pitch) - up * sin(pitch)


@formula("e_y", TURNING)
def along_width(
    back: Ratio, right: Ratio, up: Ratio, yaw: Angle, pitch: Angle, roll: Angle
) -> Ratio:
    """Share of a direction that lies along the width of a turned body."""
    return ((back * cos(yaw) + right * sin(yaw)) * sin(pitch) + up * cos(pitch)) * sin(roll) + (
        right * cos(yaw) - back * sin(yaw)
    ) * cos(roll)


@formula("e_z", TURNING)
def along_height(
    back: Ratio, right: Ratio, up: Ratio, yaw: Angle, pitch: Angle, roll: Angle
) -> Ratio:
    """Share of a direction that lies along the height of a turned body."""
    return ((back * cos(yaw) + right * sin(yaw)) * sin(pitch) + up * cos(pitch)) * cos(roll) - (
        right * cos(yaw) - back * sin(yaw)
    ) * sin(roll)


@formula("s", DEFINITION, gradient=lambda share, most: (most, share))
def travel(share: Ratio, most: Length) -> Position:
    """How far a wheel is up from ride height at a share of its travel; down is below zero."""
    return share * most


@formula("z", DEFINITION, gradient=lambda rest, travelled: (1.0, 1.0))  # noqa: ARG005
def raised(rest: Position, travelled: Position) -> Position:
    """Height of what goes straight up and down with a wheel."""
    return rest + travelled


@formula("φ", ARM)
def swing(
    wheel: Position,
    wheel_height: Length,
    pivot: Position,
    pivot_height: Position,
    travelled: Position,
) -> Angle:
    """Angle by which an arm swings about its pivot for the wheel centre to travel so far.

    Above zero it turns from out to up, where out is back or right. With places in m.
    """
    if wheel == pivot:
        raise FormulaError("the wheel centre is straight over the pivot and cannot swing up")
    if abs(wheel_height - pivot_height + travelled) > sqrt(
        (wheel - pivot) ** 2 + (wheel_height - pivot_height) ** 2
    ):
        raise FormulaError("the arm is too short for so much travel")
    return (
        asin(
            (wheel_height - pivot_height + travelled)
            / sqrt((wheel - pivot) ** 2 + (wheel_height - pivot_height) ** 2)
        )
        - asin(
            (wheel_height - pivot_height)
            / sqrt((wheel - pivot) ** 2 + (wheel_height - pivot_height) ** 2)
        )
    ) * copysign(1, wheel - pivot)


@formula("x", ARM)
def swung_out(
    middle: Position,
    middle_height: Position,
    pivot: Position,
    pivot_height: Position,
    turned: Angle,
) -> Position:
    """Where the middle of a body on an arm is, back or right, once the arm has swung."""
    return pivot + (middle - pivot) * cos(turned) - (middle_height - pivot_height) * sin(turned)


@formula("z", ARM)
def swung_up(
    middle: Position,
    middle_height: Position,
    pivot: Position,
    pivot_height: Position,
    turned: Angle,
) -> Position:
    """Height of the middle of a body on an arm once the arm has swung."""
    return (
        pivot_height + (middle_height - pivot_height) * cos(turned) + (middle - pivot) * sin(turned)
    )


@formula("n_x", ARM)
def seen_out(out: Ratio, up: Ratio, turned: Angle) -> Ratio:
    """Share of a direction that points out, as a body on a swung arm sees it."""
    return out * cos(turned) + up * sin(turned)


@formula("n_z", ARM)
def seen_up(out: Ratio, up: Ratio, turned: Angle) -> Ratio:
    """Share of a direction that points up, as a body on a swung arm sees it."""
    return up * cos(turned) - out * sin(turned)


@formula("p", BETWEEN, gradient=lambda first, second, share: (1 - share, share, second - first))
def on_hose(first: Position, second: Position, share: Ratio) -> Position:
    """Coordinate of a point on a straight piece of hose."""
    return first + share * (second - first)


@formula("y", DEFINITION)
def half_track(side: Ratio, track: Length) -> Position:
    """How far right of the middle a wheel stands; left is below zero."""
    return side * track / 2


@formula("p", DEFINITION, gradient=lambda centre, offset: (1.0, 1.0))  # noqa: ARG005
def place(centre: Position, offset: Position) -> Position:
    """Coordinate of the place where two bodies come nearest."""
    return centre + offset


def _gap_slopes(
    x_a: float,
    y_a: float,
    z_a: float,
    x_b: float,
    y_b: float,
    z_b: float,
    back: float,
    right: float,
    up: float,
    reach_a: float,
    reach_b: float,
    movement: float,
) -> tuple[float, ...]:
    del reach_a, reach_b, movement
    apart = x_b - x_a, y_b - y_a, z_b - z_a
    return -back, -right, -up, back, right, up, *apart, -1.0, -1.0, -1.0


@formula("g", SEPARATION, gradient=_gap_slopes)
def gap(
    x_a: Position,
    y_a: Position,
    z_a: Position,
    x_b: Position,
    y_b: Position,
    z_b: Position,
    back: Ratio,
    right: Ratio,
    up: Ratio,
    reach_a: Length,
    reach_b: Length,
    movement: Length,
) -> Length:
    """Gap between two bodies along a direction from the first to the second; below zero they meet.

    With places and reaches in m. It never says more than there is, and all there is along the line
    between the nearest points. Below zero its size is how far one must be moved to come free.
    """
    return (
        (x_b - x_a) * back + (y_b - y_a) * right + (z_b - z_a) * up - reach_a - reach_b - movement
    )


def _sunk_slopes(
    front_drop: float, rear_drop: float, behind: float, wheelbase: float
) -> tuple[float, ...]:
    back, more = behind / wheelbase, rear_drop - front_drop
    return 1.0 - back, back, more / wheelbase, -more * back / wheelbase


@formula("d", BETWEEN_AXLES, gradient=_sunk_slopes)
def sunk(front_drop: Length, rear_drop: Length, behind: Position, wheelbase: Length) -> Length:
    """How far the body sinks, laden, at a place between the axles or beyond them."""
    return front_drop + (rear_drop - front_drop) * behind / wheelbase


def _lowest_slopes(*_: float) -> tuple[float, ...]:
    return 1.0, -1.0, -1.0, -1.0


@formula("g", DEFINITION, gradient=_lowest_slopes)
def lowest(height: Position, reach: Length, drop: Length, movement: Length) -> Length:
    """Height of the lowest point of a body over the ground, laden."""
    return height - reach - drop - movement
