"""Results of going through a use second by second, and what moves them.

    bands_away, result_around    a result as a straight line through runs around the first
    ratio_to                     what a number is of the one a run was made with
    times, total                 a quantity so many times over, and the sum of several

A run over time has no formula of its own; it takes its equations step by step, each of them a
formula of the modules beside this one. Around the run a result is stated by how far it shifts
when an input moves over its band, from runs at either end of that. The statement is an ordinary
formula, so that every input keeps its influence on the result, its band and its rank among what
should be measured.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Anything, Ratio

RUN = Source("Going through the use second by second", "equations of the vehicle", "computed")
DEFINITION = Source("Definition", "", "computed")
METHOD = (
    "the use is run second by second with all inputs as they are, and once more with each input "
    "at either end of its band, where the further end counts; a straight line through these"
)


@formula("z", DEFINITION)
def bands_away(value: Anything, run_with: Anything, band: Anything) -> Ratio:
    """How far an input is from the number a use was run with, in its own bands.

    (x - x_0)/b: ``value`` x, ``run_with`` x_0 and ``band`` b, all of one kind.
    """
    if band <= 0:
        raise FormulaError("a band must be above zero")
    return (value - run_with) / band


def _along(
    _: float, shifts: Sequence[float], away: Sequence[float]
) -> tuple[float, Sequence[float], Sequence[float]]:
    return 1.0, away, shifts


@formula("y", RUN, gradient=_along, method=METHOD)
def result_around(base: Anything, shifts: Sequence[Anything], away: Sequence[Ratio]) -> Anything:
    """Result of going through a use, around the run.

    y_0 + Σ s z: ``base`` y_0 from the run, ``shifts`` s over the band of each input, and how many
    of its bands each is ``away`` z; of any kind, shifts of the kind of the base.
    """
    return base + sum(s * z for s, z in zip(shifts, away, strict=True))


@formula("k", DEFINITION)
def ratio_to(value: Anything, run_with: Anything) -> Ratio:
    """What a number is of the one a run was made with.

    x/x_0: ``value`` x over ``run_with`` x_0, both of one kind.
    """
    if run_with == 0:
        raise FormulaError("a share of nothing is no number")
    return value / run_with


@formula("y", DEFINITION)
def times(base: Anything, ratio: Ratio) -> Anything:
    """A quantity so many times over.

    y_0 k: ``base`` y_0 of any kind, ``ratio`` k.
    """
    return base * ratio


@formula("Σ", DEFINITION)
def total(each: Sequence[Anything]) -> Anything:
    """Sum of several quantities.

    Σ x: ``each`` x, all of one kind.
    """
    return sum(each)
