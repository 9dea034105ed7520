"""How many times over a gear gives what is wanted of it.

    speed_reserve, grade_reserve, time_reserve   what is given over what is wanted
    smallest_reserve                             the one that decides

One is just enough; the gear whose smallest reserve is largest is the best single gear.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Grade, Ratio, Speed, Time

SHARE = Source("What is given over what is wanted", "", "computed")

ASKED = {
    "speed_reserve.given": ("speed that the gear reaches", "110 km/h"),
    "speed_reserve.wanted": ("speed wanted", "90 km/h"),
    "grade_reserve.given": ("grade that the gear climbs or starts on", "22 %"),
    "grade_reserve.wanted": ("grade wanted", "18 %"),
    "time_reserve.given": ("time that the gear takes", "9 s"),
    "time_reserve.wanted": ("time wanted", "12 s"),
    "reserves": ("reserves of the gear", "1.22; 1.33; 1.1"),
}


@formula("r", SHARE)
def speed_reserve(given: Speed, wanted: Speed) -> Ratio:
    """Speed that a gear reaches over the one wanted."""
    if wanted <= 0:
        raise FormulaError("a wanted speed must be above zero")
    return given / wanted


@formula("r", SHARE)
def grade_reserve(given: Grade, wanted: Grade) -> Ratio:
    """Grade that a gear climbs or starts on over the one wanted."""
    if wanted <= 0:
        raise FormulaError("a wanted grade must be above zero")
    return given / wanted


@formula("r", SHARE)
def time_reserve(given: Time, wanted: Time) -> Ratio:
    """Time wanted over the one a gear takes."""
    if given <= 0:
        raise FormulaError("a time must be above zero")
    return wanted / given


@formula("r_min", Source("The weakest point decides", "", "computed"))
def smallest_reserve(reserves: Sequence[Ratio]) -> Ratio:
    """Smallest of the reserves of a gear."""
    if not reserves:
        raise FormulaError("nothing is wanted that a gear could be measured by")
    return min(reserves)
