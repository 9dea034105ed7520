"""Results of going through a use second by second, and what moves them.

    share_of                                       of an input: how far it is from where it was run
    distance_about, consumption_about, energy_about, temperature_about, current_about,
    charge_left_about                              of the use, around the run

A run over time has no formula of its own; it takes its equations step by step, each of them a
formula of the modules beside this one. Around the run its result is stated by elasticities: by
what share it moves when an input moves by a share, from runs on either side of it. That statement
is an ordinary formula, so that every input keeps its influence on the result, its band and its
rank among what should be measured.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Anything,
    Current,
    Energy,
    EnergyPerDistance,
    Fraction,
    Length,
    Ratio,
    Temperature,
)

RUN = Source("Going through the use second by second", "equations of the vehicle", "computed")
METHOD = (
    "the use is run second by second with all inputs as they are, and once more with each input "
    "at either end of its band; the formula is the straight line through these"
)


@formula("x", Source("Definition", "", "computed"))
def share_of(value: Anything, run_with: Anything) -> Ratio:
    """How far an input is from the number a use was run with, as a share of that."""
    if run_with == 0:
        raise FormulaError("a share of nothing is no number")
    return value / run_with - 1


def _slopes(
    base: float, elasticities: Sequence[float], shares: Sequence[float]
) -> tuple[float, list[float], list[float]]:
    return (
        1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)),
        [base * share for share in shares],
        [base * elasticity for elasticity in elasticities],
    )


@formula("d", RUN, gradient=_slopes, method=METHOD)
def distance_about(base: Length, elasticities: Sequence[Ratio], shares: Sequence[Ratio]) -> Length:
    """Distance driven in a use, around the run.

    d_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))


@formula("e", RUN, gradient=_slopes, method=METHOD)
def consumption_about(
    base: EnergyPerDistance, elasticities: Sequence[Ratio], shares: Sequence[Ratio]
) -> EnergyPerDistance:
    """Energy for a distance in a use, around the run.

    e_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))


@formula("E", RUN, gradient=_slopes, method=METHOD)
def energy_about(base: Energy, elasticities: Sequence[Ratio], shares: Sequence[Ratio]) -> Energy:
    """Energy in a use, around the run.

    E_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))


@formula("T", RUN, gradient=_slopes, method=METHOD)
def temperature_about(
    base: Temperature, elasticities: Sequence[Ratio], shares: Sequence[Ratio]
) -> Temperature:
    """Temperature reached in a use, around the run.

    T_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))


@formula("I", RUN, gradient=_slopes, method=METHOD)
def current_about(base: Current, elasticities: Sequence[Ratio], shares: Sequence[Ratio]) -> Current:
    """Current in a use, around the run.

    I_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))


@formula("s", RUN, gradient=_slopes, method=METHOD)
def charge_left_about(
    base: Fraction, elasticities: Sequence[Ratio], shares: Sequence[Ratio]
) -> Fraction:
    """Charge left after a use, around the run.

    s_0 (1 + Σ e x): ``base`` from the run, ``elasticities`` e and ``shares`` x of the inputs.
    """
    return base * (1 + sum(e * x for e, x in zip(elasticities, shares, strict=True)))
