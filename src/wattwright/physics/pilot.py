"""The pilot and proximity lines between supply box and vehicle: volts, ohms, duty and current.

    current     pilot_current, pilot_current_above, pilot_duty, pilot_duty_above, coded_current
    levels      pilot_high, pilot_low, pilot_low_without_diode, pilot_off, pilot_average
    resistors   side_by_side, resistance_behind
    proximity   proximity_voltage

The box feeds the pilot through 1 kΩ: steady +12 V until a vehicle is there, then a square wave of
1 kHz between what the vehicle's resistors make of +12 V, and -12 V, which its diode keeps off them.
The share of time that it is high says how much may be drawn.
"""

from __future__ import annotations

from collections.abc import Sequence

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import Current, Fraction, Resistance, Voltage

DUTY = Source("IEC 61851-1, annex A", "duty cycle and current, as test manuals cite it", "seen")
CODING = Source(
    "IEC 61851-1, annex B", "coding of cables, as manuals of controllers cite it", "seen"
)
DIVIDER = Source("Ohm's law, two resistors in series", "", "computed")
MEAN = Source("Mean of a square wave", "", "computed")

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
    "from_resistances": ("least resistance of each code", "75 Ω; 150 Ω; 330 Ω; 1000 Ω"),
    "to_resistances": ("most resistance of each code", "150 Ω; 330 Ω; 1000 Ω; 2200 Ω"),
    "currents": ("current of each code", "63 A; 32 A; 20 A; 13 A"),
    "pilot_current_above.duty": ("share of time that the pilot is high", "90 %"),
    "pilot_duty_above.current": ("current that may be drawn", "63 A"),
}


@formula("I", DUTY)
def pilot_current(duty: Fraction) -> Current:
    """Current that a pilot allows, up to 85 % of the time high.

    60 A · D, and never under 6 A: ``duty`` D as a share, from 8 % to 85 %. Just above 85 % another
    rule holds, which steps from 51 A to 52.5 A. Below 8 % the pilot says nothing of current (5 %
    asks for a digital line). Both raise.
    """
    if not 0.08 <= duty <= 0.85:
        raise FormulaError("a pilot says a current by this rule from 8 % to 85 % alone")
    return max(6, 60 * duty)


@formula("I", DUTY)
def pilot_current_above(duty: Fraction) -> Current:
    """Current that a pilot allows, above 85 % of the time high.

    250 A · (D - 0.64), and never over 80 A: ``duty`` D as a share, above 85 % and up to 97 %. Above
    that nothing may be drawn. Raises outside.
    """
    if not 0.85 < duty <= 0.97:
        raise FormulaError("a pilot says a current by this rule above 85 % and up to 97 % alone")
    return min(80, 250 * (duty - 0.64))


@formula("D", DUTY)
def pilot_duty(current: Current) -> Fraction:
    """Share of time that a pilot is high to allow a current up to 51 A.

    I/60 A: ``current`` I in A, from 6 A to 51 A. From there to 52.5 A no duty says it, and above
    that another rule holds: these raise.
    """
    if not 6 <= current <= 51:
        raise FormulaError("a pilot says 6 A to 51 A by this rule, and nothing up to 52.5 A")
    return current / 60


@formula("D", DUTY)
def pilot_duty_above(current: Current) -> Fraction:
    """Share of time that a pilot is high to allow a current above 52.5 A.

    I/250 A + 0.64: ``current`` I in A, above 52.5 A and up to 80 A. What lies between 51 A and
    52.5 A has no duty of its own, as 85 % says 51 A. Raises outside.
    """
    if not 52.5 < current <= 80:
        raise FormulaError("a pilot says 6 A to 51 A, or more than 52.5 A up to 80 A")
    return current / 250 + 0.64


@formula("I", CODING)
def coded_current(
    resistance: Resistance,
    from_resistances: Sequence[Resistance],
    to_resistances: Sequence[Resistance],
    currents: Sequence[Current],
) -> Current:
    """Current that the coding resistor of a cable stands for.

    The one of the ``currents`` in A whose range, of ``from_resistances`` to ``to_resistances`` in
    Ω, holds the ``resistance`` from proximity to earth in the plug; where two meet, the smaller
    current. Raises where none holds it.
    """
    if not currents or not len(currents) == len(from_resistances) == len(to_resistances):
        raise FormulaError("every current needs both ends of its range")
    if not any(
        low <= resistance <= high
        for low, high in zip(from_resistances, to_resistances, strict=True)
    ):
        raise FormulaError("the resistance is in the range of no code")
    return min(
        current
        for current, low, high in zip(currents, from_resistances, to_resistances, strict=True)
        if resistance >= low
        if high >= resistance
    )


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
