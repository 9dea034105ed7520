"""The pilot and proximity lines between supply box and vehicle: volts, ohms, duty and current.

    current     pilot_current, pilot_duty, coded_current
    levels      pilot_high, pilot_low, pilot_low_without_diode, pilot_off, pilot_average
    resistors   side_by_side, resistance_behind
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
CODING = Source(
    "IEC 61851-1, annex B", "coding of cables, as manuals of controllers cite it", "seen"
)
DIVIDER = Source("Ohm's law, two resistors in series", "", "computed")
MEAN = Source("Mean of a square wave", "", "computed")

# Above this share another rule holds.
_KNEE = 0.85

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
    "level": ("level that is read", "9 V"),
    "nominal": ("level that is meant", "9 V"),
    "coded_current.resistance": ("resistance from proximity to earth in the plug", "220 Ω"),
    "least": ("least resistance that is taken for the code", "150 Ω"),
    "most": ("most resistance that is taken for the code", "330 Ω"),
    "coded_current.current": ("current that the code stands for", "32 A"),
}


@formula("I", DUTY)
def pilot_current(duty: Fraction) -> Current:
    """Current that a pilot allows.

    60 A · D up to 85 %, 250 A · (D - 0.64) above, never under 6 A nor over 80 A: ``duty`` D as a
    share, from 8 % to 97 %. Just above 85 % the rule steps from 51 A to 52.5 A. Below 8 % it says
    nothing of current (5 % asks for a digital line), and above 97 % nothing may be drawn: these
    raise.
    """
    if not 0.08 <= duty <= 0.97:
        raise FormulaError("a pilot says a current by this rule from 8 % to 97 % alone")
    return min(80, max(6, 60 * duty if duty <= _KNEE else 250 * (duty - 0.64)))


@formula("D", DUTY)
def pilot_duty(current: Current) -> Fraction:
    """Share of time that a pilot is high to allow a current.

    I/60 A up to 51 A, I/250 A + 0.64 from above 52.5 A to 80 A: ``current`` I in A, at least 6 A.
    What lies between the two has no duty of its own and raises: 85 % says 51 A, not 52.5 A.
    """
    if not 6 <= current <= 80 or 51 < current <= 52.5:
        raise FormulaError("a pilot says 6 A to 51 A, or more than 52.5 A up to 80 A")
    return current / 60 if current <= 51 else current / 250 + 0.64


@formula("I", CODING)
def coded_current(
    resistance: Resistance, least: Resistance, most: Resistance, current: Current
) -> Current:
    """Current that the coding resistor of a cable stands for.

    ``current`` in A of the code whose range, ``least`` to ``most`` in Ω, holds the ``resistance``
    from proximity to earth in the plug. Raises where it does not.
    """
    if not least <= resistance <= most:
        raise FormulaError("the resistance is outside what is taken for this code")
    return current


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
    and ``resistance`` R of the vehicle in Ω. Taken between pilot and earth at the inlet. Raises
    where the source does not reach the voltage of the diode.
    """
    if min(source_resistance, resistance) <= 0:
        raise FormulaError("both resistances must be above zero")
    if not 0 <= diode <= source:
        raise FormulaError("the diode takes no less than nothing and no more than the source")
    return diode + (source - diode) * resistance / (resistance + source_resistance)


@formula("R", DIVIDER)
def resistance_behind(
    level: Voltage, source: Voltage, source_resistance: Resistance, diode: Voltage
) -> Resistance:
    """Resistance behind the diode, by the level that it makes.

    R_0·(U - U_d)/(U_0 - U): ``level`` U, ``source`` U_0 and ``diode`` U_d in V,
    ``source_resistance`` R_0 in Ω. For inlets whose diode hides the resistors from an ohmmeter.
    Raises where the level is not between that of the diode and that of the source.
    """
    if not 0 <= diode < level < source:
        raise FormulaError("the level lies above the diode's voltage and below the source's")
    if source_resistance <= 0:
        raise FormulaError("the resistance in the box must be above zero")
    return source_resistance * (level - diode) / (source - level)


@formula("U", DIVIDER)
def pilot_low(source: Voltage) -> Voltage:
    """Lower level of the pilot with a diode in the vehicle: -U_0, as nothing flows.

    ``source`` U_0 in V above zero. Raises where it is not.
    """
    if source <= 0:
        raise FormulaError("the voltage that the box feeds must be above zero")
    return -source


@formula("U", DIVIDER)
def pilot_low_without_diode(
    source: Voltage, source_resistance: Resistance, resistance: Resistance
) -> Voltage:
    """Lower level of the pilot where the diode is missing or shorted.

    -U_0·R/(R + R_0): what the box takes for a fault, with ``source`` U_0 in V above zero and both
    resistances in Ω. With the diode it stays at -U_0.
    """
    if min(source, source_resistance, resistance) <= 0:
        raise FormulaError("the voltage and both resistances must be above zero")
    return -source * resistance / (resistance + source_resistance)


@formula("ΔU", DIVIDER)
def pilot_off(level: Voltage, nominal: Voltage) -> Voltage:
    """How far a level is from the one that is meant: U - U_n, ``level`` and ``nominal`` in V."""
    return level - nominal


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
