"""Things in a picture that are told by tags, and the key that says what the tags mean.

A crowded picture has no room for names: each thing carries a short tag, and the key lists every tag
with its name. Where the tags find room is worked out in ``crowd``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from wattwright.paper import MARGIN, NARROW, Box, Point, around
from wattwright.paper.svg import (
    PLAIN,
    Label,
    Shape,
    Stroke,
    circle,
    linked,
    rectangle,
    whole,
    wrapped,
)

Look = Literal["outline", "dashed", "faint"]

DASHED = Stroke(0.3, (1.6, 0.9))
FAINT = Stroke(0.2, (0.7, 0.7))
DOT = 0.75
RING = 2.1


@dataclass(frozen=True)
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

    @cached_property
    def space(self) -> Box:
        """The space that its drawing takes."""
        if self.look == "faint":
            return around((self.box.middle,)).grown(RING)
        return self.box if self.is_box else around((self.box.middle,)).grown(DOT)

    @cached_property
    def is_box(self) -> bool:
        """True where it has both measures."""
        return self.box.width > 0.0 and self.box.height > 0.0

    def pointer(self, words: Box) -> tuple[Point, Point] | None:
        """Return the ends of the line from a tag to it, unless the tag lies within."""
        space = self.space
        if space.holds(words):
            return None
        # The nearest point of a box; of a mark the middle.
        x, y = _nearest(space, words.middle) if self.is_box else space.middle
        start = _nearest(words, (x, y))
        cut = space.cut(start, (x, y)) if self.look == "faint" else None
        return start, cut[0] if cut else (x, y)

    def touches(self, other: Tagged) -> bool:
        """Tell whether both are marks so close that lines to them could not be told apart."""
        marks = not (self.is_box or other.is_box or "faint" in (self.look, other.look))
        return marks and math.dist(self.space.middle, other.space.middle) < 2 * DOT

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


def _nearest(box: Box, point: Point) -> Point:
    """Return the point of a box that lies nearest to another."""
    x, y = point
    return min(max(x, box.left), box.right), min(max(y, box.top), box.bottom)
