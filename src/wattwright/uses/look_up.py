"""Curves and grids in one flat sequence, looked up from where the last look-up ended.

All axes and heights stand behind one another in one sequence, since handing many arrays about was
measured to cost the compiled loop more than the arithmetic. ``places`` holds, for each axis, the
piece that was looked up last, where the axis begins and how many points it has, and behind them
where heights begin. Level beyond the ends. A value moves little from step to step, so walking from
the remembered piece takes no search; the piece found does not depend on where the walk begins.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence

from wattwright.uses import places as at

Floats = Sequence[float]
Places = MutableSequence[int]


def piece(x: float, maps: Floats, places: Places, axis: int) -> int:
    """Find the piece of an axis in which a value lies, remember it, and yield where it begins."""
    first = places[at.FIRST + axis]
    place = first + places[axis]
    last = first + places[at.POINTS + axis] - 2
    while place < last and x >= maps[place + 1]:
        place += 1
    while place > first and x < maps[place]:
        place -= 1
    places[axis] = place - first
    return place


def share(x: float, maps: Floats, place: int, points: int) -> float:
    """Share of a piece that lies before a value, from 0 to 1.

    Behind each axis stand the inverse lengths of its pieces, since multiplying is the quicker.
    """
    return min(1.0, max(0.0, (x - maps[place]) * maps[place + points]))


def on_curve(x: float, maps: Floats, places: Places, axis: int, heights: int) -> float:
    """Height of a curve at a value."""
    place = piece(x, maps, places, axis)
    height = places[heights] + place - places[at.FIRST + axis]
    low = maps[height]
    return low + (maps[height + 1] - low) * share(x, maps, place, places[at.POINTS + axis])


def on_grid(x: float, y: float, maps: Floats, places: Places, axis: int, heights: int) -> float:
    """Height of a grid at two values; ``axis`` is that of its rows, that of columns the next."""
    row = piece(x, maps, places, axis)
    column = piece(y, maps, places, axis + 1)
    width = places[at.POINTS + axis + 1]
    across = share(x, maps, row, places[at.POINTS + axis])
    along = share(y, maps, column, width)
    corner = places[heights] + places[axis] * width + places[axis + 1]
    below = corner + width
    first = maps[corner] + (maps[corner + 1] - maps[corner]) * along
    second = maps[below] + (maps[below + 1] - maps[below]) * along
    return first + (second - first) * across
