"""Room between bodies: what the search found, stated as values that know their inputs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wattwright.areas.mounts.bodies import (
    BodyRecords,
    axle_of,
    ground_wanted,
    outlines,
    travel_of,
    wanted_around,
    wanted_between,
)
from wattwright.areas.mounts.clearance_checks import (
    GAP,
    GAP_TRAVEL,
    GAP_X,
    GAP_Y,
    GAP_Z,
    GROUND,
    OTHER_TRAVEL,
)
from wattwright.areas.mounts.outlines import (
    VALUES,
    Outline,
    Three,
    direction,
    in_numbers,
    reach,
    reach_where_touched,
    taken,
    travelled,
)
from wattwright.areas.mounts.outside import drawn
from wattwright.areas.mounts.sweep import UNIT, Pair, Tight, tightest
from wattwright.convex import Vector
from wattwright.descriptions.clearance import (
    ClearanceDescription,
    Nearest,
    OverGround,
    Unplaced,
)
from wattwright.findings import Figure, Finding
from wattwright.kinds import LENGTH, POSITION, RATIO
from wattwright.physics import clearance as physics
from wattwright.values import Value, constant, smallest, worked

_STILL = constant(LENGTH, 0.0, "neither is on the unit's rubber")
_RESTING = constant(POSITION, 0.0, "no wheel moves either")
_DOWN: Vector = (0.0, 0.0, -1.0)
# Records described last, of so many builds that lie open.
_MOST = 4
_LAST: list[tuple[BodyRecords, ClearanceDescription]] = []
_SIDES = {"f": "front", "r": "rear"}


def describe_clearance(own: BodyRecords) -> ClearanceDescription:
    """Find where bodies come nearest, and how high they are over the ground.

    What was described of the very same records is described alike: a change elsewhere in this area
    brings them here again.
    """
    for records, made in _LAST:
        if records == own:
            return made
    made = described_anew(own)
    # Put in place as a whole, so that nobody meets half of it.
    _LAST[:] = [(own, made), *_LAST[: _MOST - 1]]
    return made


def described_anew(own: BodyRecords) -> ClearanceDescription:
    """Find it, whatever was described before."""
    shapes = outlines(own)
    known = [(shape, number) for shape in shapes if (number := in_numbers(shape)) is not None]
    placed, numbers = [shape for shape, _ in known], tuple(number for _, number in known)
    wanted = {(one, other): value for one, other, value in wanted_between(own, placed)}
    pairs = tuple(Pair(*ends, value.number or 0.0) for ends, value in wanted.items())
    rubber = own.clearance.rubber
    moves = _number(rubber.along), _number(rubber.across), _number(rubber.up)
    near = [
        _nearest(own, placed, tight, wanted[tight.pair.first, tight.pair.second])
        for tight in tightest(numbers, pairs, moves)
    ]
    unplaced = [
        Unplaced(shape.name, _without_place(own, shape), wanted_around(own, shape))
        for shape in shapes
        if shape not in placed
    ]
    return ClearanceDescription(
        tuple(drawn(number) for number in numbers),
        tuple(sorted(near, key=lambda each: each.about)),
        tuple(unplaced),
        tuple(_over_ground(own, shape) for shape in shapes),
        (own.clearance.front.laden_drop, own.clearance.rear.laden_drop, own.wheelbase),
    )


def judge_clearance(made: ClearanceDescription) -> Iterator[Finding | Figure]:
    """State gaps with where they are, and heights over the ground."""
    for near in made.nearest:
        yield GAP.at_least(near.gap, near.wanted, near.about)
        for kind, place in zip((GAP_X, GAP_Y, GAP_Z), near.at, strict=True):
            yield kind.of(place, near.about)
        first, *others = near.travel.items() or (("", _RESTING),)
        yield GAP_TRAVEL.of(first[1], near.about)
        for group, travel in others:
            yield OTHER_TRAVEL.of(travel, f"{near.about}/{group}")
    for body in made.unplaced:
        yield GAP.at_least(body.gap, body.wanted, body.name)
    for each in made.ground:
        yield GROUND.at_least(each.height, each.wanted, each.name)


def _number(value: Value) -> float:
    return value.number or 0.0


def _movement(own: BodyRecords, way: Three[Value]) -> Value:
    rubber = own.clearance.rubber
    moves = rubber.along, rubber.across, rubber.up
    return worked(physics.reach_of_movement, *moves, *way)


# -------------------------------------------------------------------------------------- the nearest


def _nearest(
    own: BodyRecords, placed: Sequence[Outline[Value]], tight: Tight, wanted: Value
) -> Nearest:
    """State a gap that was found, along its direction, where the wheels were."""
    one, other = placed[tight.pair.first], placed[tight.pair.second]
    met, shares = tight.meeting, tight.wheels.shares
    way = direction(met.way)
    from_ = _stated(one, tight, 0)
    to = _stated(other, tight, 1)
    on_rubber = UNIT in (*one.groups, *other.groups)
    movement = _movement(own, way) if on_rubber else _STILL
    travels = {
        moving.group: gone
        for moving in (*one.moving, *other.moving)
        if (gone := travelled(VALUES, moving, shares.get(moving.group, 0.0))) is not None
    }
    return Nearest(
        f"{one.name}/{other.name}",
        worked(physics.gap, *from_[0], *to[0], *way, from_[1], to[1], movement),
        wanted,
        travels,
        _places(from_[0], met.middle),
        met.points,
        _where_words(shares),
    )


def _stated(shape: Outline[Value], tight: Tight, which: int) -> tuple[Three[Value], Value]:
    """State where a body is and how far it reaches; of a hose, the place where it is nearest."""
    shares, piece, spot = tight.wheels.shares, tight.pieces[which], tight.spots[which]
    placed = []
    for at, moving in zip(shape.points, shape.moving, strict=True):
        gone = travelled(VALUES, moving, shares.get(moving.group, 0.0))
        placed.append((moving, taken(VALUES, at, moving, gone)))
    moving, (middle, angle) = placed[piece]
    if shape.form == "hose":
        first, last = (placed[each][1][0] for each in (piece, piece + 1))
        end = -spot[0] if which else spot[0]
        share = constant(RATIO, 0.5 + end, "how far along the piece it is nearest")
        x, y, z = (worked(physics.on_hose, a, b, share) for a, b in zip(first, last, strict=True))
        middle = x, y, z
    way = direction(tight.meeting.way)
    return middle, reach_where_touched(shape, way, moving, angle, spot)


def _places(middle: Three[Value], place: Vector) -> Three[Value]:
    x, y, z = (
        worked(
            physics.place,
            each,
            constant(POSITION, at - _number(each), "from its middle to the nearest place"),
        )
        for each, at in zip(middle, place, strict=True)
    )
    return x, y, z


def _where_words(shares: Mapping[str, float]) -> str:
    """Say where wheels are: rear left at bump; front axle half up would be 50 % of bump."""
    words = []
    for group, share in shares.items():
        kind, _, which = group.partition("_")
        side = {"l": " left", "r": " right"}.get(which[1:], "") if kind == "wheel" else " axle"
        name = f"{_SIDES[which[0]]}{side}"
        if abs(share) == 1.0:
            words.append(f"{name} {'at bump' if share > 0 else 'hanging'}")
        elif share:
            words.append(f"{name} {abs(share):.0%} {'up' if share > 0 else 'down'}")
        else:
            words.append(f"{name} at ride height")
    return ", ".join(words)


# -------------------------------------------------------------------------- unknown, and the ground


def _without_place(own: BodyRecords, shape: Outline[Value]) -> Value:
    """Work out the gap of a body against itself, which lacks whatever is lacking of it."""
    way = direction(_DOWN)
    middle, size = _asked(shape, way)
    movement = _movement(own, way) if UNIT in shape.groups else _STILL
    return worked(physics.gap, *middle, *middle, *way, size, size, movement)


def _asked(shape: Outline[Value], way: Three[Value]) -> tuple[Three[Value], Value]:
    """Bring together everything that places a body, so that what is lacking of it is all named."""
    placed = [
        (*taken(VALUES, at, moving, travelled(VALUES, moving, share)), moving)
        for at, moving in zip(shape.points, shape.moving, strict=True)
        for share in (1.0, -1.0)
    ]
    (middle, angle, moving), *others = placed
    half = constant(RATIO, 0.5, "halfway")
    for other, _, _ in others:
        x, y, z = (worked(physics.on_hose, a, b, half) for a, b in zip(middle, other, strict=True))
        middle = x, y, z
    return middle, reach(VALUES, shape, way, moving, angle)


def _over_ground(own: BodyRecords, shape: Outline[Value]) -> OverGround:
    """State the height of the lowest point, with the body sunk and the wheels up by as much."""
    down = direction(_DOWN)
    travels = own.clearance
    heights = []
    for at, moving in zip(shape.points, shape.moving, strict=True):
        axle = axle_of(moving.group)
        gone = travel_of(travels, axle).laden_drop if axle else None
        middle, angle = taken(VALUES, at, moving, gone)
        drops = travels.front.laden_drop, travels.rear.laden_drop
        drop = worked(physics.sunk, *drops, at[0], own.wheelbase)
        movement = _movement(own, down) if moving.group == UNIT else _STILL
        low = reach(VALUES, shape, down, moving, angle)
        heights.append(worked(physics.lowest, middle[2], low, drop, movement))
    lowest = smallest(*heights) if len(heights) > 1 else heights[0]
    return OverGround(shape.name, lowest, ground_wanted(own, shape))
