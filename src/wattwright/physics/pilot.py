"""The pilot and proximity lines between supply box and vehicle: volts, ohms, duty and current.

    pilot       pilot_current, pilot_duty, pilot_high, pilot_low_without_diode, pilot_average
    resistors   side_by_side
    proximity   proximity_voltage

The box feeds the pilot through 1 kΩ: steady +12 V until a vehicle is there, then a square wave of
1 kHz between what the vehicle's resistors make of +12 V, and -12 V, which its diode keeps off them.
The share of time that it is high says how much may be drawn.
"""

from __future__ import annotations

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Fraction, Resistance, Voltage

DUTY = Source("IEC 61851-1, annex A", "duty cycle and current, as test manuals cite it", "seen")
DIVIDER = Source("Ohm's law, two resistors in series", "", "computed")
MEAN = Source("Mean of a square wave", "", "computed")

# Above the first of these shares another rule holds, up to the second.
_KNEE = 0.85
_LOWEST, _HIGHEST = 0.10, 0.96

ASKED = {
    "duty": ("share of time that the pilot is high", "26.7 %"),
    "current": ("current that may be drawn", "16 A"),
    "source": ("voltage that the box feeds", "12 V"),
    "source_resistance": ("resistance in the box", "1000 Ω"),
    "resistance": ("resistance from pilot to earth in the vehicle", "882 Ω"),
    "diode": ("voltage over the diode", "0.7 V"),
    "first": ("first resistor", "2740 Ω"),
    "second": ("second resistor", "1300 Ω"),
    "high": ("upper level", "9 V"),
    "low": ("lower level", "-12 V"),
    "supply": ("voltage of the vehicle's pull-up", "5 V"),
    "pull_up": ("resistor to that voltage", "330 Ω"),
    "to_earth": ("resistance from proximity to earth", "142 Ω"),
}


@formula("I", DUTY)
def pilot_current(duty: Fraction) -> Current:
    """Current that a pilot allows.

    60 A · D from 10 % to 85 %, 250 A · (D - 0.64) above that up to 96 %: ``duty`` D as a share. At
    85 % the rule steps from 51 A to more than 52.5 A. Below 8 % it says nothing of current (5 %
    asks for a digital line), from 8 % to 10 % 6 A, above 96 % 80 A: these raise.
    """
    if not _LOWEST <= duty <= _HIGHEST:
        raise FormulaError("a pilot says a current by this rule from 10 % to 96 % alone")
    return 60 * duty if duty <= _KNEE else 250 * (duty - 0.64)


@formula("D", DUTY)
def pilot_duty(current: Current) -> Fraction:
    """Share of time that a pilot is high to allow a current.

    I/60 A up to 51 A, I/250 A + 0.64 from 52.5 A to 80 A: ``current`` I in A, at least 6 A. What
    lies between the two has no duty of its own and raises.
    """
    if not 6 <= current <= 80 or 51 < current < 52.5:
        raise FormulaError("a pilot says 6 A to 51 A, or 52.5 A to 80 A")
    return current / 60 if current <= 51 else current / 250 + 0.64


@formula("R", DIVIDER)
def side_by_side(first: Resistance, second: Resistance) -> Resistance:
    """Resistance of two resistors side by side: R_1·R_2/(R_1 + R_2), both in Ω."""
    if min(first, second) <= 0:
        raise FormulaError("both resistances must be above zero")
    return first * second / (first + second)


@formula("U", DIVIDER)
def pilot_high(
    source: Voltage, source_resistance: Resistance, resistance: Resistance, diode: Voltage
) -> Voltage:
    """Upper level of the pilot with a vehicle on it.

    U_d + (U_0 - U_d)·R/(R + R_0): ``source`` U_0 and ``diode`` U_d in V, ``source_resistance`` R_0
    and ``resistance`` R of the vehicle in Ω. Taken between pilot and earth at the inlet.
    """
    if min(source_resistance, resistance) <= 0:
        raise FormulaError("both resistances must be above zero")
    return diode + (source - diode) * resistance / (resistance + source_resistance)


@formula("U", DIVIDER)
def pilot_low_without_diode(
    source: Voltage, source_resistance: Resistance, resistance: Resistance
) -> Voltage:
    """Lower level of the pilot where the diode is missing or shorted.

    -U_0·R/(R + R_0): what the box takes for a fault, with ``source`` U_0 in V above zero and both
    resistances in Ω. With the diode it stays at -U_0.
    """
    if min(source_resistance, resistance) <= 0:
        raise FormulaError("both resistances must be above zero")
    return -source * resistance / (resistance + source_resistance)


@formula("Ū", MEAN)
def pilot_average(duty: Fraction, high: Voltage, low: Voltage) -> Voltage:
    """What an ordinary voltmeter on direct current shows of a pilot: its mean.

    D·U_h + (1 - D)·U_l: ``duty`` D as a share, ``high`` and ``low`` levels in V.
    """
    if not 0 <= duty <= 1:
        raise FormulaError("a share of time lies between 0 and 1")
    return duty * high + (1 - duty) * low


@formula("U", DIVIDER)
def proximity_voltage(supply: Voltage, pull_up: Resistance, to_earth: Resistance) -> Voltage:
    """Voltage of the proximity line: U_0·R/(R + R_p), with ``to_earth`` R and ``pull_up`` R_p in Ω.

    ``supply`` U_0 in V is what the vehicle feeds its own pull-up with.
    """
    if pull_up <= 0 or to_earth < 0:
        raise FormulaError("the pull-up is above zero, and no resistance is below")
    return supply * to_earth / (to_earth + pull_up)
