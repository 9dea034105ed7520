"""Heat that flows and heat that is kept, of bodies with one temperature each.

    paths    parallel, derating_begins
    cabin    heater_power
    pack     heat_capacity_by_energy

Source: any textbook of heat transfer on lumped bodies.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Energy,
    HeatCapacity,
    Power,
    Ratio,
    Temperature,
    TemperatureDifference,
    ThermalConductance,
    ThermalResistance,
)

LUMPED = Source("Incropera and others, Fundamentals of Heat and Mass Transfer", "ch. 3", "memory")
DEFINITION = Source("Definition", "", "computed")
CELLS = Source("Cells with their modules: heat capacity by energy", "", "practice")

ASKED = {
    "each": ("thermal resistance of each path", "40 K/kW; 60 K/kW"),
    "limit": ("temperature at which nothing is left", "140 °C"),
    "span": ("how far below it power begins to be taken back", "15 K"),
    "heat_loss": ("heat lost for each kelvin, with the air let in", "60 W/K"),
    "inside": ("temperature inside", "20 °C"),
    "outside": ("temperature outside", "-5 °C"),
    "gain": ("heat for each watt taken, 1 for a heating element", "1"),
    "energy": ("energy that the cells hold when full", "22 kWh"),
    "warming": ("by how much all of it would warm them", "500 K"),
}


@formula("R", DEFINITION)
def parallel(each: Sequence[ThermalResistance]) -> ThermalResistance:
    """Thermal resistance of paths side by side.

    1/Σ(1/R): ``each`` R in K/W; result K/W.
    """
    if min(each) <= 0:
        raise FormulaError("a thermal resistance must be above zero")
    return 1 / sum(1 / resistance for resistance in each)


@formula("T", DEFINITION)
def derating_begins(limit: Temperature, span: TemperatureDifference) -> Temperature:
    """Temperature from which power is taken back.

    T_limit - ΔT: ``limit`` in K at which nothing is left, ``span`` in K below it.
    """
    return limit - span


@formula("P", LUMPED)
def heater_power(
    heat_loss: ThermalConductance, inside: Temperature, outside: Temperature, gain: Ratio
) -> Power:
    """Power that keeps a cabin warm.

    G max(0, T_i - T_o)/k: ``heat_loss`` G in W/K with the air that is let in, ``inside`` and
    ``outside`` temperature in K, ``gain`` k: heat for each watt taken, 1 for a heating element.
    Steady; warming the cabin through takes more.
    """
    if gain <= 0:
        raise FormulaError("a heater gives more than no heat")
    return heat_loss * max(0.0, inside - outside) / gain


@formula("C", CELLS)
def heat_capacity_by_energy(energy: Energy, warming: TemperatureDifference) -> HeatCapacity:
    """Heat capacity of cells with their modules.

    E/ΔT: ``energy`` E in J they hold when full, and by how much all of it would warm them,
    ``warming`` ΔT in K.
    """
    if warming <= 0:
        raise FormulaError("heat warms")
    return energy / warming
