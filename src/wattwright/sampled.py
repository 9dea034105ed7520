"""Curves, grids and routes: what was read at many points, with one origin for all of them.

The numbers are plain SI, for looking up between. ``share`` is nought, with the relative band of the
whole: an area multiplies a number it looked up by one and the share, so that band, what it rests on
and what is lacking travel the same way as for any other input.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from wattwright.values import Value


def looked_up(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    """Look up between points; ``xs`` never falls. Beyond the ends the end holds."""
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    after = bisect_right(xs, x)
    low, high = xs[after - 1], xs[after]
    return ys[after - 1] + (ys[after] - ys[after - 1]) * (x - low) / (high - low)


@dataclass(frozen=True, eq=False)
class Curve:
    """One quantity against another: ``y[i]`` at ``x[i]``, ``x`` growing; empty where not known."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    share: Value

    @property
    def known(self) -> bool:
        """True where there are points."""
        return self.share.known


@dataclass(frozen=True, eq=False)
class Grid:
    """One quantity over two others: ``z[i][j]`` at ``x[i]``, ``y[j]``, both growing."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    z: tuple[tuple[float, ...], ...]
    share: Value

    @property
    def known(self) -> bool:
        """True where there are points."""
        return self.share.known


@dataclass(frozen=True, slots=True)
class Note:
    """One thing that was done to what somebody recorded: what, where, and how much.

    ``of_distance`` says that the way may be longer than what is driven of it.
    """

    text: str
    where: str
    amount: str
    of_distance: bool = False

    def __str__(self) -> str:
        return ", ".join(piece for piece in (self.text, self.where, self.amount) if piece)


@dataclass(frozen=True, eq=False)
class Route:
    """A way driven or planned, as a file gives it, cleaned; empty where not known.

    ``places`` are distances along the road. ``times`` says when each was reached, ``speeds`` how
    fast it was passed; either is empty where the file does not say. ``along`` and ``altitudes``
    are the line of the road over the same distance, straight between its points.
    """

    places: tuple[float, ...]
    times: tuple[float, ...]
    speeds: tuple[float, ...]
    along: tuple[float, ...]
    altitudes: tuple[float, ...]
    notes: tuple[Note, ...]
    share: Value

    @property
    def known(self) -> bool:
        """True where there are points."""
        return self.share.known

    @property
    def needs_speed(self) -> bool:
        """True where the file says neither when a place was reached nor how fast."""
        return self.known and not self.times and not self.speeds
