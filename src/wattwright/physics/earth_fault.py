"""Earth faults of a mains outlet: what trips, how high a case goes, what leaks.

    breaker     magnetic_trip, loop_current
    rod         touch_voltage
    leakage     leakage_sum, floating_voltage

For people with the licence to work on mains these are their own tests; for everybody else they say
what a figure on the electrician's sheet is good for.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Ratio, Resistance, Voltage

LOOP = Source(
    "IEC 60364-4-41", "automatic disconnection, Z_s·I_a ≤ U_0, as published guides cite it"
)
TT = Source("IEC 60364-4-41", "TT systems, R_A·I_Δn ≤ 50 V, as published guides cite it")
SUM = Source("Sum of currents", "", "computed")
HALVES = Source("Two equal capacitors from line and neutral to the case", "", "computed")

ASKED = {
    "rating": ("rating of the breaker", "16 A"),
    "multiple": ("multiple at which it opens at once: B 5, C 10, D 20", "5"),
    "voltage": ("voltage to earth", "230 V"),
    "loop": ("impedance of the fault loop", "0.8 Ω"),
    "rod": ("resistance of the earth rod", "100 Ω"),
    "trips_at": ("rated residual current", "30 mA"),
    "parts": ("leakage of each thing", "2 mA; 0.5 mA"),
}


@formula("I_a", LOOP)
def magnetic_trip(rating: Current, multiple: Ratio) -> Current:
    """Current at which a breaker opens at once: its ``rating`` in A times the ``multiple``.

    Of a curve the larger end of its band counts: B 5, C 10, D 20. Raises where either is not
    above zero.
    """
    if min(rating, multiple) <= 0:
        raise FormulaError("rating and multiple must be above zero")
    return rating * multiple


@formula("I_k", LOOP)
def loop_current(voltage: Voltage, loop: Resistance) -> Current:
    """Current of a fault from line to earth: U_0/Z_s, in V and Ω.

    Where a code reckons with a weak supply, ``voltage`` U_0 is its share of the nominal one, such
    as 95 %. ``loop`` Z_s at or below zero raises.
    """
    if loop <= 0:
        raise FormulaError("the impedance of the loop must be above zero")
    return voltage / loop


@formula("U_T", TT)
def touch_voltage(rod: Resistance, trips_at: Current) -> Voltage:
    """Voltage that a case may have before the residual-current device opens: R_A·I_Δn.

    ``rod`` R_A in Ω, ``trips_at`` I_Δn in A. Raises where either is below zero.
    """
    if min(rod, trips_at) < 0:
        raise FormulaError("neither resistance nor current is below zero")
    return rod * trips_at


@formula("I_Δ", SUM)
def leakage_sum(parts: Sequence[Current]) -> Current:
    """Leakage of all things together, taken as in phase, in A: the most it can be."""
    return sum(parts)


@formula("U_f", HALVES)
def floating_voltage(voltage: Voltage) -> Voltage:
    """Voltage of a case whose earth is open, seen by a meter that draws nothing: U/2.

    Filters hold it there through small capacitors: half of the mains, a tingle, and no fault that
    trips; the first real fault then puts all of it on the case.
    """
    return voltage / 2
