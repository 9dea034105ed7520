"""Where bodies are and how far they reach, once in plain numbers and once as values.

A search goes through hundreds of positions in plain numbers; what it finds is stated as a value
that knows its inputs. Both go through the same steps here, which call the same formulas: only what
they are called with differs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Generic, Literal, TypeVar

from wattwright.convex import Form, Solid, Vector, away, cross, dot, unit
from wattwright.errors import FormulaError
from wattwright.kinds import RATIO, Kind
from wattwright.physics import clearance
from wattwright.values import Value, constant, worked

N = TypeVar("N")
Three = tuple[N, N, N]
Pivoting = Literal["along", "across"]

_WORLD: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
# Which of the directions along its own length, width and height a cylinder's axis is.
_AXIS = {"along": 0, "across": 1, "up": 2}
# Where a direction is this far from square to a side, an end of that side is nearest.
_ASLANT = 1e-4
_OWN_SIDES = {
    "box": ("length", "width", "height"),
    "cylinder": ("length", "diameter", "diameter, the other way"),
}
_POINTS_TO = ("back", "right", "up")


@dataclass(frozen=True, slots=True)
class Means(Generic[N]):
    """How a formula is worked, and how an exact number enters it."""

    work: Callable[..., N]
    exact: Callable[[Kind, float, str], N]


def _plain(fn: Callable[..., float], *numbers: float) -> float:
    return fn(*numbers)


VALUES: Means[Value] = Means(worked, constant)
NUMBERS: Means[float] = Means(_plain, lambda _kind, number, _label: number)


@dataclass(frozen=True, slots=True)
class Arm(Generic[N]):
    """What swings about a line through a pivot, with its wheel centre: out, and its height."""

    axis: Pivoting
    pivot: Three[N]
    wheel: tuple[N, N]

    @property
    def out(self) -> int:
        """Which coordinate points out along its circle: x of a trailing arm, y of a swing axle."""
        return 0 if self.axis == "across" else 1


@dataclass(frozen=True, slots=True)
class Moving(Generic[N]):
    """What moves a point: nothing and the unit's rubber bring no travel, a wheel does."""

    group: str
    bump: N | None = None
    droop: N | None = None
    arm: Arm[N] | None = None


@dataclass(frozen=True, slots=True)
class Outline(Generic[N]):
    """A body: of a hose all its points, of any other its middle; each with what moves it.

    ``measures`` are length, width and height, length and diameter, or the diameter. ``turned`` is
    yaw, pitch and roll, left out where all are nought.
    """

    name: str
    form: Form
    points: tuple[Three[N], ...]
    moving: tuple[Moving[N], ...]
    measures: tuple[N, ...]
    turned: Three[N] | None
    axis: str

    @property
    def groups(self) -> tuple[str, ...]:
        """What moves it, each once."""
        return tuple(dict.fromkeys(each.group for each in self.moving))

    @property
    def travelling(self) -> tuple[str, ...]:
        """What moves it through suspension travel."""
        return tuple(dict.fromkeys(each.group for each in self.moving if each.bump is not None))


def all_of(outline: Outline[Any]) -> list[Any]:
    """List everything that makes an outline, in one order."""
    found = [each for point in outline.points for each in point]
    found += [*outline.measures, *(outline.turned or ())]
    for moving in outline.moving:
        found += [each for each in (moving.bump, moving.droop) if each is not None]
        if moving.arm is not None:
            found += [*moving.arm.pivot, *moving.arm.wheel]
    return found


def in_numbers(outline: Outline[Value]) -> Outline[float] | None:
    """Turn an outline of values into one of numbers; nothing where any is lacking.

    Nor where an arm cannot swing as far as its wheel travels: what is stated of it says so.
    """
    if any(value.number is None for value in all_of(outline)):
        return None
    found = _numbers_of(outline)
    try:
        for share in (1.0, -1.0):
            solids(found, dict.fromkeys(found.travelling, share))
    except FormulaError:
        return None
    return found


def _numbers_of(outline: Outline[Value]) -> Outline[float]:

    def number(value: Value) -> float:
        return value.number or 0.0

    def three(values: Three[Value]) -> Three[float]:
        return number(values[0]), number(values[1]), number(values[2])

    def moved_by(moving: Moving[Value]) -> Moving[float]:
        if moving.bump is None or moving.droop is None:
            return Moving(moving.group)
        bump, droop, held = number(moving.bump), number(moving.droop), moving.arm
        if held is None:
            return Moving(moving.group, bump, droop)
        wheel = number(held.wheel[0]), number(held.wheel[1])
        return Moving(moving.group, bump, droop, Arm(held.axis, three(held.pivot), wheel))

    return Outline(
        outline.name,
        outline.form,
        tuple(three(point) for point in outline.points),
        tuple(moved_by(moving) for moving in outline.moving),
        tuple(number(measure) for measure in outline.measures),
        outline.turned and three(outline.turned),
        outline.axis,
    )


def travelled(means: Means[N], moving: Moving[N], share: float) -> N | None:
    """How far a wheel has gone at a share of its travel: 1 is the bump stop, -1 hanging."""
    most = moving.bump if share >= 0.0 else moving.droop
    if most is None:
        return None
    word = "up" if share >= 0.0 else "down"
    return means.work(
        clearance.travel, means.exact(RATIO, share, f"share of the travel {word}"), most
    )


def taken(
    means: Means[N], point: Three[N], moving: Moving[N], gone: N | None
) -> tuple[Three[N], N | None]:
    """Where travel takes a point, and the angle by which its arm has swung."""
    if gone is None:
        return point, None
    if moving.arm is None:
        return (point[0], point[1], means.work(clearance.raised, point[2], gone)), None
    arm = moving.arm
    pivot = arm.pivot[arm.out], arm.pivot[2]
    angle = means.work(clearance.swing, *arm.wheel, *pivot, gone)
    circle = (point[arm.out], point[2], *pivot, angle)
    out, up = (means.work(each, *circle) for each in (clearance.swung_out, clearance.swung_up))
    return ((out, point[1], up) if arm.out == 0 else (point[0], out, up)), angle


def reach(
    means: Means[N], outline: Outline[N], way: Three[N], moving: Moving[N], angle: N | None
) -> N:
    """How far a body reaches from its middle; of a hose, from the middle of its bore."""
    if outline.form == "hose":
        return means.work(clearance.reach_of_hose, *outline.measures)
    shares = _shares(means, outline, _seen(means, way, moving, angle))
    if outline.form == "box":
        return means.work(clearance.reach_of_box, *outline.measures, *shares)
    return means.work(clearance.reach_of_cylinder, *outline.measures, *shares)


def reach_where_touched(
    outline: Outline[Value],
    way: Three[Value],
    moving: Moving[Value],
    angle: Value | None,
    spot: Vector,
) -> Value:
    """How far a body reaches at the point where it comes nearest; of a hose as anywhere."""
    if outline.form == "hose":
        return reach(VALUES, outline, way, moving, angle)
    shares = _shares(VALUES, outline, _seen(VALUES, way, moving, angle))
    sizes = outline.measures
    sizes = sizes if outline.form == "box" else (sizes[0], sizes[1], sizes[1])
    where = (
        constant(RATIO, share, f"where it is touched, share of its {word}")
        for share, word in zip(spot, _OWN_SIDES[outline.form], strict=True)
    )
    return worked(clearance.reach_where_touched, *sizes, *shares, *where)


def spot_on(solid: Solid, way: Vector, sign: float, point: Vector) -> Vector:
    """Say where a body is touched, as shares of its measures from its middle.

    It is the end that lies furthest along the way; where it lies square to the way, the point that
    was found. ``sign`` is below nought for the body that the way leads to.
    """
    shares = [dot(axis, way) for axis in solid.axes]
    from_middle = away(solid.middle, point)
    flat = [
        min(max(sign * dot(from_middle, axis) / (2 * half), -0.5), 0.5) if half else 0.0
        for axis, half in zip(solid.axes, solid.half, strict=True)
    ]
    ends = [
        math.copysign(0.5, share) if abs(share) > _ASLANT else place
        for share, place in zip(shares, flat, strict=True)
    ]
    aside = math.hypot(shares[1], shares[2])
    if solid.form == "box":
        return ends[0], ends[1], ends[2]
    if aside > _ASLANT:
        return ends[0], shares[1] / aside / 2, shares[2] / aside / 2
    return ends[0], flat[1], flat[2]


def _seen(means: Means[N], way: Three[N], moving: Moving[N], angle: N | None) -> Three[N]:
    """Turn a direction as a body on a swung arm sees it."""
    if angle is None or moving.arm is None:
        return way
    out = moving.arm.out
    seen = [
        means.work(each, way[out], way[2], angle)
        for each in (clearance.seen_out, clearance.seen_up)
    ]
    return (seen[0], way[1], seen[1]) if out == 0 else (way[0], seen[0], seen[1])


def _shares(means: Means[N], outline: Outline[N], way: Three[N]) -> Three[N]:
    """Shares of a direction along the body's own axes; of a cylinder its own axis comes first."""
    shares = [*way]
    if outline.turned is not None:
        yaw, pitch, roll = outline.turned
        shares = [
            means.work(clearance.along_length, *way, yaw, pitch),
            means.work(clearance.along_width, *way, yaw, pitch, roll),
            means.work(clearance.along_height, *way, yaw, pitch, roll),
        ]
    first = _AXIS[outline.axis] if outline.form == "cylinder" else 0
    return shares[first], shares[(first + 1) % 3], shares[(first + 2) % 3]


def solids(outline: Outline[float], shares: Mapping[str, float]) -> tuple[Solid, ...]:
    """Give the convex pieces of a body with the wheels at shares of their travel."""
    placed = [
        taken(NUMBERS, point, moving, travelled(NUMBERS, moving, shares.get(moving.group, 0.0)))
        for point, moving in zip(outline.points, outline.moving, strict=True)
    ]
    if outline.form == "hose":
        radius = outline.measures[0] / 2
        ends = [point for point, _ in placed]
        return tuple(_piece(*pair, radius) for pair in pairwise(ends))
    (middle, angle), moving = placed[0], outline.moving[0]
    seen = [_shares(NUMBERS, outline, _seen(NUMBERS, way, moving, angle)) for way in _WORLD]
    first, second, third = zip(*seen, strict=True)
    sizes = outline.measures
    half = sizes if outline.form == "box" else (sizes[0], sizes[1], sizes[1])
    return (
        Solid(
            outline.form,
            middle,
            (first, second, third),
            (half[0] / 2, half[1] / 2, half[2] / 2),
        ),
    )


def _piece(first: Vector, last: Vector, radius: float) -> Solid:
    """Make a piece of hose between two points; one with no length is a ball."""
    way = away(first, last)
    length = sum(each * each for each in way) ** 0.5
    along = unit(way) or _WORLD[0]
    aside = unit(cross(along, _WORLD[0] if abs(along[0]) < 0.8 else _WORLD[1])) or _WORLD[1]
    middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2, (first[2] + last[2]) / 2)
    return Solid("hose", middle, (along, aside, cross(along, aside)), (length / 2, radius, radius))


def direction(way: Vector) -> Three[Value]:
    """Take a direction that was found as exact numbers of a formula."""
    back, right, up = (
        constant(RATIO, share, f"share of the direction that points {word}")
        for share, word in zip(way, _POINTS_TO, strict=True)
    )
    return back, right, up
