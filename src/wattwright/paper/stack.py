"""Drawings one below the other, as one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wattwright.paper import number
from wattwright.paper.svg import Drawing, Shape, below, heading

_GAP = 4.0


def stacked(title: str, description: str, drawings: Sequence[Drawing]) -> Drawing:
    """Put drawings under one title; each keeps its own heading."""
    width = max(drawing.width for drawing in drawings)
    shapes = list(heading(title, width))
    for drawing in drawings:
        top = below(shapes, _GAP)
        shapes += (_moved(shape, top) for shape in drawing.shapes)
    return Drawing(title, description, tuple(shapes), width)


def _moved(shape: Shape, down: float) -> Shape:
    box = replace(shape.box, top=shape.box.top + down, bottom=shape.box.bottom + down)
    markup = f'<g transform="translate(0 {number(down)})">{shape.markup}</g>'
    return Shape(markup, box, shape.words)
