"""Slopes of a function over the bands of its arguments, where no exact gradient is declared."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from wattwright.errors import FormulaError


def finite(number: float) -> float:
    """Refuse infinities and what is not a number."""
    if not math.isfinite(number):
        raise FormulaError("the result is not a finite number")
    return number


def slopes_over(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    bands: Sequence[float | Sequence[float]],
) -> tuple[list[float | list[float]], bool]:
    """Slope of the result along each argument, and whether a band leaves the formula's range.

    ``bands`` has the shape of ``numbers``: one band, or one for each member of a sequence.
    """
    slopes: list[float | list[float]] = []
    cut_short = False
    for place, band in enumerate(bands):
        each = enumerate(band) if isinstance(band, Sequence) else ((None, band),)
        found = [_partial(fn, numbers, number, (place, index), width) for index, width in each]
        cut_short = cut_short or any(cut for _, cut in found)
        along = [slope for slope, _ in found]
        slopes.append(along if isinstance(band, Sequence) else along[0])
    return slopes, cut_short


def _partial(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    moved: tuple[int, int | None],
    band: float,
) -> tuple[float, bool]:
    """Slope over the band itself: the steeper side where the formula has a bend.

    Where the formula ends inside the band, narrower steps are tried too, the steepest counts,
    and the second of the pair is true. An input without a band moves nothing.
    """
    if band == 0.0:
        return 0.0, False
    sides = [_shift(fn, numbers, number, moved, width) for width in (band, -band)]
    cut_short = None in sides
    if cut_short:
        narrower = (band * share for share in (0.1, -0.1, 0.01, -0.01))
        sides += [_shift(fn, numbers, number, moved, width) for width in narrower]
    slopes = [side for side in sides if side is not None]
    return max(slopes, key=abs, default=0.0), cut_short


def _shift(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    moved: tuple[int, int | None],
    width: float,
) -> float | None:
    place, index = moved
    args = list(numbers)
    before = args[place]
    if index is None:
        args[place] = before + width  # type: ignore[operator]
    else:
        row = list(before)  # type: ignore[call-overload]
        row[index] += width
        args[place] = row
    try:
        return (finite(fn(*args)) - number) / width
    except (ArithmeticError, ValueError):
        return None
