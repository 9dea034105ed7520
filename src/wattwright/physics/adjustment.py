"""Adjusted quantities: what many readings that are not all needed say together.

adjusted        one adjusted quantity from all readings, one step from where it was found
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.formula import Source, formula
from wattwright.kinds import Anything

LEAST_SQUARES = Source("Method of least squares", "one step of Gauss and Newton", "computed")


def _gradient(
    start: float, gains: Sequence[float], readings: Sequence[float], fitting: Sequence[float]
) -> tuple[float, list[float], list[float], list[float]]:
    del start
    apart = [reading - fits for reading, fits in zip(readings, fitting, strict=True)]
    return 1.0, apart, list(gains), [-gain for gain in gains]


@formula("x̂", LEAST_SQUARES, gradient=_gradient)
def adjusted(
    start: Anything,
    gains: Sequence[Anything],
    readings: Sequence[Anything],
    fitting: Sequence[Anything],
) -> Anything:
    """Quantity adjusted to all readings, one step from where it was found."""
    return start + sum(
        gain * (reading - fits)
        for gain, reading, fits in zip(gains, readings, fitting, strict=True)
    )
