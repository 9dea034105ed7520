"""Things in a picture with tags beside them, and the key that says what the tags mean.

A crowded picture has no room for names. Each thing carries a short tag, inside it or close by with
a line to it, and the key lists every tag with its name. Names stand in the picture too where they
fit inside their thing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from wattwright.paper import MARGIN, NARROW, Box, Point, around
from wattwright.paper.svg import (
    PLAIN,
    Label,
    Shape,
    Stroke,
    circle,
    free_place,
    line,
    linked,
    rectangle,
    whole,
    wrapped,
)

Look = Literal["outline", "dashed", "faint"]

DASHED = Stroke(0.3, (1.6, 0.9))
FAINT = Stroke(0.2, (0.7, 0.7))
LEADER = Stroke(0.15)
DOT = 0.75
RING = 2.1
_DISTANCES = (1.0, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0)
# Straight up and down first, then what lies between.
_TURNS = tuple(math.radians(turn) for turn in (270, 90, 315, 225, 45, 135, 0, 180)) + tuple(
    math.radians(22.5 + 45 * step) for step in range(8)
)


@dataclass(frozen=True, slots=True)
class Tagged:
    """Something at its place on the paper. A box of no size is a mark: its size is not known.

    ``section`` and ``name`` say which record it stands for, ``words`` what it is called.
    """

    tag: str
    words: str
    box: Box
    section: str
    name: str
    look: Look = "outline"

    @property
    def space(self) -> Box:
        """The space that its drawing takes."""
        if self.look == "faint":
            return around((self.box.middle,)).grown(RING)
        return self.box if self.is_box else around((self.box.middle,)).grown(DOT)

    @property
    def is_box(self) -> bool:
        """True where it has both measures."""
        return self.box.width > 0.0 and self.box.height > 0.0

    def linked(self, shapes: Iterable[Shape]) -> tuple[Shape, ...]:
        """Say of shapes which record they stand for."""
        return linked(shapes, self.section, self.name)

    def outline(self) -> Shape:
        """Draw it."""
        if self.look == "faint":
            return circle(self.box.middle, RING, FAINT)
        if not self.is_box:
            return circle(self.box.middle, DOT, None, "ink")
        return rectangle(self.box, DASHED if self.look == "dashed" else PLAIN, "paper")


@dataclass(frozen=True, slots=True)
class Picture:
    """Things drawn with their tags; ``untagged`` are those whose tag found no room."""

    shapes: tuple[Shape, ...]
    untagged: tuple[Tagged, ...]


def tagged(things: Sequence[Tagged], within: Box, taken: Iterable[Box] = ()) -> Picture:
    """Draw things, the smaller on the larger, with their tags clear of ``taken`` and each other."""
    stacked = sorted(things, key=lambda thing: -thing.space.width * thing.space.height)
    inside = {thing.tag: _inside(thing, stacked) for thing in things}
    crowd = _Crowd(stacked, within, [*taken, *(found[1] for found in inside.values() if found)])
    shapes = [shape for thing in stacked for shape in thing.linked([thing.outline()])]
    untagged = []
    # Where it is most crowded the first choice counts most.
    for thing in sorted(things, key=lambda thing: -crowd.near(thing)):
        found = inside[thing.tag] or crowd.beside(thing)
        if found is None:
            untagged.append(thing)
            continue
        label, space = found
        pointer = crowd.pointer(space, thing)
        shapes += thing.linked([line(*pointer, LEADER)] if pointer else [])
        shapes += thing.linked([rectangle(space, None, "paper"), *_written(label, space)])
    return Picture(tuple(shapes), tuple(untagged))


def key(things: Sequence[Tagged], top: float, width: float = NARROW) -> tuple[Shape, ...]:
    """List tags with their words, in two columns where all words fit into one."""
    if not things:
        return ()
    tags = [Label((thing.tag,), bold=True) for thing in things]
    indent = max(tag.width for tag in tags) + 1.5
    for columns in (2, 1):
        room = (width - 2 * MARGIN) / columns - indent - 2.0
        rows = [wrapped(thing.words, room, most=1 if columns > 1 else 4) for thing in things]
        if all(whole(row, thing.words) for row, thing in zip(rows, things, strict=True)):
            break
    shapes: list[Shape] = []
    per_column = math.ceil(len(things) / columns)
    for start in range(0, len(things), per_column):
        left = MARGIN + start // per_column * (width - 2 * MARGIN) / columns
        below = top
        for place in range(start, min(start + per_column, len(things))):
            words = Label(rows[place])
            row = (*tags[place].at(left, below), *words.at(left + indent, below))
            shapes += things[place].linked(row)
            below += words.height
    return tuple(shapes)


def _written(label: Label, space: Box) -> tuple[Shape, ...]:
    return label.at(space.middle[0], space.top, "middle")


def _inside(thing: Tagged, stacked: Sequence[Tagged]) -> tuple[Label, Box] | None:
    """Return the tag with its words, or the tag alone, in the middle of its thing if it fits."""
    if not thing.is_box:
        return None
    later = [other.space for other in stacked[stacked.index(thing) + 1 :]]
    x, y = thing.box.middle
    full = f"{thing.tag} {thing.words}"
    rows = wrapped(full, thing.box.width - 1.5, most=3)
    labels = [Label(rows)] if whole(rows, full) else []
    for label in (*labels, Label((thing.tag,), bold=True)):
        space = label.box(x - label.width / 2, y - label.height / 2)
        if thing.box.grown(-0.3).holds(space) and not any(map(space.meets, later)):
            return label, space
    return None


@dataclass(slots=True)
class _Crowd:
    """Finds room for tags outside their things."""

    stacked: Sequence[Tagged]
    within: Box
    busy: list[Box]
    pointers: list[tuple[Point, Point]] = field(default_factory=list)

    def near(self, thing: Tagged) -> int:
        """Count what lies close by."""
        return sum(other.space.meets(thing.space.grown(8.0)) for other in self.stacked)

    def beside(self, thing: Tagged) -> tuple[Label, Box] | None:
        """Take room for a tag, with a line to its thing that crosses nothing apart from it."""
        label = Label((thing.tag,), bold=True)
        busy = [*self.busy, *self._others(thing)]
        apart = [*self.busy, *self._marks(thing)]

        def clear(place: Box) -> bool:
            ends = self.pointer(place, thing)
            return ends is None or not any(each.cut(*ends) for each in apart)

        place = free_place(filter(clear, _around(label, thing)), self.within, busy, self.pointers)
        if place is None:
            return None
        self.busy.append(place)
        if ends := self.pointer(place, thing):
            self.pointers.append(ends)
        return label, place

    def pointer(self, words: Box, thing: Tagged) -> tuple[Point, Point] | None:
        """Return the ends of the line from a tag to its thing, unless it lies within."""
        x, y = thing.space.middle
        if thing.space.holds(words):
            return None
        start = (min(max(x, words.left), words.right), min(max(y, words.top), words.bottom))
        cut = thing.space.cut(start, (x, y)) if thing.is_box or thing.look == "faint" else None
        return start, cut[0] if cut else (x, y)

    def _others(self, thing: Tagged) -> Iterator[Box]:
        """Yield what a tag must keep clear of; of things that lie around its own, the edges."""
        for other in self.stacked:
            if other.is_box and other is not thing and other.space.holds(thing.space):
                yield from _edges(other.box)
            else:
                yield other.space

    def _marks(self, thing: Tagged) -> Iterator[Box]:
        """Yield what a line must not cross: all that is apart from its thing."""
        for other in self.stacked:
            if not other.space.meets(thing.space):
                yield other.space


def _edges(box: Box) -> Iterator[Box]:
    """Yield the four sides of a box, each as thick as its line."""
    half = PLAIN.weight
    yield Box(box.left - half, box.top, box.left + half, box.bottom)
    yield Box(box.right - half, box.top, box.right + half, box.bottom)
    yield Box(box.left, box.top - half, box.right, box.top + half)
    yield Box(box.left, box.bottom - half, box.right, box.bottom + half)


def _around(label: Label, thing: Tagged) -> Iterator[Box]:
    """Yield places for a tag round its thing, the nearest first."""
    x, y = thing.space.middle
    wide, high = label.width, label.height
    for away in _DISTANCES:
        across = (thing.space.width + wide) / 2 + away
        up = (thing.space.height + high) / 2 + away
        for turn in _TURNS:
            left, top = x + across * math.cos(turn) - wide / 2, y + up * math.sin(turn) - high / 2
            yield label.box(left, top)
