"""Bars from nought, one below the other, each with its name and its number."""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.kinds import Kind
from wattwright.paper import MARGIN, NARROW, Box
from wattwright.paper.svg import (
    NOTHING,
    THIN,
    Drawing,
    Label,
    Shape,
    below,
    heading,
    line,
    nothing_yet,
    rectangle,
    wrapped,
)
from wattwright.units import Taste, write

_HIGH, _GAP = 5.0, 2.4


@dataclass(frozen=True, slots=True)
class Bar:
    """One amount in SI, which may be below nought; ``band`` is how far it may be off."""

    name: str
    value: float
    band: float | None = None


@dataclass(frozen=True, slots=True)
class Bars:
    """Amounts of one kind. ``empty`` is the sentence shown where there are none."""

    title: str
    description: str
    kind: Kind
    bars: tuple[Bar, ...]
    empty: str = NOTHING
    width: float = NARROW


def draw_bars(bars: Bars, taste: Taste = "metric") -> Drawing:
    """Draw bars."""
    if not bars.bars:
        return nothing_yet(bars.title, bars.description, bars.empty, bars.width)
    shapes: list[Shape] = [*heading(bars.title, bars.width)]
    names = [Label(wrapped(bar.name, 0.3 * bars.width, most=2)) for bar in bars.bars]
    numbers = [Label((write(bar.value, bars.kind, taste, bar.band),)) for bar in bars.bars]
    left = MARGIN + max(label.width for label in names) + 3.0
    right = bars.width - MARGIN - max(label.width for label in numbers) - 3.0
    low = min(0.0, *(bar.value for bar in bars.bars))
    high = max(*(bar.value for bar in bars.bars), low + 1e-9)
    nought = left - low / (high - low) * (right - left)
    top = first = below(shapes, 3.0)
    for bar, name, amount in zip(bars.bars, names, numbers, strict=True):
        high_row = max(_HIGH, name.height)
        end = nought + bar.value / (high - low) * (right - left)
        middle = top + high_row / 2
        box = Box(min(nought, end), middle - _HIGH / 2, max(nought, end), middle + _HIGH / 2)
        shapes += name.at(MARGIN, middle - name.height / 2)
        shapes.append(rectangle(box, THIN, "shade"))
        shapes += amount.at(max(nought, end) + 2.0, middle - amount.height / 2)
        top += high_row + _GAP
    shapes.append(line((nought, first - 1.0), (nought, top - _GAP + 1.0)))
    return Drawing(bars.title, bars.description, tuple(shapes), bars.width)
