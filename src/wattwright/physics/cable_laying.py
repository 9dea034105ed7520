"""Laying cables: how sharply they may be bent.

bend_radius, bend_multiple
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Length, Ratio

PRACTICE = Source(
    "Bend as a multiple of the diameter, as makers of cables state it", "", "practice"
)

ASKED = {
    "outside": ("diameter over everything", "16 mm"),
    "multiple": ("multiple that the maker allows", "5"),
    "radius": ("radius to the inner side of the bend", "80 mm"),
}


@formula("r", PRACTICE)
def bend_radius(outside: Length, multiple: Ratio) -> Length:
    """Smallest radius of a bend, to its inner side.

    m·D: ``outside`` D in m, ``multiple`` m from the maker of the cable; where it is not known, 4
    for a cable laid once and 10 for one that moves, or has a screen, is common practice.
    """
    if outside <= 0 or multiple <= 0:
        raise FormulaError("diameter and multiple must be above zero")
    return multiple * outside


@formula("r/D", PRACTICE)
def bend_multiple(radius: Length, outside: Length) -> Ratio:
    """Bend of a cable as a multiple of its diameter.

    r/D: ``radius`` r to the inner side and ``outside`` D in m.
    """
    if outside <= 0:
        raise FormulaError("the diameter must be above zero")
    return radius / outside
