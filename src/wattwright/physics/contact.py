"""Contacts: what a lug or a plug turns to heat, and how warm that makes it.

    resistance    from_drop, allowed_resistance
    heat          contact_heat, contact_temperature
    spots         hottest_spot

A good bolted lug has some tens of microohms, a pin some hundreds. Heat goes as current squared, and
a bad contact gets worse as it gets hot: a rise above that of the cable beside it is a fault that
grows.
"""

from __future__ import annotations

from math import sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Current,
    Power,
    Resistance,
    Temperature,
    TemperatureDifference,
    ThermalResistance,
    Voltage,
)

OHM = Source("Ohm's law", "", "computed")
HOLM = Source("Holm, Electric Contacts", "voltage and temperature of a constriction", "memory")

LORENZ = 2.45e-8  # V²/K², the same for all metals

ASKED = {
    "drop": ("voltage across the contact, without the cable", "4 mV"),
    "current": ("current", "200 A"),
    "resistance": ("resistance of the contact", "20 µΩ"),
    "path": ("thermal resistance from the contact to the air", "5 K/W"),
    "ambient": ("temperature of the air", "40 °C"),
    "rise": ("rise that is allowed", "30 K"),
    "body": ("temperature of the metal around the contact", "60 °C"),
}


@formula("R_c", OHM)
def from_drop(drop: Voltage, current: Current) -> Resistance:
    """Resistance of a contact, from the voltage across it.

    U/I: ``drop`` U in V from metal to metal close to the contact, ``current`` I in A at the time.
    """
    if current <= 0:
        raise FormulaError("a current must flow while the voltage is measured")
    return drop / current


@formula("P_c", OHM)
def contact_heat(current: Current, resistance: Resistance) -> Power:
    """Heat of a contact.

    I²·R: ``current`` I in A, ``resistance`` R in Ω as warm as it is.
    """
    return current**2 * resistance


@formula("T_c", Source("Heat through a thermal resistance", "", "computed"))
def contact_temperature(
    current: Current, resistance: Resistance, path: ThermalResistance, ambient: Temperature
) -> Temperature:
    """Temperature of a contact after hours.

    T_a + I²·R·R_th: ``current`` I in A, ``resistance`` R in Ω, ``path`` R_th in K/W from the
    contact to the air, cable and housing together, ``ambient`` T_a in K. What the cable beside it
    gives off warms the contact too: take the temperature of the cable for that of the air where it
    is higher.
    """
    if path < 0 or resistance < 0:
        raise FormulaError("resistances are never below zero")
    return ambient + current**2 * resistance * path


@formula("R_c", Source("Heat through a thermal resistance", "", "computed"))
def allowed_resistance(
    rise: TemperatureDifference, current: Current, path: ThermalResistance
) -> Resistance:
    """Largest resistance with which a contact stays below a rise.

    ΔT/(I²·R_th): ``rise`` ΔT in K, ``current`` I in A, ``path`` R_th in K/W.
    """
    if current <= 0 or path <= 0:
        raise FormulaError("current and thermal resistance must be above zero")
    return rise / (current**2 * path)


@formula("T_max", HOLM, valid={"drop": (0.0, 0.3)})
def hottest_spot(body: Temperature, drop: Voltage) -> Temperature:
    """Temperature of the spots that carry the current of a contact.

    √(T_0² + U²/(4 L)), L = 2.45·10⁻⁸ V²/K²: ``body`` T_0 in K of the metal around, ``drop`` U in V
    across the contact. It holds between like clean metals, whatever their size; copper softens at
    some 0.12 V and melts at some 0.43 V. A film on the metal makes it hotter.
    """
    if drop < 0 or body <= 0:
        raise FormulaError("the voltage is taken without its sign, the temperature in kelvin")
    return sqrt(body**2 + drop**2 / (4 * LORENZ))
