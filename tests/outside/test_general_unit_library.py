"""A general-purpose unit library (Pint) as a second opinion on plain strings.

Its registry carries its own table of definitions, so agreement checks factors and spelling. It
reads expressions, not entries in a form: the last list holds strings that builders write and
that it misreads or refuses, which is why it is not used for reading.
"""

from __future__ import annotations

import pint
import pytest

from wattwright import kinds
from wattwright.kinds import Kind
from wattwright.units import read

REGISTRY: pint.UnitRegistry = pint.UnitRegistry()

# Our spelling, its spelling, kind, and the SI unit to compare in.
PLAIN = [
    ("mm", "mm", kinds.LENGTH, "m"),
    ("cm", "cm", kinds.LENGTH, "m"),
    ("km", "km", kinds.LENGTH, "m"),
    ("in", "inch", kinds.LENGTH, "m"),
    ("ft", "foot", kinds.LENGTH, "m"),
    ("yd", "yard", kinds.LENGTH, "m"),
    ("mi", "mile", kinds.LENGTH, "m"),
    ("thou", "thou", kinds.LENGTH, "m"),
    ("g", "gram", kinds.MASS, "kg"),
    ("t", "tonne", kinds.MASS, "kg"),
    ("lb", "pound", kinds.MASS, "kg"),
    ("oz", "ounce", kinds.MASS, "kg"),
    ("st", "stone", kinds.MASS, "kg"),
    ("mm²", "mm**2", kinds.AREA, "m**2"),
    ("ft²", "foot**2", kinds.AREA, "m**2"),
    ("kcmil", "kcmil", kinds.WIRE_SIZE, "m**2"),
    ("L", "liter", kinds.VOLUME, "m**3"),
    ("cc", "cc", kinds.VOLUME, "m**3"),
    ("in³", "inch**3", kinds.VOLUME, "m**3"),
    ("gal(US)", "gallon", kinds.VOLUME, "m**3"),
    ("gal(imp)", "imperial_gallon", kinds.VOLUME, "m**3"),
    ("°", "degree", kinds.ANGLE, "radian"),
    ("h", "hour", kinds.TIME, "s"),
    ("km/h", "km/hour", kinds.SPEED, "m/s"),
    ("mph", "mph", kinds.SPEED, "m/s"),
    ("rpm", "rpm", kinds.ROTATIONAL_SPEED, "radian/s"),
    ("g", "g_0", kinds.ACCELERATION, "m/s**2"),
    ("lbf", "force_pound", kinds.FORCE, "N"),
    ("kgf", "force_kilogram", kinds.FORCE, "N"),
    ("lb·ft", "force_pound*foot", kinds.TORQUE, "N*m"),
    ("lb·in", "force_pound*inch", kinds.TORQUE, "N*m"),
    ("kWh", "kWh", kinds.ENERGY, "J"),
    ("Btu", "Btu_it", kinds.ENERGY, "J"),
    ("hp", "horsepower", kinds.POWER, "W"),
    ("PS", "metric_horsepower", kinds.POWER, "W"),
    ("Wh/km", "Wh/km", kinds.ENERGY_PER_DISTANCE, "J/m"),
    ("Wh/mi", "Wh/mile", kinds.ENERGY_PER_DISTANCE, "J/m"),
    ("bar", "bar", kinds.GAUGE_PRESSURE, "Pa"),
    ("psi", "psi", kinds.GAUGE_PRESSURE, "Pa"),
    ("atm", "atm", kinds.ABSOLUTE_PRESSURE, "Pa"),
    ("°F", "delta_degF", kinds.TEMPERATURE_DIFFERENCE, "K"),
    ("mΩ", "milliohm", kinds.RESISTANCE, "ohm"),
    ("µF", "microfarad", kinds.CAPACITANCE, "F"),
    ("Ah", "ampere_hour", kinds.CHARGE, "C"),
    ("L/min", "liter/minute", kinds.FLOW, "m**3/s"),
    ("ft³/min", "foot**3/minute", kinds.FLOW, "m**3/s"),
    ("N/mm", "N/mm", kinds.SPRING_RATE, "N/m"),
    ("lbf/in", "force_pound/inch", kinds.SPRING_RATE, "N/m"),
    ("g/cm³", "g/cm**3", kinds.DENSITY, "kg/m**3"),
    ("lb/ft³", "pound/foot**3", kinds.DENSITY, "kg/m**3"),
    ("lb·ft", "pound*foot", kinds.MOMENT_OF_MASS, "kg*m"),
    ("Ω/km", "ohm/km", kinds.RESISTANCE_PER_LENGTH, "ohm/m"),
    ("Ω/kft", "ohm/kilofoot", kinds.RESISTANCE_PER_LENGTH, "ohm/m"),
    ("mΩ/ft", "milliohm/foot", kinds.RESISTANCE_PER_LENGTH, "ohm/m"),
    ("Ω·mm²/km", "ohm*mm**2/km", kinds.RESISTIVITY, "ohm*m"),
    ("µΩ·cm", "microohm*cm", kinds.RESISTIVITY, "ohm*m"),
    ("lb/ft", "pound/foot", kinds.MASS_PER_LENGTH, "kg/m"),
    ("kg/km", "kg/km", kinds.MASS_PER_LENGTH, "kg/m"),
    ("A·√s/mm²", "ampere*second**0.5/mm**2", kinds.WITHSTAND_DENSITY, "A*s**0.5/m**2"),
    ("K·ft/W", "kelvin*foot/watt", kinds.THERMAL_RESISTANCE_OF_LENGTH, "K*m/W"),
    ("K·cm/W", "kelvin*cm/watt", kinds.THERMAL_RESISTIVITY, "K*m/W"),
    ("W/ft", "watt/foot", kinds.HEAT_PER_LENGTH, "W/m"),
    ("MJ/(K·m³)", "MJ/(kelvin*m**3)", kinds.HEAT_CAPACITY_BY_VOLUME, "J/(K*m**3)"),
    (
        "Btu/(h·ft²·°F)",
        "Btu_it/(hour*foot**2*delta_degF)",
        kinds.HEAT_TRANSFER,
        "W/(m**2*K)",
    ),
]


@pytest.mark.parametrize("number", ["1", "0.062", "360", "-17.5", "1e-3"])
@pytest.mark.parametrize(("ours", "theirs", "kind", "si"), PLAIN)
def test_plain_strings_agree(number: str, ours: str, theirs: str, kind: Kind, si: str) -> None:
    expected = REGISTRY.Quantity(float(number), theirs).to(si).magnitude
    # Both compute in binary doubles; theirs chains several conversions, each rounded.
    assert read(f"{number} {ours}", kind).number == pytest.approx(expected, rel=1e-13)


@pytest.mark.parametrize(("ours", "theirs"), [("°C", "degC"), ("°F", "degF"), ("K", "kelvin")])
@pytest.mark.parametrize("number", ["25", "120", "300"])
def test_temperatures_agree(number: str, ours: str, theirs: str) -> None:
    expected = REGISTRY.Quantity(float(number), theirs).to("K").magnitude
    assert read(f"{number} {ours}", kinds.TEMPERATURE).number == pytest.approx(expected, rel=1e-13)


MISREAD = [
    ("2 3/4 in", kinds.LENGTH, "m", 0.06985),  # theirs multiplies: 2 * 3 / 4
    ("2-3/4 in", kinds.LENGTH, "m", 0.06985),
    ("25 mm ± 0.1", kinds.LENGTH, "m", 0.025),
    ("1,5 m", kinds.LENGTH, "m", 1.5),  # theirs drops the comma: 15 m
    ("7' 4\"", kinds.LENGTH, "m", 2.2352),
    ("12 lb 4 oz", kinds.MASS, "kg", 5.5565065325),  # theirs multiplies the two
    ("45 ft-lb", kinds.TORQUE, "N*m", 61.01180767491),  # theirs subtracts
    ("12 kg ± 5 %", kinds.MASS, "kg", 12.0),
    ("5 gal(US)", kinds.VOLUME, "m**3", 0.01892705892),
]


@pytest.mark.parametrize(("text", "kind", "si", "value"), MISREAD)
def test_strings_that_only_a_builder_would_write(
    text: str, kind: Kind, si: str, value: float
) -> None:
    assert read(text, kind).number == pytest.approx(value, rel=1e-10)
    try:
        theirs = REGISTRY.parse_expression(text).to(si).magnitude
    except Exception:  # it refuses in many ways, none of them part of its interface
        return
    assert theirs != pytest.approx(value, rel=1e-6)
