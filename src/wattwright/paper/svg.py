"""Shapes, text that fits, and the document they are drawn in.

A drawing is a flat list of shapes, each with its markup and the space it takes, so that what
collides or runs off the paper can be found by comparing boxes. There are no identifiers, scripts,
outside references or random parts: the same shapes give the same bytes. A shape may say which
record it stands for, for a page that lets a person choose it.

Lines are told apart by dash, weight, marks and labels. Colour comes on top, where the page sets
the variables ``--ww-0`` to ``--ww-7``; ``--ww-ink`` and ``--ww-paper`` are the two main ones.
On paper all of them give way to black on white.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from wattwright.paper import (
    HEADING,
    MARGIN,
    NARROW,
    SMALLEST_TEXT,
    TEXT,
    WIDE,
    Box,
    DrawingError,
    Point,
    around,
    number,
)

Anchor = Literal["start", "middle", "end"]
Fill = Literal["none", "ink", "paper", "shade"]

# A narrower screen scrolls sideways sooner than shrink the text below this many pixels.
SMALLEST_PIXELS = 11.0
NOTHING = "There is nothing to draw yet."
COLOURS = 8


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: weight and dashes in mm, and which of the optional colours."""

    weight: float = 0.3
    dash: tuple[float, ...] = ()
    colour: int | None = None


THIN = Stroke(0.25)
PLAIN = Stroke(0.4)


@dataclass(frozen=True, slots=True)
class Shape:
    """Markup with the space it takes, and the words if it is text."""

    markup: str
    box: Box
    words: str = ""


def _tag(name: str, content: str | None = None, **attributes: str) -> str:
    """Write an element. An attribute that is empty is left out; ``_`` stands for a hyphen."""
    head = name + "".join(
        f" {key.rstrip('_').replace('_', '-')}={quoteattr(plain_text(value))}"
        for key, value in attributes.items()
        if value
    )
    return f"<{head}/>" if content is None else f"<{head}>{content}</{name}>"


def linked(shapes: Iterable[Shape], section: str, name: str) -> tuple[Shape, ...]:
    """Say which record shapes stand for, so that a page can find it: ``data-part="charger"``."""
    attribute = f"data_{section}"
    return tuple(
        replace(shape, markup=_tag("g", shape.markup, **{attribute: name})) for shape in shapes
    )


def _stroke(stroke: Stroke | None) -> dict[str, str]:
    if stroke is None:
        return {"stroke": "none"}
    return {
        "class_": "" if stroke.colour is None else f"ww-{stroke.colour % COLOURS}",
        "stroke": "currentColor",
        "stroke_width": number(stroke.weight),
        "stroke_dasharray": " ".join(number(length) for length in stroke.dash),
    }


def _fill(fill: Fill) -> dict[str, str]:
    if fill == "paper":
        return {"class_": "ww-paper", "fill": "#fff"}
    if fill == "shade":
        return {"fill": "currentColor", "fill_opacity": "0.14"}
    return {"fill": "currentColor" if fill == "ink" else "none"}


def path(
    points: Sequence[Point],
    stroke: Stroke | None = PLAIN,
    *,
    closed: bool = False,
    fill: Fill = "none",
) -> Shape:
    """Draw straight lines from point to point."""
    steps = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    look = {**_stroke(stroke), **_fill(fill)}
    markup = _tag("path", d=f"M{steps}{'Z' if closed else ''}", **look)
    return Shape(markup, around(points).grown(stroke.weight / 2 if stroke else 0.0))


def line(start: Point, end: Point, stroke: Stroke = THIN) -> Shape:
    """Draw one straight line."""
    return path((start, end), stroke)


def rectangle(box: Box, stroke: Stroke | None = PLAIN, fill: Fill = "none") -> Shape:
    """Draw a box."""
    return path(box.corners, stroke, closed=True, fill=fill)


def circle(
    centre: Point, radius: float, stroke: Stroke | None = PLAIN, fill: Fill = "none"
) -> Shape:
    """Draw a circle."""
    x, y = centre
    size = {"cx": number(x), "cy": number(y), "r": number(radius)}
    box = Box(x, y, x, y).grown(radius + (stroke.weight / 2 if stroke else 0.0))
    return Shape(_tag("circle", **size, **{**_stroke(stroke), **_fill(fill)}), box)


def symbol(name: str, at: Point, size: float = 1.4) -> Shape:
    """Draw a small ``circle``, ``square``, ``triangle`` or, filled, ``diamond``."""
    if name == "circle":
        return circle(at, size, PLAIN, "paper")
    first, count = {"square": (45, 4), "triangle": (30, 3), "diamond": (0, 4)}[name]
    turns = [math.radians(first + step * 360 / count) for step in range(count)]
    rim = [(at[0] + size * math.cos(turn), at[1] + size * math.sin(turn)) for turn in turns]
    return path(rim, PLAIN, closed=True, fill="ink" if name == "diamond" else "paper")


def plain_text(words: str) -> str:
    """Put a harmless sign where a character may not stand in XML or would reorder the line.

    Controls, lone surrogates and the marks that turn the direction of writing are the ones.
    """
    return "".join(
        " "
        if sign in "\t\n\r\u2028\u2029"
        else "\ufffd"
        if unicodedata.category(sign) in ("Cc", "Cs")
        or sign in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufffe\uffff"
        else sign
        for sign in words
    )


# Widths in ems after a wide face (DejaVu Sans), so that any ordinary sans-serif needs less.
_WIDTHS = {
    **dict.fromkeys("ijl|'", 0.31),
    **dict.fromkeys(" .,:;·It", 0.4),
    **dict.fromkeys("frJ()[]/-–!°", 0.42),
    **dict.fromkeys("ckszvxyEFL?ST", 0.62),
    **dict.fromkeys("mW", 1.0),
    **dict.fromkeys("wMN%OQ@…—GHD=+<>±&", 0.9),
}


def text_width(words: str, size: float = TEXT, *, bold: bool = False) -> float:
    """Return an estimate of the width of a line of text that few faces exceed."""
    ems = 0.0
    for sign in plain_text(words):
        if unicodedata.combining(sign):
            continue
        wide = unicodedata.east_asian_width(sign) in "WF"
        ordinary = 0.65 if sign.islower() or sign.isdigit() else 0.8
        ems += 1.05 if wide else _WIDTHS.get(sign, ordinary)
    return ems * size * (1.12 if bold else 1.0)


def fitted(words: str, room: float, size: float = TEXT, *, bold: bool = False) -> str:
    """Return the words, shortened with an ellipsis where they need more than ``room``."""
    if text_width(words, size, bold=bold) <= room:
        return words
    for end in range(len(words) - 1, 0, -1):
        shorter = words[:end].rstrip(" ,;:") + "…"
        if text_width(shorter, size, bold=bold) <= room:
            return shorter
    return "…"


def wrapped(
    words: str, room: float, size: float = TEXT, *, most: int = 2, bold: bool = False
) -> tuple[str, ...]:
    """Return the words in at most ``most`` lines, each shortened to ``room`` if need be."""
    rows: list[str] = []
    # A number and what it counts stay together.
    for word in re.sub(r"(?<=[0-9]) +(?=\S)", "\0", " ".join(words.split())).split(" "):
        word = word.replace("\0", " ")
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and (len(rows) == most or text_width(longer, size, bold=bold) <= room):
            rows[-1] = longer
        else:
            rows.append(word)
    return tuple(fitted(row, room, size, bold=bold) for row in rows if row)


def whole(rows: Sequence[str], words: str) -> bool:
    """Tell whether wrapped words are all there."""
    return "".join("".join(rows).split()) == "".join(words.split())


def text(
    at: Point,
    words: str,
    *,
    anchor: Anchor = "start",
    size: float = TEXT,
    bold: bool = False,
    turn: float = 0.0,
) -> Shape:
    """Write one line on the baseline ``at``, turned clockwise by ``turn`` degrees about it."""
    if size < SMALLEST_TEXT:
        raise DrawingError(f"text of {size} mm is smaller than {SMALLEST_TEXT} mm")
    x, y = at
    width = text_width(words, size, bold=bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    box = around(
        (x + across * cos - down * sin, y + across * sin + down * cos)
        for across in (left, left + width)
        for down in (-0.85 * size, 0.25 * size)
    )
    markup = _tag(
        "text",
        escape(plain_text(words)),
        x=number(x),
        y=number(y),
        font_size=number(size),
        font_weight="bold" if bold else "",
        text_anchor="" if anchor == "start" else anchor,
        transform=f"rotate({number(turn)} {number(x)} {number(y)})" if turn else "",
    )
    return Shape(markup, box, words)


@dataclass(frozen=True, slots=True)
class Label:
    """Lines of text that are placed as one block."""

    rows: tuple[str, ...]
    size: float = TEXT
    bold: bool = False

    @property
    def width(self) -> float:
        """How wide the longest line is."""
        return max((text_width(row, self.size, bold=self.bold) for row in self.rows), default=0.0)

    @property
    def height(self) -> float:
        """How high all lines are together."""
        return 1.15 * self.size * len(self.rows)

    def box(self, left: float, top: float) -> Box:
        """Return the space it takes at a place."""
        return Box(left, top, left + self.width, top + self.height)

    def at(self, left: float, top: float, anchor: Anchor = "start") -> tuple[Shape, ...]:
        """Write the lines; with another anchor, ``left`` is the middle or the right edge."""
        return tuple(
            text(
                (left, top + (1.15 * place + 0.87) * self.size),
                row,
                anchor=anchor,
                size=self.size,
                bold=self.bold,
            )
            for place, row in enumerate(self.rows)
        )


def beside(label: Label, spots: Iterable[Point]) -> Iterator[Box]:
    """Yield places for a label around each of the spots, the nearest first."""
    wide, high = label.width, label.height
    points = [*spots]
    for away in (1.0, 4.0, 8.0):
        for x, y in points:
            for top in (y - high - away / 2, y + away / 2, y - high / 2):
                yield label.box(x + away, top)
                yield label.box(x - wide - away, top)
            yield label.box(x - wide / 2, y - high - away)
            yield label.box(x - wide / 2, y + away)


def free_place(
    candidates: Iterable[Box],
    within: Box,
    taken: Sequence[Box],
    lines: Sequence[tuple[Point, Point]] = (),
) -> Box | None:
    """Return the candidate that overlaps nothing taken and is crossed by the fewest lines.

    Of equals, the first one wins.
    """
    best: tuple[int, Box] | None = None
    for box in candidates:
        if not within.holds(box) or any(box.meets(other) for other in taken):
            continue
        crossed = sum(box.cut(*ends) is not None for ends in lines)
        if best is None or crossed < best[0]:
            best = crossed, box
        if crossed == 0:
            break
    return best[1] if best else None


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: what it shows in a line, the same for those who cannot see it, shapes."""

    title: str
    description: str
    shapes: tuple[Shape, ...]
    width: float = NARROW

    @property
    def height(self) -> float:
        """How high the paper must be for all shapes."""
        return max((shape.box.bottom for shape in self.shapes), default=0.0) + MARGIN


def heading(title: str, width: float = NARROW) -> tuple[Shape, ...]:
    """Write the title at the head of a drawing."""
    rows = wrapped(title, width - 2 * MARGIN, HEADING, bold=True)
    return Label(rows, HEADING, bold=True).at(MARGIN, MARGIN)


def nothing_yet(title: str, description: str, sentence: str, width: float) -> Drawing:
    """Return a drawing that has no data to show, and says so in a sentence."""
    shapes = heading(title, width)
    words = Label(wrapped(sentence, width - 2 * MARGIN, most=6)).at(MARGIN, below(shapes))
    return Drawing(title, description, (*shapes, *words), width)


def below(shapes: Sequence[Shape], gap: float = 2.0) -> float:
    """Return where the next thing under these shapes may begin."""
    return max((shape.box.bottom for shape in shapes), default=MARGIN) + gap


_STYLE = (
    ".ww{color:var(--ww-ink,#111);height:auto}"
    + "".join(f".ww .ww-{n}{{color:var(--ww-{n},inherit)}}" for n in range(COLOURS))
    + ".ww .ww-paper{fill:var(--ww-paper,#fff)}"
    + "@media print{.ww{--ww-ink:#000;--ww-paper:#fff;width:var(--ww-width)}"
    + ".ww [class]{color:#000}}"
)


def page_style() -> str:
    """Return the rules for drawings in a page that allows no style of its own inside them."""
    widths = "".join(f".ww-mm{number(width)}{{{_size(width)}}}" for width in (NARROW, WIDE))
    return _STYLE + widths


def _size(width: float) -> str:
    least, most = number(width * SMALLEST_PIXELS / TEXT), number(1.6 * width)
    return f"--ww-width:{number(width)}mm;min-width:{least}px;max-width:{most}mm"


def render(drawing: Drawing, *, in_page: bool = False) -> str:
    """Return the drawing as SVG text, to stand in a file or in a page.

    In a page that has the rules of ``page_style`` it brings none of its own.
    """
    width, height = drawing.width, drawing.height
    paper = Box(0.0, 0.0, width, height)
    for shape in drawing.shapes:
        if not paper.holds(shape.box):
            raise DrawingError(f"this runs off the paper: {shape.words or shape.markup}")
    parts = [
        _tag("title", escape(plain_text(drawing.title))),
        _tag("desc", escape(plain_text(drawing.description))),
        *([] if in_page else [_tag("style", _STYLE)]),
        rectangle(paper, None, "paper").markup,
        *(shape.markup for shape in drawing.shapes),
    ]
    return (
        _tag(
            "svg",
            "\n" + "\n".join(parts) + "\n",
            xmlns="http://www.w3.org/2000/svg",
            class_=f"ww ww-mm{number(width)}" if in_page else "ww",
            viewBox=f"0 0 {number(width)} {number(height)}",
            width="100%",
            style="" if in_page else _size(width),
            role="img",
            aria_label=drawing.title,
            font_family="sans-serif",
            fill="currentColor",
        )
        + "\n"
    )
