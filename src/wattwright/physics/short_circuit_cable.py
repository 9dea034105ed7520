"""Heat of a short circuit in a conductor, none of which gets away.

    copper_density, aluminium_density
                          k of copper and of aluminium between two temperatures
    withstand             I²t that a conductor stands
    withstand_time, withstand_current, least_area
    copper_hot_after      temperature after a time
    prospective           current of a fault behind a pack
    withstand_share       what a fuse lets through, of what the cable stands

All heat stays in the metal, whose resistance and heat capacity are as IEC 60949 has them. That
holds for some seconds, less in thin wires; it is on the safe side beyond. In a d.c. circuit no
current is nought by itself, so that the fuse ends the fault or nothing does.
"""

from __future__ import annotations

from math import exp, log, sqrt

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import (
    Current,
    Fraction,
    JouleIntegral,
    Resistance,
    Temperature,
    Time,
    Voltage,
    WireSize,
    WithstandDensity,
)

IEC_60949 = Source("IEC 60949", "adiabatic heating, constants of table 1; IEC 60364-5-54, annex A")
ALUMINIUM = Source("IEC 60949", "adiabatic heating, constants of table 1 for aluminium", "memory")
SHORT_TIME = Source("IEC 60364-4-43", "434.5.2", "memory")

ICE = 273.15  # K
COPPER_K, COPPER_BETA = 226e6, 234.5  # A·√s/m², °C
ALUMINIUM_K, ALUMINIUM_BETA = 148e6, 228.0

ASKED = {
    "voltage": ("voltage of the pack at rest", "350 V"),
    "pack": ("resistance of the pack", "85 mΩ"),
    "loop": ("resistance of the cable out and back", "3 mΩ"),
    "start": ("temperature of the conductor before", "70 °C"),
    "end": ("highest temperature for a short time", "160 °C"),
    "density": ("k of conductor and insulation", "115 A·√s/mm²"),
    "area": ("area of the conductor", "35 mm²"),
    "current": ("current of the fault", "5000 A"),
    "time": ("how long it flows", "0.1 s"),
    "withstand": ("I²t that the conductor stands", "16,200,000 A²·s"),
    "let_through": ("I²t that the fuse lets through, melting and arc", "500,000 A²·s"),
}


@formula("I_k", Source("Ohm's law", "", "computed"))
def prospective(voltage: Voltage, pack: Resistance, loop: Resistance) -> Current:
    """Current of a fault between the poles of a pack, once it is steady.

    U/(R_p + R_l): ``voltage`` U in V at rest, ``pack`` R_p and ``loop`` R_l out and back in Ω. The
    first milliseconds give more than a resistance measured over seconds says, by a third or so.
    """
    if pack <= 0 or loop < 0:
        raise FormulaError("the pack's resistance must be above zero, the cable's not below")
    return voltage / (pack + loop)


@formula("k", IEC_60949, valid={"start": (253.15, 523.15), "end": (253.15, 773.15)})
def copper_density(start: Temperature, end: Temperature) -> WithstandDensity:
    """Short-time current density of copper between two temperatures.

    226 √(ln((234.5 + θ_f)/(234.5 + θ_i))) A·√s/mm²: ``start`` θ_i and ``end`` θ_f in K here, in °C
    there. From 70 °C to 160 °C, as PVC allows, it is 115; from 90 °C to 250 °C, XLPE, 143.
    """
    if not end > start > ICE - COPPER_BETA:
        raise FormulaError("a short circuit ends hotter than it began")
    return COPPER_K * sqrt(log((COPPER_BETA + end - ICE) / (COPPER_BETA + start - ICE)))


@formula("k", ALUMINIUM, valid={"start": (253.15, 523.15), "end": (253.15, 673.15)})
def aluminium_density(start: Temperature, end: Temperature) -> WithstandDensity:
    """Short-time current density of aluminium between two temperatures.

    148 √(ln((228 + θ_f)/(228 + θ_i))) A·√s/mm²: ``start`` θ_i and ``end`` θ_f in K here, in °C
    there.
    """
    if not end > start > ICE - ALUMINIUM_BETA:
        raise FormulaError("a short circuit ends hotter than it began")
    return ALUMINIUM_K * sqrt(log((ALUMINIUM_BETA + end - ICE) / (ALUMINIUM_BETA + start - ICE)))


@formula("I²t", SHORT_TIME, valid={"area": (0.0, 1e-3)})
def withstand(density: WithstandDensity, area: WireSize) -> JouleIntegral:
    """Joule integral that a conductor stands.

    k²·S²: ``density`` k in A·√s/m², ``area`` S in m²; result A²s.
    """
    return density**2 * area**2


@formula("t", SHORT_TIME, valid={"current": (0.0, 1e6)})
def withstand_time(density: WithstandDensity, area: WireSize, current: Current) -> Time:
    """Longest time that a conductor stands a short circuit.

    (k·S/I)²: ``density`` k in A·√s/m², ``area`` S in m², ``current`` I in A; result s. Above 5 s
    heat gets away and the conductor stands more.
    """
    if current <= 0:
        raise FormulaError("the current must be above zero")
    return (density * area / current) ** 2


@formula("I", SHORT_TIME, valid={"time": (0.0, 5.0)})
def withstand_current(density: WithstandDensity, area: WireSize, time: Time) -> Current:
    """Largest current that a conductor stands for a time.

    k·S/√t: ``density`` k in A·√s/m², ``area`` S in m², ``time`` t in s.
    """
    if time <= 0:
        raise FormulaError("the time must be above zero")
    return density * area / sqrt(time)


@formula("S", SHORT_TIME, valid={"time": (0.0, 5.0)})
def least_area(density: WithstandDensity, current: Current, time: Time) -> WireSize:
    """Smallest conductor that stands a short circuit.

    I·√t/k: ``current`` I in A, ``time`` t in s, ``density`` k in A·√s/m²; result m².
    """
    if density <= 0 or time < 0:
        raise FormulaError("the current density must be above zero, and the time not below")
    return current * sqrt(time) / density


@formula("θ_f", IEC_60949, valid={"time": (0.0, 5.0)})
def copper_hot_after(
    start: Temperature, current: Current, area: WireSize, time: Time
) -> Temperature:
    """Temperature of a copper conductor after a short circuit.

    (234.5 + θ_i)·exp((I/(226 S))² t) - 234.5 °C: ``start`` θ_i, result K; ``current`` I in A,
    ``area`` S in m² here, in mm² there, ``time`` t in s.
    """
    if area <= 0:
        raise FormulaError("the area must be above zero")
    return (COPPER_BETA + start - ICE) * exp((current / (COPPER_K * area)) ** 2 * time) + (
        ICE - COPPER_BETA
    )


@formula("I²t/k²S²", SHORT_TIME)
def withstand_share(let_through: JouleIntegral, withstand: JouleIntegral) -> Fraction:
    """What a fuse lets through, of what the cable stands.

    Both A²s: ``let_through`` melting and arc together, at the voltage of the circuit, ``withstand``
    k²S² of the conductor. At or above one the cable is the fuse.
    """
    if withstand <= 0:
        raise FormulaError("what the cable stands must be above zero")
    return let_through / withstand
