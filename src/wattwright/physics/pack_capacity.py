"""What a pack holds: new and old, warm and cold.

aged, at_temperature, energy_held, wall_energy

Capacity in coulombs is what comes out between full and empty at a small current. In the cold the
lowest voltage is met earlier; how much earlier differs between cells, so a straight line between
a warm and a cold point is as good as what is known of salvaged ones.
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Charge, Energy, EnergyPerDistance, Fraction, Temperature, Voltage

DEFINITION = Source("Definition", "", "computed")
COLD = Source("Straight line between a warm and a cold point", "", "practice")
WARM = 298.15  # K, at which data sheets state a capacity

ASKED = {
    "capacity": ("capacity", "66 Ah"),
    "aged.left": ("share of it left at the end of life", "80 %"),
    "at_temperature.left": ("share of it that comes out at the cold point", "70 %"),
    "coldest": ("temperature of the cold point", "-20 °C"),
    "temperature": ("temperature of the cells", "5 °C"),
    "voltage": ("mean voltage at rest", "350 V"),
    "energy": ("energy out of the pack for a distance", "180 Wh/km"),
    "efficiency": ("efficiency from the wall into the cells and out again", "86 %"),
}


@formula("Q", DEFINITION)
def aged(capacity: Charge, left: Fraction) -> Charge:
    """Capacity at the end of life.

    Q s: ``capacity`` Q in C now, and the share ``left`` s then.
    """
    return capacity * left


@formula("Q", COLD)
def at_temperature(
    capacity: Charge,
    left: Fraction,
    coldest: Temperature,
    temperature: Temperature,
    warm: Temperature = WARM,
) -> Charge:
    """Capacity at a temperature of the cells.

    Q (1 - (1 - s) (T_w - T)/(T_w - T_c)), no more than Q: ``capacity`` Q in C when ``warm`` T_w,
    25 °C, of which a share ``left`` s comes out at ``coldest`` T_c; ``temperature`` T in K. Below
    the coldest the line goes on.
    """
    if coldest >= warm:
        raise FormulaError("the cold point lies below 25 °C")
    return capacity * min(1.0, 1 - (1 - left) * (warm - temperature) / (warm - coldest))


@formula("E", DEFINITION)
def energy_held(capacity: Charge, voltage: Voltage) -> Energy:
    """Energy between full and empty at no load.

    Q U: ``capacity`` Q in C, mean ``voltage`` U in V at rest.
    """
    return capacity * voltage


@formula("e", DEFINITION)
def wall_energy(energy: EnergyPerDistance, efficiency: Fraction) -> EnergyPerDistance:
    """Energy out of the wall for a distance.

    e/η: ``energy`` e in J/m out of the pack, ``efficiency`` η from the wall into the cells and
    out again.
    """
    if efficiency <= 0:
        raise FormulaError("some of the energy must arrive")
    return energy / efficiency
