"""Published current ratings of cables, and what is taken off them.

    ambient_factor       for air warmer or colder than the table's
    derated              rating with every factor on it
    continuous_rating    rating that a long load needs
    used                 share of it

A table holds in its own conditions only: so many loaded conductors, so laid, in air so warm, with
a conductor that may get so hot. Factors multiply. A rating of a table is for hours; what a cable
stands for a minute is worked out over time.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import prod, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Fraction, Ratio, Temperature

AMBIENT = Source(
    "IEC 60364-5-52, table B.52.14, and NFPA 70, 310.15(B)", "the rule behind both", "memory"
)
FACTORS = Source("IEC 60364-5-52 and NFPA 70, 310.15", "factors multiply", "memory")
CONTINUOUS = Source("NFPA 70", "210.19(A) and 210.20(A)")

ASKED = {
    "limit": ("temperature that the conductor may have", "90 °C"),
    "ambient": ("temperature of the air around the cable", "50 °C"),
    "reference": ("temperature of the air in the table", "30 °C"),
    "rating": ("rating in the table", "57 A"),
    "factors": ("factors on it", "0.87; 0.8"),
    "continuous": ("current that flows for three hours or more", "32 A"),
    "current": ("current through the cable", "46 A"),
    "used.rating": ("rating of the cable as it is laid", "57 A"),
    "other": ("other current at the same time", "2 A"),
    "margin": ("what a continuous current counts for", "1.25"),
}


@formula("k_a", AMBIENT)
def ambient_factor(limit: Temperature, ambient: Temperature, reference: Temperature) -> Ratio:
    """Factor on a rating for air that is warmer or colder than the table's.

    √((T_c - T_a)/(T_c - T_ref)): ``limit`` T_c of the conductor, ``ambient`` T_a and ``reference``
    T_ref in K. Loss by current squared, and heat given off in proportion to the rise; the tables
    round it. The rise of the resistance does not count, as the conductor is as hot in either case.
    """
    if not reference < limit:
        raise FormulaError("the conductor may be hotter than the air of the table")
    if ambient >= limit:
        raise FormulaError("in air as hot as the conductor may be, no current is allowed")
    return sqrt((limit - ambient) / (limit - reference))


@formula("I_z", FACTORS)
def derated(rating: Current, factors: Sequence[Ratio]) -> Current:
    """Rating of a cable as it is laid.

    I_t·Π k: ``rating`` I_t of the table in A, ``factors`` k for warm air, for cables side by side,
    for turns on a drum.
    """
    if min(factors) < 0:
        raise FormulaError("a factor is never below zero")
    return rating * prod(factors)


@formula("I_z", AMBIENT)
def in_warm_air(
    rating: Current, limit: Temperature, ambient: Temperature, reference: Temperature
) -> Current:
    """Rating of a table in air warmer than its own; in colder air the rating stands.

    I_t·min(1, √((T_c - T_a)/(T_c - T_ref))): ``rating`` I_t in A, ``limit`` T_c of the conductor,
    ``ambient`` T_a and ``reference`` T_ref in K.
    """
    if not reference < limit:
        raise FormulaError("the conductor may be hotter than the air of the table")
    if ambient >= limit:
        raise FormulaError("in air as hot as the conductor may be, no current is allowed")
    return rating * min(1.0, sqrt((limit - ambient) / (limit - reference)))


@formula("I", CONTINUOUS)
def continuous_rating(continuous: Current, other: Current, margin: Ratio) -> Current:
    """Rating that cable and fuse need for a load that lasts.

    k·I_c + I_o: ``continuous`` I_c flows for three hours or more, as charging does, ``other`` I_o
    does not, A; ``margin`` k is 1.25.
    """
    return margin * continuous + other


@formula("I/I_z", Source("Definition", "", "computed"))
def used(current: Current, rating: Current) -> Fraction:
    """Share of a rating that is used. Both A."""
    if rating <= 0:
        raise FormulaError("the rating must be above zero")
    return current / rating
