"""Curves and grids: what was read off at many points, with one origin for all of them.

The numbers are plain SI, for looking up between. ``share`` is nought, with the relative band of the
whole: an area multiplies a number it looked up by one and the share, so that band, what it rests on
and what is lacking travel the same way as for any other input.
"""

from __future__ import annotations

from dataclasses import dataclass

from wattwright.values import Value


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
