"""Adjustment of measurements: what many readings together say of one quantity.

    adjusted      a quantity found by least squares, with the influence of every reading on it
    residual      a reading less what fits the others
    misfit        how well all readings agree, against how well they are said to be known

Readings that tell more than is needed contradict each other a little. Least squares finds the
quantities that fit all of them best, each weighed by how well it is known. The search itself is
done in plain numbers; what is stated is the last step of it, which is linear in the readings.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Anything, Count, Ratio

NORMAL_EQUATIONS = Source(
    "Least squares adjustment of indirect observations, Gauss-Newton step", "", "computed"
)


def _gradient(
    start: float,
    gains: Sequence[float],
    readings: Sequence[float],
    fitting: Sequence[float],
) -> tuple[float, Sequence[float], Sequence[float], Sequence[float]]:
    del start
    apart = [reading - fits for reading, fits in zip(readings, fitting, strict=True)]
    return 1.0, apart, gains, [-gain for gain in gains]


@formula("x", NORMAL_EQUATIONS, gradient=_gradient)
def adjusted(
    start: Anything,
    gains: Sequence[Anything],
    readings: Sequence[Anything],
    fitting: Sequence[Anything],
) -> Anything:
    """Quantity that fits all readings best.

    x_0 + Σ g_i (l_i - f_i): ``start`` x_0 from the search, in SI; ``readings`` l_i in the SI unit
    of each; ``fitting`` f_i what each would be at x_0; ``gains`` g_i, the row of (AᵀPA)⁻¹AᵀP for
    this quantity, in units of x over units of l. Holds where the readings are near what fits.
    """
    return start + sum(
        gain * (reading - fits)
        for gain, reading, fits in zip(gains, readings, fitting, strict=True)
    )


@formula("v", Source("Definition", "", "computed"))
def residual(fitting: Anything, reading: Anything) -> Anything:
    """Reading less what fits the others. Both in the SI unit of the reading; so is the result."""
    return reading - fitting


@formula("s_0", NORMAL_EQUATIONS)
def misfit(
    readings: Sequence[Anything],
    fitting: Sequence[Anything],
    deviations: Sequence[Anything],
    spare: Count,
) -> Ratio:
    """How well readings agree, against how well they are said to be known.

    √(Σ ((l_i - f_i)/σ_i)²/r): ``readings`` l_i, ``fitting`` f_i and ``deviations`` σ_i, each in the
    SI unit of its reading; ``spare`` r readings beyond what is needed. About one where the readings
    are as good as said, more where one is not.
    """
    if not spare >= 1:
        raise FormulaError("no reading is left over that could check the others")
    return sqrt(
        sum(
            ((reading - fits) / deviation) ** 2
            for reading, fits, deviation in zip(readings, fitting, deviations, strict=True)
        )
        / spare
    )
