"""What a tyre carries.

    load_capacity      from the load index on the sidewall
    load_from_table    from the tyre maker's table, at its pressure
    load_at_pressure   less, where it runs below the pressure its index is rated at

Sources: UN Regulations No. 30 and No. 54 for the index; the ETRTO Standards Manual, passenger
car tyres, for the exponent.
"""

from __future__ import annotations

import math

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Count, GaugePressure, Mass
from wattwright.tables import load

# Only rows that may make a limit.
LOAD_OF_INDEX = {
    row.number("load_index"): row.number("max_load_kg")
    for row in load("tyre_load_index")
    if row.limits
}

# Above this rated pressure a tyre is of the commercial kind, for which no exponent was found in
# a standard. The printed table for tyres rated at 2.5 bar begins at 1.5 bar, 0.6 of it.
PASSENGER_PRESSURE = 295_000.0
# So close below the rated pressure the exponents in use (0.5 to 0.8) differ by less than a
# hundredth, and a gauge cannot tell the difference.
GAUGE_TRUST = 0.97

ASKED = {
    "load_index": ("load index on the sidewall", "79"),
    "table_load": ("load in the tyre maker's table", "437 kg"),
    "pressure": ("pressure in the tyre", "2.4 bar"),
    "table_pressure": ("pressure that this load is for", "2.4 bar"),
    "capacity": ("load at the rated pressure", "437 kg"),
    "rated_pressure": ("rated pressure", "2.5 bar"),
}


@formula("m_tyre", Source("UN Regulation No. 54", "Annex IV, load-capacity indices", "seen"))
def load_capacity(load_index: Count) -> Mass:
    """Load that one tyre of this index carries at its rated pressure."""
    if load_index not in LOAD_OF_INDEX:
        raise FormulaError(
            f"no load index {load_index:g} in the table; read the load on the sidewall in kg or lb"
        )
    return LOAD_OF_INDEX[load_index]


@formula("m_table", Source("The tyre maker's table of load and pressure", "", "seen"))
def load_from_table(
    table_load: Mass, pressure: GaugePressure, table_pressure: GaugePressure
) -> Mass:
    """Load that the tyre maker's table gives, lowered for a gauge that reads a little less."""
    if pressure < GAUGE_TRUST * table_pressure:
        raise FormulaError("the tyre runs softer than the pressure the table's load is for")
    return table_load * math.pow(min(1.0, pressure / table_pressure), 0.8)


@formula(
    "m_p",
    Source("ETRTO Standards Manual", "passenger car tyres, metric designation, exponent 0.80"),
)
def load_at_pressure(
    capacity: Mass, pressure: GaugePressure, rated_pressure: GaugePressure
) -> Mass:
    """Load that a passenger tyre carries at a lower pressure than the one it is rated at."""
    if pressure < GAUGE_TRUST * rated_pressure and rated_pressure > PASSENGER_PRESSURE:
        raise FormulaError(
            "a commercial tyre below its rated pressure: read the load at this pressure in the "
            "tyre maker's table"
        )
    if pressure < 0.6 * rated_pressure:
        raise FormulaError("below 0.6 of the rated pressure no tyre table gives a load")
    return capacity * math.pow(min(1.0, pressure / rated_pressure), 0.8)
