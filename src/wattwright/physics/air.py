"""Density of the air against altitude and temperature.

    geopotential_height                       from the altitude a map or a receiver states
    isa_temperature, isa_pressure, isa_density   standard atmosphere at a geopotential height
    air_density                               at a pressure and a temperature, dry air

A map states geometric altitude; the equations of the standard atmosphere take geopotential
height, in which gravity is constant. Up to 3,000 m the two differ by less than 0.05 %, but the
printed tables are for one or the other, so both are kept apart. Humidity is neglected: saturated
air at 30 °C is 1.6 % lighter than dry air.

Source: ISO 2533, which agrees with the U.S. Standard Atmosphere, 1976, in these layers.
"""

from __future__ import annotations

import math
from typing import Annotated

from wattwright.errors import FormulaError
from wattwright.formula import Source, formula
from wattwright.kinds import ABSOLUTE_PRESSURE, Density, Position, Temperature

AbsolutePressure = Annotated[float, ABSOLUTE_PRESSURE]

STANDARD_GRAVITY = 9.80665  # m/s²
SEA_LEVEL_PRESSURE = 101_325.0  # Pa
SEA_LEVEL_TEMPERATURE = 288.15  # K
LAPSE_RATE = 0.0065  # K/m, up to the tropopause
GAS_CONSTANT = 287.05287  # J/(kg·K), dry air
EARTH_RADIUS = 6_356_766.0  # m, the nominal one of the standard atmosphere
TROPOPAUSE = 11_000.0  # m, geopotential

ISA = Source("ISO 2533, standard atmosphere", "layer from sea level to 11 km", "computed")
TROPOSPHERE = {"height": (-2_000.0, TROPOPAUSE)}

ASKED = {
    "altitude": ("altitude above the sea", "1200 m"),
    "height": ("geopotential height", "1200 m"),
    "pressure": ("pressure of the air at the place", "98 kPa"),
    "temperature": ("temperature of the air", "15 °C"),
}


@formula("H", Source("ISO 2533, standard atmosphere", "geopotential height", "computed"))
def geopotential_height(altitude: Position) -> Position:
    """Geopotential height of a place from its altitude above the sea.

    H = R·z / (R + z), with ``altitude`` z geometric, above mean sea level, in m.
    """
    return EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude)


@formula("T", ISA, valid=TROPOSPHERE)
def isa_temperature(height: Position) -> Temperature:
    """Temperature of the standard atmosphere.

    T = T₀ - L·H, with ``height`` H geopotential, in m.
    """
    return SEA_LEVEL_TEMPERATURE - LAPSE_RATE * height


@formula("p", ISA, valid=TROPOSPHERE)
def isa_pressure(height: Position) -> AbsolutePressure:
    """Pressure of the standard atmosphere.

    p = p₀·(1 - L·H/T₀)^(g/(R·L)), with ``height`` H geopotential, in m.
    """
    if height > TROPOPAUSE:
        raise FormulaError("above 11 km the standard atmosphere follows another law")
    return SEA_LEVEL_PRESSURE * math.pow(
        1 - LAPSE_RATE * height / SEA_LEVEL_TEMPERATURE,
        STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_RATE),
    )


@formula("ρ", ISA, valid=TROPOSPHERE)
def isa_density(height: Position) -> Density:
    """Density of the standard atmosphere.

    ρ = p/(R·T) with pressure and temperature of the standard atmosphere, ``height`` H
    geopotential, in m.
    """
    if height > TROPOPAUSE:
        raise FormulaError("above 11 km the standard atmosphere follows another law")
    return (
        SEA_LEVEL_PRESSURE
        / (GAS_CONSTANT * SEA_LEVEL_TEMPERATURE)
        * math.pow(
            1 - LAPSE_RATE * height / SEA_LEVEL_TEMPERATURE,
            STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_RATE) - 1,
        )
    )


@formula(
    "ρ",
    Source("Equation of state of an ideal gas, dry air", "", "computed"),
    valid={"temperature": (223.15, 333.15)},
)
def air_density(pressure: AbsolutePressure, temperature: Temperature) -> Density:
    """Density of dry air at a pressure and a temperature.

    ρ = p/(R·T), with ``pressure`` p in Pa as it is at the place, not brought down to sea level,
    and ``temperature`` T in K.
    """
    if pressure <= 0 or temperature <= 0:
        raise FormulaError("the pressure and the absolute temperature must be above zero")
    return pressure / (GAS_CONSTANT * temperature)
