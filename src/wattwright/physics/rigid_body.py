"""A rigid body in space: how it is turned, where its points come to lie, lines and lengths.

    turned_x, turned_y, turned_z     a vector of the body, turned with it
    placed                           a coordinate of a point of the body
    apart                            from one coordinate to another
    along_line                       a coordinate of a point on a line
    span                             length of a vector
    off_line                         distance of a point from a line
    yaw_onto                         yaw that brings a shaft over a line, seen from above
    crosswise_level                  what a level across the body shows
    middle, spread                   mean of coordinates, and sums of products about it
    plane_roll, plane_pitch,         small turns and lift of a body on mounts of which each is
    plane_lift, proud                raised a little, and what a mount is pulled by then
    turned_further, turn_between     an angle after a small turn; from one angle to another

Axes as SAE J1100 has them, as a tape measure reads them: x back, y to the right, z up. Turns are
right-handed and applied yaw, pitch, roll: yaw about z turns the nose left, pitch about y lifts the
nose, roll about x lifts the right side. With c and s for cosine and sine the turned vector is

    x: c_y c_p d_x + (c_y s_p s_r - s_y c_r) d_y + (c_y s_p c_r + s_y s_r) d_z
    y: s_y c_p d_x + (s_y s_p s_r + c_y c_r) d_y + (s_y s_p c_r - c_y s_r) d_z
    z:    -s_p d_x +             c_p s_r d_y     +             c_p c_r d_z
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, atan2, cos, hypot, sin, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Angle, Area, Count, Fraction, Position

ROTATION = Source("Rotation matrix of yaw, pitch and roll, in that order", "", "computed")
GEOMETRY = Source("Vectors in space", "", "computed")
SMALL_TURNS = Source("Plane of least squares through the heights of the mounts", "", "computed")
DEFINITION = Source("Definition", "", "computed")
# Mounts nearer to one line than this share of their spread carry no plane.
FLAT = 1e-3

ASKED = {
    "back": ("vector on the body: back", "250 mm"),
    "right": ("vector on the body: to the right", "-120 mm"),
    "up": ("vector on the body: up", "80 mm"),
    "yaw": ("yaw, nose turned left", "0.5°"),
    "pitch": ("pitch, nose up", "3°"),
    "roll": ("roll, right side up", "0.4°"),
    "origin": ("coordinate of the body's zero", "2085 mm"),
    "turned": ("the turned vector along this axis", "-118 mm"),
    "first": ("first coordinate", "410 mm"),
    "second": ("second coordinate", "468 mm"),
    "share": ("share of the way along the line", "50 %"),
    "line_back": ("line: back", "0 mm"),
    "line_right": ("line: to the right", "1200 mm"),
    "line_up": ("line: up", "4 mm"),
    "shaft_back": ("shaft before the yaw: back", "2 mm"),
    "shaft_right": ("shaft before the yaw: to the right", "420 mm"),
    "count": ("how many there are", "3"),
    "coordinates": ("coordinates", "-180 mm; 150 mm; 160 mm"),
    "firsts": ("first of each pair", "-180 mm; 150 mm; 160 mm"),
    "seconds": ("second of each pair", "0 mm; -210 mm; 205 mm"),
    "xx": ("spread of the mounts back", "0.072 m²"),
    "xy": ("spread of the mounts back and right", "0.0012 m²"),
    "yy": ("spread of the mounts to the right", "0.086 m²"),
    "xc": ("spread of the mounts back and what each is raised by", "-0.0005 m²"),
    "yc": ("spread of the mounts right and what each is raised by", "0.0006 m²"),
    "raised": ("mean of what the mounts are raised by", "2 mm"),
    "angle": ("angle before", "2.8°"),
    "turn": ("small turn", "0.3°"),
    "turn_between.first": ("first angle", "2.8°"),
    "turn_between.second": ("second angle", "3°"),
    "proud.raised": ("what this mount is raised by", "3 mm"),
    "lift": ("what the plane of all mounts rises by there", "2.2 mm"),
    "plane_lift.pitch": ("small pitch", "0.4°"),
    "plane_lift.roll": ("small roll", "0.2°"),
    "plane_lift.back": ("point back of the middle of the mounts", "150 mm"),
    "plane_lift.right": ("point right of the middle of the mounts", "-210 mm"),
}


@formula("d_x′", ROTATION)
def turned_x(
    back: Position, right: Position, up: Position, yaw: Angle, pitch: Angle, roll: Angle
) -> Position:
    """How far back a vector of the body leads, turned with it.

    ``back``, ``right``, ``up`` m of the vector in the body's own axes; ``yaw``, ``pitch``,
    ``roll`` rad; result m. Any angles.
    """
    return (
        cos(yaw) * cos(pitch) * back
        + (cos(yaw) * sin(pitch) * sin(roll) - sin(yaw) * cos(roll)) * right
        + (cos(yaw) * sin(pitch) * cos(roll) + sin(yaw) * sin(roll)) * up
    )


@formula("d_y′", ROTATION)
def turned_y(
    back: Position, right: Position, up: Position, yaw: Angle, pitch: Angle, roll: Angle
) -> Position:
    """How far to the right a vector of the body leads, turned with it.

    ``back``, ``right``, ``up`` m of the vector in the body's own axes; ``yaw``, ``pitch``,
    ``roll`` rad; result m. Any angles.
    """
    return (
        sin(yaw) * cos(pitch) * back
        + (sin(yaw) * sin(pitch) * sin(roll) + cos(yaw) * cos(roll)) * right
        + (sin(yaw) * sin(pitch) * cos(roll) - cos(yaw) * sin(roll)) * up
    )


@formula("d_z′", ROTATION)
def turned_z(back: Position, right: Position, up: Position, pitch: Angle, roll: Angle) -> Position:
    """How far up a vector of the body leads, turned with it.

    ``back``, ``right``, ``up`` m of the vector in the body's own axes; ``pitch``, ``roll`` rad;
    result m. Yaw changes no height. Any angles.
    """
    return -sin(pitch) * back + cos(pitch) * sin(roll) * right + cos(pitch) * cos(roll) * up


@formula("P", GEOMETRY)
def placed(origin: Position, turned: Position) -> Position:
    """Coordinate of a point of the body. ``origin`` m, ``turned`` m along the same axis."""
    return origin + turned


@formula("Δ", GEOMETRY)
def apart(first: Position, second: Position) -> Position:
    """From one coordinate to another. ``first`` and ``second`` m; result m, with its sign."""
    return second - first


@formula("P", GEOMETRY)
def along_line(first: Position, second: Position, share: Fraction) -> Position:
    """Coordinate of a point on a line.

    ``first`` and ``second`` m of its ends along one axis, ``share`` 0 at the first; result m.
    """
    return first + share * (second - first)


@formula("L", GEOMETRY)
def span(back: Position, right: Position, up: Position) -> Position:
    """Length of a vector. ``back``, ``right``, ``up`` m; result m."""
    return sqrt(back**2 + right**2 + up**2)


@formula("e", GEOMETRY)
def off_line(
    back: Position,
    right: Position,
    up: Position,
    line_back: Position,
    line_right: Position,
    line_up: Position,
) -> Position:
    """Distance of a point from a line.

    |v × g|/|g|: ``back``, ``right``, ``up`` m of v from any point of the line to the point, and
    ``line_…`` m of the line's direction g; result m, never below nought.
    """
    if not line_back**2 + line_right**2 + line_up**2 > 0.0:
        raise FormulaError("the two ends of the line are one point")
    return sqrt(
        (right * line_up - up * line_right) ** 2
        + (up * line_back - back * line_up) ** 2
        + (back * line_right - right * line_back) ** 2
    ) / sqrt(line_back**2 + line_right**2 + line_up**2)


@formula("ψ", GEOMETRY)
def yaw_onto(
    line_back: Position, line_right: Position, shaft_back: Position, shaft_right: Position
) -> Angle:
    """Yaw that brings a shaft over a line, seen from above.

    Signed angle from the shaft to the line: atan2(cross, dot). ``line_…`` m of the line,
    ``shaft_…`` m of the shaft with pitch and roll applied and no yaw; result rad, from -π to π.
    """
    if not hypot(line_back, line_right) > 0.0 or not hypot(shaft_back, shaft_right) > 0.0:
        raise FormulaError("seen from above, shaft or line is a point: it has no direction")
    return atan2(
        shaft_back * line_right - shaft_right * line_back,
        shaft_back * line_back + shaft_right * line_right,
    )


@formula("λ", ROTATION)
def crosswise_level(pitch: Angle, roll: Angle) -> Angle:
    """What a level across the body shows.

    asin(cos p sin r): on a pitched body a level across reads less than the roll. ``pitch``,
    ``roll`` rad; result rad.
    """
    return asin(cos(pitch) * sin(roll))


@formula("c̄", DEFINITION)
def middle(coordinates: Sequence[Position], count: Count) -> Position:
    """Middle of several coordinates. ``coordinates`` m along one axis, ``count`` of them; m."""
    return sum(coordinates) / count


@formula("S", DEFINITION)
def spread(firsts: Sequence[Position], seconds: Sequence[Position], count: Count) -> Area:
    """Sum of products about the middle.

    Σ a b - Σ a Σ b/n: ``firsts`` a and ``seconds`` b m, in the same order, ``count`` n of them;
    result m².
    """
    return (
        sum(one * other for one, other in zip(firsts, seconds, strict=True))
        - sum(firsts) * sum(seconds) / count
    )


@formula("Δφ", SMALL_TURNS)
def plane_roll(xx: Area, xy: Area, yy: Area, xc: Area, yc: Area) -> Angle:
    """Small roll of a body of which each mount is raised a little.

    (S_xx S_yc - S_xy S_xc)/(S_xx S_yy - S_xy²): exact for three mounts, least squares for more.
    ``xx``, ``xy``, ``yy`` m² spreads of the mounts back and right, ``xc`` and ``yc`` m² of these
    with what each is raised by; result rad. Tilts up to 0.05 rad.
    """
    if not xx * yy - xy**2 > FLAT * max(xx, yy) ** 2:
        raise FormulaError("a plane needs three mounts or more that do not stand in one line")
    return (xx * yc - xy * xc) / (xx * yy - xy**2)


@formula("Δθ", SMALL_TURNS)
def plane_pitch(xx: Area, xy: Area, yy: Area, xc: Area, yc: Area) -> Angle:
    """Small pitch of a body of which each mount is raised a little.

    (S_xy S_yc - S_yy S_xc)/(S_xx S_yy - S_xy²): raised in front the nose goes up; exact for three
    mounts, least squares for more. Arguments as for the roll, m²; result rad. Tilts up to 0.05 rad.
    """
    if not xx * yy - xy**2 > FLAT * max(xx, yy) ** 2:
        raise FormulaError("a plane needs three mounts or more that do not stand in one line")
    return (xy * yc - yy * xc) / (xx * yy - xy**2)


@formula("Δz", SMALL_TURNS, valid={"pitch": (-0.05, 0.05), "roll": (-0.05, 0.05)})
def plane_lift(
    raised: Position, pitch: Angle, roll: Angle, back: Position, right: Position
) -> Position:
    """What a point of the body is lifted by where each mount is raised a little.

    c̄ - Δθ (x - x̄) + Δφ (y - ȳ): ``raised`` c̄ m on the mean of the mounts, ``pitch`` and ``roll``
    rad, ``back`` and ``right`` m from the middle of the mounts to the point; result m.
    """
    return raised - pitch * back + roll * right


@formula("φ", GEOMETRY, valid={"turn": (-0.05, 0.05)})
def turned_further(angle: Angle, turn: Angle) -> Angle:
    """Angle after a small turn about the same axis. ``angle``, ``turn`` rad; result rad."""
    return angle + turn


@formula("Δφ", GEOMETRY)
def turn_between(first: Angle, second: Angle) -> Angle:
    """From one angle to another. ``first``, ``second`` rad; result rad, with its sign."""
    return second - first


@formula("f", SMALL_TURNS)
def proud(raised: Position, lift: Position) -> Position:
    """What one mount is pulled by where the mounts do not fit one plane.

    What it is raised by less what the plane of all rises by there: above nought it stands proud of
    the others. ``raised``, ``lift`` m; result m. Nought for three mounts.
    """
    return raised - lift
