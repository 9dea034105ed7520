"""Tolerance frames and datums as ISO 1101 and ISO 5459 draw them.

    frame          a box with a sign, the tolerance, and the datums it is held to
    datum          a triangle on what is the datum, with its letter in a box
    FRAME          how high a frame is

The signs are drawn, not written: few fonts have them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from wattwright.paper import SMALLEST_TEXT, Box, Point
from wattwright.paper.svg import (
    Shape,
    Stroke,
    circle,
    line,
    path,
    rectangle,
    text,
    text_width,
)

Sign = Literal["position", "coaxiality", "parallelism", "flatness"]

FRAME = 4.8
_LINE = Stroke(0.25)
_SIGN = Stroke(0.3)
_TRIANGLE = 2.6


def frame(left: float, top: float, sign: Sign, cells: Sequence[str]) -> tuple[Shape, ...]:
    """Draw a frame: the sign in its first field, then the tolerance and the datums."""
    shapes = [*_sign(sign, (left + FRAME / 2, top + FRAME / 2)), _field(left, top, FRAME)]
    for words in cells:
        left = shapes[-1].box.right - _LINE.weight / 2
        wide = max(text_width(words, SMALLEST_TEXT) + 1.2, FRAME * 0.9)
        foot = top + FRAME / 2 + 0.36 * SMALLEST_TEXT
        shapes.append(text((left + wide / 2, foot), words, anchor="middle", size=SMALLEST_TEXT))
        shapes.append(_field(left, top, wide))
    return tuple(shapes)


def _field(left: float, top: float, wide: float) -> Shape:
    return rectangle(Box(left, top, left + wide, top + FRAME), _LINE)


def _sign(sign: Sign, middle: Point) -> Iterator[Shape]:
    x, y = middle
    if sign == "position":
        yield circle(middle, 1.1, _SIGN)
        yield line((x - 1.9, y), (x + 1.9, y), _SIGN)
        yield line((x, y - 1.9), (x, y + 1.9), _SIGN)
    elif sign == "coaxiality":
        yield circle(middle, 1.7, _SIGN)
        yield circle(middle, 0.8, _SIGN)
    elif sign == "parallelism":
        for aside in (-0.7, 0.7):
            yield line((x + aside - 0.7, y + 1.7), (x + aside + 0.7, y - 1.7), _SIGN)
    else:
        corners = [(x - 1.9, y + 1.1), (x + 0.9, y + 1.1), (x + 1.9, y - 1.1), (x - 0.9, y - 1.1)]
        yield path(corners, _SIGN, closed=True)


def datum(foot: Point, away: Point, letter: str) -> tuple[Shape, ...]:
    """Draw a datum: its triangle stands at ``foot``, its letter in a box at the end of a line."""
    turn = math.atan2(away[1] - foot[1], away[0] - foot[0])
    along = (math.cos(turn), math.sin(turn))
    back = (foot[0] + _TRIANGLE * 0.87 * along[0], foot[1] + _TRIANGLE * 0.87 * along[1])
    half = _TRIANGLE / 2
    base = [
        (foot[0] - half * along[1], foot[1] + half * along[0]),
        (foot[0] + half * along[1], foot[1] - half * along[0]),
    ]
    box = Box(*away, *away).grown(FRAME / 2)
    edge = box.cut(foot, away)
    end = edge[0] if edge else away
    return (
        path((*base, back), None, closed=True, fill="ink"),
        line(back, end, _LINE),
        rectangle(box, _LINE),
        text(
            (away[0], away[1] + 0.36 * SMALLEST_TEXT),
            letter,
            anchor="middle",
            size=SMALLEST_TEXT,
            bold=True,
        ),
    )
