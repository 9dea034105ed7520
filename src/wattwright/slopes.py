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
) -> list[float | list[float]]:
    """Slope of the result along each argument; NaN where it cannot be followed.

    ``bands`` has the shape of ``numbers``: one band, or one for each member of a sequence.
    """
    slopes: list[float | list[float]] = []
    for place, band in enumerate(bands):
        if isinstance(band, Sequence):
            slopes.append(
                [
                    _partial(fn, numbers, number, (place, index), each)
                    for index, each in enumerate(band)
                ]
            )
        else:
            slopes.append(_partial(fn, numbers, number, (place, None), band))
    return slopes


def _partial(
    fn: Callable[..., float],
    numbers: Sequence[object],
    number: float,
    moved: tuple[int, int | None],
    band: float,
) -> float:
    """Slope over the band itself: the steeper side where the formula has a bend.

    A narrower step is tried where the formula ends inside the band. Returns NaN where no step
    works; an input without a band moves nothing.
    """
    if band == 0.0:
        return 0.0
    for share in (1.0, 0.1, 0.01):
        width = band * share
        sides = [
            side
            for side in (
                _shift(fn, numbers, number, moved, width),
                _shift(fn, numbers, number, moved, -width),
            )
            if side is not None
        ]
        if sides:
            return max(sides, key=abs)
    return math.nan


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
