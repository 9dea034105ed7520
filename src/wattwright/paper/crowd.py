"""Room for tags in a crowded picture.

A tag stands in its thing where it fits, with the name if that fits too; else close by, with a line
to it. Tags keep clear of things, of one another and of what is drawn already; their lines pass by
every mark but their own. Marks that touch share a tag.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial

from wattwright.paper import Box, Point
from wattwright.paper.svg import (
    PLAIN,
    Label,
    Shape,
    Stroke,
    free_place,
    line,
    rectangle,
    whole,
    wrapped,
)
from wattwright.paper.tags import Tagged

LEADER = Stroke(0.15)
# Between two tags side by side, lest 1 and 2 be read as 12.
_AIR = 1.0
_DISTANCES = (1.0, 2.0, 3.0, 4.5, 6.0, 8.0, 10.0, 12.5, 15.0, 18.0, 22.0, 27.0, 33.0, 40.0)
# Straight up and down first, then what lies between.
_TURNS = tuple(
    math.radians(turn)
    for turn in sorted(range(0, 360, 15), key=lambda turn: (turn % 180 != 90, turn % 45 != 0))
)
# Along a long side, how far from one end to the other.
_SHARES = (0.25, 0.75, 0.1, 0.9, 0.4, 0.6)
# A longer line is worth another attempt; one tag less is worse than any lines.
_LONG, _NEVER = 13.0, 1e4
# A picture that is still too full after so many attempts stays so.
_ATTEMPTS = 6

Group = tuple[Tagged, ...]
Found = dict[Group, tuple[Label, Box]]


@dataclass(frozen=True, slots=True)
class Picture:
    """Things drawn with their tags; ``untagged`` are those whose tag found no room."""

    shapes: tuple[Shape, ...]
    untagged: tuple[Tagged, ...]


def tagged(things: Sequence[Tagged], within: Box, taken: Iterable[Box] = ()) -> Picture:
    """Draw things, the smaller on the larger, with their tags clear of ``taken`` and each other."""
    stacked = sorted(things, key=lambda thing: -thing.space.width * thing.space.height)
    shapes = [shape for thing in stacked for shape in thing.linked([thing.outline()])]
    groups = _touching(stacked)
    found = _most(stacked, groups, within, list(taken))
    for group, (label, space) in found.items():
        pointer = group[0].pointer(space)
        shapes += group[0].linked([line(*pointer, LEADER)] if pointer else [])
        shapes.append(rectangle(space, None, "paper"))
        rows = label.at(space.middle[0], space.top, "middle")
        owners = group if len(group) > 1 else group * len(rows)
        for owner, row in zip(owners, rows, strict=True):
            shapes += owner.linked([row])
    over = [thing for group in groups if group not in found for thing in group]
    return Picture(tuple(shapes), tuple(over))


def _touching(things: Sequence[Tagged]) -> list[Group]:
    """Gather marks that touch each other, directly or through others."""
    groups: list[Group] = []
    for thing in things:
        one = [group for group in groups if any(map(thing.touches, group))]
        groups = [group for group in groups if group not in one]
        groups.append((*(each for group in one for each in group), thing))
    return [tuple(sorted(group, key=lambda each: (len(each.tag), each.tag))) for group in groups]


def _most(
    stacked: Sequence[Tagged], groups: Sequence[Group], within: Box, taken: Sequence[Box]
) -> Found:
    """Find room for as many tags as can be, close by.

    Those left over, or led far away, come sooner in the next attempt.
    """

    def near(group: Group) -> int:
        return sum(other.space.meets(group[0].space.grown(8.0)) for other in stacked)

    # Where it is most crowded the first choice counts most.
    order = sorted(groups, key=lambda group: -near(group))
    inside = {group: _inside(group[0], stacked, taken) for group in order}
    fitting: Found = {group: each for group, each in inside.items() if each}
    squeezed = Counter[Group]()
    attempts: list[Found] = []
    for _ in range(_ATTEMPTS):
        found = _Crowd(stacked, within, taken).placed(order, fitting)
        attempts.append(found)
        over = [group for group in order if _lead(group, found) > _LONG]
        if not over:
            break
        squeezed.update(over)
        order.sort(key=lambda group: (-squeezed[group], -near(group)))
    return min(attempts, key=lambda found: sum(_lead(group, found) for group in groups))


def _lead(group: Group, found: Found) -> float:
    """Length of the line from a tag to its thing; very long for a tag that is not there."""
    if group not in found:
        return _NEVER
    ends = group[0].pointer(found[group][1])
    return math.dist(*ends) if ends else 0.0


def _inside(
    thing: Tagged, stacked: Sequence[Tagged], taken: Sequence[Box]
) -> tuple[Label, Box] | None:
    """Return the tag with its words, or the tag alone, in the middle of its thing if it fits."""
    if not thing.is_box:
        return None
    busy = [*taken, *(other.space for other in stacked[stacked.index(thing) + 1 :])]
    x, y = thing.box.middle
    full = f"{thing.tag} {thing.words}"
    rows = wrapped(full, thing.box.width - 1.5, most=3)
    labels = [Label(rows)] if whole(rows, full) else []
    for label in (*labels, Label((thing.tag,), bold=True)):
        space = label.box(x - label.width / 2, y - label.height / 2)
        if thing.box.grown(-0.3).holds(space) and not any(map(space.meets, busy)):
            return label, space
    return None


@dataclass(slots=True)
class _Crowd:
    """One attempt to find room for all tags."""

    stacked: Sequence[Tagged]
    within: Box
    taken: Sequence[Box]
    busy: list[Box] = field(default_factory=list)
    pointers: list[tuple[Point, Point]] = field(default_factory=list)

    def placed(self, order: Sequence[Group], fitting: Found) -> Found:
        """Find room beside their things for tags, in this order, that do not fit into them.

        Those left over have found none.
        """
        found = dict(fitting)
        self.busy += [*self.taken, *(space for _, space in found.values())]
        for group in order:
            if group not in found and (beside := self._beside(group)):
                found[group] = beside
        return found

    def _beside(self, group: Group) -> tuple[Label, Box] | None:
        """Take room for a tag, with a line to its thing that crosses nothing apart from it.

        Where there is no such room, the line may cross outlines: it ends at none of them.
        """
        thing, label = group[0], Label(tuple(each.tag for each in group), bold=True)
        busy = [*self.busy, *self._others(thing)]
        for everything in (True, False):
            under = (space for space in self.busy if not space.meets(thing.space))
            apart = [*under, *self._apart(thing, everything)]
            fits = partial(_fits, thing, self.within, busy, apart)
            place = free_place(
                filter(fits, places(label, thing.space)), self.within, (), self.pointers
            )
            if place is not None:
                self.busy.append(
                    Box(place.left - _AIR, place.top, place.right + _AIR, place.bottom)
                )
                if ends := thing.pointer(place):
                    self.pointers.append(ends)
                return label, place
        return None

    def _others(self, thing: Tagged) -> Iterator[Box]:
        """Yield what a tag must keep clear of; of things that lie around its own, the edges."""
        for other in self.stacked:
            if other.is_box and other is not thing and other.space.holds(thing.space):
                yield from edges(other.box)
            else:
                yield other.space

    def _apart(self, thing: Tagged, everything: bool) -> Iterator[Box]:
        """Yield what a line must not cross: all that is apart from its thing, or all dots of it."""
        for other in self.stacked:
            dot = not other.is_box and other.look != "faint"
            if (everything or dot) and not other.space.meets(thing.space):
                yield other.space


def _fits(
    thing: Tagged, within: Box, busy: Sequence[Box], apart: Sequence[Box], place: Box
) -> bool:
    """Tell whether a tag may stand in a place, and its line lead there."""
    if not within.holds(place) or any(map(place.meets, busy)):
        return False
    ends = thing.pointer(place)
    return ends is None or not any(each.cut(*ends) for each in apart)


def edges(box: Box) -> Iterator[Box]:
    """Yield the four sides of a box, each as thick as its line."""
    half = PLAIN.weight
    yield Box(box.left - half, box.top, box.left + half, box.bottom)
    yield Box(box.right - half, box.top, box.right + half, box.bottom)
    yield Box(box.left, box.top - half, box.right, box.top + half)
    yield Box(box.left, box.bottom - half, box.right, box.bottom + half)


def places(label: Label, space: Box, furthest: float = math.inf) -> Iterator[Box]:
    """Yield places for a label round what it belongs to, the nearest first."""
    x, y = space.middle
    wide, high = label.width, label.height
    for away in (each for each in _DISTANCES if each <= furthest):
        across = (space.width + wide) / 2 + away
        up = (space.height + high) / 2 + away
        for turn in _TURNS:
            left, top = x + across * math.cos(turn) - wide / 2, y + up * math.sin(turn) - high / 2
            yield Box(left, top, left + wide, top + high)
        if space.width > wide:
            for share in _SHARES:
                left = space.left + share * (space.width - wide)
                for top in (space.top - away - high, space.bottom + away):
                    yield Box(left, top, left + wide, top + high)
